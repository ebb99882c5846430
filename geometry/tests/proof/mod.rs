//! Proofs of a distance that use nothing but furthest points: a third opinion
//! that shares no code with the distances themselves.

use geometry::{Nearest, Shape, Solid, facets};
use glam::DVec3;

/// The free width of two solids along a unit vector from `a` to `b`, mm. No
/// direction gives more than their signed distance.
pub fn width(a: &Solid, b: &Solid, direction: DVec3) -> f64 {
    (b.support(-direction) - a.support(direction)).dot(direction)
}

/// How far a point lies outside a convex solid, at least, mm; 0 or less inside.
pub fn outside(solid: &Solid, point: DVec3) -> f64 {
    let local = solid.pose().point_back(point);
    match solid.shape() {
        Shape::Block { half } => (local.abs() - half).max_element(),
        Shape::Cylinder {
            radius,
            half_length,
        } => (local.truncate().length() - radius).max(local.z.abs() - half_length),
        Shape::Capsule {
            radius,
            half_length,
        } => {
            let on_axis = local.z.clamp(-half_length, *half_length);
            local.distance(DVec3::Z * on_axis) - radius
        }
        Shape::Prism { .. } | Shape::Hull(_) => facets(solid)
            .iter()
            .map(|facet| (point - facet.corners[0]).dot(facet.normal))
            .fold(f64::NEG_INFINITY, f64::max),
    }
}

/// The band that certainly holds the gap of two convex solids apart: they have
/// a free width along the direction found, and the points found lie in them.
pub fn band(a: &Solid, b: &Solid, found: &Nearest) -> [f64; 2] {
    let least = width(a, b, found.direction);
    let most = found.on_a.distance(found.on_b);
    let strays = outside(a, found.on_a).max(0.0) + outside(b, found.on_b).max(0.0);
    [least, most + strays]
}

/// Whether two overlapping convex solids certainly overlap by at least `depth`
/// mm along every direction. `None`: not decided after `most` cells.
///
/// The sphere of directions is cut into triangles. The point `p` of the
/// overlap's shape that is furthest along one direction gives every other
/// direction `n` an overlap of at least `p.n`, so three corners of a triangle
/// bound all of it; triangles not yet decided are split into four.
pub fn overlaps_by(a: &Solid, b: &Solid, depth: f64, most: usize) -> Option<bool> {
    if depth <= 0.0 {
        return Some(true);
    }
    let corner = |direction: DVec3| (direction, a.support(direction) - b.support(-direction));
    let mut cells: Vec<[(DVec3, DVec3); 3]> = Vec::new();
    for x in [DVec3::X, -DVec3::X] {
        for y in [DVec3::Y, -DVec3::Y] {
            for z in [DVec3::Z, -DVec3::Z] {
                cells.push([x, y, z].map(corner));
            }
        }
    }
    let mut seen = 0;
    while let Some(cell) = cells.pop() {
        seen += 1;
        if seen > most {
            return None;
        }
        if cell.iter().any(|(n, p)| n.dot(*p) < depth) {
            return Some(false);
        }
        let [p, q, r] = cell.map(|(_, p)| p);
        let bound = |p: DVec3| {
            cell.iter()
                .map(|(n, _)| n.dot(p))
                .fold(f64::INFINITY, f64::min)
        };
        let mixes = [
            (p + q + r) / 3.0,
            p,
            q,
            r,
            0.5 * (p + q),
            0.5 * (q + r),
            0.5 * (r + p),
        ];
        if mixes.into_iter().any(|mix| bound(mix) >= depth) {
            continue;
        }
        let middle = |i: usize, j: usize| corner((cell[i].0 + cell[j].0).normalize());
        let (c, b_, a_) = (middle(0, 1), middle(0, 2), middle(1, 2));
        cells.push([cell[0], c, b_]);
        cells.push([c, cell[1], a_]);
        cells.push([b_, a_, cell[2]]);
        cells.push([c, a_, b_]);
    }
    Some(true)
}
