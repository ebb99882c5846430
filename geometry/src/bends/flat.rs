//! Flat paths laid into space.

use glam::{DVec2, DVec3};

use super::dubins::dubins;
use crate::path::{Path, Piece};

/// Shorter than this, a stretch is left out, mm.
const NOTHING: f64 = 1e-9;

/// Poses that leave their common plane by less than this are flat, mm.
const FLAT: f64 = 1e-8;

/// One stretch of a flat path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stretch {
    /// Straight on, mm.
    Straight(f64),
    /// A turn to the left, rad.
    Left(f64),
    /// A turn to the right, rad.
    Right(f64),
}

/// A flat path laid into space, one stretch after the other; stretches without
/// length are left out.
///
/// * `start`: where it begins, mm
/// * `ahead`, `left`: unit vectors square to each other, the way it begins and
///   the side that is its left
/// * `radius`: of every turn, at the centreline, mm
pub fn laid(start: DVec3, ahead: DVec3, left: DVec3, radius: f64, stretches: &[Stretch]) -> Path {
    let mut pieces = Vec::with_capacity(stretches.len());
    let (mut from, mut turned) = (start, 0.0);
    for &stretch in stretches {
        let (sin, cos) = f64::sin_cos(turned);
        let way = ahead * cos + left * sin;
        let side = left * cos - ahead * sin;
        let piece = match stretch {
            Stretch::Straight(length) if length > NOTHING => Piece::Line {
                from,
                to: from + way * length,
            },
            Stretch::Left(angle) if radius * angle > NOTHING => {
                turned += angle;
                Piece::arc(from, way, side, radius, angle)
            }
            Stretch::Right(angle) if radius * angle > NOTHING => {
                turned -= angle;
                Piece::arc(from, way, -side, radius, angle)
            }
            _ => continue,
        };
        from = piece.end();
        pieces.push(piece);
    }
    Path { pieces }
}

/// The shortest flat path from pose to pose, if one plane holds both.
///
/// `None` when no plane does, when a figure is not usable, or when both poses
/// are the same.
///
/// * `start`, `end`: mm
/// * `ahead`, `onward`: unit vectors, the way it begins and the way it ends
/// * `radius`: least at the centreline, mm
pub fn planar(start: DVec3, ahead: DVec3, end: DVec3, onward: DVec3, radius: f64) -> Option<Path> {
    let between = end - start;
    let length = between.length();
    // The better known of the two planes the start's direction spans.
    let by_place = ahead.cross(between / length.max(NOTHING));
    let by_way = ahead.cross(onward);
    let square = if by_place.length_squared() >= by_way.length_squared() {
        by_place
    } else {
        by_way
    };
    let up = if square.length() > NOTHING {
        square.normalize()
    } else {
        ahead.any_orthonormal_vector()
    };
    if between.dot(up).abs() > FLAT || onward.dot(up).abs() * radius > FLAT {
        return None;
    }
    let left = up.cross(ahead);
    let flat = |way: DVec3| DVec2::new(way.dot(ahead), way.dot(left));
    let heading = flat(onward).to_angle();
    let found = dubins(DVec2::ZERO, 0.0, flat(between), heading, radius)?;
    let mut path = laid(start, ahead, left, radius, &found.stretches());
    // Rounding, and what the plane leaves out, must not add up along a lead.
    match path.pieces.last_mut()? {
        Piece::Line { to, .. } | Piece::Arc { to, .. } => *to = end,
    }
    Some(path)
}
