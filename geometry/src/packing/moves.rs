//! Changes to a place that may lead to a tighter one.

use super::chance::Chance;

/// Pairs of circles offered for a swap before something else is tried.
const PAIRS: usize = 8;
/// Spots tried for a circle that moves to a vacancy, at most.
const SPOTS: usize = 30;
/// The stirred region, in container radii.
const STIRRED: f64 = 0.4;

/// Changes a place at random: swaps two circles of nearly the same size, moves
/// one circle to a vacancy, or stirs a region of equal circles.
pub(super) fn change(radii: &[f64], place: &mut [f64], chance: &mut Chance) {
    let equal = radii[0] == radii[radii.len() - 1];
    if equal && chance.unit() < 0.5 {
        stir(radii, place, chance);
    } else if equal || chance.unit() >= 0.7 || !swap(radii, place, chance) {
        relocate(radii, place, chance);
    }
}

/// Swaps two circles, the likelier the nearer they are in size. Returns whether
/// any pair was found.
fn swap(radii: &[f64], place: &mut [f64], chance: &mut Chance) -> bool {
    let n = radii.len();
    for _ in 0..PAIRS {
        let (i, j) = (chance.below(n), chance.below(n));
        let ratio = radii[i.max(j)] / radii[i.min(j)];
        if ratio < 1.0 && chance.unit() < ratio * ratio * ratio * ratio {
            place.swap(2 * i, 2 * j);
            place.swap(2 * i + 1, 2 * j + 1);
            return true;
        }
    }
    false
}

/// Moves a circle to where it overlaps least, of some circles and spots.
fn relocate(radii: &[f64], place: &mut [f64], chance: &mut Chance) {
    let n = radii.len();
    let container = place[2 * n];
    let mut least = f64::INFINITY;
    let mut found = (0, 0.0, 0.0);
    for _ in 0..=chance.below(SPOTS) {
        let i = chance.below(n);
        let (x, y) = chance.in_disc();
        let (x, y) = (x * (container - radii[i]), y * (container - radii[i]));
        let now = overlap(radii, place, i, (place[2 * i], place[2 * i + 1]));
        let more = overlap(radii, place, i, (x, y)) - now;
        if more < least {
            least = more;
            found = (i, x, y);
        }
    }
    let (i, x, y) = found;
    place[2 * i] = x;
    place[2 * i + 1] = y;
}

/// The sum of the squared overlaps of a circle, were it at a spot.
fn overlap(radii: &[f64], place: &[f64], i: usize, (x, y): (f64, f64)) -> f64 {
    let n = radii.len();
    let out = (x * x + y * y).sqrt() + radii[i] - place[2 * n];
    let mut sum = out.max(0.0) * out.max(0.0);
    for (k, (radius, at)) in radii.iter().zip(place.chunks_exact(2)).enumerate() {
        let (dx, dy) = (x - at[0], y - at[1]);
        let touch = radii[i] + radius;
        let square = dx * dx + dy * dy;
        if square < touch * touch && k != i {
            let over = touch - square.sqrt();
            sum += over * over;
        }
    }
    sum
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
