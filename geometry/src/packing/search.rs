//! Where to look for a tight place.

use super::Effort;
use super::chance::Chance;
use super::descend::Descent;
use super::press::Press;

/// The tightest place found for circles of these radii, largest first.
pub(super) fn search(radii: &[f64], effort: Effort) -> Vec<f64> {
    let n = radii.len();
    let starts = match effort {
        Effort::Normal => 20,
        Effort::Thorough => 1000,
    };
    let mut chance = Chance::new(1);
    let mut descent = Descent::new(2 * n + 1);
    let mut best: Vec<f64> = Vec::new();
    for _ in 0..starts {
        let mut place = scattered(radii, &mut chance);
        for pressure in [1e-1, 1e-2, 1e-4, 1e-6] {
            let mut press = Press::new(radii, pressure);
            descent.run(&mut place, 1e-5 * pressure, 400, |at, slope| {
                press.energy(at, slope)
            });
        }
        part(radii, &mut place);
        if best.is_empty() || place[2 * n] < best[2 * n] {
            best = place;
        }
    }
    best
}

/// Circles scattered at random over a disc of about the right size.
fn scattered(radii: &[f64], chance: &mut Chance) -> Vec<f64> {
    let n = radii.len();
    let area: f64 = radii.iter().map(|r| r * r).sum();
    let container = (area / 0.7).sqrt().max(radii[0]);
    let mut place = vec![container; 2 * n + 1];
    for i in 0..n {
        let (x, y) = loop {
            let (x, y) = (chance.signed(), chance.signed());
            if x * x + y * y < 1.0 {
                break (x, y);
            }
        };
        place[i] = x * (container - radii[i]);
        place[n + i] = y * (container - radii[i]);
    }
    place
}

/// Draws the circles apart, all away from the centre alike, until none overlap,
/// and sets the container around them.
fn part(radii: &[f64], place: &mut [f64]) {
    let n = radii.len();
    let mut scale: f64 = 0.0;
    for i in 0..n {
        for j in 0..i {
            let (dx, dy) = (place[i] - place[j], place[n + i] - place[n + j]);
            scale = scale.max((radii[i] + radii[j]) / (dx * dx + dy * dy).sqrt());
        }
    }
    place[2 * n] = 0.0;
    for i in 0..n {
        place[i] *= scale;
        place[n + i] *= scale;
        let reach = (place[i] * place[i] + place[n + i] * place[n + i]).sqrt() + radii[i];
        place[2 * n] = reach.max(place[2 * n]);
    }
}
