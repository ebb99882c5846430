//! Where modules sit, or could: six ways round, in named spaces and pockets.

use glam::DVec3;

use crate::distance::signed_distance;
use crate::fit::{ModuleRoom, PlaceFit};
use crate::job::{CAVITY, Job, Module, ModulePlace};
use crate::layout::Layout;
use crate::measure::{Harm, Reading};
use crate::solids::Solid;

/// The three sizes of a box in every order: the six ways round it may lie.
const WAYS_ROUND: [[usize; 3]; 6] = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
];

/// Every module's place or places.
pub fn module_rooms(job: &Job, layout: &Layout, reading: Reading) -> Vec<ModuleRoom> {
    job.modules
        .iter()
        .map(|module| module_room(job, layout, reading, module))
        .collect()
}

fn module_room(job: &Job, layout: &Layout, reading: Reading, module: &Module) -> ModuleRoom {
    let ModulePlace::Movable(allowed) = &module.place else {
        return ModuleRoom {
            module: module.id.clone(),
            name: module.name.clone(),
            pinned: true,
            anywhere: false,
            fits: Vec::new(),
            closest_miss: None,
        };
    };
    let mut fits = Vec::new();
    let mut closest_miss: Option<(String, f64)> = None;
    for place in places(job, reading) {
        if !allowed.is_empty() && !allowed.iter().any(|id| id == place.id) {
            continue;
        }
        let (size, spare) = best_way_round(module, &place, reading);
        let short = -(spare.min(place.least_gap(module, size, layout)));
        if short <= 0.0 {
            fits.push(PlaceFit {
                place: place.id.to_owned(),
                name: place.name.to_owned(),
                size,
                spare,
                lead_short: place
                    .run
                    .zip(module.lead_length)
                    .map(|(run, length)| (run - length).max(0.0)),
            });
        } else if closest_miss
            .as_ref()
            .is_none_or(|(_, least)| short < *least)
        {
            closest_miss = Some((place.name.to_owned(), short));
        }
    }
    fits.sort_by(|a, b| b.spare.total_cmp(&a.spare));
    let closest_miss = if fits.is_empty() { closest_miss } else { None };
    ModuleRoom {
        module: module.id.clone(),
        name: module.name.clone(),
        pinned: false,
        anywhere: allowed.iter().any(|place| place == CAVITY),
        fits,
        closest_miss,
    }
}

/// A space or a pocket, as a module sees it.
struct Place<'a> {
    id: &'a str,
    name: &'a str,
    free: DVec3,
    /// Its centre inside the cavity; `None` for a space outside it.
    centre: Option<DVec3>,
    /// Lead from the exit to it, mm.
    run: Option<f64>,
}

fn places(job: &Job, reading: Reading) -> Vec<Place<'_>> {
    let spaces = job.cavity.spaces.iter().map(|space| Place {
        id: &space.id,
        name: &space.name,
        free: DVec3::from_array(space.size.map(|size| size.at(reading, Harm::Smaller))),
        centre: None,
        run: Some(space.run),
    });
    let pockets = job.cavity.pockets.iter().map(|pocket| {
        let low = DVec3::from_array(pocket.faces.map(|face| face[0].at(reading, Harm::Larger)));
        let high = DVec3::from_array(pocket.faces.map(|face| face[1].at(reading, Harm::Smaller)));
        Place {
            id: &pocket.id,
            name: &pocket.name,
            free: high - low,
            centre: Some(0.5 * (low + high)),
            run: None,
        }
    });
    spaces.chain(pockets).collect()
}

/// The way round that leaves the most room, and that room, mm.
fn best_way_round(module: &Module, place: &Place, reading: Reading) -> (DVec3, f64) {
    let size = module.size.map(|size| size.at(reading, Harm::Larger));
    WAYS_ROUND
        .into_iter()
        .map(|way| {
            let turned = DVec3::from_array(way.map(|axis| size[axis]));
            (turned, (place.free - turned).min_element())
        })
        .fold(None, |best: Option<(DVec3, f64)>, way| match best {
            Some(best) if best.1 >= way.1 => Some(best),
            _ => Some(way),
        })
        .unwrap_or((DVec3::ZERO, f64::NEG_INFINITY))
}

impl Place<'_> {
    /// Least distance of a module in the middle of this place to anything
    /// else in the cavity, less the room that is kept, mm; infinite outside it.
    fn least_gap(&self, module: &Module, size: DVec3, layout: &Layout) -> f64 {
        let Some(centre) = self.centre else {
            return f64::INFINITY;
        };
        let solid = Solid::block(centre - 0.5 * size, centre + 0.5 * size);
        let fixed = layout
            .fixed
            .iter()
            .map(|fixed| signed_distance(&solid, &fixed.solid) - fixed.clear);
        let sliding = layout
            .sliding
            .iter()
            .map(|piece| signed_distance(&solid, &piece.solid) - module.clear);
        let walls = layout
            .walls
            .iter()
            .map(|wall| signed_distance(&solid, &wall.solid));
        fixed
            .chain(sliding)
            .chain(walls)
            .fold(f64::INFINITY, f64::min)
    }
}

/// One place per module, so that no two share one: for each movable module the
/// place it gets, in the job's order; `None` for those left over.
pub fn assign(rooms: &[ModuleRoom]) -> Vec<Option<String>> {
    let mut taken: Vec<(String, usize)> = Vec::new();
    for module in 0..rooms.len() {
        let mut tried = Vec::new();
        find_place(rooms, module, &mut taken, &mut tried);
    }
    (0..rooms.len())
        .map(|module| {
            taken
                .iter()
                .find(|(_, holder)| *holder == module)
                .map(|(place, _)| place.clone())
        })
        .collect()
}

/// Gives `module` a place, moving others on where they have another.
fn find_place(
    rooms: &[ModuleRoom],
    module: usize,
    taken: &mut Vec<(String, usize)>,
    tried: &mut Vec<String>,
) -> bool {
    for fit in &rooms[module].fits {
        if tried.contains(&fit.place) {
            continue;
        }
        tried.push(fit.place.clone());
        let holder = taken.iter().position(|(place, _)| *place == fit.place);
        match holder {
            None => {
                taken.push((fit.place.clone(), module));
                return true;
            }
            Some(slot) => {
                let other = taken[slot].1;
                if find_place(rooms, other, taken, tried) {
                    // The other one has moved on; its old entry is ours.
                    taken[slot].1 = module;
                    return true;
                }
            }
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room(id: &str, fits: &[&str]) -> ModuleRoom {
        ModuleRoom {
            module: id.into(),
            name: id.into(),
            pinned: false,
            anywhere: false,
            fits: fits
                .iter()
                .map(|place| PlaceFit {
                    place: (*place).into(),
                    name: (*place).into(),
                    size: DVec3::ONE,
                    spare: 1.0,
                    lead_short: None,
                })
                .collect(),
            closest_miss: None,
        }
    }

    #[test]
    fn no_two_modules_share_a_place() {
        let rooms = [room("a", &["p", "q"]), room("b", &["p"])];
        assert_eq!(assign(&rooms), vec![Some("q".into()), Some("p".into())]);
        let rooms = [room("a", &["p"]), room("b", &["p"])];
        assert_eq!(assign(&rooms), vec![Some("p".into()), None]);
    }
}
