//! What can be told before any search: straight runs that are blocked, or
//! that cross each other.

use glam::DVec3;

use super::{NoWay, Surroundings, Task};
use crate::path::{Path, Piece, closer_than, paths_closer_than};

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

/// What stands in a lead's straight runs; nearest first in the order of the solids.
pub(super) fn blocked(around: &Surroundings, task: &Task, lead: usize) -> Option<NoWay> {
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
