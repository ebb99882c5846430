//! All leads at one proud: laid together, then checked by exact distances.

use super::rest::Rest;
use super::scene::{Named, Scene, Stand};
use crate::path::{Path, Piece, closer_than};
use crate::routing::{Against, Effort, NoWay, Progress, route_one, route_together, verify};

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
    /// The way of each plan, checked; `None` where there is none, or where
    /// nobody looked because another has none.
    pub ways: Vec<Option<Path>>,
    /// Plans that have no way.
    pub failed: Vec<Failed>,
    /// Whether it was stopped before its end.
    pub cancelled: bool,
}

impl Attempt {
    /// Whether every lead has its way.
    pub fn holds(&self) -> bool {
        !self.cancelled && self.failed.is_empty()
    }
}

/// Lays every lead of a scene with the unit at `proud` mm.
///
/// What fails the check is reported as having no way, never shown as one.
pub fn attempt(
    scene: &Scene<'_>,
    proud: f64,
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Attempt {
    // Hardly a lead comes back to its own plug, and looking out for it makes
    // every start narrow: only when one did.
    let first = lay(scene, scene.at(proud), proud, effort, watch);
    if first.cancelled || !first.failed.iter().any(|failed| failed.on_its_plug) {
        return first;
    }
    lay(scene, scene.at_heeding_plugs(proud), proud, effort, watch)
}

fn lay(
    scene: &Scene<'_>,
    stand: Stand<'_>,
    proud: f64,
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Attempt {
    let mut cancelled = false;
    let routing = route_together(&stand.surroundings, &stand.tasks, effort, &mut |progress| {
        let go_on = watch(progress);
        cancelled |= !go_on;
        go_on
    });
    let mut failed = Vec::new();
    let mut ways: Vec<Option<Path>> = Vec::new();
    for (plan, way) in routing.routes.into_iter().enumerate() {
        if let Err(why) = &way {
            failed.push(Failed {
                plan,
                why: *why,
                against: blamed(&stand, scene, why),
                on_its_plug: false,
            });
        }
        ways.push(way.ok());
    }
    for breach in verify(&stand.surroundings, &stand.tasks, &ways) {
        let against = named(&stand, scene, breach.against);
        reject(&mut ways, &mut failed, breach.lead, against, false);
    }
    for plan in 0..ways.len() {
        let Some(way) = &ways[plan] else { continue };
        let own = back_on_its_plug(&stand, scene, plan, way);
        let met = met_at_the_end(&stand, scene, plan);
        if let Some(solid) = own.or(met) {
            let against = stand.names.get(solid).cloned();
            reject(&mut ways, &mut failed, plan, against, own.is_some());
        }
    }
    failed.sort_by_key(|failed| failed.plan);
    Attempt {
        variant: 0,
        proud,
        ways,
        failed,
        cancelled,
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
        ways: vec![None; scene.plans.len()],
        failed: vec![Failed {
            plan,
            why,
            against,
            on_its_plug: false,
        }],
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
