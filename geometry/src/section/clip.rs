//! Cutting solids with flat faces by a plane.

use glam::{DVec2, DVec3};

use super::PARALLEL;
use crate::solids::Hull;

/// Cut faces of a prism, by the points whose product with `normal` is `height`.
pub(super) fn cut_prism(
    corners: &[DVec2],
    half_length: f64,
    normal: DVec3,
    height: f64,
) -> Vec<Vec<DVec3>> {
    let lean = normal.truncate();
    if normal.z.abs() <= PARALLEL {
        // Along the prism: a rectangle for every stretch of the cutting line
        // that runs inside the outline.
        let crossings = crossings(corners, lean, height);
        return (crossings.chunks_exact(2))
            .map(|ends| {
                let (from, to) = (ends[0], ends[1]);
                vec![
                    from.extend(-half_length),
                    to.extend(-half_length),
                    to.extend(half_length),
                    from.extend(half_length),
                ]
            })
            .collect();
    }
    // Across it: the outline, raised to the plane, between the two ends.
    let reach = half_length * normal.z.abs();
    let below = keep_beyond(corners, lean, height - reach);
    let between = below
        .iter()
        .flat_map(|part| keep_beyond(part, -lean, -height - reach));
    let raise = |c: DVec2| c.extend((height - lean.dot(c)) / normal.z);
    between
        .map(|part| part.into_iter().map(raise).collect())
        .collect()
}

/// The parts of a polygon whose points have a product with `way` above `least`.
///
/// A corner exactly on the line counts as below it.
fn keep_beyond(corners: &[DVec2], way: DVec2, least: f64) -> Vec<Vec<DVec2>> {
    let count = corners.len();
    let above = |i: usize| way.dot(corners[i % count]) > least;
    let Some(start) = (0..count).find(|&i| !above(i)) else {
        return vec![corners.to_vec()];
    };
    // Chains of corners above the line, each with the points where it rises
    // through the line and sinks below it again.
    let mut chains: Vec<Vec<DVec2>> = Vec::new();
    for i in start..start + count {
        let (from, to) = (corners[i % count], corners[(i + 1) % count]);
        match (above(i), above(i + 1)) {
            (false, true) => chains.push(vec![on_line(from, to, way, least), to]),
            (true, true) => chains.last_mut().into_iter().for_each(|c| c.push(to)),
            (true, false) => {
                let point = on_line(from, to, way, least);
                chains.last_mut().into_iter().for_each(|c| c.push(point));
            }
            (false, false) => {}
        }
    }
    // Along the line the ends of chains pair up: inside runs from each odd one
    // to the next.
    let along = way.perp();
    let mut ends: Vec<(f64, usize, bool)> = Vec::new();
    for (number, chain) in chains.iter().enumerate() {
        ends.push((along.dot(chain[0]), number, true));
        ends.push((along.dot(chain[chain.len() - 1]), number, false));
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let partner = |number: usize| {
        let place = ends.iter().position(|&(_, n, first)| n == number && !first);
        place.map(|p| ends[p ^ 1].1)
    };
    let mut done = vec![false; chains.len()];
    let mut parts = Vec::new();
    for first in 0..chains.len() {
        let mut part = Vec::new();
        let mut number = first;
        while !done[number] {
            done[number] = true;
            part.extend_from_slice(&chains[number]);
            number = partner(number).unwrap_or(number);
        }
        if !part.is_empty() {
            parts.push(part);
        }
    }
    parts
}

/// Where a line crosses a polygon, sorted along the line; always an even number.
fn crossings(corners: &[DVec2], way: DVec2, at: f64) -> Vec<DVec2> {
    let next = corners.iter().cycle().skip(1);
    let mut points: Vec<DVec2> = corners
        .iter()
        .zip(next)
        .filter(|(from, to)| (way.dot(**from) > at) != (way.dot(**to) > at))
        .map(|(from, to)| on_line(*from, *to, way, at))
        .collect();
    let along = way.perp();
    points.sort_by(|a, b| along.dot(*a).total_cmp(&along.dot(*b)));
    points
}

/// The point between two whose product with `way` is `at`.
fn on_line(from: DVec2, to: DVec2, way: DVec2, at: f64) -> DVec2 {
    let (low, high) = (way.dot(from) - at, way.dot(to) - at);
    from.lerp(to, low / (low - high))
}

/// The cut face of a hull, by the points whose product with `normal` is `height`.
pub(super) fn cut_hull(hull: &Hull, normal: DVec3, height: f64) -> Vec<DVec3> {
    let above = |i: usize| normal.dot(hull.corners()[i]) - height;
    let mut points: Vec<DVec3> = Vec::new();
    for face in hull.faces() {
        let next = face.corners.iter().cycle().skip(1);
        for (&from, &to) in face.corners.iter().zip(next) {
            // Every edge is met twice, once each way: take it when it rises.
            if above(from) <= 0.0 && above(to) > 0.0 {
                let share = above(from) / (above(from) - above(to));
                points.push(hull.corners()[from].lerp(hull.corners()[to], share));
            }
        }
    }
    let count = points.len().max(1) as f64;
    let middle = points.iter().sum::<DVec3>() / count;
    let (u, v) = normal.any_orthonormal_pair();
    let angle = |p: &DVec3| (*p - middle).dot(v).atan2((*p - middle).dot(u));
    points.sort_by(|a, b| angle(a).total_cmp(&angle(b)));
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_comb_falls_apart_into_its_teeth() {
        let comb: Vec<DVec2> = [
            (0., 0.),
            (10., 0.),
            (10., 5.),
            (8., 5.),
            (8., 2.),
            (6., 2.),
            (6., 5.),
            (4., 5.),
            (4., 2.),
            (2., 2.),
            (2., 5.),
            (0., 5.),
        ]
        .map(DVec2::from)
        .to_vec();
        assert_eq!(keep_beyond(&comb, DVec2::Y, 3.0).len(), 3);
        // The line along the bottom of the gaps counts as below the teeth.
        assert_eq!(keep_beyond(&comb, DVec2::Y, 2.0).len(), 3);
        assert_eq!(keep_beyond(&comb, DVec2::Y, 1.0).len(), 1);
        assert_eq!(keep_beyond(&comb, DVec2::Y, 5.0).len(), 0);
        assert_eq!(keep_beyond(&comb, DVec2::Y, -1.0).concat(), comb);
        assert_eq!(keep_beyond(&comb, -DVec2::Y, -3.0).len(), 1);
        assert_eq!(crossings(&comb, DVec2::Y, 3.0).len(), 6);
    }
}
