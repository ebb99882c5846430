//! What keeps a lead from its way when no single solid was met: the one
//! without which it would have a way.

use glam::DVec3;

use super::attempt::Attempt;
use super::scene::{Named, Scene, Stand, free_space};
use crate::distance::signed_distance;
use crate::routing::{Effort, Kept, Surroundings, route_one};
use crate::solids::Solid;
use crate::space::FreeSpace;

/// Solids that are tried, the nearest to where the cable starts first.
const MOST: usize = 10;

/// A solid further from the first turn than this is not tried, mm.
const REACH: f64 = 40.0;

/// What stands in the way of one plan of a failed attempt.
pub enum Hindrance {
    /// It has a way while the others are not laid.
    OtherLeads,
    /// It has a way without this solid.
    Solid(Named),
    /// No one solid is the cause.
    Several,
}

/// Looks for what stands in the way of plan `number`.
pub fn hindrance(scene: &Scene<'_>, failed: &Attempt, number: usize, effort: &Effort) -> Hindrance {
    let stand = scene.at(failed.proud);
    let task = &stand.tasks[number];
    if route_one(&alone(&stand, number, None).around(&stand), task, effort).is_ok() {
        return Hindrance::OtherLeads;
    }
    let first_turn = task.from + (task.straight_from + 0.5 * task.radius) * task.from_way;
    let mut near: Vec<(f64, usize)> = stand
        .solids()
        .enumerate()
        .filter(|(_, kept)| kept.not_for != Some(number))
        .map(|(solid, kept)| (gap(kept, first_turn), solid))
        .filter(|(gap, _)| *gap < REACH)
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    for (_, solid) in near.into_iter().take(MOST) {
        let rest = alone(&stand, number, Some(solid));
        if route_one(&rest.around(&stand), task, effort).is_ok() {
            return Hindrance::Solid(stand.names[solid].clone());
        }
    }
    Hindrance::Several
}

fn gap(kept: &Kept, point: DVec3) -> f64 {
    signed_distance(&Solid::capsule(point, point, 0.0), &kept.solid) - kept.clear
}

/// What one lead runs between.
struct Rest {
    /// The free space where it is not the same as that of all fixed solids.
    free: Option<FreeSpace>,
    fixed: Vec<Kept>,
    movable: Vec<Kept>,
}

impl Rest {
    fn around<'a>(&'a self, stand: &'a Stand<'_>) -> Surroundings<'a> {
        Surroundings {
            free: self.free.as_ref().unwrap_or(stand.surroundings.free),
            fixed: &self.fixed,
            movable: self.movable.clone(),
        }
    }
}

/// Everything but the lead's own plug and, if wanted, one solid more.
fn alone(stand: &Stand<'_>, number: usize, without: Option<usize>) -> Rest {
    let kept = |(_, kept): &(usize, &Kept)| kept.not_for != Some(number);
    let rest = |from: usize, to: usize| {
        stand
            .solids()
            .enumerate()
            .skip(from)
            .take(to - from)
            .filter(kept)
            .filter(|(solid, _)| Some(*solid) != without)
            .map(|(_, kept)| Kept {
                not_for: None,
                ..kept.clone()
            })
            .collect()
    };
    let all = stand.names.len();
    let fixed: Vec<Kept> = rest(0, stand.fixed);
    let grid = &stand.surroundings.free.grid;
    let changed = without.is_some_and(|solid| solid < stand.fixed);
    Rest {
        free: changed.then(|| free_space(&fixed, &grid.bounds(), grid.step)),
        fixed,
        movable: rest(stand.fixed, all),
    }
}
