//! How deep two convex cores overlap: the least shift that parts them.
//!
//! That depth is the least overlap of the two along any direction. Where it is
//! least, the direction is one of these, and each kind is tried in full:
//!
//! 1. square to a flat face of either, or to an edge of each (S. Gottschalk,
//!    M. C. Lin, D. Manocha, "OBBTree", 1996, for boxes; the same holds for
//!    every pair of solids with flat faces);
//! 2. with a round bar: square to an edge of the other or to its own axis, so
//!    somewhere on a circle of directions ([`super::circle`]);
//! 3. with two round bars: along the line between their rims where it is
//!    square to both ([`super::rims`]).
//!
//! For elsewhere one of the two curves less than a ball of that depth would,
//! and a small turn of the direction finds less overlap.

use glam::DVec3;

use super::circle::widest_on_circle;
use super::convex::Core;
use super::pair::Pair;
use super::rims::each_line_between_rims;

/// Edges closer to parallel than this (sine of the angle) give no direction.
const PARALLEL: f64 = 1e-10;

/// The widest free width found so far; negative while the cores overlap.
#[derive(Clone, Copy, Debug)]
pub(super) struct Widest {
    /// The free width, mm: minus the overlap.
    pub width: f64,
    /// Unit vector from the first to the second.
    pub direction: DVec3,
}

impl Widest {
    /// No direction tried yet.
    pub const NONE: Widest = Widest {
        width: f64::NEG_INFINITY,
        direction: DVec3::X,
    };

    /// Keeps a width and its unit direction when it is the widest so far.
    #[inline]
    pub fn offer(&mut self, width: f64, direction: DVec3) {
        if width > self.width {
            *self = Widest { width, direction };
        }
    }

    /// Tries a direction both ways; it need not have unit length.
    pub fn try_both(&mut self, pair: &Pair, direction: DVec3) {
        let length = direction.length();
        if length > PARALLEL {
            let direction = direction / length;
            let [along, against] = pair.widths(direction);
            self.offer(along, direction);
            self.offer(against, -direction);
        }
    }

    /// Tries one unit direction.
    pub fn try_one(&mut self, pair: &Pair, direction: DVec3) {
        self.offer(pair.width(direction), direction);
    }
}

/// The widest free width of two cores that touch or overlap, and its direction.
///
/// * `widest`: the widest seen while looking for a gap; it settles the cases
///   that only just touch
pub(super) fn overlap(pair: &Pair, mut widest: Widest) -> Widest {
    pair.each_normal(|normal| widest.try_both(pair, normal));
    pair.a.each_edge(|one| {
        pair.b
            .each_edge(|other| widest.try_both(pair, one.cross(pair.axes * other)));
    });
    let round_a = matches!(pair.a, Core::Cylinder { .. });
    let round_b = matches!(pair.b, Core::Cylinder { .. });
    if round_a || round_b {
        pair.each_edge(|edge| widest_on_circle(pair, edge, &mut widest));
    } else if widest.width < 0.0 {
        // Lines and points have no faces: what is square to them is flat.
        pair.each_edge(|edge| widest.try_both(pair, edge.any_orthonormal_vector()));
    }
    if round_a && round_b {
        each_line_between_rims(pair, |line| widest.try_both(pair, line));
    }
    if widest.width == f64::NEG_INFINITY {
        // Two points in one place.
        widest.try_one(pair, DVec3::X);
    }
    widest
}
