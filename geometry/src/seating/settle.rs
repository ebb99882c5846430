//! Module ends that leave a cable no way are moved to where it has one.

use glam::DVec3;

use super::attempt::alone;
use super::ends::Sits;
use super::module_ports::ModulePort;
use super::plan::Plan;
use super::rest::Rest;
use super::scene::{Own, Scene};
use super::slots::LOOSE;
use crate::distance::signed_distance;
use crate::routing::{Effort, NoWay, Task, route_each, route_one};
use crate::solids::Solid;

/// Places tried along each edge of a face.
const ACROSS: u32 = 5;

/// Places from which a way is looked for, for each end.
const MOST: usize = 8;

/// Which end of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Its start.
    Start,
    /// Its end.
    End,
}

/// Moves the module ends of cables that have no way alone, the unit at `proud` mm.
pub fn settle(scene: &mut Scene<'_>, proud: f64, effort: &Effort) {
    for number in 0..scene.plans.len() {
        let ends = [Side::Start, Side::End]
            .into_iter()
            .filter(|side| scene.plans[number].module(*side).is_some());
        for side in ends.collect::<Vec<_>>() {
            if alone(scene, proud, number, effort).is_some() {
                move_end(scene, proud, number, side, effort);
            }
        }
    }
}

/// Finds every cable's own way with the unit at `proud` mm. Cables that no way
/// is short enough for are laid as if they were longer: what they lack is said
/// of them, and is no reason to stand proud.
pub fn lengthen(scene: &mut Scene<'_>, proud: f64, effort: &Effort) {
    let stand = scene.at(proud);
    let mut ways = route_each(&stand.surroundings, &stand.tasks, effort);
    let mut longer = Vec::new();
    for (number, way) in ways.iter_mut().enumerate() {
        if matches!(way, Err(NoWay::TooShort { .. })) {
            let task = Task {
                length: None,
                ..stand.tasks[number].clone()
            };
            let rest = Rest::of(&stand, number, None);
            *way = route_one(&rest.around(&stand), &task, effort);
            longer.push(number);
        }
    }
    for number in longer {
        scene.plans[number].longest = None;
    }
    scene.own = Some(Own { proud, ways });
}

/// Puts one end where the cable has a way; leaves it where it is when nothing helps.
fn move_end(scene: &mut Scene<'_>, proud: f64, number: usize, side: Side, effort: &Effort) {
    let before = scene.plans[number].clone();
    for port in places(scene, proud, number, side) {
        scene.plans[number].put(side, port);
        if alone(scene, proud, number, effort).is_none() {
            return;
        }
    }
    scene.plans[number] = before;
}

/// Places on the module's faces with room before them, the roomiest first.
fn places(scene: &Scene<'_>, proud: f64, number: usize, side: Side) -> Vec<ModulePort> {
    let plan = &scene.plans[number];
    let Some(Sits::Cavity(block)) = plan.module(side).and_then(|id| scene.sits(id)) else {
        return Vec::new();
    };
    let stand = scene.at(proud);
    let others: Vec<(DVec3, f64)> = (scene.plans.iter().enumerate())
        .filter(|(other, _)| *other != number)
        .flat_map(|(_, other)| [(other.first, other.od), (other.end.last, other.od)])
        .collect();
    let apart = |port: &ModulePort| {
        others
            .iter()
            .all(|(at, od)| at.distance(port.face) >= 0.5 * (od + plan.od) + LOOSE)
    };
    let room = |port: &ModulePort| {
        let from = port.face + plan.stand(side) * port.out;
        let ahead = Solid::capsule(from, from + 0.5 * plan.radius * port.out, 0.0);
        stand
            .solids()
            .filter(|kept| kept.not_for != Some(number))
            .map(|kept| signed_distance(&ahead, &kept.solid) - kept.clear)
            .fold(f64::INFINITY, f64::min)
            - 0.5 * plan.od
    };
    let mut free: Vec<(f64, ModulePort)> = grid(block, plan)
        .into_iter()
        .filter(apart)
        .map(|port| (room(&port), port))
        .filter(|(room, _)| *room >= 0.0)
        .collect();
    free.sort_by(|a, b| b.0.total_cmp(&a.0));
    free.truncate(MOST);
    free.into_iter().map(|(_, port)| port).collect()
}

/// Places on all six faces, so far from their edges that the cable lies on the face.
fn grid(block: &Solid, plan: &Plan) -> Vec<ModulePort> {
    let bounds = block.bounds();
    let centre = block.centre();
    let half = 0.5 * (bounds.max - bounds.min);
    let inside = (half - DVec3::splat(0.5 * plan.od)).max(DVec3::ZERO);
    let axes = [DVec3::X, DVec3::Y, DVec3::Z];
    let share = |step: u32| 2.0 * f64::from(step) / f64::from(ACROSS - 1) - 1.0;
    let mut ports = Vec::new();
    for (number, axis) in axes.into_iter().enumerate() {
        let [one, other] = [axes[(number + 1) % 3], axes[(number + 2) % 3]];
        for out in [axis, -axis] {
            for step in 0..ACROSS * ACROSS {
                let aside = share(step % ACROSS) * one + share(step / ACROSS) * other;
                ports.push(ModulePort {
                    face: centre + out * half + aside * inside,
                    out,
                });
            }
        }
    }
    ports
}
