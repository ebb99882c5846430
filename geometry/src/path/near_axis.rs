//! How near an arc comes to the axis of something round.
//!
//! A cable often turns about the very axis of a duct or boss, and is then
//! equally near to it all along. Planes bound that badly; the distance ρ from
//! the axis does it exactly: ρ² has two harmonics along an arc, so its second
//! derivative is bounded by their size, which is 0 when the axes are one.

use glam::DVec3;

use super::course::Course;
use crate::distance::{Convex, Core};

/// The axis of a round solid as seen along an arc.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    at: DVec3,
    along: DVec3,
    /// Of what is round it, mm.
    radius: f64,
    /// Greatest size of the second derivative of ρ² along the arc.
    bend: f64,
}

impl Axis {
    /// `None` unless the course is an arc and the solid is round.
    pub fn of(course: &Course, convex: &Convex) -> Option<Axis> {
        let core = match convex.core {
            Core::Cylinder { radius, .. } => radius,
            Core::Segment { .. } => 0.0,
            _ => return None,
        };
        let (at, along) = (convex.at, convex.axes.z_axis);
        let Course::Arc {
            centre, out, ahead, ..
        } = *course
        else {
            return None;
        };
        Some(Axis {
            at,
            along,
            radius: core + convex.round,
            bend: plan_bend(centre - at, along, out, ahead),
        })
    }

    /// No point of the arc between two places is nearer to the solid than
    /// this, mm.
    pub fn least(&self, course: &Course, from: f64, to: f64) -> f64 {
        let half = 0.5 * (to - from);
        let (point, motion) = course.motion(from + half);
        let flat = (point - self.at).reject_from_normalized(self.along);
        let square = flat.length_squared();
        let slope = 2.0 * flat.dot(motion).abs();
        let least = square - half * (slope + 0.5 * half * self.bend);
        least.max(0.0).sqrt() - self.radius
    }
}

/// Greatest size of the second derivative of the squared distance from an
/// axis along a circle.
///
/// * `between`: from a point of the axis to the circle's centre
/// * `axis`: unit vector along it
/// * `out`, `ahead`: from the circle's centre to two of its points a quarter apart
pub(super) fn plan_bend(between: DVec3, axis: DVec3, out: DVec3, ahead: DVec3) -> f64 {
    let height = between.dot(axis);
    let rise = [out.dot(axis), ahead.dot(axis)];
    let cos = between.dot(out) - height * rise[0];
    let sin = between.dot(ahead) - height * rise[1];
    let second = 0.5 * (rise[0] * rise[0] + rise[1] * rise[1]);
    2.0 * cos.hypot(sin) + 4.0 * second
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::path::Piece;
    use crate::solids::Solid;

    #[test]
    fn no_point_of_an_arc_is_nearer_than_the_bound() {
        let bar = Solid::cylinder(DVec3::new(3., -9., 2.), DVec3::new(-5., 8., 60.), 14.0);
        for start in [DVec3::new(40., 0., 9.), DVec3::new(8., 30., 20.)] {
            let arc = Piece::arc(start, DVec3::Y, -DVec3::X, 30.0, 2.0);
            let course = Course::new(&arc);
            let convex = Convex::piece(&bar, 0);
            let axis = Axis::of(&course, &convex).unwrap();
            for (from, to) in [(0.0, 2.0), (0.4, 0.7), (1.2, 1.21)] {
                let bound = axis.least(&course, from, to);
                let place = |i: i32| from + (to - from) * f64::from(i) / 500.0;
                let radial = |i: i32| {
                    let way = course.point(place(i)) - convex.at;
                    way.reject_from_normalized(convex.axes.z_axis).length() - 7.0
                };
                let least = (0..=500).map(radial).fold(f64::INFINITY, f64::min);
                assert!(bound <= least + 1e-9, "{bound} and {least}");
                assert!(to - from > 0.1 || bound > least - 0.01);
            }
        }
    }
}
