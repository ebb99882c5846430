//! How near a piece of a centreline comes to a convex solid.
//!
//! A point's nearest direction to a convex solid gives a plane that the solid
//! lies behind, and no point is nearer to the solid than to that plane. Along
//! a piece the distance from a plane is a straight line (line) or a sine
//! (arc). Between two places with known planes the greater of the two figures
//! bounds the distance from below; where it is least is the next place to ask.
//! It ends when no stretch can hold anything nearer, on flat faces at once.
//! Round solids have a second bound, from their axis.

use std::f64::consts::TAU;

use glam::DVec3;

use super::course::Course;
use super::near::FINE;
use super::near_axis::Axis;
use crate::distance::{Convex, Core, facing};

/// The next place to ask keeps this share of its stretch from both ends.
const MARGIN: f64 = 0.02;

/// The distance from a plane along a course: `steady - cos·cos(place) -
/// sin·sin(place)` round an arc, `steady - cos·place` along a line.
#[derive(Clone, Copy)]
struct Plane {
    steady: f64,
    cos: f64,
    sin: f64,
}

/// A stretch of a course with the planes known at its two ends.
#[derive(Clone, Copy)]
struct Stretch {
    from: f64,
    to: f64,
    planes: [Plane; 2],
}

/// The least signed distance of a course from a convex solid with its place,
/// if below `ceiling`.
pub(super) fn course_to_convex(
    course: &Course,
    convex: &Convex,
    ceiling: f64,
) -> Option<(f64, f64)> {
    let mut search = Search {
        course,
        convex,
        best: ceiling,
        found: None,
    };
    let axis = Axis::of(course, convex);
    let span = course.span();
    let mut stretches = vec![Stretch {
        from: 0.0,
        to: span,
        planes: [search.ask(0.0), search.ask(span)],
    }];
    while let Some(stretch) = stretches.pop() {
        let (least, place) = stretch.least(course);
        if least >= search.best - FINE {
            continue;
        }
        let round = axis.map(|axis| axis.least(course, stretch.from, stretch.to));
        if round.is_some_and(|least| least >= search.best - FINE) {
            continue;
        }
        let width = stretch.to - stretch.from;
        // The distance changes no faster than the place.
        if width * course.rate() < FINE {
            continue;
        }
        let margin = MARGIN * width;
        let place = place.clamp(stretch.from + margin, stretch.to - margin);
        let plane = search.ask(place);
        stretches.push(Stretch {
            to: place,
            planes: [stretch.planes[0], plane],
            ..stretch
        });
        stretches.push(Stretch {
            from: place,
            planes: [plane, stretch.planes[1]],
            ..stretch
        });
    }
    search.found.map(|place| (search.best, place))
}

struct Search<'a> {
    course: &'a Course,
    convex: &'a Convex<'a>,
    best: f64,
    found: Option<f64>,
}

impl Search<'_> {
    /// Asks for the distance at a place; the plane found there.
    fn ask(&mut self, place: f64) -> Plane {
        let point = self.course.point(place);
        let ball = Convex {
            core: Core::Segment { half_length: 0.0 },
            axes: glam::DMat3::IDENTITY,
            at: point,
            round: 0.0,
        };
        let facing = facing(&ball, self.convex);
        if facing.distance < self.best {
            (self.best, self.found) = (facing.distance, Some(place));
        }
        let way = facing.direction(&ball, self.convex);
        Plane::new(self.course, way, self.convex.least(way))
    }
}

impl Plane {
    /// * `way`: unit vector toward the plane
    /// * `begins`: its place along it from the origin, mm
    fn new(course: &Course, way: DVec3, begins: f64) -> Plane {
        match *course {
            Course::Line { from, along, .. } => Plane {
                steady: begins - way.dot(from),
                cos: way.dot(along),
                sin: 0.0,
            },
            Course::Arc {
                centre, out, ahead, ..
            } => Plane {
                steady: begins - way.dot(centre),
                cos: way.dot(out),
                sin: way.dot(ahead),
            },
        }
    }

    #[inline]
    fn round(&self, sin: f64, cos: f64) -> f64 {
        self.steady - self.cos * cos - self.sin * sin
    }
}

impl Stretch {
    /// Where the greater of its two planes' figures is least, and that figure.
    fn least(&self, course: &Course) -> (f64, f64) {
        match course {
            Course::Line { .. } => self.least_on_line(),
            Course::Arc { .. } => self.least_on_arc(),
        }
    }

    fn least_on_line(&self) -> (f64, f64) {
        let [one, two] = self.planes;
        let at = |place: f64| {
            let figure = |plane: Plane| plane.steady - plane.cos * place;
            (figure(one).max(figure(two)), place)
        };
        let crossing = (one.steady - two.steady) / (one.cos - two.cos);
        let mut least = nearer(at(self.from), at(self.to));
        if self.from < crossing && crossing < self.to {
            least = nearer(least, at(crossing));
        }
        least
    }

    fn least_on_arc(&self) -> (f64, f64) {
        let [one, two] = self.planes;
        let at = |place: f64| {
            let (sin, cos) = place.sin_cos();
            (one.round(sin, cos).max(two.round(sin, cos)), place)
        };
        let mut least = nearer(at(self.from), at(self.to));
        let mut offer = |place: f64| {
            // The same direction, within the stretch if it comes by there.
            let place = self.from + (place - self.from).rem_euclid(TAU);
            if place < self.to {
                least = nearer(least, at(place));
            }
        };
        offer(one.sin.atan2(one.cos));
        offer(two.sin.atan2(two.cos));
        let (cos, sin) = (one.cos - two.cos, one.sin - two.sin);
        let share = (one.steady - two.steady) / cos.hypot(sin);
        if share.abs() <= 1.0 {
            let (middle, aside) = (sin.atan2(cos), share.acos());
            offer(middle - aside);
            offer(middle + aside);
        }
        least
    }
}

/// The one with the smaller figure.
fn nearer(one: (f64, f64), other: (f64, f64)) -> (f64, f64) {
    if other.0 < one.0 { other } else { one }
}
