//! What keeps a lead from its way when no single solid was met: the one
//! without which it would have a way.

use glam::DVec3;

use super::attempt::Attempt;
use super::pins;
use super::rest::Rest;
use super::scene::{Named, Scene};
use crate::distance::signed_distance;
use crate::routing::{Effort, Kept, route_one};
use crate::solids::Solid;

/// Solids that are tried, the nearest to where the cable starts first.
const MOST: usize = 10;

/// A solid further from the first turn than this is not tried, mm.
const REACH: f64 = 40.0;

/// What stands in the way of one plan of a failed attempt.
pub enum Hindrance {
    /// It has a way while the others are not laid.
    OtherLeads,
    /// It has a way where it need not pass its points.
    Point,
    /// It has a way without this solid.
    Solid(Named),
    /// No one solid is the cause.
    Several,
}

/// Looks for what stands in the way of plan `number`.
pub fn hindrance(scene: &Scene<'_>, failed: &Attempt, number: usize, effort: &Effort) -> Hindrance {
    let stand = scene.at(failed.proud);
    let task = &stand.tasks[number];
    if route_one(&Rest::of(&stand, number, None).around(&stand), task, effort).is_ok() {
        return Hindrance::OtherLeads;
    }
    if pins::has_a_way_without(scene, &stand, number, effort) {
        return Hindrance::Point;
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
        let rest = Rest::of(&stand, number, Some(solid));
        if route_one(&rest.around(&stand), task, effort).is_ok() {
            return Hindrance::Solid(stand.names[solid].clone());
        }
    }
    Hindrance::Several
}

fn gap(kept: &Kept, point: DVec3) -> f64 {
    signed_distance(&Solid::capsule(point, point, 0.0), &kept.solid) - kept.clear
}
