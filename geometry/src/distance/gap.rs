//! The gap between two convex cores that do not overlap.
//!
//! E. G. Gilbert, D. W. Johnson and S. S. Keerthi, "A fast procedure for
//! computing the distance between complex objects in three-dimensional space",
//! 1988. Of the two cores only their furthest points are asked for, so it
//! serves every shape. Each step brings a gap that the two certainly have
//! (a free width along some direction) and points that are certainly no
//! nearer than the answer; it ends when the two figures meet.
//!
//! What a small error of the direction does to the two figures is not the
//! same. Between flat faces it hardly changes how far apart the points are, so
//! that is the answer. On round surfaces the points follow the direction, and
//! the free width is the answer.

use glam::DVec3;

use super::overlap::Widest;
use super::pair::{Pair, Points};
use super::simplex::Simplex;

/// The two figures have met when they differ by no more than this, mm.
const MET: f64 = 1e-10;

/// Further apart than this when no step helps any more, they have not met, mm.
const UNMET: f64 = 1e-8;

/// Across a gap smaller than this, rounding keeps the direction from being
/// known well enough for the two figures to meet, mm.
const TINY: f64 = 1e-6;

/// Nearer than this share of the cores' reach counts as touching.
const TOUCHING: f64 = 1e-14;

/// Steps in all that may bring nothing.
const MOST_IDLE: usize = 8;

/// More steps than any pair of solids has been seen to need.
const MOST_STEPS: usize = 200;

/// Two convex cores apart from each other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    /// The gap, mm.
    pub distance: f64,
    /// Unit vector from the first to the second.
    pub direction: DVec3,
    /// The nearest point of each, mm.
    pub points: Points,
}

/// The gap between two cores. When they touch or overlap, or are so nearly
/// touching that the two figures do not meet: the widest free width seen.
///
/// * `start`: a guess of the way from the first to the second, any length
pub(super) fn gap(pair: &Pair, start: DVec3) -> Result<Gap, Widest> {
    let start = if start.length_squared() > 0.0 {
        start
    } else {
        DVec3::X
    };
    let first = pair.facing(start);
    let mut simplex = Simplex::one(first);
    let (mut nearest, mut way) = (first.between(), first.between());
    let mut reach = way.length();
    let mut widest = Widest::NONE;
    let mut idle = 0;
    for _ in 0..MOST_STEPS {
        let length = nearest.length();
        if length <= TOUCHING * reach {
            return Err(widest);
        }
        let direction = way.try_normalize().unwrap_or(nearest / length);
        let next = pair.facing(direction);
        widest.offer(next.between().dot(direction), direction);
        reach = reach.max(next.between().length());
        if length - widest.width <= MET || simplex.has(&next) {
            break;
        }
        let before = simplex;
        simplex.add(next);
        let Some((nearer, next_way)) = simplex.nearest(widest.width > 0.0) else {
            return Err(widest);
        };
        if nearer.length_squared() >= nearest.length_squared() {
            // Rounding hides the progress. A step or two may be needed to turn
            // the direction before there is more, but not for ever.
            idle += 1;
            if idle > MOST_IDLE
                || nearer.length_squared() > nearest.length_squared() * (1.0 + 1e-12)
            {
                simplex = before;
                break;
            }
        }
        (nearest, way) = (nearer, next_way);
    }
    let between = nearest.length();
    let flat = pair.is_flat();
    let met = between - widest.width <= UNMET || (flat && between <= TINY);
    if widest.width <= 0.0 || !met {
        return Err(widest);
    }
    Ok(Gap {
        distance: if flat { between } else { widest.width },
        direction: widest.direction,
        points: simplex.points(),
    })
}

/// Looks for a slightly better direction beside one already found.
///
/// Across a tiny gap, or where round surfaces overlap, a direction is known
/// only roughly. With the second core moved along it until 1 mm of air is
/// between the two, the way across that air is known well.
pub(super) fn sharpen(pair: &Pair, widest: &mut Widest) {
    let out = widest.direction * (1.0 - widest.width);
    if let Ok(apart) = gap(&pair.shifted(out), widest.direction) {
        widest.offer(pair.width(apart.direction), apart.direction);
    }
}
