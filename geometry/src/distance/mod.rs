//! How far apart two solids are, or how deep they overlap.
//!
//! Positive is a free gap. Negative is overlap: of two convex solids, the
//! least shift that parts them. A prism over a re-entrant outline is taken
//! piece by piece: its distance is the least over its convex pieces, so its
//! overlap is that of the piece that sits deepest, and moving one of the two
//! solids that far may not be enough to part all pieces at once.
//!
//! Nothing is sampled or approximated. Figures are right to 1e-9 mm for solids
//! of up to some metres.

use glam::DVec3;

use crate::solids::Solid;

mod circle;
mod convex;
mod gap;
mod overlap;
mod pair;
mod rims;
mod simplex;

pub(crate) use convex::{Convex, Core};
use pair::{Pair, Points};

/// The nearest points of two solids.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The gap between them, mm; negative: how deep they overlap.
    pub distance: f64,
    /// Unit vector from the first to the second, along which `distance` is measured.
    pub direction: DVec3,
    /// On the first solid's surface, mm. When they overlap, the point deepest
    /// in the second.
    pub on_a: DVec3,
    /// On the second solid's surface, mm; to rounding, `on_a + distance * direction`.
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
    with_points(&one, &other, facing)
}

/// How two convex solids face each other.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Facing {
    /// Signed distance, mm.
    pub distance: f64,
    /// Unit vector from the first to the second, in the coordinates of the first.
    pub direction: DVec3,
    /// Nearest points of the cores in the coordinates of the first, where known.
    points: Option<Points>,
}

/// The nearest points of two convex solids.
pub(crate) fn nearest_of(a: &Convex, b: &Convex) -> Nearest {
    with_points(a, b, facing(a, b))
}

/// How two convex solids face each other.
#[inline]
pub(crate) fn facing(a: &Convex, b: &Convex) -> Facing {
    let pair = Pair::new(a, b);
    let cores = cores(&pair);
    Facing {
        distance: cores.distance - a.round - b.round,
        ..cores
    }
}

/// How two cores face each other.
fn cores(pair: &Pair) -> Facing {
    match gap::gap(pair, pair.at) {
        Some(gap) => Facing {
            distance: gap.distance,
            direction: gap.direction,
            points: Some(gap.points),
        },
        None => {
            let widest = overlap::overlap(pair);
            Facing {
                distance: widest.width,
                direction: widest.direction,
                points: None,
            }
        }
    }
}

/// The nearest points of two convex solids that face each other so.
fn with_points(a: &Convex, b: &Convex, facing: Facing) -> Nearest {
    let Facing {
        distance,
        direction,
        points,
    } = facing;
    let points = points.unwrap_or_else(|| {
        // Overlapping cores: with the second moved out until 1 mm of air is
        // between them, the nearest points are those that lie deepest now.
        let pair = Pair::new(a, b);
        let core_distance = distance + a.round + b.round;
        let out = direction * (1.0 - core_distance);
        let apart = pair.shifted(out);
        let points = gap::gap(&apart, direction).map_or(apart.facing(direction), |g| g.points);
        Points {
            a: points.a,
            b: points.b - out,
        }
    });
    Nearest {
        distance,
        direction: a.axes * direction,
        on_a: a.at + a.axes * (points.a + direction * a.round),
        on_b: a.at + a.axes * (points.b - direction * b.round),
    }
}
