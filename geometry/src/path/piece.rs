//! One piece of a centreline: a line or an arc.

use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use crate::solids::Bounds;

/// A straight line or an arc, mm and rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// A straight line.
    Line {
        /// Where it begins, mm.
        from: DVec3,
        /// Where it ends, mm.
        to: DVec3,
    },
    /// A piece of a circle.
    Arc {
        /// Where it begins, mm.
        from: DVec3,
        /// Where it ends, mm.
        to: DVec3,
        /// Centre of the circle, mm.
        centre: DVec3,
        /// Unit vector along the circle's axis. Seen against it, the arc runs
        /// counter-clockwise (right-hand rule).
        normal: DVec3,
        /// Radius of the circle, mm.
        radius: f64,
        /// How far it turns, rad; more than 0, less than a whole turn.
        angle: f64,
    },
}

impl Piece {
    /// The arc that leaves `from` along `ahead` and turns toward `inward`.
    ///
    /// * `ahead`, `inward`: unit vectors square to each other
    /// * `radius`: mm
    /// * `angle`: rad, more than 0, less than a whole turn
    pub fn arc(from: DVec3, ahead: DVec3, inward: DVec3, radius: f64, angle: f64) -> Piece {
        let centre = from + radius * inward;
        let (sin, cos) = angle.sin_cos();
        Piece::Arc {
            from,
            to: centre + radius * (sin * ahead - cos * inward),
            centre,
            normal: ahead.cross(inward),
            radius,
            angle,
        }
    }

    /// Where it begins, mm.
    pub fn start(&self) -> DVec3 {
        match *self {
            Piece::Line { from, .. } | Piece::Arc { from, .. } => from,
        }
    }

    /// Where it ends, mm.
    pub fn end(&self) -> DVec3 {
        match *self {
            Piece::Line { to, .. } | Piece::Arc { to, .. } => to,
        }
    }

    /// Its length, mm.
    pub fn length(&self) -> f64 {
        match *self {
            Piece::Line { from, to } => from.distance(to),
            Piece::Arc { radius, angle, .. } => radius * angle,
        }
    }

    /// Radius of an arc, mm.
    pub fn radius(&self) -> Option<f64> {
        match *self {
            Piece::Line { .. } => None,
            Piece::Arc { radius, .. } => Some(radius),
        }
    }

    /// How far it turns, rad; 0 for a line.
    pub fn turn(&self) -> f64 {
        match *self {
            Piece::Line { .. } => 0.0,
            Piece::Arc { angle, .. } => angle,
        }
    }

    /// The point `along` mm from its start.
    pub fn point_at(&self, along: f64) -> DVec3 {
        match *self {
            Piece::Line { from, to } => from + (to - from).normalize_or_zero() * along,
            Piece::Arc {
                from,
                centre,
                normal,
                radius,
                ..
            } => {
                let out = from - centre;
                let (sin, cos) = (along / radius).sin_cos();
                centre + out * cos + normal.cross(out) * sin
            }
        }
    }

    /// The way it goes `along` mm from its start, a unit vector; zero for a
    /// line without length.
    pub fn direction_at(&self, along: f64) -> DVec3 {
        match *self {
            Piece::Line { from, to } => (to - from).normalize_or_zero(),
            Piece::Arc {
                from,
                centre,
                normal,
                radius,
                ..
            } => {
                let out = from - centre;
                let (sin, cos) = (along / radius).sin_cos();
                (normal.cross(out) * cos - out * sin).normalize_or_zero()
            }
        }
    }

    /// What lies between two places along it, mm from its start.
    pub fn part(&self, low: f64, high: f64) -> Piece {
        let (from, to) = (self.point_at(low), self.point_at(high));
        match *self {
            Piece::Line { .. } => Piece::Line { from, to },
            Piece::Arc {
                centre,
                normal,
                radius,
                ..
            } => Piece::Arc {
                from,
                to,
                centre,
                normal,
                radius,
                angle: (high - low) / radius,
            },
        }
    }

    /// The same piece from its end to its start.
    pub fn reversed(&self) -> Piece {
        match *self {
            Piece::Line { from, to } => Piece::Line { from: to, to: from },
            Piece::Arc {
                from,
                to,
                centre,
                normal,
                radius,
                angle,
            } => Piece::Arc {
                from: to,
                to: from,
                centre,
                normal: -normal,
                radius,
                angle,
            },
        }
    }

    /// Whether all its figures are finite numbers.
    pub fn is_finite(&self) -> bool {
        let ends = self.start().is_finite() && self.end().is_finite();
        match *self {
            Piece::Line { .. } => ends,
            Piece::Arc {
                centre,
                normal,
                radius,
                angle,
                ..
            } => {
                let circle = centre.is_finite() && normal.is_finite();
                ends && circle && radius.is_finite() && angle.is_finite()
            }
        }
    }

    /// The smallest upright box around it, mm.
    pub fn bounds(&self) -> Bounds {
        let ends = Bounds {
            min: self.start().min(self.end()),
            max: self.start().max(self.end()),
        };
        let Piece::Arc {
            from,
            centre,
            normal,
            angle,
            ..
        } = *self
        else {
            return ends;
        };
        let out = from - centre;
        let ahead = normal.cross(out);
        let end = DVec2::from_angle(angle);
        // Along an axis the arc swings furthest where its slope vanishes, and
        // half a turn from there; either counts only if the arc gets that far.
        let (mut min, mut max) = (ends.min, ends.max);
        for axis in 0..3 {
            let summit = DVec2::new(out[axis], ahead[axis]);
            if passes(summit, end, angle) {
                max[axis] = centre[axis] + summit.length();
            }
            if passes(-summit, end, angle) {
                min[axis] = centre[axis] - summit.length();
            }
        }
        Bounds { min, max }
    }
}

/// Whether a turn from the first axis by `angle` to `end` passes a direction.
fn passes(direction: DVec2, end: DVec2, angle: f64) -> bool {
    let (after_start, before_end) = (direction.y >= 0.0, direction.perp_dot(end) >= 0.0);
    if angle <= PI {
        after_start && before_end
    } else {
        after_start || before_end
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn an_arc_turns_counter_clockwise_about_its_normal() {
        let arc = Piece::arc(DVec3::ZERO, DVec3::X, DVec3::Y, 10.0, 1.0);
        let Piece::Arc { to, normal, .. } = arc else {
            unreachable!("built as an arc");
        };
        assert_eq!(normal, DVec3::Z);
        let expected = DVec3::new(10.0 * 1f64.sin(), 10.0 - 10.0 * 1f64.cos(), 0.);
        assert_abs_diff_eq!(to, expected, epsilon = 1e-14);
        assert_abs_diff_eq!(arc.point_at(arc.length()), to, epsilon = 1e-14);
        assert_abs_diff_eq!(arc.direction_at(0.0), DVec3::X);
    }

    #[test]
    fn the_box_around_an_arc_is_where_it_swings_to() {
        let ahead = DVec3::new(1., 2., -0.5).normalize();
        let inward = ahead.any_orthonormal_vector();
        for angle in [0.1, 1.0, 2.5, 4.0, 6.2] {
            let arc = Piece::arc(DVec3::new(3., -2., 8.), ahead, inward, 12.0, angle);
            let places = (0..=20000).map(|i| arc.point_at(arc.length() * f64::from(i) / 2e4));
            let seen = Bounds::around(places).unwrap();
            let bounds = arc.bounds();
            assert_abs_diff_eq!(bounds.min, seen.min, epsilon = 1e-5);
            assert_abs_diff_eq!(bounds.max, seen.max, epsilon = 1e-5);
            let back = arc.reversed().bounds();
            assert_abs_diff_eq!(bounds.min, back.min, epsilon = 1e-12);
            assert_abs_diff_eq!(bounds.max, back.max, epsilon = 1e-12);
        }
    }
}
