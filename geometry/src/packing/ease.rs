//! A first look at a change: only the circles around it give way.

use super::touch::{Around, Touch};

/// Circles this near to a change, in mean radii beyond touching, give way.
const ZONE: f64 = 0.3;
/// Rounds of giving way.
const ROUNDS: usize = 6;

/// Lets the circles around what has changed from `was` to `place` give way in turn,
/// the container as it is. Returns by how much their squared overlaps grew.
///
/// The mean radius must be about 1.
pub(super) fn give_way(touch: &Touch, was: &[f64], place: &mut [f64]) -> f64 {
    let beside = beside(touch, was, place);
    let squares = |place: &[f64]| -> f64 {
        beside
            .iter()
            .map(|&i| touch.squares(place, i, spot(place, i)))
            .sum()
    };
    let before = squares(was);
    let around: Vec<Around> = beside
        .iter()
        .map(|&i| {
            let mut around = Around::default();
            touch.around(place, i, spot(place, i), ZONE, &mut around);
            around
        })
        .collect();
    for _ in 0..ROUNDS {
        for (&i, around) in beside.iter().zip(&around) {
            let (x, y) = touch.give_way(place, i, spot(place, i), around);
            place[2 * i] = x;
            place[2 * i + 1] = y;
        }
    }
    squares(place) - before
}

/// Where a circle is.
pub(super) fn spot(place: &[f64], i: usize) -> (f64, f64) {
    (place[2 * i], place[2 * i + 1])
}

/// The circles moved, and those near to where they were or are.
fn beside(touch: &Touch, was: &[f64], place: &[f64]) -> Vec<usize> {
    let n = touch.radii.len();
    let mut inside = vec![false; n];
    for i in (0..n).filter(|&i| spot(was, i) != spot(place, i)) {
        for (x, y) in [spot(was, i), spot(place, i)] {
            for (k, at) in place[..2 * n].chunks_exact(2).enumerate() {
                let (dx, dy) = (at[0] - x, at[1] - y);
                let reach = touch.radii[i] + touch.radii[k] + ZONE;
                inside[k] |= dx * dx + dy * dy < reach * reach;
            }
        }
    }
    (0..n).filter(|&k| inside[k]).collect()
}
