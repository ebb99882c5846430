//! The distance between two straight lines, and from a line to a block, in closed form.

use glam::DVec3;

use super::pair::Points;

/// Lines and blocks closer than this touch, mm.
const NOTHING: f64 = 1e-12;

/// Lines closer to parallel than this (sine of the angle) are parallel: an end
/// is then as near as any other place, to rounding.
pub(super) const PARALLEL: f64 = 1e-12;

/// Lines further from parallel than this cross at a well-known angle.
const SLANTED: f64 = 1e-3;

/// A straight line by its middle and the way from there to its far end, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Segment {
    pub middle: DVec3,
    pub half: DVec3,
}

impl Segment {
    /// The point at `place`, from -1 to 1 along it.
    #[inline]
    fn point(&self, place: f64) -> DVec3 {
        self.middle + self.half * place
    }

    /// Where it begins along a direction, from the origin.
    #[inline]
    pub fn least(&self, direction: DVec3) -> f64 {
        self.middle.dot(direction) - self.half.dot(direction).abs()
    }

    /// The place of the point nearest to `point`.
    #[inline]
    fn place_of(&self, point: DVec3) -> f64 {
        let square = self.half.length_squared();
        let along = (point - self.middle).dot(self.half);
        if along.abs() < square {
            along / square
        } else if square > 0.0 {
            1.0f64.copysign(along)
        } else {
            0.0
        }
    }
}

/// A way that should be square to a line. When it is very short, rounding
/// tilts it against the line: this takes out what rounding can have done.
#[inline]
fn untilted(between: DVec3, line: DVec3) -> DVec3 {
    let square = line.length_squared();
    let tilt = line * (between.dot(line) / square);
    if square > 0.0 && tilt.length_squared() <= NOTHING * NOTHING {
        between - tilt
    } else {
        between
    }
}

/// The unit vector along the way between two points; zero when they touch.
#[inline]
fn unit_or_zero(between: DVec3) -> DVec3 {
    let length = between.length();
    if length > NOTHING {
        between / length
    } else {
        DVec3::ZERO
    }
}

/// The nearest points of two lines and the unit vector from the first to the
/// second; zero when they meet and leave it open.
///
/// Either the lines cross as seen along their common perpendicular, and the
/// points lie on it, or one of the points is an end. Both are tried. Products
/// of vectors are used throughout, so that nearly parallel lines lose nothing.
#[inline]
pub(crate) fn line_to_line(a: &Segment, b: &Segment) -> (Points, DVec3) {
    let between = b.middle - a.middle;
    let square = a.half.cross(b.half);
    let room = square.length_squared();
    let whole = a.half.length_squared() * b.half.length_squared();
    let on_a = between.cross(b.half).dot(square);
    let on_b = between.cross(a.half).dot(square);
    if room > PARALLEL * PARALLEL * whole && on_a.abs() <= room && on_b.abs() <= room {
        let point = a.point(on_a / room);
        let points = Points {
            a: point,
            b: b.point(b.place_of(point)),
        };
        let way = if room > SLANTED * SLANTED * whole {
            square * (1.0f64.copysign(square.dot(between)) / room.sqrt())
        } else {
            let between = untilted(points.between(), b.half);
            unit_or_zero(untilted(between, a.half))
        };
        return (points, way);
    }
    let mut best = Points {
        a: a.middle,
        b: b.middle,
    };
    let mut way = DVec3::ZERO;
    let mut least = f64::INFINITY;
    let mut offer = |points: Points, inside: Option<DVec3>| {
        let between = points.between();
        let square = between.length_squared();
        if square < least {
            (best, least) = (points, square);
            way = inside.map_or(between, |line| untilted(between, line));
        }
    };
    for end in [-1.0, 1.0] {
        let point = a.point(end);
        let place = b.place_of(point);
        let inside = (place.abs() < 1.0).then_some(b.half);
        offer(
            Points {
                a: point,
                b: b.point(place),
            },
            inside,
        );
        let point = b.point(end);
        let place = a.place_of(point);
        let inside = (place.abs() < 1.0).then_some(a.half);
        offer(
            Points {
                a: a.point(place),
                b: point,
            },
            inside,
        );
    }
    (best, unit_or_zero(way))
}

/// The nearest points of a block about the origin (`a`) and a line (`b`), and
/// the unit vector from the first to the second; zero when they meet.
///
/// Half the slope of the squared distance along the line is a rising curve of
/// straight pieces. They change where the line passes a plane of the block's
/// faces, so its zero is bracketed by these six places and found on one piece.
#[inline]
pub(super) fn block_to_line(half: DVec3, line: &Segment) -> (Points, DVec3) {
    let outside = |place: f64| {
        let point = line.point(place);
        point - point.clamp(-half, half)
    };
    let slope = |place: f64| outside(place).dot(line.half);
    let (mut low, mut high) = (-1.0, 1.0);
    let (mut low_slope, mut high_slope) = (slope(low), slope(high));
    let place = if low_slope >= 0.0 {
        low
    } else if high_slope <= 0.0 {
        high
    } else {
        let passes_lower = (-half - line.middle) / line.half;
        let passes_upper = (half - line.middle) / line.half;
        for place in [
            passes_lower.x,
            passes_lower.y,
            passes_lower.z,
            passes_upper.x,
            passes_upper.y,
            passes_upper.z,
        ] {
            // False for a line along the plane, which never passes it.
            if low < place && place < high {
                let here = slope(place);
                if here < 0.0 {
                    (low, low_slope) = (place, here);
                } else {
                    (high, high_slope) = (place, here);
                }
            }
        }
        low + (high - low) * (-low_slope / (high_slope - low_slope))
    };
    let point = line.point(place);
    let points = Points {
        a: point.clamp(-half, half),
        b: point,
    };
    let mut between = points.between();
    if -1.0 < place && place < 1.0 {
        // Without leaving the axes along which the block is passed.
        let passed = DVec3::select(between.cmpeq(DVec3::ZERO), DVec3::ZERO, line.half);
        between = untilted(between, passed);
    }
    (points, unit_or_zero(between))
}

/// The widest free width of a block about the origin and a line that meets it,
/// with its direction from the block to the line.
///
/// Least overlap is square to a face of the block, or to an edge and the line.
pub(super) fn block_over_line(half: DVec3, line: &Segment) -> (f64, DVec3) {
    let reach = half + line.half.abs();
    let widths = line.middle.abs() - reach;
    let mut best = (f64::NEG_INFINITY, DVec3::X);
    for (axis, width) in [
        (DVec3::X, widths.x),
        (DVec3::Y, widths.y),
        (DVec3::Z, widths.z),
    ] {
        if width > best.0 {
            best = (width, axis * 1.0f64.copysign(line.middle.dot(axis)));
        }
    }
    let along = line.half.normalize_or_zero();
    for axis in [DVec3::X, DVec3::Y, DVec3::Z] {
        let square = along.cross(axis);
        let length = square.length();
        if length > 1e-10 {
            let direction = square * (1.0f64.copysign(line.middle.dot(square)) / length);
            let width = line.middle.dot(direction) - direction.abs().dot(half);
            if width > best.0 {
                best = (width, direction);
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn line(from: [f64; 3], to: [f64; 3]) -> Segment {
        let (from, to) = (DVec3::from(from), DVec3::from(to));
        Segment {
            middle: 0.5 * (from + to),
            half: 0.5 * (to - from),
        }
    }

    fn gap(points: Points) -> f64 {
        points.between().length()
    }

    #[test]
    fn lines_that_cross_end_or_run_alongside() {
        let a = line([0., 0., 0.], [10., 0., 0.]);
        let apart = |b: Segment| gap(line_to_line(&a, &b).0);
        assert_eq!(apart(line([5., -3., 2.], [5., 3., 2.])), 2.0);
        assert_eq!(apart(line([13., 4., 0.], [20., 9., 0.])), 5.0);
        assert_eq!(apart(line([-5., 3., 0.], [15., 3., 0.])), 3.0);
        assert_eq!(apart(line([12., 0., 0.], [15., 0., 0.])), 2.0);
        assert_eq!(apart(line([4., 0., 0.], [6., 0., 0.])), 0.0);
        assert_eq!(apart(line([4., 0., 7.], [4., 0., 7.])), 7.0);
        // A hair from parallel, crossing in the middle.
        let tilted = line([0., -5e-8, 1.], [10., 5e-8, 1.]);
        assert_abs_diff_eq!(apart(tilted), 1.0, epsilon = 1e-15);
    }

    #[test]
    fn a_line_meets_a_block_at_face_edge_or_corner() {
        let half = DVec3::new(3., 2., 1.);
        let apart = |b: Segment| gap(block_to_line(half, &b).0);
        assert_eq!(apart(line([-9., 0., 4.], [9., 0., 4.])), 3.0);
        assert_eq!(apart(line([7., 5., -9.], [7., 5., 9.])), 5.0);
        assert_eq!(apart(line([5., 4., 2.], [9., 9., 9.])), 3.0);
        assert_eq!(apart(line([0., 0., 0.], [0., 0., 0.])), 0.0);
        assert_eq!(apart(line([-9., 0., 0.], [9., 0., 0.])), 0.0);
        // Past an edge, nearest inside the line: x + y = 8 seen along z.
        let slanting = line([8., 0., 0.], [0., 8., 0.]);
        assert_abs_diff_eq!(apart(slanting), 3.0 / 2f64.sqrt(), epsilon = 1e-15);
    }

    #[test]
    fn a_line_through_a_block_comes_out_the_shortest_way() {
        let half = DVec3::new(3., 2., 1.);
        let (width, way) = block_over_line(half, &line([-9., 0.5, 0.], [9., 0.5, 0.]));
        assert_abs_diff_eq!(width, -1.0);
        assert_abs_diff_eq!(way.abs(), DVec3::Z);
        // Across a corner edge, square to the edge and the line.
        let (width, way) = block_over_line(half, &line([6.5, 0., -5.], [0., 6.5, -5.]));
        assert!(width > 0.0 && way.z < 0.0);
        let (width, way) = block_over_line(half, &line([4.5, 0., 0.], [0., 4.5, 0.]));
        assert_abs_diff_eq!(width, -0.5 / 2f64.sqrt(), epsilon = 1e-15);
        assert_abs_diff_eq!(way, DVec3::new(1., 1., 0.).normalize(), epsilon = 1e-15);
    }
}
