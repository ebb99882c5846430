//! All leads at one proud: laid together, then checked by exact distances.

use super::scene::{Named, Scene, Stand};
use crate::path::{Path, Piece, closer_than};
use crate::routing::{Against, Effort, NoWay, Progress, route_together, verify};

/// What came of laying every lead at one proud.
pub struct Attempt {
    /// The unit stood this far proud, mm.
    pub proud: f64,
    /// The way of each plan, checked; or why there is none.
    pub ways: Vec<Result<Path, NoWay>>,
    /// For every plan without a way: what is in its way, where that is known.
    pub blame: Vec<Option<Named>>,
    /// Whether it was stopped before its end.
    pub cancelled: bool,
}

impl Attempt {
    /// Whether every lead has its way.
    pub fn holds(&self) -> bool {
        !self.cancelled && self.ways.iter().all(Result::is_ok)
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
    let stand = scene.at(proud);
    let mut cancelled = false;
    let routing = route_together(&stand.surroundings, &stand.tasks, effort, &mut |progress| {
        let go_on = watch(progress);
        cancelled |= !go_on;
        go_on
    });
    let mut ways = routing.routes;
    let found: Vec<Option<Path>> = ways.iter().map(|way| way.as_ref().ok().cloned()).collect();
    let mut blame: Vec<Option<Named>> = vec![None; ways.len()];
    for breach in verify(&stand.surroundings, &stand.tasks, &found) {
        ways[breach.lead] = Err(NoWay::GaveUp);
        blame[breach.lead] = named(&stand, scene, breach.against);
    }
    for (number, way) in ways.iter_mut().enumerate() {
        if let (Ok(_), Some(solid)) = (&way, met_at_the_end(&stand, scene, number)) {
            *way = Err(NoWay::GaveUp);
            blame[number] = stand.names.get(solid).cloned();
        }
    }
    for (number, way) in ways.iter().enumerate() {
        if let Err(why) = way
            && blame[number].is_none()
        {
            blame[number] = blamed(&stand, scene, why);
        }
    }
    if std::env::var("DBG").is_ok() {
        for (n, w) in ways.iter().enumerate() {
            eprintln!(
                "p {proud} {:?} {:?} {:?}",
                scene.name_of(n).map(|x| x.name),
                w.as_ref().err(),
                blame[n].as_ref().map(|b| b.name.clone())
            );
        }
    }
    Attempt {
        proud,
        ways,
        blame,
        cancelled,
    }
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
