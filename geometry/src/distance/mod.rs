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

use glam::{DMat3, DVec3};

use crate::solids::Solid;

mod blocks;
mod circle;
mod convex;
mod gap;
mod overlap;
mod pair;
mod rims;
mod segments;
mod simplex;

pub(crate) use convex::{Convex, Core};
use pair::{Pair, Points};
use segments::{Segment, block_over_line, block_to_line, line_to_line};

/// Lines and blocks closer than this touch, mm.
const NOTHING: f64 = 1e-12;

/// Points further apart than this give a good direction, mm.
const COARSE: f64 = 1e-3;

/// The nearest points of two solids.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The gap between them, mm; negative: how deep they overlap.
    pub distance: f64,
    /// Unit vector from the first to the second. Along it the two have a free
    /// width of `distance`: shifting the second so far parts or joins them.
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
    match gap::gap(pair, start) {
        Some(gap) => Facing {
            distance: gap.distance,
            way: gap.direction,
            points: Some(gap.points),
            swapped: false,
        },
        None => {
            let widest = overlap::overlap(pair);
            Facing::over(widest.width, widest.direction)
        }
    }
}

/// Two blocks.
fn blocks(a: &Convex, half_a: DVec3, b: &Convex, half_b: DVec3) -> Facing {
    let pair = Pair::new(a, b);
    if pair.axes == DMat3::IDENTITY
        && let Some(points) = blocks::parallel(half_a, half_b, pair.at)
    {
        return Facing::apart(points, points.between().length());
    }
    let widest = blocks::widest_of_fifteen(half_a, half_b, &pair.axes, pair.at);
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
    let points = line_to_line(&one, &other);
    let distance = points.between().length();
    if distance > NOTHING {
        return Facing::apart(points, distance);
    }
    // They cross: every direction square to both is as good.
    let square = one.half.cross(other.half).try_normalize();
    let longer = if half_a > 0.0 { one } else { other };
    let square = square.or_else(|| {
        longer
            .half
            .try_normalize()
            .map(|l| l.any_orthonormal_vector())
    });
    Facing {
        distance: 0.0,
        way: square.unwrap_or(DVec3::X),
        points: Some(points),
        swapped: false,
    }
}

/// A block and the line in the middle of a capsule.
#[inline]
fn block_and_line(a: &Convex, half: DVec3, b: &Convex, half_length: f64) -> Facing {
    let line = seen_from(a, b, half_length);
    let points = block_to_line(half, &line);
    let distance = points.between().length();
    if distance > NOTHING {
        Facing::apart(points, distance)
    } else {
        let (width, way) = block_over_line(half, &line);
        Facing::over(width, way)
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
    let points = gap::gap(&apart, way).map_or(apart.facing(way), |gap| gap.points);
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
    /// Cores apart from each other.
    #[inline]
    fn apart(points: Points, distance: f64) -> Facing {
        Facing {
            distance,
            way: points.between() / distance,
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
    fn nearest(&self, a: &Convex, b: &Convex) -> Nearest {
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
