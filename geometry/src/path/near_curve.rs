//! How near two pieces of centrelines come to each other.
//!
//! The nearest points of two curves are either both inside, or one of them is
//! an end. An end and an arc, or an end and a line, is a closed form; so is a
//! line and a line. What is left is a curve and an arc with both nearest
//! points inside: there the arc may be taken for its whole circle, whose
//! distance from a point is a closed form, and one figure is left to search,
//! the place along the curve.
//!
//! With ρ the distance from the circle's axis, z the height over its plane and
//! w the way from its centre, D² = (ρ - r)² + z² = |w|² + r² - 2rρ. Along the
//! curve |w|² and P = ρ² are polynomials (line) or have two harmonics (arc),
//! so their second derivatives are bounded by their coefficients, and
//! ρ'' = P''/2ρ - P'²/4ρ³ <= P''/2ρ. That bounds (D²)'' from below, exactly 0
//! for two arcs about one axis, and D² from below over any stretch of the
//! curve: halving ends when no stretch can hold anything nearer.

use std::f64::consts::{FRAC_PI_2, TAU};

use glam::DVec3;

use super::course::Course;
use super::near::FINE;
use super::near_axis::plan_bend;
use crate::distance::{Segment, line_to_line};

/// An arc goes on for this much more than it says, rad: rounding.
const ROUNDING: f64 = 1e-12;

/// Nearest places of two courses with their distance, if below `ceiling`.
pub(super) fn courses(one: &Course, two: &Course, ceiling: f64) -> Option<(f64, f64, f64)> {
    let flip = |(distance, place, other)| (distance, other, place);
    match (one, two) {
        (Course::Line { .. }, Course::Line { .. }) => lines(one, two, ceiling),
        (Course::Line { .. }, Course::Arc { .. }) => curve_to_arc(one, two, ceiling),
        (Course::Arc { .. }, Course::Line { .. }) => curve_to_arc(two, one, ceiling).map(flip),
        // The shorter arc is the one to search along.
        (Course::Arc { .. }, Course::Arc { .. }) => {
            if one.span() * one.rate() <= two.span() * two.rate() {
                curve_to_arc(one, two, ceiling)
            } else {
                curve_to_arc(two, one, ceiling).map(flip)
            }
        }
    }
}

/// Two lines, in closed form.
fn lines(one: &Course, two: &Course, ceiling: f64) -> Option<(f64, f64, f64)> {
    let segment = |course: &Course| {
        let half = 0.5 * course.span();
        let (middle, along) = course.motion(half);
        let half = along * half;
        Segment { middle, half }
    };
    let (points, _) = line_to_line(&segment(one), &segment(two));
    let distance = points.between().length();
    let places = (one.nearest_to(points.a), two.nearest_to(points.b));
    (distance < ceiling).then_some((distance, places.0, places.1))
}

/// A stretch of a curve by its middle and half its span.
#[derive(Clone, Copy)]
struct Stretch {
    middle: f64,
    half: f64,
}

/// A line or arc, searched along, and an arc.
fn curve_to_arc(curve: &Course, arc: &Course, ceiling: f64) -> Option<(f64, f64, f64)> {
    let mut search = Search {
        curve,
        arc,
        best: ceiling,
        found: None,
    };
    search.ends();
    if let Some(circle) = Circle::of(curve, arc) {
        search.inside(&circle);
    }
    search
        .found
        .map(|(place, other)| (search.best, place, other))
}

struct Search<'a> {
    curve: &'a Course,
    arc: &'a Course,
    best: f64,
    found: Option<(f64, f64)>,
}

impl Search<'_> {
    /// The ends of both.
    fn ends(&mut self) {
        for place in [0.0, self.curve.span()] {
            self.offer(place, self.arc.nearest_to(self.curve.point(place)));
        }
        for other in [0.0, self.arc.span()] {
            self.offer(self.curve.nearest_to(self.arc.point(other)), other);
        }
    }

    fn offer(&mut self, place: f64, other: f64) {
        let distance = self.curve.point(place).distance(self.arc.point(other));
        if distance < self.best {
            (self.best, self.found) = (distance, Some((place, other)));
        }
    }

    /// Places inside both.
    fn inside(&mut self, circle: &Circle) {
        let half = 0.5 * self.curve.span();
        let mut stretches = vec![Stretch { middle: half, half }];
        while let Some(stretch) = stretches.pop() {
            let Some(ahead) = self.look(circle, stretch) else {
                continue;
            };
            let half = 0.5 * stretch.half;
            let part = |side: f64| Stretch {
                middle: stretch.middle + side * half,
                half,
            };
            // The more promising half is looked at first.
            stretches.extend([part(-ahead), part(ahead)]);
        }
    }

    /// Looks at the middle of a stretch. When something nearer may be left on
    /// it: the side, 1 or -1, on which the distance falls.
    fn look(&mut self, circle: &Circle, stretch: Stretch) -> Option<f64> {
        let view = circle.view(self.curve, stretch.middle);
        if view.least(circle, stretch.half) >= self.best - FINE {
            return None;
        }
        let (beyond, foot) = circle.beyond(&view);
        if beyond > circle.rate * stretch.half {
            return None;
        }
        if beyond == 0.0 {
            self.offer(stretch.middle, foot);
        }
        Some(if view.slope > 0.0 { -1.0 } else { 1.0 })
    }
}

/// The circle of an arc as seen along a curve.
struct Circle {
    centre: DVec3,
    normal: DVec3,
    out: DVec3,
    ahead: DVec3,
    radius: f64,
    angle: f64,
    /// Least second derivative of |w|² along the curve.
    least_bend: f64,
    /// Greatest second derivative of ρ² along the curve.
    greatest_plan_bend: f64,
    /// Length of the curve for a step of 1 in place, mm.
    rate: f64,
}

/// A point of the curve as the circle sees it.
struct View {
    /// From the centre, mm.
    way: DVec3,
    /// Distance from the axis, mm.
    rho: f64,
    /// Distance from the circle, mm.
    distance: f64,
    /// Derivative of half the squared distance.
    slope: f64,
}

impl Circle {
    /// `None` unless `arc` is one.
    fn of(curve: &Course, arc: &Course) -> Option<Circle> {
        let Course::Arc {
            centre,
            out,
            ahead,
            normal,
            radius,
            angle,
        } = *arc
        else {
            return None;
        };
        let (least_bend, greatest_plan_bend) = match *curve {
            Course::Line { along, .. } => {
                let rise = along.dot(normal);
                (2.0, 2.0 * (1.0 - rise * rise).max(0.0))
            }
            Course::Arc {
                centre: own,
                out,
                ahead,
                ..
            } => {
                let between = own - centre;
                let bend = -2.0 * between.dot(out).hypot(between.dot(ahead));
                (bend, plan_bend(between, normal, out, ahead))
            }
        };
        Some(Circle {
            centre,
            normal,
            out,
            ahead,
            radius,
            angle,
            least_bend,
            greatest_plan_bend,
            rate: curve.rate(),
        })
    }

    #[inline]
    fn view(&self, curve: &Course, place: f64) -> View {
        let (point, motion) = curve.motion(place);
        let way = point - self.centre;
        let height = way.dot(self.normal);
        let flat = way - self.normal * height;
        let rho = flat.length();
        let outward = if rho > 0.0 {
            flat.dot(motion) / rho
        } else {
            0.0
        };
        View {
            way,
            rho,
            distance: (rho - self.radius).hypot(height),
            slope: (rho - self.radius) * outward + height * motion.dot(self.normal),
        }
    }

    /// How far a point is at least from where the arc is the nearest of the
    /// circle, mm, 0 when it is there, and the place on the circle.
    #[inline]
    fn beyond(&self, view: &View) -> (f64, f64) {
        let place = view.way.dot(self.ahead).atan2(view.way.dot(self.out));
        let place = if place < 0.0 { place + TAU } else { place };
        let turn = (place - self.angle).min(TAU - place);
        if turn <= ROUNDING {
            (0.0, place.min(self.angle))
        } else if turn < FRAC_PI_2 {
            (view.rho * turn.sin(), place)
        } else {
            (view.rho, place)
        }
    }
}

impl View {
    /// No point of the curve within `half` of this one is nearer to the
    /// circle than this, mm.
    #[inline]
    fn least(&self, circle: &Circle, half: f64) -> f64 {
        let step = circle.rate * half;
        let by_speed = self.distance - step;
        let least_rho = self.rho - step;
        if least_rho <= 0.0 {
            return by_speed;
        }
        let bend = circle.least_bend - circle.radius * circle.greatest_plan_bend / least_rho;
        let fall = 2.0 * self.slope.abs();
        let square = self.distance * self.distance;
        let least = if bend > 0.0 && fall < bend * half {
            square - 0.5 * fall * fall / bend
        } else {
            square - fall * half + 0.5 * bend * half * half
        };
        by_speed.max(least.max(0.0).sqrt())
    }
}
