//! Does a set of leads pass a hole?
//!
//! Lengths in millimetres, in the plane of the hole.
//!
//! * [`lie_in`]: all cables lie in the hole at once
//! * [`fullest`]: by how much they could grow, and the thickest cable more
//! * [`feed_through`]: in which order their plugs go through
//!
//! A search proposes places; what is called `Yes` has been measured in place by
//! plain distances, what is called `No` is proved. Between lies `NotFound`.

mod feed;
mod fullest;
mod gauge;
mod hole;
mod proof;
mod room;
mod settle;
mod stands;
mod touch;
mod wall;

use glam::DVec2;

use crate::packing::{Effort, PackedCircle, pack};

pub use feed::{Feed, FeedThrough, Feeding, Head, Held, Lumps, PlacedBlock, feed_through};
pub use fullest::{Fullest, fullest};
pub use hole::Hole;

use gauge::{Lie, Thing};
use room::Room;

/// Overlap that counts as touching, as a share of the hole's size: rounding.
const TOUCHING: f64 = 1e-9;

/// Whether a set of leads lies in a hole all at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Passage {
    /// Whether it does, and why not.
    pub verdict: Passes,
    /// Area of the leads as a share of the hole's.
    pub fill: f64,
    /// By how much all diameters could grow about their places; below 1 they
    /// would have to shrink. A lower bound of what is possible.
    pub growth: f64,
    /// Where they lie, in the order given, from the hole's own origin; the best
    /// place found even where they do not pass.
    pub placed: Vec<PackedCircle>,
}

/// The answer to whether leads pass a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Passes {
    /// They do, lying as placed.
    Yes,
    /// They cannot, and why.
    No(WhyNot),
    /// No place was found and no proof either that there is none.
    NotFound,
}

/// Why leads cannot pass a hole. Lengths mm, areas mm²; leads by their place in
/// the list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WhyNot {
    /// The corners given enclose no hole.
    NoHole,
    /// One is thicker than the largest circle in the hole.
    TooThick {
        /// Which.
        lead: usize,
        /// Diameter of the largest circle in the hole.
        largest_round: f64,
    },
    /// Together they have more area than the hole.
    Areas {
        /// What they ask.
        asks: f64,
        /// What the hole has.
        has: f64,
    },
    /// The two largest do not lie beside each other.
    TwoLargest {
        /// Which.
        leads: [usize; 2],
        /// How far apart their middles must be.
        asks: f64,
        /// How far apart they can be.
        has: f64,
    },
    /// So many of at least one diameter never lie in such a hole.
    SoManyAlike {
        /// How many there are.
        count: usize,
        /// The least diameter among them.
        diameter: f64,
        /// No more than so many do.
        most: usize,
    },
}

/// Whether circles lie in a hole all at once.
///
/// Effort counts starts of the search, never time; it ends at the first place
/// found. Diameters that are not finite and above 0 take no room.
///
/// * `diameters`: mm
pub fn lie_in(diameters: &[f64], hole: &Hole, effort: Effort) -> Passage {
    lie_in_with(diameters, hole, 1.0, effort)
}

/// * `goal`: growth at which the search ends
fn lie_in_with(diameters: &[f64], hole: &Hole, goal: f64, effort: Effort) -> Passage {
    let real = |d: &f64| d.is_finite() && *d > 0.0;
    let some: Vec<f64> = diameters.iter().copied().filter(real).collect();
    let Some(room) = Room::of(hole) else {
        return Passage {
            verdict: Passes::No(WhyNot::NoHole),
            fill: f64::INFINITY,
            growth: 0.0,
            placed: in_order(diameters, &[]),
        };
    };
    let (lies, growth) = match hole {
        Hole::Round(bore) => packed(&some, *bore, effort),
        Hole::Polygon(_) => laid(&some, &room, goal, effort),
    };
    let things: Vec<Thing> = some.iter().map(|d| Thing::Round(0.5 * d)).collect();
    let verdict = if stands(&things, &lies, &room) {
        Passes::Yes
    } else {
        let numbers: Vec<f64> = (diameters.iter())
            .map(|d| if real(d) { *d } else { 0.0 })
            .collect();
        proof::why_not(&numbers, hole, &room).map_or(Passes::NotFound, Passes::No)
    };
    let squares: f64 = some.iter().map(|d| super::conduit::area(*d)).sum();
    Passage {
        verdict,
        fill: squares / hole.area(),
        growth,
        placed: in_order(diameters, &lies),
    }
}

/// Whether things lie in a room and overlap by rounding at most.
fn stands(things: &[Thing], lies: &[Lie], room: &Room) -> bool {
    let [low, high] = room.bounds();
    let touching = -TOUCHING * low.distance(high);
    lies.len() == things.len() && stands::least_gap(things, lies, room) >= touching
}

fn packed(diameters: &[f64], bore: f64, effort: Effort) -> (Vec<Lie>, f64) {
    let packing = pack(diameters, effort);
    let lie = |circle: &PackedCircle| Lie {
        at: circle.centre,
        turn: 0.0,
    };
    let lies = packing.circles.iter().map(lie).collect();
    (lies, bore / packing.diameter)
}

/// One circle lies best in the largest circle; more are searched for.
fn laid(diameters: &[f64], room: &Room, goal: f64, effort: Effort) -> (Vec<Lie>, f64) {
    match (diameters, touch::largest(room, &[])) {
        ([], _) => (Vec::new(), f64::INFINITY),
        ([one], Some((at, radius))) => (vec![Lie { at, turn: 0.0 }], 2.0 * radius / one),
        (_, Some((_, radius))) => {
            let things: Vec<Thing> = diameters.iter().map(|d| Thing::Round(0.5 * d)).collect();
            // The largest grows no further than the largest circle in the hole.
            let largest = diameters.iter().copied().fold(0.0, f64::max);
            let most = 2.0 * radius / largest * (1.0 - TOUCHING);
            settle::settle(&things, room, goal.min(most), effort)
        }
        (_, None) => (Vec::new(), 0.0),
    }
}

/// Places in the order of all diameters; what takes no room lies at the origin.
fn in_order(diameters: &[f64], lies: &[Lie]) -> Vec<PackedCircle> {
    let mut lies = lies.iter();
    let mut place = |diameter: f64| {
        if diameter.is_finite() && diameter > 0.0 {
            lies.next().map_or(DVec2::ZERO, |lie| lie.at)
        } else {
            DVec2::ZERO
        }
    };
    (diameters.iter())
        .map(|&diameter| PackedCircle {
            diameter,
            centre: place(diameter),
        })
        .collect()
}
