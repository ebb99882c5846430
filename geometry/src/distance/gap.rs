//! The gap between two convex cores that do not overlap.
//!
//! E. G. Gilbert, D. W. Johnson and S. S. Keerthi, "A fast procedure for
//! computing the distance between complex objects in three-dimensional space",
//! 1988. Of the two cores only their furthest points are asked for, so it
//! serves every shape. Each step brings a gap that the two certainly have
//! (a free width along some direction) and points that are certainly no
//! nearer than the answer; it ends when the two figures meet.

use glam::DVec3;

use super::pair::{Pair, Points};
use super::simplex::Simplex;

/// The two figures have met when they differ by no more than this, mm.
const MET: f64 = 1e-11;

/// Nearer than this share of the cores' reach counts as touching.
const TOUCHING: f64 = 1e-14;

/// More steps than any pair of solids has been seen to need.
const MOST_STEPS: usize = 200;

/// Two convex cores apart from each other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    /// The gap, mm: the free width along `direction`.
    pub distance: f64,
    /// Unit vector from the first to the second.
    pub direction: DVec3,
    /// The nearest point of each, mm.
    pub points: Points,
}

/// The gap between two cores; `None` when they touch or overlap.
///
/// * `start`: a guess of the way from the first to the second, any length
pub(super) fn gap(pair: &Pair, start: DVec3) -> Option<Gap> {
    let start = if start.length_squared() > 0.0 {
        start
    } else {
        DVec3::X
    };
    let first = pair.facing(start);
    let mut simplex = Simplex::one(first);
    let mut way = first.between();
    let mut reach = way.length();
    let mut best = (f64::NEG_INFINITY, DVec3::X);
    for _ in 0..MOST_STEPS {
        let length = way.length();
        if length <= TOUCHING * reach {
            return None;
        }
        let direction = way / length;
        let next = pair.facing(direction);
        let width = next.between().dot(direction);
        reach = reach.max(next.between().length());
        if width > best.0 {
            best = (width, direction);
        }
        if length - best.0 <= MET || simplex.has(&next) {
            break;
        }
        let (nearer, part) = simplex.and(next).nearest(best.0 > 0.0)?;
        if nearer.length_squared() >= way.length_squared() {
            break;
        }
        (way, simplex) = (nearer, part);
    }
    let (distance, direction) = best;
    (distance > 0.0).then(|| Gap {
        distance,
        direction,
        points: simplex.points(),
    })
}
