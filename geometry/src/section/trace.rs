//! Walking round a flat convex figure known by its furthest points.

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

/// Corners nearer to each other than this are one, mm.
const SAME: f64 = 1e-9;

/// The polygon through furthest points of a flat convex figure, counter-clockwise.
///
/// A side is split until the figure reaches beyond it by no more than `chord`,
/// so corners of the figure come out exact and its curves to `chord`.
///
/// * `chord`: mm
/// * `furthest`: the point of the figure furthest along a unit vector, mm
pub(super) fn trace(chord: f64, furthest: impl Fn(DVec2) -> DVec2) -> Vec<DVec2> {
    // A quarter turn at a time, off the axes, where figures seldom have sides.
    let ways = [0, 1, 2, 3].map(|quarter| DVec2::from_angle(0.61 + FRAC_PI_2 * quarter as f64));
    let starts = ways.map(&furthest);
    let mut corners = Vec::new();
    for quarter in 0..4 {
        corners.push(starts[quarter]);
        let to = starts[(quarter + 1) % 4];
        between(chord, &furthest, starts[quarter], to, 0, &mut corners);
    }
    corners.dedup_by(|next, before| next.distance(*before) <= SAME);
    while corners.len() > 1 && corners[0].distance(corners[corners.len() - 1]) <= SAME {
        corners.pop();
    }
    corners
}

/// Adds the corners between two, not the two themselves.
fn between(
    chord: f64,
    furthest: &impl Fn(DVec2) -> DVec2,
    from: DVec2,
    to: DVec2,
    depth: usize,
    corners: &mut Vec<DVec2>,
) {
    let side = to - from;
    if depth > 40 || side.length() <= SAME {
        return;
    }
    let outward = -side.perp().normalize();
    let middle = furthest(outward);
    let beyond = (middle - from).dot(outward);
    // A corner of the figure, however little it stands out, is kept exactly;
    // on a curve `chord` decides.
    if beyond <= SAME || (beyond <= chord && depth >= 3) {
        return;
    }
    between(chord, furthest, from, middle, depth + 1, corners);
    corners.push(middle);
    between(chord, furthest, middle, to, depth + 1, corners);
}
