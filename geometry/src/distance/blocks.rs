//! The distance between two blocks.
//!
//! Fifteen directions decide whether two blocks overlap and how deep:
//! S. Gottschalk, M. C. Lin, D. Manocha, "OBBTree: A hierarchical structure
//! for rapid interference detection", 1996.

use glam::{DMat3, DVec3};

use super::overlap::Widest;
use super::pair::Points;

/// Edges closer to parallel than this (sine of the angle) give no direction.
const PARALLEL: f64 = 1e-10;

/// The nearest points of two blocks with the same axes that do not overlap,
/// one about the origin.
///
/// * `a`, `b`: half sizes, mm
/// * `at`: middle of the second, mm
pub(super) fn parallel(a: DVec3, b: DVec3, at: DVec3) -> Option<Points> {
    let gaps = at.abs() - a - b;
    if gaps.max_element() <= 0.0 {
        return None;
    }
    // Where they overlap along an axis both points lie in the middle of it.
    let low = (-a).max(at - b);
    let high = a.min(at + b);
    let shared = 0.5 * (low + high);
    let side = DVec3::ONE.copysign(at);
    let apart = gaps.cmpgt(DVec3::ZERO);
    Some(Points {
        a: DVec3::select(apart, a * side, shared),
        b: DVec3::select(apart, at - b * side, shared),
    })
}

/// The widest free width of two blocks among the directions square to a face
/// of either or to an edge of each. It is their distance when they overlap,
/// and never more than it.
///
/// * `a`, `b`: half sizes, mm
/// * `axes`, `at`: axes and middle of the second, seen from the first
pub(super) fn widest_of_fifteen(a: DVec3, b: DVec3, axes: &DMat3, at: DVec3) -> Widest {
    let [u, v, w] = [axes.x_axis, axes.y_axis, axes.z_axis];
    let mut widest = Widest {
        width: f64::NEG_INFINITY,
        direction: DVec3::X,
    };
    let mut offer = |width: f64, direction: DVec3, along: f64| {
        if width > widest.width {
            widest = Widest {
                width,
                direction: direction * 1.0f64.copysign(along),
            };
        }
    };
    let reach_b = u.abs() * b.x + v.abs() * b.y + w.abs() * b.z;
    let widths = at.abs() - a - reach_b;
    offer(widths.x, DVec3::X, at.x);
    offer(widths.y, DVec3::Y, at.y);
    offer(widths.z, DVec3::Z, at.z);
    for (face, half) in [(u, b.x), (v, b.y), (w, b.z)] {
        let along = at.dot(face);
        offer(along.abs() - half - face.abs().dot(a), face, along);
    }
    for edge in [u, v, w] {
        for square in [
            DVec3::new(0.0, -edge.z, edge.y),
            DVec3::new(edge.z, 0.0, -edge.x),
            DVec3::new(-edge.y, edge.x, 0.0),
        ] {
            let length = square.length();
            if length <= PARALLEL {
                continue;
            }
            let along = at.dot(square);
            let reach_b =
                square.dot(u).abs() * b.x + square.dot(v).abs() * b.y + square.dot(w).abs() * b.z;
            let width = (along.abs() - square.abs().dot(a) - reach_b) / length;
            offer(width, square / length, along);
        }
    }
    widest
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn blocks_side_by_side_are_nearest_in_the_middle_of_what_they_share() {
        let (a, b) = (DVec3::splat(1.0), DVec3::new(1.0, 2.0, 3.0));
        let points = parallel(a, b, DVec3::new(5.0, 1.0, 8.0)).unwrap();
        assert_eq!(points.a, DVec3::new(1.0, 0.0, 1.0));
        assert_eq!(points.b, DVec3::new(4.0, 0.0, 5.0));
        assert!(parallel(a, b, DVec3::new(2.0, 1.0, 1.0)).is_none());
    }

    #[test]
    fn two_edges_that_cross_need_the_edge_direction() {
        // Two square bars laid across each other on their edges, 0.5 deep.
        let half = DVec3::new(1.0, 1.0, 20.0);
        let quarter = std::f64::consts::FRAC_PI_4;
        let one = DMat3::from_rotation_z(quarter);
        let other = DMat3::from_rotation_x(std::f64::consts::FRAC_PI_2) * one;
        let at = DVec3::X * (2.0 * 2f64.sqrt() - 0.5);
        let back = one.transpose();
        let widest = widest_of_fifteen(half, half, &(back * other), back * at);
        assert_abs_diff_eq!(widest.width, -0.5, epsilon = 1e-14);
        assert_abs_diff_eq!(one * widest.direction, DVec3::X, epsilon = 1e-14);
    }
}
