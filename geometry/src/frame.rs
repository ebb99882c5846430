//! The one frame everything is measured in.
//!
//! ```text
//!            up (z)
//!             |      depth (y), into the dash: the line the unit slides along
//!             |    /
//!             |  /
//!             o ------- across (x), to the right of the installer looking in
//! ```
//!
//! The origin is the centre of the opening, on the plane of the dash face.
//! Right-handed. Lengths are millimetres, angles radians, everywhere in this
//! crate; standing proud is positive toward the installer (minus depth).

use glam::{DQuat, DVec3};

/// Unit vector to the installer's right.
pub const ACROSS: DVec3 = DVec3::X;
/// Unit vector into the dash, the direction the unit slides in.
pub const DEPTH: DVec3 = DVec3::Y;
/// Unit vector upward.
pub const UP: DVec3 = DVec3::Z;

/// A side of the cavity or of the unit, named as the installer sees it looking in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// Toward the installer's left (minus across).
    Left,
    /// Toward the installer's right (plus across).
    Right,
    /// Upward (plus up).
    Top,
    /// Downward (minus up).
    Bottom,
}

impl Side {
    /// All four, in the order they are always listed.
    pub const ALL: [Side; 4] = [Side::Left, Side::Right, Side::Top, Side::Bottom];

    /// Unit vector pointing out of this side.
    pub fn outward(self) -> DVec3 {
        match self {
            Side::Left => -ACROSS,
            Side::Right => ACROSS,
            Side::Top => UP,
            Side::Bottom => -UP,
        }
    }

    /// The word for it on screen and in answers.
    pub fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
            Side::Top => "top",
            Side::Bottom => "bottom",
        }
    }
}

/// A rigid placement: how a solid's own coordinates become (across, depth, up).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Turn applied first, about the solid's own origin.
    pub turn: DQuat,
    /// Shift applied after the turn, mm.
    pub shift: DVec3,
}

impl Pose {
    /// Leaves a solid where it is.
    pub const IDENTITY: Pose = Pose {
        turn: DQuat::IDENTITY,
        shift: DVec3::ZERO,
    };

    /// A pure shift, mm.
    pub fn shifted(shift: DVec3) -> Pose {
        Pose {
            shift,
            ..Pose::IDENTITY
        }
    }

    /// A turn about a fixed point.
    ///
    /// * `turn`: the rotation
    /// * `centre`: the point that stays put, mm
    pub fn turned_about(turn: DQuat, centre: DVec3) -> Pose {
        Pose {
            turn,
            shift: centre - turn * centre,
        }
    }

    /// Where a point of the solid ends up, mm.
    pub fn point(&self, local: DVec3) -> DVec3 {
        self.turn * local + self.shift
    }

    /// What a direction of the solid becomes.
    pub fn direction(&self, local: DVec3) -> DVec3 {
        self.turn * local
    }

    /// The point of the solid that ends up at `world`, mm.
    pub fn point_back(&self, world: DVec3) -> DVec3 {
        self.turn.inverse() * (world - self.shift)
    }

    /// The direction of the solid that becomes `world`.
    pub fn direction_back(&self, world: DVec3) -> DVec3 {
        self.turn.inverse() * world
    }

    /// First `inner`, then `self`.
    pub fn after(&self, inner: &Pose) -> Pose {
        Pose {
            turn: self.turn * inner.turn,
            shift: self.point(inner.shift),
        }
    }
}

/// Turns about the across, depth and up axes, in that order, from degrees as a
/// file or a screen states them.
///
/// * `degrees`: (about across, about depth, about up), right-hand rule, degrees
pub fn turn_from_degrees(degrees: DVec3) -> DQuat {
    let radians = degrees * (std::f64::consts::PI / 180.0);
    DQuat::from_axis_angle(UP, radians.z)
        * DQuat::from_axis_angle(DEPTH, radians.y)
        * DQuat::from_axis_angle(ACROSS, radians.x)
}

/// The turn that points a solid's own third axis along `direction` and keeps
/// its first axis as level as it can be.
///
/// * `direction`: a unit vector
pub fn basis_along(direction: DVec3) -> DQuat {
    let upright = direction.cross(UP);
    let level = if upright.length_squared() < 1e-12 {
        ACROSS
    } else {
        -upright.normalize()
    };
    let second = direction.cross(level);
    DQuat::from_mat3(&glam::DMat3::from_cols(level, second, direction)).normalize()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn a_basis_keeps_its_first_axis_level() {
        for direction in [DEPTH, -ACROSS, UP, DVec3::new(-1.0, 0.3, -1.0).normalize()] {
            let turn = basis_along(direction);
            assert_abs_diff_eq!(turn * DVec3::Z, direction, epsilon = 1e-12);
            assert_abs_diff_eq!((turn * DVec3::X).z, 0.0, epsilon = 1e-12);
        }
    }

    #[test]
    fn turning_about_a_point_keeps_it() {
        let centre = DVec3::new(3.0, -4.0, 5.0);
        let pose = Pose::turned_about(turn_from_degrees(DVec3::new(10.0, 20.0, 30.0)), centre);
        assert_abs_diff_eq!(pose.point(centre), centre, epsilon = 1e-12);
        let there = pose.point(DVec3::new(1.0, 2.0, 3.0));
        assert_abs_diff_eq!(
            pose.point_back(there),
            DVec3::new(1.0, 2.0, 3.0),
            epsilon = 1e-12
        );
    }

    #[test]
    fn a_turn_about_up_carries_across_into_depth() {
        let turn = turn_from_degrees(DVec3::new(0.0, 0.0, 90.0));
        assert_abs_diff_eq!(turn * ACROSS, DEPTH, epsilon = 1e-12);
    }
}
