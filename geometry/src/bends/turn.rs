//! A single turn.

use std::f64::consts::FRAC_PI_2;

use glam::DVec3;

use crate::path::Piece;

/// Room a cable needs straight ahead to turn square, mm: R + d/2.
///
/// From where the bend begins to the outer face of the cable. A right-angle
/// plug needs its own height instead.
///
/// * `radius`: at the centreline, mm
/// * `od`: outside diameter, mm
pub fn turn_room(radius: f64, od: f64) -> f64 {
    radius + 0.5 * od
}

/// How far ahead of its beginning a bend reaches, mm, outer face included:
/// (R + d/2) sin φ, from a square turn on R + d/2.
///
/// Behind a bend of less than a square turn the cable goes on ahead; that run
/// is not in it.
///
/// * `angle`: how far it turns, rad, 0 or more
/// * `radius`: at the centreline, mm
/// * `od`: outside diameter, mm
pub fn depth_of_turn(angle: f64, radius: f64, od: f64) -> f64 {
    turn_room(radius, od) * angle.clamp(0.0, FRAC_PI_2).sin()
}

/// The arc with which a cable that goes one way turns to go another.
///
/// `None` when it goes that way already. Straight back there are many; it is
/// then one of them.
///
/// * `start`: where the arc begins, mm
/// * `ahead`, `to`: unit vectors, the way there and the way it shall go
/// * `radius`: at the centreline, mm
pub fn turn_to(start: DVec3, ahead: DVec3, to: DVec3, radius: f64) -> Option<Piece> {
    let square = ahead.cross(to);
    let angle = square.length().atan2(ahead.dot(to));
    if angle <= 1e-9 {
        return None;
    }
    let across = to.reject_from(ahead).try_normalize();
    let inward = across.unwrap_or_else(|| ahead.any_orthonormal_vector());
    Some(Piece::arc(start, ahead, inward, radius, angle))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::path::Path;
    use approx::assert_abs_diff_eq;

    #[test]
    fn a_turn_reaches_as_far_ahead_as_it_swings() {
        assert_abs_diff_eq!(turn_room(32.175, 4.95), 34.65, epsilon = 1e-12);
        let (radius, od) = (30.0, 4.0);
        for angle in [0.0, 0.4, FRAC_PI_2, 2.0, 3.1] {
            let outer = |i: i32| (radius + 0.5 * od) * (angle * f64::from(i) / 1e4).sin();
            let furthest = (0..=10_000).map(outer).fold(0.0, f64::max);
            let depth = depth_of_turn(angle, radius, od);
            assert_abs_diff_eq!(depth, furthest, epsilon = 1e-6);
        }
    }

    #[test]
    fn a_cable_turns_to_any_direction() {
        let ahead = DVec3::new(1., 2., 2.) / 3.0;
        for to in [DVec3::X, -DVec3::Z, DVec3::new(-2., 1., -2.) / 3.0, -ahead] {
            let arc = turn_to(DVec3::ONE, ahead, to, 25.0).unwrap();
            assert_abs_diff_eq!(arc.direction_at(0.0), ahead, epsilon = 1e-12);
            assert_abs_diff_eq!(arc.direction_at(arc.length()), to, epsilon = 1e-12);
            assert_eq!(Path { pieces: vec![arc] }.check(25.0), Ok(()));
        }
        assert_eq!(turn_to(DVec3::ONE, ahead, ahead, 25.0), None);
    }
}
