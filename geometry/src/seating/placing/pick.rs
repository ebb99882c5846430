//! The cheapest few spots that stand up to exact distances.

use glam::DVec3;

use super::mounted::{backing, under};
use super::price::Prices;
use super::reach::{Cable, cables};
use super::room::{EPS, Room};
use super::spots::{Spot, spots};
use super::{BACKED, FIXED, TAPE};
use crate::distance::signed_distance;
use crate::job::{Job, Module};
use crate::layout::Layout;
use crate::measure::{Harm, Reading};
use crate::routed::Miss;
use crate::solids::{Bounds, Solid};
use crate::sweep::stop_along;

/// Places offered for one module at most.
const MOST: usize = 8;

/// Spots looked at by exact distances at most.
const CHECKS: usize = 600;

/// Two places of a module differ when they are this far apart, mm.
const APART: f64 = 30.0;

/// Or this far, fixed by another face, mm.
const APART_TURNED: f64 = 15.0;

/// A miss is looked for among spots no shorter of room than this, mm; the
/// narrow ones first.
const MISSES: [f64; 3] = [4.0, 12.0, 40.0];

/// A place in the cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct FreePlace {
    /// The module there.
    pub block: Solid,
    /// The way out of the face it is fixed by, a unit vector.
    pub mount: DVec3,
    /// What it costs, as mm of lead.
    pub price: f64,
}

/// Places for a module anywhere in the cavity, the cheapest first, or the
/// closest miss; `Err(None)` when the cavity was not measured or nothing in it
/// holds a module.
pub fn free_places(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    module: &Module,
    proud: f64,
) -> Result<Vec<FreePlace>, Option<Miss>> {
    let room = Room::of(job, layout, reading, module, proud).ok_or(None)?;
    let size = DVec3::from_array(module.size.map(|size| size.at(reading, Harm::Larger)));
    if let Some(miss) = too_large(layout, size) {
        return Err(Some(miss));
    }
    let cables = cables(job, layout, reading, module);
    let prices = Prices::of(job, layout, reading, (module, &cables), &room, proud);
    let look = Look {
        room: &room,
        cables: &cables,
        job,
        clear: module.clear,
    };
    let mut priced: Vec<(f64, Spot)> = (spots(&room, size, 0.0).into_iter())
        .map(|spot| (prices.of_spot(&spot), spot))
        .collect();
    priced.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut places: Vec<FreePlace> = Vec::new();
    let mut taken: Vec<Spot> = Vec::new();
    let mut unmet: Option<Miss> = None;
    let mut checks = 0;
    for (price, spot) in priced {
        if taken.iter().any(|other| is_alike(other, &spot)) {
            continue;
        }
        if places.len() >= MOST || checks >= CHECKS {
            break;
        }
        checks += 1;
        match look.at(spot) {
            Ok(spot) => {
                taken.push(spot);
                places.push(FreePlace {
                    block: block(&spot.bounds),
                    mount: spot.mount,
                    price,
                });
            }
            Err(miss) => nearer(&mut unmet, miss),
        }
    }
    if places.is_empty() {
        return Err(look.closest_miss(size, unmet));
    }
    Ok(places)
}

/// A module that does not go in through the opening, whichever way it is held.
fn too_large(layout: &Layout, size: DVec3) -> Option<Miss> {
    let mut sizes = size.to_array();
    sizes.sort_by(f64::total_cmp);
    let half = layout.opening_half;
    let mut opening = [2.0 * half.x, 2.0 * half.y];
    opening.sort_by(f64::total_cmp);
    let short = (sizes[0] - opening[0]).max(sizes[1] - opening[1]);
    (short > 0.0).then(|| Miss {
        place: String::new(),
        at: None,
        against: "opening in the dash".to_owned(),
        short,
    })
}

fn block(bounds: &Bounds) -> Solid {
    Solid::block(bounds.min, bounds.max)
}

fn is_alike(one: &Spot, other: &Spot) -> bool {
    let apart = one.bounds.middle().distance(other.bounds.middle());
    apart
        < if one.mount == other.mount {
            APART
        } else {
            APART_TURNED
        }
}

fn nearer(best: &mut Option<Miss>, miss: Option<Miss>) {
    let Some(miss) = miss else { return };
    if best.as_ref().is_none_or(|best| miss.short < best.short) {
        *best = Some(miss);
    }
}

/// What a spot is held against.
struct Look<'a> {
    room: &'a Room,
    cables: &'a [Cable],
    job: &'a Job,
    clear: f64,
}

impl Look<'_> {
    /// The spot, drawn up to a wall that leans; or what it is short of, where
    /// that is a length.
    fn at(&self, spot: Spot) -> Result<Spot, Option<Miss>> {
        let spot = self.drawn_up(spot);
        let (against, short) = self.short(&spot);
        if short > EPS {
            return Err(Some(self.miss(&spot, against, short)));
        }
        let leaves = |cable: &Cable| cable.leaves(self.room, &spot.bounds, spot.mount, self.clear);
        if self.is_backed(&spot) && self.cables.iter().all(leaves) {
            Ok(spot)
        } else {
            Err(None)
        }
    }

    /// What a spot is shortest of, room or lead, and by how much, mm.
    fn short(&self, spot: &Spot) -> (String, f64) {
        let worst = self.room.worst(&block(&spot.bounds), spot.mount);
        let mut short = (worst.name, worst.by);
        for cable in self.cables {
            let by = cable.short(&spot.bounds).unwrap_or(f64::NEG_INFINITY);
            if by > short.1 {
                let name = &self.job.leads[cable.number].name;
                short = (format!("length of the {name}"), by);
            }
        }
        short
    }

    /// Whether enough of its face has something firm at its back.
    fn is_backed(&self, spot: &Spot) -> bool {
        let firm: Vec<&Solid> = (self.room.stills.iter())
            .filter(|still| still.holds && still.bounds.gap(&spot.bounds) <= super::PAD)
            .map(|still| &still.solid)
            .collect();
        let on = &self.room.stills[spot.on].solid;
        under(&spot.bounds, spot.mount, on) && backing(&spot.bounds, spot.mount, &firm) >= BACKED
    }

    /// A wall that leans is touched further on than the box around it says.
    fn drawn_up(&self, spot: Spot) -> Spot {
        let on = &self.room.stills[spot.on];
        if on.fills {
            return spot;
        }
        let block = block(&spot.bounds);
        let gap = signed_distance(&block, &on.solid);
        if !(FIXED..=super::PAD * 10.0).contains(&gap) {
            return spot;
        }
        match stop_along(&block, &on.solid, spot.mount, TAPE) {
            Some(meeting) if meeting.travel < 0.0 => {
                let by = -meeting.travel * spot.mount;
                let bounds = Bounds {
                    min: spot.bounds.min + by,
                    max: spot.bounds.max + by,
                };
                Spot { bounds, ..spot }
            }
            _ => spot,
        }
    }

    fn miss(&self, spot: &Spot, against: String, short: f64) -> Miss {
        Miss {
            place: self.room.stills[spot.on].name.clone(),
            at: Some(spot.bounds.middle()),
            against,
            short,
        }
    }

    /// The spot that is least short of room.
    fn closest_miss(&self, size: DVec3, unmet: Option<Miss>) -> Option<Miss> {
        let mut best = unmet;
        for slack in MISSES {
            let mut short: Vec<(f64, Spot)> = (spots(self.room, size, slack).into_iter())
                .map(|spot| {
                    let by = self.room.at_least_short(&spot.bounds, spot.mount, slack);
                    (by, spot)
                })
                .collect();
            short.sort_by(|a, b| a.0.total_cmp(&b.0));
            for (_, spot) in short.into_iter().take(CHECKS) {
                let spot = self.drawn_up(spot);
                let (against, short) = self.short(&spot);
                let closer = best.as_ref().is_none_or(|best| short < best.short);
                if short > EPS && closer && self.is_backed(&spot) {
                    best = Some(self.miss(&spot, against, short));
                }
            }
            if best.as_ref().is_some_and(|best| best.short <= slack) {
                break;
            }
        }
        best
    }
}
