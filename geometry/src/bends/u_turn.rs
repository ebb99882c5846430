//! Back along a parallel line.

use std::f64::consts::{FRAC_PI_2, PI};

use super::flat::Stretch;
use super::{BendFault, usable};

/// A turn back between two parallel lines, beginning and ending side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UTurn {
    /// How far it first swings away from the other line, rad; 0 when the lines
    /// are far enough apart.
    pub swing: f64,
    /// Straight across in the middle, mm.
    pub straight: f64,
    /// How far its centreline reaches ahead, mm; the cable's outer face half a
    /// diameter further.
    pub depth: f64,
    /// How far its centreline bulges beyond each line, mm.
    pub bulge: f64,
    /// Length of cable in it, mm.
    pub length: f64,
}

/// The turn back from one line to a parallel one.
///
/// From 2R apart on: a square turn, straight across, a square turn; πR + a - 2R
/// long, R deep. Closer than 2R a bulb of three arcs: away by α with cos α = (R +
/// a/2) / 2R, back by π + 2α, in by α; (π + 4α)R long, (1 + 2 sin α)R deep, R - a/2
/// to each side. On the same line (a = 0) that is 7πR/3.
///
/// * `apart`: distance between the lines, mm
/// * `radius`: at the centreline, mm
///
/// # Errors
/// [`BendFault::NotANumber`].
pub fn u_turn(apart: f64, radius: f64) -> Result<UTurn, BendFault> {
    usable(radius, &[apart])?;
    let straight = apart - 2.0 * radius;
    if straight >= 0.0 {
        return Ok(UTurn {
            swing: 0.0,
            straight,
            depth: radius,
            bulge: 0.0,
            length: PI * radius + straight,
        });
    }
    let swing = ((radius + 0.5 * apart) / (2.0 * radius)).acos();
    Ok(UTurn {
        swing,
        straight: 0.0,
        depth: radius * (1.0 + 2.0 * swing.sin()),
        bulge: radius - 0.5 * apart,
        length: radius * (PI + 4.0 * swing),
    })
}

impl UTurn {
    /// Its pieces, for a turn to the left.
    pub fn stretches(&self) -> Vec<Stretch> {
        if self.swing > 0.0 {
            vec![
                Stretch::Right(self.swing),
                Stretch::Left(PI + 2.0 * self.swing),
                Stretch::Right(self.swing),
            ]
        } else {
            vec![
                Stretch::Left(FRAC_PI_2),
                Stretch::Straight(self.straight),
                Stretch::Left(FRAC_PI_2),
            ]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bends::laid;
    use approx::assert_abs_diff_eq;
    use glam::DVec3;

    #[test]
    fn it_ends_beside_its_beginning_and_reaches_as_deep_as_it_says() {
        for apart in [0.0, 15.0, 59.9, 60.0, 100.0] {
            let turn = u_turn(apart, 30.0).unwrap();
            let path = laid(DVec3::ZERO, DVec3::Y, -DVec3::X, 30.0, &turn.stretches());
            assert_eq!(path.check(30.0), Ok(()));
            assert_abs_diff_eq!(path.end(), DVec3::X * -apart, epsilon = 1e-9);
            assert_abs_diff_eq!(path.end_direction(), -DVec3::Y, epsilon = 1e-12);
            assert_abs_diff_eq!(path.length(), turn.length, epsilon = 1e-9);
            let bounds = path.bounds().unwrap();
            assert_abs_diff_eq!(bounds.max.y, turn.depth, epsilon = 1e-9);
            assert_abs_diff_eq!(bounds.max.x, turn.bulge, epsilon = 1e-9);
            assert_abs_diff_eq!(bounds.min.x, -apart - turn.bulge, epsilon = 1e-9);
        }
    }
}
