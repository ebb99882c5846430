//! How far a solid reaches: bounds, volume, corners, furthest point.

use std::f64::consts::PI;

use glam::{DMat3, DQuat, DVec2, DVec3};

use super::{Bounds, Shape, Solid};

impl Solid {
    /// The smallest upright box around it, mm. Exact for every shape.
    pub fn bounds(&self) -> Bounds {
        let axes = DMat3::from_quat(self.pose.turn);
        let at = self.pose.shift;
        let about = |reach: DVec3| Bounds {
            min: at - reach,
            max: at + reach,
        };
        match &self.shape {
            Shape::Block { half } => {
                let reach = axes.x_axis.abs() * half.x
                    + axes.y_axis.abs() * half.y
                    + axes.z_axis.abs() * half.z;
                about(reach)
            }
            Shape::Cylinder {
                radius,
                half_length,
            } => {
                let (u, v) = (axes.x_axis, axes.y_axis);
                let rim = DVec3::new(u.x.hypot(v.x), u.y.hypot(v.y), u.z.hypot(v.z));
                about(axes.z_axis.abs() * *half_length + rim * *radius)
            }
            Shape::Capsule {
                radius,
                half_length,
            } => about(axes.z_axis.abs() * *half_length + *radius),
            Shape::Hull(hull) if self.pose.turn == DQuat::IDENTITY => {
                let bounds = hull.bounds();
                Bounds {
                    min: bounds.min + at,
                    max: bounds.max + at,
                }
            }
            Shape::Prism { .. } | Shape::Hull(_) => {
                Bounds::around(self.corners()).unwrap_or(about(DVec3::ZERO))
            }
        }
    }

    /// Its volume, mm³.
    pub fn volume(&self) -> f64 {
        match &self.shape {
            Shape::Block { half } => 8.0 * half.x * half.y * half.z,
            Shape::Cylinder {
                radius,
                half_length,
            } => 2.0 * half_length * PI * radius * radius,
            Shape::Capsule {
                radius,
                half_length,
            } => (2.0 * half_length + 4.0 / 3.0 * radius) * PI * radius * radius,
            Shape::Prism {
                outline,
                half_length,
            } => 2.0 * half_length * outline.area(),
            Shape::Hull(hull) => hull.volume(),
        }
    }

    /// Its corners in place, mm; none for the round shapes.
    ///
    /// A prism lists its outline at its lower own end, then at its upper one.
    pub fn corners(&self) -> Vec<DVec3> {
        let mut corners = match &self.shape {
            Shape::Block { half } => (0..8)
                .map(|bits| {
                    let sign = |bit: i32| if bits >> bit & 1 == 1 { 1.0 } else { -1.0 };
                    *half * DVec3::new(sign(0), sign(1), sign(2))
                })
                .collect(),
            Shape::Cylinder { .. } | Shape::Capsule { .. } => Vec::new(),
            Shape::Prism {
                outline,
                half_length,
            } => [-half_length, *half_length]
                .into_iter()
                .flat_map(|third| outline.corners().iter().map(move |c| c.extend(third)))
                .collect(),
            Shape::Hull(hull) => hull.corners().to_vec(),
        };
        for corner in &mut corners {
            *corner = self.pose.point(*corner);
        }
        corners
    }

    /// The point of it furthest along a direction, mm; one of them when a
    /// whole edge or face lies equally far.
    ///
    /// * `direction`: any length but zero
    pub fn support(&self, direction: DVec3) -> DVec3 {
        let local = self.pose.direction_back(direction);
        self.pose.point(self.shape.support(local))
    }
}

impl Shape {
    /// The middle of the box that holds it, in its own coordinates, mm.
    pub(super) fn middle(&self) -> DVec3 {
        match self {
            Shape::Block { .. } | Shape::Cylinder { .. } | Shape::Capsule { .. } => DVec3::ZERO,
            Shape::Prism { outline, .. } => outline.middle().extend(0.0),
            Shape::Hull(hull) => hull.middle(),
        }
    }

    /// The point furthest along a direction, both in its own coordinates.
    fn support(&self, direction: DVec3) -> DVec3 {
        match self {
            Shape::Block { half } => half.copysign(direction),
            Shape::Cylinder {
                radius,
                half_length,
            } => {
                let rim = direction.truncate().normalize_or_zero() * *radius;
                rim.extend(half_length.copysign(direction.z))
            }
            Shape::Capsule {
                radius,
                half_length,
            } => {
                let end = DVec3::new(0.0, 0.0, half_length.copysign(direction.z));
                end + direction.normalize_or_zero() * *radius
            }
            Shape::Prism {
                outline,
                half_length,
            } => furthest(outline.corners(), direction.truncate())
                .extend(half_length.copysign(direction.z)),
            Shape::Hull(hull) => hull.support(direction),
        }
    }
}

/// The corner furthest along a direction; the first of them when several are.
pub(crate) fn furthest(corners: &[DVec2], direction: DVec2) -> DVec2 {
    let mut best = corners[0];
    let mut reach = best.dot(direction);
    for &corner in &corners[1..] {
        let along = corner.dot(direction);
        if along > reach {
            (best, reach) = (corner, along);
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::turn_from_degrees;
    use crate::job::Plane;
    use crate::solids::Outline;
    use approx::assert_abs_diff_eq;

    #[test]
    fn bounds_are_where_the_furthest_points_are() {
        let outline = Outline::new(vec![
            DVec2::new(1., 2.),
            DVec2::new(9., 3.),
            DVec2::new(4., 4.),
            DVec2::new(3., 8.),
        ])
        .unwrap();
        let (from, to) = (DVec3::new(-3., 5., 1.), DVec3::new(4., 9., -6.));
        for solid in [
            Solid::block(from, to),
            Solid::cylinder(from, to, 5.0),
            Solid::capsule(from, to, 5.0),
            Solid::prism(&outline, Plane::DepthUp, [2.0, 3.0]),
            Solid::hull(vec![from, to, DVec3::ZERO, DVec3::new(3., 3., 3.)]),
        ] {
            let solid = solid.turned_about_centre(turn_from_degrees(DVec3::new(20., -40., 70.)));
            let bounds = solid.bounds();
            for axis in [DVec3::X, DVec3::Y, DVec3::Z] {
                let high = solid.support(axis).dot(axis);
                let low = solid.support(-axis).dot(axis);
                assert_abs_diff_eq!(high, bounds.max.dot(axis), epsilon = 1e-12);
                assert_abs_diff_eq!(low, bounds.min.dot(axis), epsilon = 1e-12);
            }
        }
    }
}
