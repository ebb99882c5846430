//! What can be told before any search: straight runs that are blocked or that
//! cross each other, points to pass where no lead can lie.

use glam::DVec3;

use super::{Kept, NoWay, Surroundings, Task};
use crate::distance::signed_distance;
use crate::path::{Path, Piece, closer_than, paths_closer_than};
use crate::solids::Solid;

/// A straight run as a path.
fn run_of([from, to]: [DVec3; 2]) -> Path {
    Path {
        pieces: vec![Piece::Line { from, to }],
    }
}

/// The straight runs of a lead as paths.
fn runs(task: &Task) -> impl Iterator<Item = Path> {
    task.runs().into_iter().flatten().map(run_of)
}

/// What a lead cannot do whatever its way: its straight runs first, then the
/// points it is to pass.
pub(super) fn hopeless(around: &Surroundings, task: &Task, lead: usize) -> Option<NoWay> {
    blocked(around, task, lead).or_else(|| point_blocked(around, task, lead))
}

/// The first point where a lead is to pass and has no room.
fn point_blocked(around: &Surroundings, task: &Task, lead: usize) -> Option<NoWay> {
    task.through.iter().enumerate().find_map(|(point, &at)| {
        let ball = Solid::capsule(at, at, 0.0);
        let lacks = |kept: &Kept| 0.5 * task.od + kept.clear - signed_distance(&ball, &kept.solid);
        let solids = around.solids().enumerate();
        let others = solids.filter(|(_, kept)| kept.not_for != Some(lead));
        let worst = others
            .map(|(solid, kept)| (solid, lacks(kept)))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((solid, by)) = worst.filter(|(_, by)| *by > 0.0) {
            return Some(NoWay::PointBlocked {
                point,
                solid: Some(solid),
                by,
            });
        }
        let grid = &around.free.grid;
        grid.cell_of(at).is_none().then(|| {
            let bounds = grid.bounds();
            NoWay::PointBlocked {
                point,
                solid: None,
                by: at.distance(at.clamp(bounds.min, bounds.max)) + 0.5 * task.od,
            }
        })
    })
}

/// What stands in a lead's straight runs; nearest first in the order of the solids.
fn blocked(around: &Surroundings, task: &Task, lead: usize) -> Option<NoWay> {
    let solids = around.solids().enumerate();
    let mut others = solids.filter(|(_, kept)| kept.not_for != Some(lead));
    others.find_map(|(solid, kept)| {
        let least = 0.5 * task.od + kept.clear;
        let near = runs(task).find_map(|run| closer_than(&run, &kept.solid, least))?;
        Some(NoWay::RunBlocked {
            solid,
            by: least - near.distance,
            at: near.point,
        })
    })
}

/// The first lead whose straight runs cross those of a lead.
pub(super) fn crossed(tasks: &[Task], lead: usize) -> Option<NoWay> {
    let own = &tasks[lead];
    let others = tasks.iter().enumerate().filter(|&(other, _)| other != lead);
    let mut found = others.flat_map(|(other, task)| {
        let least = 0.5 * (own.od + task.od);
        runs(own).flat_map(move |run| {
            runs(task).filter_map(move |against| {
                let near = paths_closer_than(&run, &against, least)?;
                let by = least - near.distance;
                Some(NoWay::RunsCross { other, by })
            })
        })
    });
    found.next()
}
