//! Exact solids: block, round bar, capsule, pushed outline, convex hull.

use glam::{DVec2, DVec3};

use crate::frame::Pose;

mod outline;

pub use outline::{Outline, OutlineFault};

/// An exact solid in place, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    shape: Shape,
    pose: Pose,
}

/// The shape of a solid in its own coordinates, centred on its own origin.
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
        outline: Outline,
        /// Half its length, mm.
        half_length: f64,
    },
    /// The convex hull of some points.
    Hull {
        /// The points, mm.
        corners: Vec<DVec3>,
    },
}

/// An upright box around a solid, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Smallest (across, depth, up).
    pub min: DVec3,
    /// Largest (across, depth, up).
    pub max: DVec3,
}

impl Solid {
    /// A box between two opposite corners.
    pub fn block(min: DVec3, max: DVec3) -> Solid {
        Solid {
            shape: Shape::Block {
                half: 0.5 * (max - min),
            },
            pose: Pose::shifted(0.5 * (min + max)),
        }
    }

    /// Its shape.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Its placement.
    pub fn pose(&self) -> &Pose {
        &self.pose
    }

    /// The same solid shifted, mm.
    pub fn shifted(&self, by: DVec3) -> Solid {
        Solid {
            shape: self.shape.clone(),
            pose: Pose {
                shift: self.pose.shift + by,
                ..self.pose
            },
        }
    }
}
#[allow(unused)]
fn placeholder(_: DVec2) {}
