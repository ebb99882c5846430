//! Exact solids: block, round bar, capsule, pushed outline, convex hull.
//!
//! A [`Solid`] is a [`Shape`] in its own coordinates and the [`Pose`] that
//! places it. Nothing is approximated: a round bar stays round. Every shape is
//! convex except a prism over a re-entrant [`Outline`], which is the union of
//! its convex [`Solid::pieces`].

use std::sync::Arc;

use glam::{DQuat, DVec3};

use crate::frame::Pose;
use crate::job::Plane;

mod bounds;
mod convex_pieces;
mod extent;
mod hull;
mod outline;

pub use bounds::Bounds;
pub(crate) use extent::furthest;
pub use hull::{Face, Hull};
pub use outline::{Outline, OutlineFault};

/// An exact solid in place, mm. Cheap to copy: outlines and hulls are shared.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    shape: Shape,
    pose: Pose,
}

/// The shape of a solid in its own coordinates.
///
/// Blocks, cylinders and capsules are centred on their own origin, a prism
/// along its third axis; outlines and hulls keep the corners they were given.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A box by its half sizes.
    Block {
        /// Half sizes, mm.
        half: DVec3,
    },
    /// A round bar with flat ends, along its own third axis.
    Cylinder {
        /// Radius, mm.
        radius: f64,
        /// Half its length, mm.
        half_length: f64,
    },
    /// A round bar with round ends, along its own third axis.
    Capsule {
        /// Radius, mm.
        radius: f64,
        /// Half the length between the centres of its ends, mm.
        half_length: f64,
    },
    /// An outline in its own first two axes, pushed along the third.
    Prism {
        /// The outline and its convex pieces.
        outline: Arc<Outline>,
        /// Half its length, mm.
        half_length: f64,
    },
    /// The convex hull of some points.
    Hull(Arc<Hull>),
}

impl Solid {
    /// A box between two opposite corners, mm.
    pub fn block(one: DVec3, other: DVec3) -> Solid {
        Solid {
            shape: Shape::Block {
                half: 0.5 * (other - one).abs(),
            },
            pose: Pose::shifted(0.5 * (one + other)),
        }
    }

    /// A round bar with flat ends.
    ///
    /// * `from`, `to`: centres of its two end faces, mm; equal for a thin disc
    ///   square to the up axis
    /// * `diameter`: mm
    pub fn cylinder(from: DVec3, to: DVec3, diameter: f64) -> Solid {
        let (pose, half_length) = bar(from, to);
        Solid {
            shape: Shape::Cylinder {
                radius: 0.5 * diameter.abs(),
                half_length,
            },
            pose,
        }
    }

    /// A round bar with round ends: everything within half a diameter of a
    /// straight line. A sphere when both ends are the same.
    ///
    /// * `from`, `to`: ends of the line, mm
    /// * `diameter`: mm
    pub fn capsule(from: DVec3, to: DVec3, diameter: f64) -> Solid {
        let (pose, half_length) = bar(from, to);
        Solid {
            shape: Shape::Capsule {
                radius: 0.5 * diameter.abs(),
                half_length,
            },
            pose,
        }
    }

    /// A flat outline pushed along the axis square to it.
    ///
    /// * `outline`: corners in the two axes of `plane`, mm
    /// * `plane`: the plane the outline is drawn in
    /// * `along`: where it starts and ends along the third axis, mm
    pub fn prism(outline: &Outline, plane: Plane, along: [f64; 2]) -> Solid {
        let middle = 0.5 * (along[0] + along[1]);
        let (turn, shift) = match plane {
            // Own axes become (across, up, -depth).
            Plane::AcrossUp => {
                let half = std::f64::consts::FRAC_1_SQRT_2;
                let turn = DQuat::from_xyzw(half, 0.0, 0.0, half);
                (turn, DVec3::new(0.0, middle, 0.0))
            }
            // Own axes become (across, depth, up).
            Plane::AcrossDepth => (DQuat::IDENTITY, DVec3::new(0.0, 0.0, middle)),
            // Own axes become (depth, up, across).
            Plane::DepthUp => {
                let turn = DQuat::from_xyzw(0.5, 0.5, 0.5, 0.5);
                (turn, DVec3::new(middle, 0.0, 0.0))
            }
        };
        Solid {
            shape: Shape::Prism {
                outline: Arc::new(outline.clone()),
                half_length: 0.5 * (along[1] - along[0]).abs(),
            },
            pose: Pose { turn, shift },
        }
    }

    /// The smallest convex solid that holds every corner given, mm: a wedge, a
    /// bent wall, a flat plate of no thickness.
    ///
    /// # Panics
    /// When there is no corner, or one that is not finite.
    pub fn hull(corners: Vec<DVec3>) -> Solid {
        Solid {
            shape: Shape::Hull(Arc::new(Hull::around(corners))),
            pose: Pose::IDENTITY,
        }
    }

    /// Its shape, in its own coordinates.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Its placement.
    pub fn pose(&self) -> &Pose {
        &self.pose
    }

    /// The same solid shifted, mm.
    pub fn shifted(&self, by: DVec3) -> Solid {
        self.posed(&Pose::shifted(by))
    }

    /// The same solid turned and shifted from where it is.
    pub fn posed(&self, pose: &Pose) -> Solid {
        Solid {
            shape: self.shape.clone(),
            pose: pose.after(&self.pose),
        }
    }

    /// The same solid turned about its own [`Solid::centre`].
    pub fn turned_about_centre(&self, turn: DQuat) -> Solid {
        self.posed(&Pose::turned_about(turn, self.centre()))
    }

    /// The middle of the box that holds it in its own coordinates, mm: the
    /// middle of a block or a bar; the middle of the rectangle around an outline.
    pub fn centre(&self) -> DVec3 {
        self.pose.point(self.shape.middle())
    }

    /// Whether the straight line between any two of its points stays in it.
    pub fn is_convex(&self) -> bool {
        match &self.shape {
            Shape::Prism { outline, .. } => outline.is_convex(),
            _ => true,
        }
    }

    /// Convex solids that together make it up: itself, unless it is a prism
    /// over a re-entrant outline. They touch and do not overlap.
    pub fn pieces(&self) -> Vec<Solid> {
        match &self.shape {
            Shape::Prism {
                outline,
                half_length,
            } if !outline.is_convex() => (outline.pieces().iter())
                .map(|piece| Solid {
                    shape: Shape::Prism {
                        outline: Arc::new(Outline::convex(piece.clone())),
                        half_length: *half_length,
                    },
                    pose: self.pose,
                })
                .collect(),
            _ => vec![self.clone()],
        }
    }
}

/// The placement and half length of a bar along its own third axis.
fn bar(from: DVec3, to: DVec3) -> (Pose, f64) {
    let length = from.distance(to);
    let turn = if length > 0.0 {
        DQuat::from_rotation_arc(DVec3::Z, (to - from) / length)
    } else {
        DQuat::IDENTITY
    };
    let pose = Pose {
        turn,
        shift: 0.5 * (from + to),
    };
    (pose, 0.5 * length)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use glam::DVec2;
    use std::f64::consts::{FRAC_PI_2, PI};

    fn l_outline() -> Outline {
        let corners = [
            (0., 0.),
            (30., 0.),
            (30., 10.),
            (10., 10.),
            (10., 20.),
            (0., 20.),
        ];
        Outline::new(corners.map(DVec2::from).to_vec()).unwrap()
    }

    #[test]
    fn a_prism_lies_in_the_plane_it_is_drawn_in() {
        let outline = l_outline();
        for (plane, min, max) in [
            (
                Plane::AcrossUp,
                DVec3::new(0., 5., 0.),
                DVec3::new(30., 8., 20.),
            ),
            (
                Plane::AcrossDepth,
                DVec3::new(0., 0., 5.),
                DVec3::new(30., 20., 8.),
            ),
            (
                Plane::DepthUp,
                DVec3::new(5., 0., 0.),
                DVec3::new(8., 30., 20.),
            ),
        ] {
            let solid = Solid::prism(&outline, plane, [8.0, 5.0]);
            let bounds = solid.bounds();
            assert_abs_diff_eq!(bounds.min, min, epsilon = 1e-12);
            assert_abs_diff_eq!(bounds.max, max, epsilon = 1e-12);
            assert_abs_diff_eq!(solid.centre(), 0.5 * (min + max), epsilon = 1e-12);
            assert_abs_diff_eq!(solid.volume(), 400.0 * 3.0, epsilon = 1e-9);
            let pieces = solid.pieces();
            assert_eq!(pieces.len(), 2);
            assert!(pieces.iter().all(Solid::is_convex));
            let whole: f64 = pieces.iter().map(Solid::volume).sum();
            assert_abs_diff_eq!(whole, solid.volume(), epsilon = 1e-9);
        }
    }

    #[test]
    fn a_bar_runs_from_end_to_end() {
        let (from, to) = (DVec3::new(1., 2., 3.), DVec3::new(1., -10., 3.));
        let bar = Solid::cylinder(from, to, 6.0);
        let bounds = bar.bounds();
        assert_abs_diff_eq!(bounds.min, DVec3::new(-2., -10., 0.), epsilon = 1e-12);
        assert_abs_diff_eq!(bounds.max, DVec3::new(4., 2., 6.), epsilon = 1e-12);
        assert_abs_diff_eq!(bar.volume(), PI * 9.0 * 12.0, epsilon = 1e-9);
        let cable = Solid::capsule(from, to, 6.0);
        assert_abs_diff_eq!(cable.bounds().max, DVec3::new(4., 5., 6.), epsilon = 1e-12);
        let ball = Solid::capsule(from, from, 6.0);
        assert_abs_diff_eq!(ball.bounds().min, from - 3.0, epsilon = 1e-12);
        assert_abs_diff_eq!(ball.volume(), 4.0 / 3.0 * PI * 27.0, epsilon = 1e-9);
    }

    #[test]
    fn turning_about_the_centre_keeps_the_centre() {
        let turn = DQuat::from_axis_angle(DVec3::Z, FRAC_PI_2);
        let rib = Solid::block(DVec3::new(10., 0., 0.), DVec3::new(16., 2., 9.));
        let turned = rib.turned_about_centre(turn);
        assert_abs_diff_eq!(turned.centre(), rib.centre(), epsilon = 1e-12);
        let bounds = turned.bounds();
        assert_abs_diff_eq!(bounds.min, DVec3::new(12., -2., 0.), epsilon = 1e-12);
        assert_abs_diff_eq!(bounds.max, DVec3::new(14., 4., 9.), epsilon = 1e-12);
    }

    #[test]
    fn a_hull_is_the_wedge_its_corners_say() {
        let wedge = Solid::hull(vec![
            DVec3::new(0., 0., 0.),
            DVec3::new(4., 0., 0.),
            DVec3::new(0., 3., 0.),
            DVec3::new(0., 0., 5.),
            DVec3::new(4., 0., 5.),
            DVec3::new(0., 3., 5.),
        ]);
        assert_abs_diff_eq!(wedge.volume(), 30.0, epsilon = 1e-12);
        assert_eq!(wedge.corners().len(), 6);
        let far = wedge.support(DVec3::new(1., 0.5, 0.1));
        assert_abs_diff_eq!(far, DVec3::new(4., 0., 5.));
    }
}
