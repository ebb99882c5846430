//! The widest free width among the directions square to an edge.
//!
//! Seen along the edge the two cores are flat shapes, and so is all that one
//! leaves the other: a flat convex shape around the origin, known by its
//! furthest points. Between two directions with known furthest points the
//! overlap cannot be less than at the line through these two points. Arcs that
//! cannot hold less than the best found are dropped, the others split there.
//! On straight sides this ends exactly, on curved ones the arcs halve.

use std::collections::VecDeque;

use glam::{DVec2, DVec3};

use super::overlap::Widest;
use super::pair::Pair;

/// Less overlap than this is not looked for, mm.
const FINE: f64 = 1e-11;

/// Most arcs looked at. Only when a whole arc of directions is equally good
/// are there this many, and then each of them gives the same answer.
const MOST_ARCS: usize = 600;

/// A direction and the furthest point along it, seen along the edge.
#[derive(Clone, Copy)]
struct Reach {
    way: DVec2,
    point: DVec2,
}

/// Tries the directions square to `edge`, a unit vector.
pub(super) fn widest_on_circle(pair: &Pair, edge: DVec3, widest: &mut Widest) {
    let (u, v) = edge.any_orthonormal_pair();
    let mut reach = |way: DVec2| {
        let direction = u * way.x + v * way.y;
        let between = pair.facing(direction).between();
        let width = between.dot(direction);
        if width > widest.width {
            *widest = Widest { width, direction };
        }
        // The overlap's shape: the first core less the second.
        let point = -DVec2::new(between.dot(u), between.dot(v));
        (Reach { way, point }, widest.width)
    };
    let ways = [DVec2::X, DVec2::Y, -DVec2::X, -DVec2::Y];
    let corners = ways.map(|way| reach(way).0);
    let mut arcs: VecDeque<[Reach; 2]> =
        (0..4).map(|i| [corners[i], corners[(i + 1) % 4]]).collect();
    let mut looked_at = 0;
    while let Some([from, to]) = arcs.pop_front() {
        looked_at += 1;
        if looked_at > MOST_ARCS {
            break;
        }
        let side = to.point - from.point;
        let Some(way) = DVec2::new(side.y, -side.x).try_normalize() else {
            continue;
        };
        // Also drops arcs so short that rounding decides.
        if from.way.perp_dot(way) <= 1e-12 || way.perp_dot(to.way) <= 1e-12 {
            continue;
        }
        let least_overlap = way.dot(from.point);
        let (middle, best) = reach(way);
        if least_overlap < -best - FINE {
            arcs.push_back([from, middle]);
            arcs.push_back([middle, to]);
        }
    }
}
