//! Cutting a simple polygon into convex pieces.
//!
//! The polygon is cut into triangles (ear clipping, crate `earcut`), then
//! triangles are joined across the cuts that are not needed to keep pieces
//! convex: S. Hertel and K. Mehlhorn, "Fast triangulation of simple polygons",
//! 1983, at most four times as many pieces as there can be.

use earcut::Earcut;
use glam::DVec2;

/// Area of a polygon, mm², positive when its corners run counter-clockwise.
pub(super) fn signed_area(corners: &[DVec2]) -> f64 {
    let origin = corners[0];
    let fan = corners[1..].windows(2);
    0.5 * fan
        .map(|pair| (pair[0] - origin).perp_dot(pair[1] - origin))
        .sum::<f64>()
}

/// Whether a counter-clockwise polygon has no re-entrant corner.
pub(super) fn is_convex(corners: &[DVec2]) -> bool {
    let count = corners.len();
    (0..count).all(|i| {
        turns_left(
            corners[i],
            corners[(i + 1) % count],
            corners[(i + 2) % count],
        )
    })
}

/// Whether `a`, `b`, `c` turn left or run straight on, to rounding.
fn turns_left(a: DVec2, b: DVec2, c: DVec2) -> bool {
    let (one, next) = (b - a, c - b);
    one.perp_dot(next) >= -1e-12 * one.length() * next.length()
}

/// Convex pieces of a simple counter-clockwise polygon, each counter-clockwise.
pub(super) fn convex_pieces(corners: &[DVec2]) -> Vec<Vec<DVec2>> {
    if is_convex(corners) {
        return vec![corners.to_vec()];
    }
    let mut pieces = triangles(corners);
    while join_one_pair(corners, &mut pieces) {}
    let in_place = |piece: Vec<usize>| piece.into_iter().map(|i| corners[i]).collect();
    pieces.into_iter().map(in_place).collect()
}

/// The polygon cut into triangles, by the numbers of their corners.
fn triangles(corners: &[DVec2]) -> Vec<Vec<usize>> {
    let mut numbers: Vec<u32> = Vec::new();
    let points = corners.iter().map(DVec2::to_array);
    Earcut::new().earcut(points, &[], &mut numbers);
    let mut pieces = Vec::with_capacity(numbers.len() / 3);
    for triple in numbers.chunks_exact(3) {
        let [a, b, c] = [triple[0], triple[1], triple[2]].map(|n| n as usize);
        let turn = (corners[b] - corners[a]).perp_dot(corners[c] - corners[a]);
        if turn > 0.0 {
            pieces.push(vec![a, b, c]);
        } else if turn < 0.0 {
            pieces.push(vec![a, c, b]);
        }
    }
    pieces
}

/// Joins the first two pieces that make a convex one; false when there are none.
fn join_one_pair(corners: &[DVec2], pieces: &mut Vec<Vec<usize>>) -> bool {
    for one in 0..pieces.len() {
        for other in one + 1..pieces.len() {
            let Some(joined) = joined(&pieces[one], &pieces[other]) else {
                continue;
            };
            let shape: Vec<DVec2> = joined.iter().map(|&i| corners[i]).collect();
            if is_convex(&shape) {
                pieces[one] = joined;
                pieces.remove(other);
                return true;
            }
        }
    }
    false
}

/// Two pieces as one across the side they share, if they share one.
fn joined(one: &[usize], other: &[usize]) -> Option<Vec<usize>> {
    let (n, m) = (one.len(), other.len());
    for i in 0..n {
        for j in 0..m {
            if one[i] == other[(j + 1) % m] && one[(i + 1) % n] == other[j] {
                // Once round the first from the far end of the shared side,
                // then round the second without the shared corners.
                let first = (0..n).map(|k| one[(i + 1 + k) % n]);
                let second = (0..m - 2).map(|k| other[(j + 2 + k) % m]);
                return Some(first.chain(second).collect());
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solids::Outline;
    use proptest::prelude::*;

    #[test]
    fn a_cross_needs_few_pieces() {
        let cross = [
            (1., 0.),
            (2., 0.),
            (2., 1.),
            (3., 1.),
            (3., 2.),
            (2., 2.),
            (2., 3.),
            (1., 3.),
            (1., 2.),
            (0., 2.),
            (0., 1.),
            (1., 1.),
        ];
        let outline = Outline::new(cross.map(DVec2::from).to_vec()).unwrap();
        assert!(outline.pieces().len() <= 5, "{:?}", outline.pieces());
        assert_eq!(outline.area(), 5.0);
    }

    proptest! {
        #[test]
        fn pieces_are_convex_use_given_corners_and_add_up(
            radii in prop::collection::vec(1.0..100.0f64, 3..24)
        ) {
            let step = std::f64::consts::TAU / radii.len() as f64;
            let corner = |(i, r): (usize, &f64)| DVec2::from_angle(step * i as f64) * *r;
            let corners: Vec<DVec2> = radii.iter().enumerate().map(corner).collect();
            let Ok(outline) = Outline::new(corners) else {
                // Three wild spokes may leave the middle outside and cross.
                return Ok(());
            };
            let mut sum = 0.0;
            for piece in outline.pieces() {
                prop_assert!(is_convex(piece));
                prop_assert!(piece.iter().all(|c| outline.corners().contains(c)));
                sum += signed_area(piece);
            }
            prop_assert!((sum - outline.area()).abs() <= 1e-9 * outline.area());
        }
    }
}
