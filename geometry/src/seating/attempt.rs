//! All leads at one proud: laid together, then checked by exact distances.

use super::rest::Rest;
use super::scene::{Named, Own, Scene, Stand};
use crate::path::{Path, Piece, closer_than};
use crate::routing::{
    Against, Before, Effort, NoWay, Progress, Routing, gathered, route_again, route_all, route_one,
    route_together, verify,
};

/// A cable lies on its own plug this many half diameters along its way.
const OFF_ITS_PLUG: f64 = 1.3;

/// A plan without a way.
pub struct Failed {
    /// Its number.
    pub plan: usize,
    /// Why.
    pub why: NoWay,
    /// What is in its way, where that is known.
    pub against: Option<Named>,
    /// Whether it came back to its own plug.
    pub on_its_plug: bool,
}

/// What came of laying every lead at one proud.
pub struct Attempt {
    /// Which variant of the scene it was.
    pub variant: usize,
    /// The unit stood this far proud, mm.
    pub proud: f64,
    /// Plans whose own plug was looked out for, a bit for each.
    pub heed: u64,
    /// The way of each plan, checked; `None` where there is none, or where
    /// nobody looked because another has none.
    pub ways: Vec<Option<Path>>,
    /// Plans that have no way.
    pub failed: Vec<Failed>,
    /// Whether some lead has no way even alone.
    pub hopeless: bool,
    /// Whether it was stopped before its end.
    pub cancelled: bool,
}

impl Attempt {
    /// Whether every lead has its way.
    pub fn holds(&self) -> bool {
        !self.cancelled && self.failed.is_empty()
    }
}

/// How an attempt lays its leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// All of them or none: it ends with the first that has no way.
    All,
    /// As many as can lie.
    Most,
}

/// Lays every lead of a scene with the unit at `proud` mm.
///
/// What fails the check is reported as having no way, never shown as one.
///
/// * `heed`: plans (a bit for each) whose own plug is looked out for from the
///   start; those that come back to theirs join them. Hardly a lead does, and
///   looking out for it makes its start narrow.
pub fn attempt(
    scene: &Scene<'_>,
    proud: f64,
    heed: &mut u64,
    wanted: Wanted,
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Attempt {
    loop {
        let next = lay(scene, proud, *heed, wanted, effort, watch);
        let back = next.failed.iter().filter(|failed| failed.on_its_plug);
        let back = back.fold(0, |bits, failed| bits | 1_u64 << failed.plan.min(63));
        if next.cancelled || back & !*heed == 0 {
            return next;
        }
        *heed |= back;
    }
}

fn lay(
    scene: &Scene<'_>,
    proud: f64,
    heed: u64,
    wanted: Wanted,
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Attempt {
    let stand = scene.at_heeding(proud, heed);
    let mut cancelled = false;
    let mut watch = |progress| {
        let go_on = watch(progress);
        cancelled |= !go_on;
        go_on
    };
    let (around, tasks) = (&stand.surroundings, &stand.tasks);
    // With another plug to look out for a lead's own way may be another.
    let own = scene.own.as_ref();
    let own = own.filter(|own| own.proud == proud && heed == 0 && wanted == Wanted::All);
    if let Some((plan, why)) = own.and_then(Own::stuck) {
        return without(scene, &stand, proud, plan, why);
    }
    let known: Vec<Option<Path>> = own.map_or(Vec::new(), |own| {
        own.ways.iter().map(|way| way.clone().ok()).collect()
    });
    let routing = match wanted {
        Wanted::All => route_all(around, tasks, &known, effort, &mut watch),
        Wanted::Most => route_together(around, tasks, effort, &mut watch),
    };
    Attempt {
        heed,
        ..checked(scene, &stand, proud, routing, cancelled)
    }
}

/// Lays the leads whose way no longer stands, beside those whose way does.
///
/// * `before`: the way of each plan from before
/// * `watch`: whether to go on
pub fn again(
    scene: &Scene<'_>,
    proud: f64,
    before: &[Before],
    effort: &Effort,
    watch: &mut dyn FnMut() -> bool,
) -> Attempt {
    let stand = scene.at(proud);
    let mut tools = scene.tools.take();
    let mut cancelled = false;
    let routing = route_again(
        &stand.surroundings,
        &stand.tasks,
        before,
        effort,
        &mut tools,
        &mut |_| {
            let go_on = watch();
            cancelled |= !go_on;
            go_on
        },
    );
    scene.tools.set(tools);
    checked(scene, &stand, proud, routing, cancelled)
}

/// What came of laying, less every way that does not stand the check.
fn checked(
    scene: &Scene<'_>,
    stand: &Stand<'_>,
    proud: f64,
    routing: Routing,
    cancelled: bool,
) -> Attempt {
    let (stuck, hopeless) = (routing.stuck, routing.hopeless);
    let mut failed = Vec::new();
    let mut ways: Vec<Option<Path>> = Vec::new();
    for (plan, way) in routing.routes.into_iter().enumerate() {
        if let Err(why) = &way
            && stuck.is_none_or(|stuck| stuck == plan)
        {
            failed.push(Failed {
                plan,
                why: *why,
                against: blamed(stand, scene, why),
                on_its_plug: false,
            });
        }
        ways.push(way.ok());
    }
    if stuck.is_none() {
        check(stand, scene, &mut ways, &mut failed);
    }
    failed.sort_by_key(|failed| failed.plan);
    Attempt {
        variant: 0,
        proud,
        heed: 0,
        ways,
        failed,
        hopeless,
        cancelled,
    }
}

/// An attempt that ends with a plan that has no way at all.
fn without(scene: &Scene<'_>, stand: &Stand<'_>, proud: f64, plan: usize, why: NoWay) -> Attempt {
    Attempt {
        variant: 0,
        proud,
        heed: 0,
        ways: vec![None; scene.plans.len()],
        failed: vec![Failed {
            plan,
            why,
            against: blamed(stand, scene, &why),
            on_its_plug: false,
        }],
        hopeless: true,
        cancelled: false,
    }
}

/// Takes back every way that does not stand the check.
fn check(
    stand: &Stand<'_>,
    scene: &Scene<'_>,
    ways: &mut [Option<Path>],
    failed: &mut Vec<Failed>,
) {
    for breach in verify(&stand.surroundings, &stand.tasks, ways) {
        let against = named(stand, scene, breach.against);
        reject(ways, failed, breach.lead, against, false);
    }
    for plan in 0..ways.len() {
        let Some(way) = &ways[plan] else { continue };
        let own = back_on_its_plug(stand, scene, plan, way);
        let met = met_at_the_end(stand, scene, plan);
        if let Some(solid) = own.or(met) {
            let against = stand.names.get(solid).cloned();
            reject(ways, failed, plan, against, own.is_some());
        }
    }
}

/// Draws the leads of each exit together, where everything still holds then.
pub fn tidy(scene: &Scene<'_>, laid: &mut Attempt) {
    let stand = scene.at_heeding(laid.proud, laid.heed);
    let mut ways = gathered(&stand.surroundings, &stand.tasks, &laid.ways);
    let mut failed = Vec::new();
    check(&stand, scene, &mut ways, &mut failed);
    if failed.is_empty() {
        laid.ways = ways;
    }
}

/// Takes back a way that did not stand the check.
fn reject(
    ways: &mut [Option<Path>],
    failed: &mut Vec<Failed>,
    plan: usize,
    against: Option<Named>,
    on_its_plug: bool,
) {
    if ways[plan].take().is_some() {
        failed.push(Failed {
            plan,
            why: NoWay::GaveUp,
            against,
            on_its_plug,
        });
    }
}

/// Lays one lead alone: what has no way alone has none beside the others.
///
/// `None` when it has a way.
pub fn alone(scene: &Scene<'_>, proud: f64, plan: usize, effort: &Effort) -> Option<Attempt> {
    let stand = scene.at(proud);
    let rest = Rest::of(&stand, plan, None);
    let why = route_one(&rest.around(&stand), &stand.tasks[plan], effort).err()?;
    let against = match why {
        // Its number is one among the rest.
        NoWay::RunBlocked { solid, .. } => rest.name(&stand, solid),
        NoWay::PointBlocked { solid, .. } => solid.and_then(|solid| rest.name(&stand, solid)),
        _ => None,
    };
    Some(Attempt {
        variant: 0,
        proud,
        heed: 0,
        ways: vec![None; scene.plans.len()],
        failed: vec![Failed {
            plan,
            why,
            against,
            on_its_plug: false,
        }],
        hopeless: true,
        cancelled: false,
    })
}

/// The lead's own plug, if it comes back to it: all of its way counts but the
/// first bit, which lies on the plug.
fn back_on_its_plug(
    stand: &Stand<'_>,
    scene: &Scene<'_>,
    number: usize,
    way: &Path,
) -> Option<usize> {
    let half = 0.5 * scene.plans[number].od;
    let on = way.part(OFF_ITS_PLUG * half, way.length());
    stand.solids().enumerate().position(|(solid, kept)| {
        let own = stand.own_plugs.contains(&solid) && kept.not_for == Some(number);
        own && closer_than(&on, &kept.solid, half).is_some()
    })
}

/// The solid that the run through the exit meets, walls apart: the exit is a
/// hole in those. A run onto a module is as long as the module's clear.
fn met_at_the_end(stand: &Stand<'_>, scene: &Scene<'_>, number: usize) -> Option<usize> {
    let plan = &scene.plans[number];
    let out = plan.end.last + plan.end.run_beyond * plan.end.way;
    if plan.end.exit.is_none() || out == plan.end.at {
        return None;
    }
    let run = Path {
        pieces: vec![Piece::Line {
            from: plan.end.at,
            to: out,
        }],
    };
    let walls = stand.first_wall..stand.fixed;
    stand.solids().enumerate().position(|(solid, kept)| {
        !walls.contains(&solid)
            && kept.not_for.is_none()
            && closer_than(&run, &kept.solid, 0.5 * plan.od + kept.clear).is_some()
    })
}

fn blamed(stand: &Stand<'_>, scene: &Scene<'_>, why: &NoWay) -> Option<Named> {
    match why {
        NoWay::RunBlocked { solid, .. } => named(stand, scene, Against::Solid(*solid)),
        NoWay::PointBlocked { solid, .. } => {
            solid.and_then(|solid| named(stand, scene, Against::Solid(solid)))
        }
        NoWay::RunsCross { other, .. } => named(stand, scene, Against::Lead(*other)),
        _ => None,
    }
}

fn named(stand: &Stand<'_>, scene: &Scene<'_>, against: Against) -> Option<Named> {
    match against {
        Against::Solid(number) => stand.names.get(number).cloned(),
        Against::Lead(number) => scene.name_of(number),
        _ => None,
    }
}
