//! The nearest two of many solids.

use std::ops::Range;

use super::{Nearest, nearest, signed_distance};
use crate::solids::{Bounds, Solid};

/// Neighbours in a list looked at together. Solids along a cable lie near each
/// other, so one box around a few of them says much.
const TOGETHER: usize = 8;

/// The nearest two among two lists of solids: their places in the lists and
/// how they face each other. `None` when a list is empty. Of equally near
/// pairs it is the first in order of the lists.
pub fn nearest_of_all(a: &[Solid], b: &[Solid]) -> Option<(usize, usize, Nearest)> {
    let (boxes_a, boxes_b) = (boxes(a), boxes(b));
    let (groups_a, groups_b) = (groups(&boxes_a), groups(&boxes_b));
    let mut meetings = Vec::with_capacity(groups_a.len() * groups_b.len());
    for (range_a, group_a) in &groups_a {
        for (range_b, group_b) in &groups_b {
            meetings.push((least(group_a, group_b), range_a, range_b));
        }
    }
    // Nearest groups first: then most others need no look.
    meetings.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut best: Option<(f64, usize, usize)> = None;
    let beyond = |best: Option<(f64, usize, usize)>, least: f64| {
        best.is_some_and(|(distance, ..)| least > distance)
    };
    for (group_least, range_a, range_b) in meetings {
        if beyond(best, group_least) {
            break;
        }
        for i in range_a.clone() {
            for j in range_b.clone() {
                if beyond(best, least(&boxes_a[i], &boxes_b[j])) {
                    continue;
                }
                let distance = signed_distance(&a[i], &b[j]);
                let nearer = best.is_none_or(|(known, known_i, known_j)| {
                    distance < known || (distance == known && (i, j) < (known_i, known_j))
                });
                if nearer {
                    best = Some((distance, i, j));
                }
            }
        }
    }
    best.map(|(_, i, j)| (i, j, nearest(&a[i], &b[j])))
}

/// No two solids in these boxes are nearer than this, mm.
fn least(a: &Bounds, b: &Bounds) -> f64 {
    let gap = a.gap(b);
    if gap > 0.0 { gap } else { f64::NEG_INFINITY }
}

fn boxes(solids: &[Solid]) -> Vec<Bounds> {
    solids.iter().map(Solid::bounds).collect()
}

/// Neighbours in a list, with the box around them.
fn groups(boxes: &[Bounds]) -> Vec<(Range<usize>, Bounds)> {
    let starts = (0..boxes.len()).step_by(TOGETHER);
    let ranges = starts.map(|start| start..boxes.len().min(start + TOGETHER));
    let with_box = |range: Range<usize>| {
        let joined = boxes[range.clone()].iter().copied();
        joined
            .reduce(|one, other| one.joined(&other))
            .map(|all| (range, all))
    };
    ranges.filter_map(with_box).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    #[test]
    fn the_nearest_two_are_those_that_trying_every_pair_finds() {
        let row = |x: f64, lean: f64| -> Vec<Solid> {
            let point = |i: i32| DVec3::new(x + lean * f64::from(i), 5.0 * f64::from(i), 0.0);
            (0..30)
                .map(|i| Solid::capsule(point(i), point(i + 1), 4.0))
                .collect()
        };
        for lean in [0.0, 0.3, -0.3, -2.0] {
            let (a, b) = (row(0.0, 0.0), row(20.0, lean));
            let (i, j, found) = nearest_of_all(&a, &b).unwrap();
            let mut every = (f64::INFINITY, 0, 0);
            for (i, one) in a.iter().enumerate() {
                for (j, other) in b.iter().enumerate() {
                    let distance = signed_distance(one, other);
                    if distance < every.0 {
                        every = (distance, i, j);
                    }
                }
            }
            assert_eq!((found.distance, i, j), every);
        }
        assert!(nearest_of_all(&[], &row(0.0, 0.0)).is_none());
    }
}
