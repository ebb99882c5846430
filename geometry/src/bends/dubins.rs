//! The shortest flat path of bounded bend from pose to pose.
//!
//! L. E. Dubins, "On curves of minimal length with a constraint on average
//! curvature, and with prescribed initial and terminal positions and
//! tangents", 1957: it is one of six words of arcs and a straight. Each is
//! found from the centres of the circles its first and last turn lie on.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::DVec2;

use super::flat::Stretch;
use super::word::{Turning, Word};

/// A turn this close to a whole one is none, rad: rounding.
const WHOLE: f64 = 1e-12;

/// A shortest flat path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DubinsPath {
    /// Its turns and straights.
    pub word: Word,
    /// The length of each: rad for a turn, mm for a straight.
    pub segments: [f64; 3],
    /// Length of it all, mm.
    pub length: f64,
}

impl DubinsPath {
    /// Its pieces in order.
    pub fn stretches(&self) -> [Stretch; 3] {
        let turn = |turning: Turning, angle: f64| match turning {
            Turning::Left => Stretch::Left(angle),
            Turning::Right => Stretch::Right(angle),
        };
        let [first, middle, last] = self.segments;
        let [begins, ends] = self.word.ends();
        let between = match (self.word.has_straight(), begins) {
            (true, _) => Stretch::Straight(middle),
            (false, Turning::Left) => Stretch::Right(middle),
            (false, Turning::Right) => Stretch::Left(middle),
        };
        [turn(begins, first), between, turn(ends, last)]
    }
}

/// The shortest flat path from one pose to another that nowhere turns tighter
/// than a radius. Of equally short words the first in [`Word::ALL`].
///
/// `None` when the radius is not above 0 or a figure is not finite.
///
/// * `start`, `goal`: mm
/// * `heading`, `goal_heading`: counter-clockwise from the first axis, rad
/// * `radius`: at the centreline, mm
pub fn dubins(
    start: DVec2,
    heading: f64,
    goal: DVec2,
    goal_heading: f64,
    radius: f64,
) -> Option<DubinsPath> {
    let finite = start.is_finite() && goal.is_finite();
    let headings = heading.is_finite() && goal_heading.is_finite();
    if !finite || !headings || !radius.is_finite() || radius <= 0.0 {
        return None;
    }
    let poses = Poses {
        start,
        heading,
        goal,
        goal_heading,
        radius,
    };
    let mut best: Option<DubinsPath> = None;
    for word in Word::ALL {
        if let Some(segments) = poses.segments(word) {
            let [first, middle, last] = segments;
            let middle = if word.has_straight() {
                middle
            } else {
                radius * middle
            };
            let length = radius * (first + last) + middle;
            // Equally short words differ by rounding only.
            if best.is_none_or(|best| length < best.length - 1e-12 * radius) {
                best = Some(DubinsPath {
                    word,
                    segments,
                    length,
                });
            }
        }
    }
    best
}

struct Poses {
    start: DVec2,
    heading: f64,
    goal: DVec2,
    goal_heading: f64,
    radius: f64,
}

impl Poses {
    /// The lengths of a word's pieces; `None` when it does not join the poses.
    fn segments(&self, word: Word) -> Option<[f64; 3]> {
        let [begins, ends] = word.ends();
        let centre = |at: DVec2, heading: f64, turning: Turning| {
            at + DVec2::from_angle(heading + side(turning) * FRAC_PI_2) * self.radius
        };
        let first = centre(self.start, self.heading, begins);
        let last = centre(self.goal, self.goal_heading, ends);
        let between = last - first;
        if word.has_straight() {
            self.with_straight(between, begins, ends)
        } else {
            self.with_three_turns(between, begins)
        }
    }

    /// Two turns and the straight that touches both circles.
    fn with_straight(&self, between: DVec2, begins: Turning, ends: Turning) -> Option<[f64; 3]> {
        let crossed = begins != ends;
        let distance = between.length();
        let (straight, tilt) = if crossed {
            let both = 2.0 * self.radius;
            let square = distance * distance - both * both;
            // Circles that touch may seem to overlap by rounding.
            if square < -1e-12 * both * both {
                return None;
            }
            let straight = square.max(0.0).sqrt();
            (straight, side(begins) * both.atan2(straight))
        } else {
            (distance, 0.0)
        };
        // Between circles that are the same, any way will do.
        let way = if distance > 1e-12 * self.radius {
            between.to_angle() + tilt
        } else {
            self.heading
        };
        let first = turn(side(begins) * (way - self.heading));
        let last = turn(side(ends) * (self.goal_heading - way));
        Some([first, straight, last])
    }

    /// Three turns, the middle one on a circle that touches the other two.
    fn with_three_turns(&self, between: DVec2, begins: Turning) -> Option<[f64; 3]> {
        let distance = between.length();
        let share = distance / (4.0 * self.radius);
        if share > 1.0 {
            return None;
        }
        let side = side(begins);
        let ahead = if distance > 0.0 {
            between.to_angle()
        } else {
            0.0
        };
        // The middle circle lies to either side of the line between the others.
        let either = [share.acos(), -share.acos()].map(|aside| {
            let (out, back) = (ahead + aside, ahead + PI - aside);
            let first = turn(side * (out - self.heading) + FRAC_PI_2);
            let middle = turn(side * (out - back));
            let last = turn(side * (self.goal_heading - back) - FRAC_PI_2);
            [first, middle, last]
        });
        let whole = |segments: &[f64; 3]| segments.iter().sum::<f64>();
        either
            .into_iter()
            .min_by(|a, b| whole(a).total_cmp(&whole(b)))
    }
}

/// 1 to the left, -1 to the right.
fn side(turning: Turning) -> f64 {
    match turning {
        Turning::Left => 1.0,
        Turning::Right => -1.0,
    }
}

/// An angle as a turn from 0 to less than a whole one.
fn turn(angle: f64) -> f64 {
    let turn = angle.rem_euclid(TAU);
    if turn > TAU - WHOLE { 0.0 } else { turn }
}
