//! Places to start from: scattered, in rings, on a honeycomb.

use std::f64::consts::{PI, TAU};

use super::chance::Chance;

/// How densely a start is laid out: the circles' share of the container.
const DENSITY: f64 = 0.75;

/// A start of the kind that suits: mixed circles are scattered, equal ones take
/// turns between rings, honeycomb and scattered.
pub(super) fn start(radii: &[f64], turn: usize, chance: &mut Chance) -> Vec<f64> {
    let n = radii.len();
    let equal = radii[0] == radii[n - 1];
    let area: f64 = radii.iter().map(|r| r * r).sum();
    let container = (area / DENSITY).sqrt().max(radii[0]);
    let mut place = match turn % 4 {
        0 | 2 if equal => rings(n, turn, radii[0], chance),
        3 if equal => honeycomb(n, radii[0], chance),
        _ => scattered(radii, container, chance),
    };
    place.push(container);
    place
}

/// Anywhere inside the container.
fn scattered(radii: &[f64], container: f64, chance: &mut Chance) -> Vec<f64> {
    radii
        .iter()
        .flat_map(|radius| {
            let (x, y) = chance.in_disc();
            let room = container - radius;
            [room * x, room * y]
        })
        .collect()
}

/// Equal circles in rings, evenly spaced, about six fewer in every ring inward,
/// as in the curved hexagonal packings (B. D. Lubachevsky, R. L. Graham, "Curved
/// hexagonal packings of equal disks in a circle", 1997, from memory).
///
/// The first turns have the fullest rings; later ones leave some out by chance.
fn rings(n: usize, turn: usize, radius: f64, chance: &mut Chance) -> Vec<f64> {
    let mut place = Vec::with_capacity(2 * n + 1);
    let mut ring = radius * ((n as f64 / 0.8).sqrt() - 1.0);
    let mut left = n;
    let mut full = usize::MAX;
    while left > 0 {
        let fits = if ring > radius {
            (PI / (radius / ring).asin() + 0.1) as usize
        } else {
            1
        };
        let missing = if turn == 0 { 0 } else { chance.below(3) };
        let count = fits.min(full).saturating_sub(missing).clamp(1, left);
        let phase = TAU * chance.unit();
        for k in 0..count {
            let angle = phase + TAU * k as f64 / count as f64;
            place.extend([ring * angle.cos(), ring * angle.sin()]);
        }
        left -= count;
        full = (count + 1).saturating_sub(chance.below(3) + 5).max(1);
        ring = (ring - 1.8 * radius).max(0.2 * radius);
    }
    place
}

/// Equal circles on the points of a honeycomb nearest to a random point.
fn honeycomb(n: usize, radius: f64, chance: &mut Chance) -> Vec<f64> {
    let (off_x, off_y) = chance.in_disc();
    let half = (n as f64).sqrt() as i32 + 2;
    let mut points: Vec<(f64, f64)> = (-half..=half)
        .flat_map(|row| (-half..=half).map(move |column| (row, column)))
        .map(|(row, column)| {
            let x = 2.0 * f64::from(column) + f64::from(row) + off_x;
            let y = 3f64.sqrt() * f64::from(row) + off_y;
            (x, y)
        })
        .collect();
    points.sort_by(|a, b| (a.0 * a.0 + a.1 * a.1).total_cmp(&(b.0 * b.0 + b.1 * b.1)));
    points
        .iter()
        .take(n)
        .flat_map(|(x, y)| [radius * x, radius * y])
        .collect()
}
