//! Proofs that leads cannot lie in a hole.
//!
//! Each compares with something larger than the hole: its largest round, its
//! area, or the convex outline around it. What no proof excludes may still not fit.

use std::f64::consts::{PI, SQRT_2};

use glam::DVec2;

use super::WhyNot;
use super::hole::Hole;
use super::room::Room;
use super::touch::largest;
use crate::looms::conduit;

/// Rounding that no proof may rest on, as a share.
const ROUNDING: f64 = 1e-9;

/// Why these circles cannot lie in a hole, if one of the proofs says so.
///
/// * `diameters`: mm
pub(super) fn why_not(diameters: &[f64], hole: &Hole, room: &Room) -> Option<WhyNot> {
    let mut order: Vec<usize> = (0..diameters.len()).collect();
    order.sort_by(|&a, &b| diameters[b].total_cmp(&diameters[a]));
    let lead = *order.first()?;
    let (_, radius) = largest(room, &[])?;
    if diameters[lead] > 2.0 * radius * (1.0 + ROUNDING) {
        return Some(WhyNot::TooThick {
            lead,
            largest_round: 2.0 * radius,
        });
    }
    let asks: f64 = diameters.iter().map(|d| conduit::area(*d)).sum();
    if asks > hole.area() * (1.0 + ROUNDING) {
        return Some(WhyNot::Areas {
            asks,
            has: hole.area(),
        });
    }
    two_largest(diameters, &order, room).or_else(|| alike(diameters, &order, room))
}

/// The middles of the two largest can be no farther apart than the places
/// that each may take.
fn two_largest(diameters: &[f64], order: &[usize], room: &Room) -> Option<WhyNot> {
    let &[one, other] = order.first_chunk()?;
    let asks = 0.5 * (diameters[one] + diameters[other]);
    let has = match room {
        Room::Disc(rim) => 2.0 * rim - asks,
        Room::Flat { .. } => {
            let hull = convex(room);
            let places = [one, other].map(|lead| within(&hull, 0.5 * diameters[lead]));
            (places[0].iter())
                .flat_map(|a| places[1].iter().map(|b| a.distance(*b)))
                .fold(0.0, f64::max)
        }
    };
    (asks > has * (1.0 + ROUNDING)).then_some(WhyNot::TwoLargest {
        leads: [one, other],
        asks,
        has,
    })
}

/// Circles of the k-th largest diameter are no larger than the k largest; so
/// many alike must lie in the hole too.
fn alike(diameters: &[f64], order: &[usize], room: &Room) -> Option<WhyNot> {
    let hull = convex(room);
    (2..=order.len()).find_map(|count| {
        let diameter = diameters[order[count - 1]];
        let most = match room {
            Room::Disc(rim) => most_in_disc(diameter, *rim),
            Room::Flat { .. } => most_in_convex(diameter, &hull),
        };
        (count > most).then_some(WhyNot::SoManyAlike {
            count,
            diameter,
            most,
        })
    })
}

/// How much wider than one circle the disc around so many alike is at least:
/// closed forms, proved for these counts (R. L. Graham, 1968, and U. Pirl, 1969,
/// from memory).
fn least_disc(count: usize) -> f64 {
    match count {
        0 | 1 => 1.0,
        2 => 2.0,
        3 => 1.0 + 2.0 / 3f64.sqrt(),
        4 => 1.0 + SQRT_2,
        5 => 1.0 + (2.0 * (1.0 + 1.0 / 5f64.sqrt())).sqrt(),
        6 | 7 => 3.0,
        8 => 1.0 + 1.0 / (PI / 7.0).sin(),
        _ => 1.0 + (2.0 * (2.0 + SQRT_2)).sqrt(),
    }
}

/// No more circles alike than this lie in a disc.
fn most_in_disc(diameter: f64, rim: f64) -> usize {
    let ratio = 2.0 * rim / diameter * (1.0 + ROUNDING);
    let room = (rim - 0.5 * diameter).max(0.0);
    let by_area = oler(PI * room * room, 2.0 * PI * room, diameter);
    match (1..=9).rev().find(|&count| least_disc(count) <= ratio) {
        Some(9) => by_area,
        Some(count) => count.min(by_area),
        None => 0,
    }
}

/// No more circles alike than this lie in a convex outline.
fn most_in_convex(diameter: f64, hull: &[DVec2]) -> usize {
    let room = within(hull, 0.5 * diameter);
    if room.is_empty() {
        return 0;
    }
    let side = |i: usize| (room[i], room[(i + 1) % room.len()]);
    let round: f64 = (0..room.len()).map(|i| side(i).0.distance(side(i).1)).sum();
    let area: f64 = (0..room.len()).map(|i| side(i).0.perp_dot(side(i).1)).sum();
    oler(0.5 * area.abs(), round, diameter)
}

/// Most points that lie at least `apart` from each other in a convex room:
/// 2A/√3 + P/2 + 1 for unit distance (N. Oler, "An inequality in the geometry of
/// numbers", Acta Mathematica 105, 1961, from memory).
fn oler(area: f64, round: f64, apart: f64) -> usize {
    let most = 2.0 / 3f64.sqrt() * area / (apart * apart) + 0.5 * round / apart + 1.0;
    (most * (1.0 + ROUNDING)).floor() as usize
}

/// The convex outline around a room, counter-clockwise.
fn convex(room: &Room) -> Vec<DVec2> {
    let mut corners: Vec<DVec2> = room.sides().map(|[from, _]| from).collect();
    corners.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |corners: &mut dyn Iterator<Item = DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for corner in corners {
            while let [.., a, b] = chain[..] {
                if (b - a).perp_dot(corner - b) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(corner);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut corners.iter().copied());
    hull.extend(half(&mut corners.iter().rev().copied()));
    hull
}

/// The part of a convex outline at least so far from its sides.
fn within(hull: &[DVec2], margin: f64) -> Vec<DVec2> {
    let mut room = hull.to_vec();
    for i in 0..hull.len() {
        let (from, to) = (hull[i], hull[(i + 1) % hull.len()]);
        let inward = (to - from).perp().normalize_or_zero();
        // Wider by rounding, so that a room just wide enough is not lost.
        let depth = |p: DVec2| inward.dot(p - from) - margin * (1.0 - 0.1 * ROUNDING);
        let mut kept = Vec::with_capacity(room.len() + 1);
        for j in 0..room.len() {
            let (here, next) = (room[j], room[(j + 1) % room.len()]);
            let (a, b) = (depth(here), depth(next));
            if a >= 0.0 {
                kept.push(here);
            }
            if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
                kept.push(here.lerp(next, a / (a - b)));
            }
        }
        room = kept;
    }
    room
}
