//! Flat outlines for drawing: inside or outside, clipping, splitting, filling.

use glam::DVec2;

/// Whether a point lies inside an outline (even-odd).
pub fn contains(outline: &[DVec2], point: DVec2) -> bool {
    let mut inside = false;
    for (a, b) in edges(outline) {
        if (a.y > point.y) != (b.y > point.y) {
            let x = a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x);
            inside ^= point.x < x;
        }
    }
    inside
}

/// The sides of an outline, closing one included.
pub fn edges(outline: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    (0..outline.len()).map(|i| (outline[i], outline[(i + 1) % outline.len()]))
}

/// Smallest and largest coordinates of some points; `None` of no points.
pub fn bounds(points: &[DVec2]) -> Option<[DVec2; 2]> {
    let first = *points.first()?;
    Some(points.iter().fold([first, first], |[low, high], &point| {
        [low.min(point), high.max(point)]
    }))
}

/// Whether two boxes, each by its lowest and highest corner, share a point.
pub fn boxes_meet([low, high]: [DVec2; 2], [other_low, other_high]: [DVec2; 2]) -> bool {
    low.cmple(other_high).all() && other_low.cmple(high).all()
}

/// Signed area: positive when the corners run counter-clockwise with y upward.
pub fn area(outline: &[DVec2]) -> f64 {
    0.5 * edges(outline).map(|(a, b)| a.perp_dot(b)).sum::<f64>()
}

/// How far a point is from the nearest side.
pub fn distance_to_edge(outline: &[DVec2], point: DVec2) -> f64 {
    edges(outline)
        .map(|(a, b)| {
            let along = b - a;
            let length = along.length_squared();
            let t = if length > 0.0 {
                ((point - a).dot(along) / length).clamp(0.0, 1.0)
            } else {
                0.0
            };
            point.distance(a + t * along)
        })
        .fold(f64::INFINITY, f64::min)
}

/// The part of an outline within an upright box (Sutherland and Hodgman 1974).
pub fn clip_to_box(outline: &[DVec2], low: DVec2, high: DVec2) -> Vec<DVec2> {
    let mut points = outline.to_vec();
    for (axis, limit, keep_below) in [
        (0, low.x, false),
        (0, high.x, true),
        (1, low.y, false),
        (1, high.y, true),
    ] {
        let inside = |p: DVec2| {
            if keep_below {
                p[axis] <= limit
            } else {
                p[axis] >= limit
            }
        };
        let mut kept = Vec::with_capacity(points.len() + 2);
        for (a, b) in edges(&points) {
            if inside(a) {
                kept.push(a);
            }
            if inside(a) != inside(b) {
                let t = (limit - a[axis]) / (b[axis] - a[axis]);
                kept.push(a.lerp(b, t));
            }
        }
        points = kept;
    }
    points
}

/// Where along a segment (0 to 1) it crosses any of the outlines, rising, ends included.
pub fn crossings(a: DVec2, b: DVec2, outlines: &[&[DVec2]]) -> Vec<f64> {
    let along = b - a;
    let mut at = vec![0.0, 1.0];
    for outline in outlines {
        for (c, d) in edges(outline) {
            let side = d - c;
            let cross = along.perp_dot(side);
            if cross.abs() < 1e-12 {
                // Parallel: where it runs along the segment, its ends split it.
                if (c - a).perp_dot(along).abs() < 1e-9 * along.length().max(1.0) {
                    for end in [c, d] {
                        at.push((end - a).dot(along) / along.length_squared());
                    }
                }
                continue;
            }
            let t = (c - a).perp_dot(side) / cross;
            let u = (c - a).perp_dot(along) / cross;
            if (0.0..=1.0).contains(&u) {
                at.push(t);
            }
        }
    }
    at.retain(|t| (0.0..=1.0).contains(t));
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    at
}

/// Cuts a simple outline into triangles by clipping ears; corner numbers by threes.
/// An outline that crosses itself comes out incomplete rather than wrong in kind.
pub fn triangles(outline: &[DVec2]) -> Vec<[usize; 3]> {
    let turn = area(outline).signum();
    let mut left: Vec<usize> = (0..outline.len()).collect();
    let mut result = Vec::new();
    while left.len() > 3 {
        let count = left.len();
        let ear = (0..count).find(|&i| {
            let [p, q, r] = [
                left[(i + count - 1) % count],
                left[i],
                left[(i + 1) % count],
            ];
            let (a, b, c) = (outline[p], outline[q], outline[r]);
            (b - a).perp_dot(c - b) * turn > 0.0
                && left
                    .iter()
                    .filter(|&&k| k != p && k != q && k != r)
                    .all(|&k| !in_triangle(outline[k], [a, b, c], turn))
        });
        // Without an ear (corners on one line): drop a flat corner and go on.
        let i = ear.unwrap_or(0);
        if ear.is_some() {
            result.push([
                left[(i + count - 1) % count],
                left[i],
                left[(i + 1) % count],
            ]);
        }
        left.remove(i);
    }
    if let [a, b, c] = left[..] {
        result.push([a, b, c]);
    }
    result
}

fn in_triangle(point: DVec2, [a, b, c]: [DVec2; 3], turn: f64) -> bool {
    [(a, b), (b, c), (c, a)]
        .iter()
        .all(|&(p, q)| (q - p).perp_dot(point - p) * turn > 0.0)
}

/// Distance from a point to a segment.
pub fn distance_to_segment(point: DVec2, a: DVec2, b: DVec2) -> f64 {
    let along = b - a;
    let length = along.length_squared();
    let t = if length > 0.0 {
        ((point - a).dot(along) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    point.distance(a + t * along)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corners(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|&(x, y)| DVec2::new(x, y)).collect()
    }

    fn angle_piece() -> Vec<DVec2> {
        corners(&[
            (0.0, 0.0),
            (4.0, 0.0),
            (4.0, 1.0),
            (1.0, 1.0),
            (1.0, 3.0),
            (0.0, 3.0),
        ])
    }

    #[test]
    fn inside_and_outside_of_an_angle_piece() {
        let piece = angle_piece();
        assert!(contains(&piece, DVec2::new(0.5, 2.0)));
        assert!(contains(&piece, DVec2::new(3.0, 0.5)));
        assert!(!contains(&piece, DVec2::new(2.0, 2.0)));
        assert_eq!(distance_to_edge(&piece, DVec2::new(2.0, 2.0)), 1.0);
    }

    #[test]
    fn triangles_cover_the_outline_either_way_round() {
        let mut piece = angle_piece();
        for _ in 0..2 {
            let covered: f64 = triangles(&piece)
                .iter()
                .map(|t| area(&t.map(|i| piece[i])).abs())
                .sum();
            assert!((covered - area(&piece).abs()).abs() < 1e-12);
            assert_eq!(area(&piece).abs(), 6.0);
            piece.reverse();
        }
    }

    #[test]
    fn clipping_keeps_the_part_in_the_box() {
        let clipped = clip_to_box(&angle_piece(), DVec2::new(0.5, 0.5), DVec2::new(2.0, 2.0));
        // 0.5..2 x 0.5..1 and 0.5..1 x 1..2
        assert!((area(&clipped).abs() - (0.75 + 0.5)).abs() < 1e-12);
        assert!(clip_to_box(&angle_piece(), DVec2::new(5.0, 5.0), DVec2::new(6.0, 6.0)).is_empty());
    }

    #[test]
    fn a_segment_is_split_where_it_enters_and_leaves() {
        let piece = angle_piece();
        let at = crossings(DVec2::new(-1.0, 2.0), DVec2::new(3.0, 2.0), &[&piece]);
        assert_eq!(at, vec![0.0, 0.25, 0.5, 1.0]);
    }
}
