//! Solids of the plain job as shapes of the collision library.

use glam::{DVec2, DVec3};
use parry3d_f64::math::{Pose3, Rot3, Vec3};
use parry3d_f64::query;
use parry3d_f64::shape::{Capsule, ConvexPolyhedron, Cuboid, Cylinder, SharedShape};
use serde_json::Value;

use super::read::{Unreadable, list, number, outline, point, three};

/// A solid: the union of convex pieces.
#[derive(Clone)]
pub struct Form {
    pieces: Vec<Piece>,
}

#[derive(Clone)]
struct Piece {
    place: Pose3,
    shape: SharedShape,
    low: DVec3,
    high: DVec3,
}

fn vec(point: DVec3) -> Vec3 {
    Vec3::new(point.x, point.y, point.z)
}

impl Piece {
    fn new(place: Pose3, shape: SharedShape) -> Piece {
        let bounds = shape.compute_aabb(&place);
        let (low, high) = (bounds.mins, bounds.maxs);
        Piece {
            low: DVec3::new(low.x, low.y, low.z),
            high: DVec3::new(high.x, high.y, high.z),
            place,
            shape,
        }
    }

    /// No point of the piece is nearer than this, mm.
    fn at_least(&self, point: DVec3) -> f64 {
        (self.low - point)
            .max(point - self.high)
            .max(DVec3::ZERO)
            .length()
    }
}

impl Form {
    /// A solid as `plain --json` writes it.
    pub fn read(value: &Value) -> Result<Form, Unreadable> {
        let Some((kind, of)) = value.as_object().and_then(|map| map.iter().next()) else {
            return Err(Unreadable("a solid without a shape".to_owned()));
        };
        let piece = match kind.as_str() {
            "block" => {
                let [a, b, c] = axes(of)?;
                let half = point(of, "half_mm")?;
                let place = Pose3::from_parts(vec(point(of, "centre")?), turn(a, b, c));
                Piece::new(place, SharedShape::new(Cuboid::new(vec(half))))
            }
            "cylinder" => {
                let bar = Cylinder::new(number(of, "half_length_mm")?, number(of, "radius_mm")?);
                Piece::new(along(of)?, SharedShape::new(bar))
            }
            "capsule" => {
                let (half, radius) = (number(of, "half_length_mm")?, number(of, "radius_mm")?);
                Piece::new(along(of)?, SharedShape::new(Capsule::new_y(half, radius)))
            }
            "hull" => {
                let corners: Option<Vec<DVec3>> = list(of, "corners")?.iter().map(three).collect();
                hull(&corners.ok_or_else(|| Unreadable("corners of a hull".to_owned()))?)?
            }
            "prism" => return prism(of),
            other => return Err(Unreadable(format!("a solid of shape {other}"))),
        };
        Ok(Form {
            pieces: vec![piece],
        })
    }

    /// An upright box.
    pub fn upright(centre: DVec3, half: DVec3) -> Form {
        let place = Pose3::from_parts(vec(centre), Rot3::IDENTITY);
        let shape = SharedShape::new(Cuboid::new(vec(half)));
        Form {
            pieces: vec![Piece::new(place, shape)],
        }
    }

    /// The same solid moved, mm.
    pub fn moved(&self, by: DVec3) -> Form {
        let moved = |piece: &Piece| {
            let at = piece.place.translation + vec(by);
            Piece::new(
                Pose3::from_parts(at, piece.place.rotation),
                piece.shape.clone(),
            )
        };
        Form {
            pieces: self.pieces.iter().map(moved).collect(),
        }
    }

    /// From a point to the solid if that is less than `most`, mm; 0 inside it.
    pub fn distance_within(&self, point: DVec3, most: f64) -> Option<f64> {
        self.pieces
            .iter()
            .filter(|piece| piece.at_least(point) < most)
            .map(|piece| {
                piece
                    .shape
                    .distance_to_point(&piece.place, vec(point), true)
            })
            .filter(|distance| *distance < most)
            .reduce(f64::min)
    }

    /// Between two solids, mm; about how deep they overlap, negative.
    pub fn gap(&self, other: &Form) -> f64 {
        let mut least = f64::INFINITY;
        for a in &self.pieces {
            for b in &other.pieces {
                let apart = (a.low - b.high)
                    .max(b.low - a.high)
                    .max(DVec3::ZERO)
                    .length();
                if apart < least {
                    least = least.min(pair_gap(a, b));
                }
            }
        }
        least
    }

    /// Lowest and highest corner of its box, mm.
    pub fn bounds(&self) -> [DVec3; 2] {
        let low = self.pieces.iter().map(|piece| piece.low);
        let high = self.pieces.iter().map(|piece| piece.high);
        [
            low.reduce(DVec3::min).unwrap_or_default(),
            high.reduce(DVec3::max).unwrap_or_default(),
        ]
    }
}

fn pair_gap(a: &Piece, b: &Piece) -> f64 {
    let apart = query::distance(&a.place, &*a.shape, &b.place, &*b.shape)
        .map_or(0.0, |found| found.distance);
    if apart > 0.0 {
        return apart;
    }
    let contact = query::contact(&a.place, &*a.shape, &b.place, &*b.shape, 0.0);
    contact.ok().flatten().map_or(0.0, |contact| contact.dist)
}

fn axes(of: &Value) -> Result<[DVec3; 3], Unreadable> {
    let read: Option<Vec<DVec3>> = list(of, "axes")?.iter().map(three).collect();
    read.and_then(|axes| <[DVec3; 3]>::try_from(axes).ok())
        .ok_or_else(|| Unreadable("axes of a solid".to_owned()))
}

/// The turn that brings the first three axes to these.
fn turn(a: DVec3, b: DVec3, c: DVec3) -> Rot3 {
    let turn = glam::DQuat::from_mat3(&glam::DMat3::from_cols(a, b, c)).normalize();
    Rot3::from_xyzw(turn.x, turn.y, turn.z, turn.w)
}

/// The place of a round bar, which runs along the library's second axis.
fn along(of: &Value) -> Result<Pose3, Unreadable> {
    let axis = point(of, "axis")?.normalize();
    let side = axis.any_orthonormal_vector();
    Ok(Pose3::from_parts(
        vec(point(of, "centre")?),
        turn(side, axis, side.cross(axis)),
    ))
}

fn hull(corners: &[DVec3]) -> Result<Piece, Unreadable> {
    let corners: Vec<Vec3> = corners.iter().copied().map(vec).collect();
    let hull = ConvexPolyhedron::from_convex_hull(&corners)
        .ok_or_else(|| Unreadable("a hull without volume".to_owned()))?;
    Ok(Piece::new(Pose3::IDENTITY, SharedShape::new(hull)))
}

/// A pushed outline, as the prisms of its triangles.
fn prism(of: &Value) -> Result<Form, Unreadable> {
    let (centre, [a, b, c]) = (point(of, "centre")?, axes(of)?);
    let half = number(of, "half_length_mm")?;
    let corners = outline(of, "outline")?;
    let mut pieces = Vec::new();
    for triangle in triangles(&corners) {
        let mut ends = Vec::with_capacity(6);
        for corner in triangle {
            for side in [-half, half] {
                ends.push(centre + corner.x * a + corner.y * b + side * c);
            }
        }
        pieces.push(hull(&ends)?);
    }
    Ok(Form { pieces })
}

/// The triangles of an outline, by cutting off ears.
fn triangles(outline: &[DVec2]) -> Vec<[DVec2; 3]> {
    let area: f64 = (0..outline.len())
        .map(|i| outline[i].perp_dot(outline[(i + 1) % outline.len()]))
        .sum();
    let mut left: Vec<DVec2> = outline.to_vec();
    if area < 0.0 {
        left.reverse();
    }
    let mut triangles = Vec::new();
    while left.len() > 3 {
        let count = left.len();
        let ear = (0..count).find(|&i| {
            let [a, b, c] = [
                left[(i + count - 1) % count],
                left[i],
                left[(i + 1) % count],
            ];
            let convex = (b - a).perp_dot(c - b) > 0.0;
            convex
                && !left
                    .iter()
                    .any(|&p| p != a && p != b && p != c && holds([a, b, c], p))
        });
        let i = ear.unwrap_or(0);
        triangles.push([
            left[(i + count - 1) % count],
            left[i],
            left[(i + 1) % count],
        ]);
        left.remove(i);
    }
    if let Ok(last) = <[DVec2; 3]>::try_from(left) {
        triangles.push(last);
    }
    triangles.retain(|[a, b, c]| (*b - *a).perp_dot(*c - *a).abs() > 1e-12);
    triangles
}

fn holds([a, b, c]: [DVec2; 3], point: DVec2) -> bool {
    [(a, b), (b, c), (c, a)]
        .iter()
        .all(|(from, to)| (*to - *from).perp_dot(point - *from) >= 0.0)
}
