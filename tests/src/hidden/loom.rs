//! Where leads that leave by one exit pass it: side by side, as taped.

use std::f64::consts::TAU;

use glam::DVec2;

/// Between leads, mm.
const BETWEEN: f64 = 0.6;

/// Room to the rim of the hole, mm.
const RIM: f64 = 1.5;

/// A place for every lead about the middle of a hole, and the hole's radius, mm.
///
/// * `ods`: diameters of the leads, mm
/// * `toward`: the side each comes from, as seen along the hole
pub fn lay(ods: &[f64], toward: &[DVec2]) -> (Vec<DVec2>, f64) {
    let mut order: Vec<usize> = (0..ods.len()).collect();
    order.sort_by(|a, b| ods[*b].total_cmp(&ods[*a]));
    let mut placed: Vec<(usize, DVec2)> = Vec::new();
    for &lead in &order {
        let free = |at: DVec2| {
            placed.iter().all(|(other, place)| {
                at.distance(*place) >= 0.5 * (ods[lead] + ods[*other]) + BETWEEN - 1e-9
            })
        };
        let beside = placed.iter().flat_map(|(other, place)| {
            let apart = 0.5 * (ods[lead] + ods[*other]) + BETWEEN;
            (0..48).map(move |i| *place + apart * DVec2::from_angle(TAU * f64::from(i) / 48.0))
        });
        let nearest = beside
            .filter(|at| free(*at))
            .min_by(|a, b| a.length_squared().total_cmp(&b.length_squared()));
        placed.push((lead, nearest.unwrap_or(DVec2::ZERO)));
    }
    let mut places = vec![DVec2::ZERO; ods.len()];
    for (lead, place) in placed {
        places[lead] = place;
    }
    let low = |axis: usize| outermost(&places, ods, axis, -1.0);
    let high = |axis: usize| outermost(&places, ods, axis, 1.0);
    let middle = 0.5 * DVec2::new(low(0) + high(0), low(1) + high(1));
    places.iter_mut().for_each(|place| *place -= middle);
    let reach = places
        .iter()
        .zip(ods)
        .map(|(place, od)| place.length() + 0.5 * od);
    let radius = reach.fold(0.0, f64::max) + RIM;
    (turned_best(places, toward), radius)
}

fn outermost(places: &[DVec2], ods: &[f64], axis: usize, sign: f64) -> f64 {
    let ends = places
        .iter()
        .zip(ods)
        .map(|(place, od)| place[axis] + sign * 0.5 * od);
    sign * ends.map(|end| sign * end).fold(f64::NEG_INFINITY, f64::max)
}

/// The loom turned so that its leads lie on the sides they come from.
fn turned_best(places: Vec<DVec2>, toward: &[DVec2]) -> Vec<DVec2> {
    let turned = |turn: i32| -> Vec<DVec2> {
        let way = DVec2::from_angle(TAU * f64::from(turn) / 24.0);
        places.iter().map(|place| way.rotate(*place)).collect()
    };
    let pull = |places: &[DVec2]| -> f64 {
        let pairs = places.iter().zip(toward);
        pairs
            .map(|(place, toward)| place.dot(toward.normalize_or_zero()))
            .sum()
    };
    let best = (0..24)
        .map(turned)
        .max_by(|a, b| pull(a).total_cmp(&pull(b)));
    best.unwrap_or(places)
}
