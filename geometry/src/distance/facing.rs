//! How two convex solids face each other: which way of measuring serves them.

use glam::{DMat3, DVec3};

use super::Nearest;
use super::blocks::{parallel, widest_of_fifteen};
use super::convex::{Convex, Core};
use super::gap::{gap, sharpen};
use super::overlap::{Widest, overlap};
use super::pair::{Pair, Points};
use super::segments::{PARALLEL, Segment, block_over_line, block_to_line, line_to_line};

/// Across a gap smaller than this, rounding tells on the direction, mm.
const CLOSE: f64 = 1e-2;

/// Across a gap smaller than this, rounding may spoil the direction, mm.
const TINY: f64 = 1e-9;

/// Points further apart than this give a good direction, mm.
const COARSE: f64 = 1e-3;

/// The nearest points of two convex solids.
pub(crate) fn nearest_of(a: &Convex, b: &Convex) -> Nearest {
    facing(a, b).nearest(a, b)
}

/// How two convex solids face each other.
///
/// Directions and points are in the coordinates of one of the two, its host,
/// and turned into the common frame only when somebody asks.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Facing {
    /// Signed distance, mm.
    pub distance: f64,
    /// Unit vector from the host to the other.
    way: DVec3,
    /// Nearest points of the two cores, the host's first, where known.
    points: Option<Points>,
    /// Whether the host is the second of the two.
    swapped: bool,
}

/// How two convex solids face each other: in closed form where there is one,
/// else by [`gap`] and [`overlap`].
#[inline]
pub(crate) fn facing(a: &Convex, b: &Convex) -> Facing {
    let mut facing = match (a.core, b.core) {
        (Core::Segment { half_length: one }, Core::Segment { half_length: other }) => {
            lines(a, one, b, other)
        }
        (Core::Block { half }, Core::Segment { half_length }) => {
            block_and_line(a, half, b, half_length)
        }
        (Core::Segment { half_length }, Core::Block { half }) => {
            block_and_line(b, half, a, half_length).swap()
        }
        (Core::Block { half: one }, Core::Block { half: other }) => blocks(a, one, b, other),
        _ => {
            let pair = Pair::new(a, b);
            apart_or_over(&pair, pair.at)
        }
    };
    facing.distance -= a.round + b.round;
    facing
}

/// Two cores of any kind.
///
/// * `start`: a guess of the way from the first to the second
fn apart_or_over(pair: &Pair, start: DVec3) -> Facing {
    match gap(pair, start) {
        Ok(found) => {
            let mut widest = Widest {
                width: found.distance,
                direction: found.direction,
            };
            if found.distance < CLOSE && !pair.is_flat() {
                sharpen(pair, &mut widest);
            }
            Facing {
                distance: widest.width,
                way: widest.direction,
                points: Some(found.points),
                swapped: false,
            }
        }
        Err(seen) => {
            let mut widest = overlap(pair, seen);
            if !pair.is_flat() {
                sharpen(pair, &mut widest);
            }
            Facing::over(widest.width, widest.direction)
        }
    }
}

/// Two blocks.
fn blocks(a: &Convex, half_a: DVec3, b: &Convex, half_b: DVec3) -> Facing {
    let pair = Pair::new(a, b);
    if pair.axes == DMat3::IDENTITY
        && let Some(points) = parallel(half_a, half_b, pair.at)
    {
        return Facing::apart(points, points.between().normalize());
    }
    let widest = widest_of_fifteen(half_a, half_b, &pair.axes, pair.at);
    if widest.width > 0.0 {
        apart_or_over(&pair, widest.direction)
    } else {
        Facing::over(widest.width, widest.direction)
    }
}

/// The lines in the middle of two capsules.
#[inline]
fn lines(a: &Convex, half_a: f64, b: &Convex, half_b: f64) -> Facing {
    let one = Segment {
        middle: DVec3::ZERO,
        half: DVec3::Z * half_a,
    };
    let other = seen_from(a, b, half_b);
    let (points, mut way) = line_to_line(&one, &other);
    if way == DVec3::ZERO {
        // They meet, and any direction square to both will do.
        let square = one.half.cross(other.half);
        way = if square.length() > PARALLEL * half_a * half_b {
            square.normalize()
        } else if half_a > 0.0 {
            DVec3::X
        } else {
            let along = other.half.try_normalize();
            along.map_or(DVec3::X, |along| along.any_orthonormal_vector())
        };
    }
    Facing::apart(points, way)
}

/// A block and the line in the middle of a capsule.
#[inline]
fn block_and_line(a: &Convex, half: DVec3, b: &Convex, half_length: f64) -> Facing {
    let line = seen_from(a, b, half_length);
    let (points, way) = block_to_line(half, &line);
    if way == DVec3::ZERO {
        let (width, way) = block_over_line(half, &line);
        return Facing::over(width, way);
    }
    let facing = Facing::apart(points, way);
    if facing.distance > TINY {
        return facing;
    }
    // So near that the direction may be better known from faces and edges.
    let (_, way) = block_over_line(half, &line);
    let width = |way: DVec3| line.least(way) - half.dot(way.abs());
    if width(way) > width(facing.way) {
        Facing { way, ..facing }
    } else {
        facing
    }
}

/// The points of two overlapping cores that lie deepest in each other: with
/// the second moved out until 1 mm of air is between them, the nearest points.
///
/// * `way`: unit vector from the first to the second along which they part
/// * `depth`: how deep they overlap, mm
fn deepest(pair: &Pair, way: DVec3, depth: f64) -> Points {
    let out = way * (1.0 + depth);
    let apart = pair.shifted(out);
    let points = gap(&apart, way).map_or(apart.facing(way), |found| found.points);
    Points {
        a: points.a,
        b: points.b - out,
    }
}

/// The line in the middle of capsule `b` in the coordinates of `a`.
#[inline]
fn seen_from(a: &Convex, b: &Convex, half_length: f64) -> Segment {
    let back = a.axes.transpose();
    Segment {
        middle: back * (b.at - a.at),
        half: back * (b.axes.z_axis * half_length),
    }
}

impl Facing {
    /// Cores apart from each other, or just touching.
    #[inline]
    fn apart(points: Points, way: DVec3) -> Facing {
        Facing {
            distance: points.between().length(),
            way,
            points: Some(points),
            swapped: false,
        }
    }

    /// Cores that overlap.
    fn over(distance: f64, way: DVec3) -> Facing {
        Facing {
            distance,
            way,
            points: None,
            swapped: false,
        }
    }

    /// The same with the two solids named the other way round.
    fn swap(self) -> Facing {
        Facing {
            swapped: !self.swapped,
            ..self
        }
    }

    /// Unit vector from the first solid to the second, in the common frame.
    pub fn direction(&self, a: &Convex, b: &Convex) -> DVec3 {
        if self.swapped {
            -(b.axes * self.way)
        } else {
            a.axes * self.way
        }
    }

    /// The nearest points of the two solids that face each other so.
    pub fn nearest(&self, a: &Convex, b: &Convex) -> Nearest {
        let (host, other) = if self.swapped { (b, a) } else { (a, b) };
        let apart = self.distance + host.round + other.round;
        let points =
            (self.points).unwrap_or_else(|| deepest(&Pair::new(host, other), self.way, -apart));
        // The direction found gives the distance exactly, but the distance
        // hardly changes with it: the points know the way more closely.
        let way = if apart.abs() > COARSE {
            (points.between() / apart).normalize()
        } else {
            self.way
        };
        let on_host = host.at + host.axes * (points.a + way * host.round);
        let on_other = host.at + host.axes * (points.b - way * other.round);
        let (on_a, on_b) = if self.swapped {
            (on_other, on_host)
        } else {
            (on_host, on_other)
        };
        Nearest {
            distance: self.distance,
            direction: self.direction(a, b),
            on_a,
            on_b,
        }
    }
}
