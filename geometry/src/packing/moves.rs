//! Changes to a place that may lead to a tighter one.

use super::chance::Chance;
use super::ease::spot;
use super::touch::{Around, Touch};

/// Pairs of circles looked at for a swap, at most.
const PAIRS: usize = 15;
/// Spots tried for a circle that moves to a vacancy, at most.
const SPOTS: usize = 15;
/// Steps a circle gives way at a spot before it is judged.
const STEPS: usize = 4;
/// A circle that gives way meets what is this near, in mean radii beyond touching.
const NEAR: f64 = 0.8;
/// The stirred region, in container radii.
const STIRRED: f64 = 0.4;

/// Changes a place at random: swaps two circles of nearly the same size, moves
/// one circle to a vacancy, or stirs a region of equal circles.
pub(super) fn change(touch: &Touch, place: &mut [f64], chance: &mut Chance) {
    let radii = touch.radii;
    let equal = radii[0] == radii[radii.len() - 1];
    if equal && chance.unit() < 0.5 {
        stir(radii, place, chance);
    } else if equal || chance.unit() >= 0.7 || !swap(touch, place, chance) {
        relocate(touch, place, chance);
    }
}

/// Swaps the two circles that overlap least when swapped, of some pairs; the
/// nearer in size, the likelier they are looked at. Returns whether any was found.
fn swap(touch: &Touch, place: &mut [f64], chance: &mut Chance) -> bool {
    let (radii, n) = (touch.radii, touch.radii.len());
    let mut least = f64::INFINITY;
    let mut found = None;
    for _ in 0..=chance.below(PAIRS) {
        let (i, j) = (chance.below(n), chance.below(n));
        let ratio = radii[i.max(j)] / radii[i.min(j)];
        if ratio == 1.0 || chance.unit() > ratio * ratio * ratio * ratio {
            continue;
        }
        let now = squares_of_two(touch, place, i, j);
        swap_two(place, i, j);
        let more = squares_of_two(touch, place, i, j) - now;
        swap_two(place, i, j);
        if more < least {
            least = more;
            found = Some((i, j));
        }
    }
    if let Some((i, j)) = found {
        swap_two(place, i, j);
    }
    found.is_some()
}

fn squares_of_two(touch: &Touch, place: &[f64], i: usize, j: usize) -> f64 {
    [i, j]
        .map(|i| touch.squares(place, i, spot(place, i)))
        .iter()
        .sum()
}

fn swap_two(place: &mut [f64], i: usize, j: usize) {
    place.swap(2 * i, 2 * j);
    place.swap(2 * i + 1, 2 * j + 1);
}

/// Moves a circle to where it overlaps least, of some circles and spots.
fn relocate(touch: &Touch, place: &mut [f64], chance: &mut Chance) {
    let n = touch.radii.len();
    let mut least = f64::INFINITY;
    let mut found = (0, (0.0, 0.0));
    let mut around = Around::default();
    for _ in 0..=chance.below(SPOTS) {
        let i = chance.below(n);
        let room = place[2 * n] - touch.radii[i];
        let (x, y) = chance.in_disc();
        let mut there = (room * x, room * y);
        touch.around(place, i, there, NEAR, &mut around);
        for _ in 0..STEPS {
            there = touch.give_way(place, i, there, &around);
        }
        let now = touch.squares(place, i, spot(place, i));
        let more = touch.squares(place, i, there) - now;
        if more < least {
            least = more;
            found = (i, there);
        }
    }
    let (i, (x, y)) = found;
    place[2 * i] = x;
    place[2 * i + 1] = y;
}

/// Shakes the circles in a region, each by up to its radius.
fn stir(radii: &[f64], place: &mut [f64], chance: &mut Chance) {
    let container = place[2 * radii.len()];
    let (x, y) = chance.in_disc();
    for (radius, at) in radii.iter().zip(place.chunks_exact_mut(2)) {
        let (dx, dy) = (at[0] - x * container, at[1] - y * container);
        if dx * dx + dy * dy < STIRRED * STIRRED * container * container {
            let (x, y) = chance.in_disc();
            at[0] += radius * x;
            at[1] += radius * y;
        }
    }
}
