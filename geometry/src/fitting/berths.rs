//! Where the unit can stand, however it came there.
//!
//! A solid that a piece meets on its way in need not be in its way at the end
//! of it: a lip behind the opening is passed by the heads of the side screws
//! and then lies in front of them. So what each pair of solids forbids is a
//! range of proud, and what all of them leave is a few ranges more.

use super::insertion::{Against, Contact, WallRoom};
use crate::fit::{MOUNT, Stop};
use crate::frame::DEPTH;
use crate::layout::{Layout, Sliding};
use crate::solids::Solid;
use crate::sweep::stop_along;

/// A shorter range is none: nobody holds a unit that exactly, mm.
const SHORTEST: f64 = 0.01;

/// A range of proud where nothing stiff is in the unit's way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Berth {
    /// The least proud of it, mm.
    pub from: f64,
    /// Its end, further out, mm; infinite for the last one.
    pub to: f64,
    /// Whether the unit comes there sliding straight in.
    pub straight: bool,
}

/// Every range in which the unit stands free, by rising proud; none when a
/// piece too large for the opening would have to stay in front of it.
///
/// * `contacts`, `opening`: what the straight way meets
/// * `proud`: how far out the finished face holds the unit, and everything
///   stiff on the straight way, mm
pub fn berths(
    layout: &Layout,
    contacts: &[Contact],
    opening: &[Stop],
    wall_room: WallRoom,
    proud: [f64; 2],
) -> Vec<Berth> {
    if opening.iter().any(|stop| stop.against_id == MOUNT) {
        return Vec::new();
    }
    let [least, straight] = proud;
    let mut barred: Vec<[f64; 2]> = contacts
        .iter()
        .filter(|contact| contact.travel > least)
        .flat_map(|contact| overlaps(layout, contact, wall_room))
        .collect();
    // A piece too large for the opening is in it or out of it.
    let large = layout.sliding.iter().filter(|piece| {
        let mut stops = opening.iter();
        stops.any(|stop| stop.piece == piece.name && stop.piece_id == piece.id)
    });
    let large: Vec<[f64; 2]> = large
        .map(|piece| {
            let bounds = piece.solid.bounds();
            [bounds.min.y, bounds.max.y]
        })
        .collect();
    // With one of them out of it the unit has not gone in at all.
    let furthest = large.iter().map(|ends| ends[0]);
    let furthest = furthest.fold(f64::INFINITY, f64::min);
    barred.extend(large);
    barred.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut berths = Vec::new();
    let mut from = least;
    for [low, high] in barred {
        if low - from > SHORTEST {
            berths.push(Berth {
                from,
                to: low,
                straight: false,
            });
        }
        from = from.max(high);
    }
    if opening.is_empty() {
        berths.push(Berth {
            from: straight,
            to: f64::INFINITY,
            straight: true,
        });
    }
    berths.retain(|berth| berth.straight || berth.from < furthest);
    berths
}

/// Ranges of proud at which the two solids of a contact are too near each other, mm.
fn overlaps(layout: &Layout, contact: &Contact, wall_room: WallRoom) -> Vec<[f64; 2]> {
    let piece = &layout.sliding[contact.piece];
    let (solid, clear) = match contact.against {
        Against::Fixed(i) => (&layout.fixed[i].solid, layout.fixed[i].clear),
        Against::Wall(i) => (&layout.walls[i].solid, room(piece, wall_room)),
    };
    let mut ranges = Vec::new();
    for mover in piece.solid.pieces() {
        for stay in solid.pieces() {
            ranges.extend(overlap(&mover, &stay, clear));
        }
    }
    ranges
}

/// The same of two convex solids, pushed in from far out and from far behind.
fn overlap(mover: &Solid, stay: &Solid, clear: f64) -> Option<[f64; 2]> {
    let inward = stop_along(mover, stay, DEPTH, clear)?.travel;
    let outward = stop_along(mover, stay, -DEPTH, clear)?.travel;
    Some([-outward, inward])
}

/// Room a piece keeps from the walls, mm.
fn room(piece: &Sliding, wall_room: WallRoom) -> f64 {
    if piece.is_plug() {
        wall_room.plug
    } else {
        wall_room.unit
    }
}
