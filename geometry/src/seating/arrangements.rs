//! Where modules could sit, a few sensible arrangements in the order they are tried.

use std::collections::BTreeMap;

use glam::DVec3;

use super::ends::Sits;
use crate::distance::signed_distance;
use crate::fit::{ModuleRoom, PlaceFit};
use crate::job::{Job, Module, Pocket};
use crate::layout::{FixedClass, Layout};
use crate::solids::Solid;

/// Arrangements tried at most.
const MOST: usize = 16;

/// Every module that has a place, by its id.
pub type Arrangement = BTreeMap<String, Sits>;

/// The arrangements to try: pinned modules stay, each movable one gets one of
/// the places it fits, no two the same.
///
/// * `rooms`: the places each module fits, in the job's order
pub fn arrangements(job: &Job, layout: &Layout, rooms: &[ModuleRoom]) -> Vec<Arrangement> {
    let mut all: Vec<Arrangement> = vec![BTreeMap::new()];
    for (module, room) in job.modules.iter().zip(rooms) {
        let options = if room.pinned {
            pinned(layout, &module.id)
        } else {
            let fits = room.fits.iter();
            fits.flat_map(|fit| seats(job, layout, module, fit))
                .collect()
        };
        if options.is_empty() {
            continue;
        }
        let mut grown: Vec<Arrangement> = Vec::new();
        for option in &options {
            for so_far in &all {
                if so_far.values().all(|other| apart(other, option)) {
                    let mut next = so_far.clone();
                    next.insert(module.id.clone(), option.clone());
                    grown.push(next);
                }
            }
        }
        if !grown.is_empty() {
            grown.truncate(MOST);
            all = grown;
        }
    }
    all
}

pub fn pinned(layout: &Layout, id: &str) -> Vec<Sits> {
    let mut fixed = layout.fixed.iter();
    fixed
        .find(|fixed| fixed.class == FixedClass::Module && fixed.id == id)
        .map(|fixed| Sits::Cavity(fixed.solid.clone()))
        .into_iter()
        .collect()
}

fn apart(one: &Sits, other: &Sits) -> bool {
    match (one, other) {
        (Sits::Space(a), Sits::Space(b)) => a != b,
        (Sits::Cavity(a), Sits::Cavity(b)) => signed_distance(a, b) >= 0.0,
        _ => true,
    }
}

/// A space as it is; a pocket with the module against its far corners first,
/// where it is least in the way, then in its middle.
pub fn seats(job: &Job, layout: &Layout, module: &Module, fit: &PlaceFit) -> Vec<Sits> {
    if job.cavity.spaces.iter().any(|space| space.id == fit.place) {
        return vec![Sits::Space(fit.place.clone())];
    }
    let mut pockets = job.cavity.pockets.iter();
    let Some(pocket) = pockets.find(|pocket| pocket.id == fit.place) else {
        return Vec::new();
    };
    let mut blocks: Vec<Solid> = Vec::new();
    for block in blocks_in(pocket, fit.size) {
        let stands = layout
            .fixed
            .iter()
            .all(|fixed| signed_distance(&block, &fixed.solid) >= fixed.clear.max(module.clear));
        if stands && !blocks.contains(&block) {
            blocks.push(block);
        }
    }
    blocks.into_iter().map(Sits::Cavity).collect()
}

fn blocks_in(pocket: &Pocket, size: DVec3) -> Vec<Solid> {
    let low = DVec3::from_array(pocket.faces.map(|face| face[0].value())) + 0.5 * size;
    let high = DVec3::from_array(pocket.faces.map(|face| face[1].value())) - 0.5 * size;
    let high = high.max(low);
    let corner = |x: bool, y: bool, z: bool| {
        let pick = |far: bool, axis: usize| if far { high[axis] } else { low[axis] };
        DVec3::new(pick(x, 0), pick(y, 1), pick(z, 2))
    };
    let mut centres = vec![0.5 * (low + high)];
    for deep in [true, false] {
        for up in [false, true] {
            for right in [false, true] {
                centres.push(corner(right, deep, up));
            }
        }
    }
    centres
        .into_iter()
        .map(|centre| Solid::block(centre - 0.5 * size, centre + 0.5 * size))
        .collect()
}
