//! What a module in the cavity is fixed to.

use glam::DVec3;

use super::room::{EPS, holds};
use super::{BACKED, FIXED, PAD, WAYS, axis_of};
use crate::distance::signed_distance;
use crate::fit::WALL;
use crate::layout::{FixedClass, Layout};
use crate::routed::MountedOn;
use crate::solids::{Bounds, Solid};

/// Places along each edge of a face at which something is looked for at its back.
const ACROSS: u32 = 7;

/// What a box is fixed to: a wall, rib, shelf, bracket or beam that lies at the
/// back of one of its faces; `None` when nothing firm does.
pub fn mounted_on(layout: &Layout, block: &Solid) -> Option<MountedOn> {
    let bounds = block.bounds();
    let obstacles = layout.fixed.iter().filter_map(|fixed| match fixed.class {
        FixedClass::Obstacle(kind) if holds(kind) => {
            Some((fixed.id.as_str(), fixed.name.as_str(), &fixed.solid))
        }
        _ => None,
    });
    let walls = layout.walls.iter();
    let firm: Vec<(&str, &str, &Solid)> = walls
        .map(|wall| (WALL, wall.name.as_str(), &wall.solid))
        .chain(obstacles)
        .filter(|(_, _, solid)| solid.bounds().gap(&bounds) <= PAD)
        .collect();
    let solids: Vec<&Solid> = firm.iter().map(|(_, _, solid)| *solid).collect();
    let mut best: Option<(f64, MountedOn)> = None;
    for face in WAYS {
        let backed = backing(&bounds, face, &solids);
        let near = |solid: &Solid| under(&bounds, face, solid);
        let on = firm.iter().find(|(_, _, solid)| near(solid));
        let Some((id, name, _)) = on.filter(|_| backed >= BACKED) else {
            continue;
        };
        if best.as_ref().is_none_or(|(most, _)| backed > *most + EPS) {
            let on = MountedOn {
                face,
                against: (*id).to_owned(),
                name: (*name).to_owned(),
                backed,
            };
            best = Some((backed, on));
        }
    }
    best.map(|(_, on)| on)
}

/// Whether a solid is no further from a face than tape is thick.
pub fn under(bounds: &Bounds, face: DVec3, solid: &Solid) -> bool {
    signed_distance(&plate(bounds, face), solid) <= FIXED
}

/// The face of a box as a plate of no thickness.
fn plate(bounds: &Bounds, face: DVec3) -> Solid {
    let axis = axis_of(face);
    let (mut low, mut high) = (bounds.min, bounds.max);
    if face[axis] > 0.0 {
        low[axis] = high[axis];
    } else {
        high[axis] = low[axis];
    }
    Solid::block(low, high)
}

/// Share of a face that has one of some solids at its back.
pub fn backing(bounds: &Bounds, face: DVec3, solids: &[&Solid]) -> f64 {
    let axis = axis_of(face);
    let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
    let from = if face[axis] > 0.0 {
        bounds.max[axis]
    } else {
        bounds.min[axis]
    };
    let share = |step: u32| (f64::from(step) + 0.5) / f64::from(ACROSS);
    let mut backed = 0;
    for step in 0..ACROSS * ACROSS {
        let mut point = DVec3::ZERO;
        point[axis] = from;
        for (axis, step) in [(u, step % ACROSS), (v, step / ACROSS)] {
            point[axis] = bounds.min[axis] + share(step) * (bounds.max[axis] - bounds.min[axis]);
        }
        let needle = Solid::capsule(point, point + PAD * face, 0.0);
        let meets = |solid: &&Solid| signed_distance(&needle, solid) <= EPS;
        backed += u32::from(solids.iter().any(meets));
    }
    f64::from(backed) / f64::from(ACROSS * ACROSS)
}
