//! How far apart two solids are, or how deep they overlap.
//!
//! Positive is a free gap. Negative is overlap: of two convex solids, the
//! least shift that parts them. A prism over a re-entrant outline is taken
//! piece by piece: its distance is the least over its convex pieces, so its
//! overlap is that of the piece that sits deepest, and moving one of the two
//! solids that far may not be enough to part all pieces at once.
//!
//! Figures are right to 1e-8 mm for solids of up to some metres, between flat
//! faces and between capsules to rounding.

use glam::DVec3;

use crate::solids::Solid;

mod blocks;
mod circle;
mod convex;
mod facing;
mod gap;
mod many;
mod overlap;
mod pair;
mod rims;
mod segments;
mod simplex;

pub(crate) use convex::{Convex, Core};
use facing::Facing;
pub(crate) use facing::{facing, nearest_of};
pub use many::nearest_of_all;
pub(crate) use segments::{Segment, line_to_line};

/// The nearest points of two solids.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The gap between them, mm; negative: how deep they overlap.
    pub distance: f64,
    /// Unit vector from the first to the second. Along it the two have a free
    /// width of `distance` (to 1e-6 mm): shifting the second by as much parts
    /// two that overlap.
    pub direction: DVec3,
    /// On the first solid's surface, mm. When they overlap, the point deepest
    /// in the second.
    pub on_a: DVec3,
    /// On the second solid's surface, mm: `distance` from `on_a` along
    /// `direction` (where round surfaces face each other to 1e-3 mm sideways).
    pub on_b: DVec3,
}

/// The gap between two solids, mm; negative: how deep they overlap.
///
/// See [the module](self) for what overlap means.
pub fn signed_distance(a: &Solid, b: &Solid) -> f64 {
    let mut least = f64::INFINITY;
    for one in Convex::pieces(a) {
        for other in Convex::pieces(b) {
            least = least.min(facing(&one, &other).distance);
        }
    }
    least
}

/// The gap between two solids with the points where it is.
///
/// Where several places are equally near, one of them.
pub fn nearest(a: &Solid, b: &Solid) -> Nearest {
    let mut least: Option<(Convex, Convex, Facing)> = None;
    for one in Convex::pieces(a) {
        for other in Convex::pieces(b) {
            let facing = facing(&one, &other);
            if least.is_none_or(|(_, _, known)| facing.distance < known.distance) {
                least = Some((one, other, facing));
            }
        }
    }
    let (one, other, facing) = least.expect("a solid has at least one piece");
    facing.nearest(&one, &other)
}
