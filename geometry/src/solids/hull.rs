//! Convex hulls of a few points, with their faces.

use std::f64::consts::TAU;
use std::sync::OnceLock;

use glam::{DVec2, DVec3};

use super::Bounds;

/// Corners closer to a plane than this share of the hull's size lie in it.
const FLATNESS: f64 = 1e-9;

/// Normals and edges closer to parallel than this (sine of the angle) are one.
const PARALLEL: f64 = 1e-8;

/// The convex hull of some points, in its own coordinates.
///
/// It may be flat (two faces back to back), a line (no face) or a point. Its
/// faces are worked out when they are first asked for: a distance to a hull
/// that is not overlapped needs none.
#[derive(Clone, Debug)]
pub struct Hull {
    points: Vec<DVec3>,
    bounds: Bounds,
    skin: OnceLock<Skin>,
}

/// What a hull is made of once its inner points are left out.
#[derive(Clone, Debug)]
struct Skin {
    corners: Vec<DVec3>,
    faces: Vec<Face>,
    edges: Vec<DVec3>,
}

impl PartialEq for Hull {
    fn eq(&self, other: &Hull) -> bool {
        self.points == other.points
    }
}

/// One flat face of a hull.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Unit vector out of the hull.
    pub normal: DVec3,
    /// Numbers of its corners, counter-clockwise seen from outside.
    pub corners: Vec<usize>,
}

impl Hull {
    /// The hull of some points, mm. Points that are not corners of it are left out.
    ///
    /// Every plane through three of the points is tried, which is simple and
    /// hard to fool, and quick up to some fifty points.
    ///
    /// # Panics
    /// When there is no point, or one that is not finite.
    pub(super) fn around(mut points: Vec<DVec3>) -> Hull {
        assert!(
            !points.is_empty() && points.iter().all(|p| p.is_finite()),
            "a hull needs finite corners, got {points:?}"
        );
        drop_repeats(&mut points);
        let bounds = Bounds::around(points.iter().copied()).expect("there are points");
        Hull {
            points,
            bounds,
            skin: OnceLock::new(),
        }
    }

    fn skin(&self) -> &Skin {
        self.skin
            .get_or_init(|| Skin::around(&self.points, self.bounds.size().length()))
    }

    /// Its corners, mm.
    pub fn corners(&self) -> &[DVec3] {
        &self.skin().corners
    }

    /// The box around it, mm.
    pub(super) fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// Its faces; a flat hull has two, back to back.
    pub fn faces(&self) -> &[Face] {
        &self.skin().faces
    }

    /// Unit vectors along its edges; parallel edges are listed once.
    pub fn edge_directions(&self) -> &[DVec3] {
        &self.skin().edges
    }

    /// The points it was made from, mm; its corners are among them.
    pub(crate) fn points(&self) -> &[DVec3] {
        &self.points
    }

    /// The corner furthest along a direction.
    pub(crate) fn support(&self, direction: DVec3) -> DVec3 {
        let mut best = self.points[0];
        let mut reach = best.dot(direction);
        for &corner in &self.points[1..] {
            let along = corner.dot(direction);
            if along > reach {
                (best, reach) = (corner, along);
            }
        }
        best
    }

    /// The middle of the box around it, mm.
    pub(super) fn middle(&self) -> DVec3 {
        self.bounds.middle()
    }

    /// Its volume, mm³: the sum of the pyramids from one corner to every face.
    pub(super) fn volume(&self) -> f64 {
        let Skin { corners, faces, .. } = self.skin();
        let tip = corners[0];
        let pyramids = faces.iter().map(|face| {
            let base = corners[face.corners[0]] - tip;
            let rim = face.corners.windows(2);
            rim.map(|pair| {
                let (b, c) = (corners[pair[0]] - tip, corners[pair[1]] - tip);
                base.dot(b.cross(c)) / 6.0
            })
            .sum::<f64>()
        });
        pyramids.sum()
    }
}

impl Skin {
    /// The skin around some points, none given twice; `size` is that of the box around them.
    fn around(points: &[DVec3], size: f64) -> Skin {
        let mut faces = faces_around(points, FLATNESS * size);
        if faces.is_empty() {
            return Skin::line(points);
        }
        let mut numbers = vec![None; points.len()];
        let mut corners = Vec::new();
        for number in faces.iter_mut().flat_map(|face| &mut face.corners) {
            *number = *numbers[*number].get_or_insert_with(|| {
                corners.push(points[*number]);
                corners.len() - 1
            });
        }
        let edges = edge_directions(&corners, &faces);
        Skin {
            corners,
            faces,
            edges,
        }
    }

    /// The skin of points that all lie on one line.
    fn line(points: &[DVec3]) -> Skin {
        let first = points[0];
        let by_distance = |from: DVec3| {
            move |a: &&DVec3, b: &&DVec3| {
                let (a, b) = (from.distance_squared(**a), from.distance_squared(**b));
                a.total_cmp(&b)
            }
        };
        let one = *points.iter().max_by(by_distance(first)).unwrap_or(&first);
        let other = *points.iter().max_by(by_distance(one)).unwrap_or(&first);
        let (corners, edges) = match (other - one).try_normalize() {
            Some(edge) => (vec![one, other], vec![edge]),
            None => (vec![first], Vec::new()),
        };
        Skin {
            corners,
            faces: Vec::new(),
            edges,
        }
    }
}

/// Leaves out points that were given before.
fn drop_repeats(points: &mut Vec<DVec3>) {
    let mut kept = Vec::with_capacity(points.len());
    for &point in points.iter() {
        if !kept.contains(&point) {
            kept.push(point);
        }
    }
    *points = kept;
}

/// Every plane through three points that has all others on one side.
fn faces_around(points: &[DVec3], flat: f64) -> Vec<Face> {
    let mut found: Vec<(DVec3, Vec<usize>)> = Vec::new();
    let count = points.len();
    for i in 0..count {
        for j in i + 1..count {
            for k in j + 1..count {
                let known = |(_, on): &(DVec3, Vec<usize>)| {
                    on.contains(&i) && on.contains(&j) && on.contains(&k)
                };
                if found.iter().any(known) {
                    continue;
                }
                let (to_j, to_k) = (points[j] - points[i], points[k] - points[i]);
                let square = to_j.cross(to_k);
                if square.length() <= PARALLEL * to_j.length() * to_k.length() {
                    continue;
                }
                let normal = square.normalize();
                let heights = points.iter().map(|p| normal.dot(*p - points[i]));
                let (low, high) =
                    heights.fold((0.0f64, 0.0f64), |(low, high), h| (low.min(h), high.max(h)));
                for outward in [normal, -normal] {
                    let beyond = if outward == normal { high } else { -low };
                    let same = |(n, _): &(DVec3, Vec<usize>)| {
                        n.dot(outward) > 0.0 && n.cross(outward).length() < PARALLEL
                    };
                    if beyond <= flat && !found.iter().any(same) {
                        let on = (0..count)
                            .filter(|&p| normal.dot(points[p] - points[i]).abs() <= flat)
                            .collect();
                        found.push((outward, on));
                    }
                }
            }
        }
    }
    found
        .into_iter()
        .map(|(normal, on)| Face {
            normal,
            corners: rim(points, &on, normal, flat),
        })
        .collect()
}

/// The corners of a face in order, without points on its sides or inside it:
/// walks round, each time to the point that has all others to its left.
fn rim(points: &[DVec3], on: &[usize], normal: DVec3, flat: f64) -> Vec<usize> {
    let u = normal.any_orthonormal_vector();
    let v = normal.cross(u);
    let flattened = |p: usize| DVec2::new(points[p].dot(u), points[p].dot(v));
    let by_place = |a: &&usize, b: &&usize| {
        let (a, b) = (flattened(**a), flattened(**b));
        a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y))
    };
    let Some(&start) = on.iter().min_by(by_place) else {
        return Vec::new();
    };
    let mut walk = vec![start];
    let mut heading = -std::f64::consts::FRAC_PI_2;
    while walk.len() <= on.len() {
        let here = walk[walk.len() - 1];
        let at = flattened(here);
        let turn_to = |p: usize| {
            let way = flattened(p) - at;
            let turn = (way.to_angle() - heading).rem_euclid(TAU);
            // A point straight on may come out as a full turn by rounding.
            if turn > TAU - PARALLEL { 0.0 } else { turn }
        };
        let others = on.iter().copied().filter(|&p| p != here);
        let Some(next) = others.min_by(|&a, &b| {
            let (da, db) = (flattened(a).distance(at), flattened(b).distance(at));
            let apart = (flattened(a) - at).perp_dot(flattened(b) - at);
            let in_line = apart.abs() <= flat * da.max(db)
                && (flattened(a) - at).dot(flattened(b) - at) > 0.0;
            if in_line {
                db.total_cmp(&da)
            } else {
                turn_to(a).total_cmp(&turn_to(b))
            }
        }) else {
            break;
        };
        if next == start {
            break;
        }
        heading = (flattened(next) - at).to_angle();
        walk.push(next);
    }
    walk
}

/// Unit vectors along the sides of the faces, parallel ones once.
fn edge_directions(corners: &[DVec3], faces: &[Face]) -> Vec<DVec3> {
    let mut edges: Vec<DVec3> = Vec::new();
    for face in faces {
        for (place, &from) in face.corners.iter().enumerate() {
            let to = face.corners[(place + 1) % face.corners.len()];
            let Some(edge) = (corners[to] - corners[from]).try_normalize() else {
                continue;
            };
            if edges.iter().all(|e| e.cross(edge).length() >= PARALLEL) {
                edges.push(edge);
            }
        }
    }
    edges
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn cube() -> Vec<DVec3> {
        (0..8)
            .map(|i| DVec3::new((i & 1) as f64, (i >> 1 & 1) as f64, (i >> 2) as f64))
            .collect()
    }

    #[test]
    fn a_cube_has_six_faces_three_ways_of_edge_and_no_inner_points() {
        let mut points = cube();
        points.push(DVec3::splat(0.5));
        points.push(DVec3::new(0.5, 0.5, 1.0));
        points.push(DVec3::new(0.5, 0.0, 1.0));
        points.extend(cube());
        let hull = Hull::around(points);
        assert_eq!(hull.corners().len(), 8);
        assert_eq!(hull.faces().len(), 6);
        assert_eq!(hull.edge_directions().len(), 3);
        assert!(hull.faces().iter().all(|f| f.corners.len() == 4));
        assert_abs_diff_eq!(hull.volume(), 1.0, epsilon = 1e-15);
    }

    #[test]
    fn faces_go_round_counter_clockwise_seen_from_outside() {
        let hull = Hull::around(cube());
        for face in hull.faces() {
            let at = |i: usize| hull.corners()[face.corners[i]];
            let turn = (at(1) - at(0)).cross(at(2) - at(1));
            assert_abs_diff_eq!(turn, face.normal, epsilon = 1e-12);
        }
    }

    #[test]
    fn flat_straight_and_single_hulls_are_allowed() {
        let flat = Hull::around(vec![DVec3::ZERO, DVec3::X, DVec3::Y]);
        assert_eq!(flat.faces().len(), 2);
        assert_eq!(flat.faces()[0].normal, -flat.faces()[1].normal);
        assert_eq!(flat.volume(), 0.0);
        let line = Hull::around(vec![DVec3::ZERO, DVec3::X, 3.0 * DVec3::X, -DVec3::X]);
        assert_eq!(line.corners().len(), 2);
        assert_eq!(line.edge_directions().len(), 1);
        let point = Hull::around(vec![DVec3::ONE, DVec3::ONE]);
        assert_eq!(point.corners(), [DVec3::ONE]);
    }
}
