//! How far a point is from a convex solid, in closed form where there is one.

use glam::{DMat3, DVec2, DVec3};

use crate::distance::{Convex, Core, facing};

/// Signed distance from a point to a convex solid, mm; negative inside.
#[inline]
pub(super) fn point_to(convex: &Convex, point: DVec3) -> f64 {
    let shifted = point - convex.at;
    let own = if convex.axes == DMat3::IDENTITY {
        shifted
    } else {
        convex.axes.transpose() * shifted
    };
    let distance = match convex.core {
        Core::Segment { half_length } => {
            let past = (own.z.abs() - half_length).max(0.0);
            (own.x * own.x + own.y * own.y + past * past).sqrt()
        }
        Core::Block { half } => {
            let past = own.abs() - half;
            past.max(DVec3::ZERO).length() + past.max_element().min(0.0)
        }
        Core::Cylinder {
            radius,
            half_length,
        } => rim(own.truncate().length() - radius, own.z.abs() - half_length),
        Core::Prism {
            corners,
            half_length,
        } => rim(outline(corners, own.truncate()), own.z.abs() - half_length),
        Core::Hull(_) => facing(&ball(point), convex).distance + convex.round,
    };
    distance - convex.round
}

/// A convex solid that many points are measured to: a hull by its faces, worked
/// out once.
pub(super) enum Near<'a> {
    /// Any other solid, and hulls without a body.
    Plain(Convex<'a>),
    /// A hull with a body.
    Faces {
        /// Its faces.
        faces: Vec<FlatFace>,
        /// How much it is rounded, mm.
        round: f64,
    },
}

/// A flat face in place.
pub(super) struct FlatFace {
    /// Unit vector out of the solid.
    normal: DVec3,
    /// Where its plane lies along that, mm.
    at: f64,
    /// Its corners, counter-clockwise seen from outside, mm.
    corners: Vec<DVec3>,
}

impl<'a> Near<'a> {
    pub fn new(convex: Convex<'a>) -> Near<'a> {
        match convex.core {
            Core::Hull(hull) if hull.faces().len() > 2 => {
                let place = |corner: usize| convex.at + convex.axes * hull.corners()[corner];
                let faces = hull.faces().iter().map(|face| {
                    let normal = convex.axes * face.normal;
                    let corners: Vec<DVec3> = face.corners.iter().map(|&it| place(it)).collect();
                    FlatFace {
                        normal,
                        at: normal.dot(corners[0]),
                        corners,
                    }
                });
                Near::Faces {
                    faces: faces.collect(),
                    round: convex.round,
                }
            }
            _ => Near::Plain(convex),
        }
    }

    /// Signed distance from a point, mm, negative inside; where it is more than
    /// `most`, any figure between that and the distance.
    #[inline]
    pub fn distance(&self, point: DVec3, most: f64) -> f64 {
        match self {
            Near::Plain(convex) => point_to(convex, point),
            Near::Faces { faces, round } => polyhedron(faces, point, most + round) - round,
        }
    }
}

/// Signed distance from a convex body by its faces. From outside the nearest
/// point lies on a face that looks to the point.
fn polyhedron(faces: &[FlatFace], point: DVec3, most: f64) -> f64 {
    let beyond = |face: &FlatFace| face.normal.dot(point) - face.at;
    let furthest = faces.iter().map(beyond).fold(f64::NEG_INFINITY, f64::max);
    if furthest <= 0.0 || furthest > most {
        return furthest;
    }
    let mut least = f64::INFINITY;
    for face in faces {
        let off = beyond(face);
        if off > 0.0 && off * off < least {
            least = least.min(to_face(face, point, off));
        }
    }
    least.sqrt()
}

/// Square of the distance from a point beyond a face to that face.
fn to_face(face: &FlatFace, point: DVec3, off: f64) -> f64 {
    let mut least = f64::INFINITY;
    let mut from = face.corners[face.corners.len() - 1];
    for &to in &face.corners {
        let side = to - from;
        let away = point - from;
        if side.cross(away).dot(face.normal) < 0.0 {
            let square = side.length_squared().max(f64::MIN_POSITIVE);
            let place = (away.dot(side) / square).clamp(0.0, 1.0);
            least = least.min((away - side * place).length_squared());
        }
        from = to;
    }
    if least == f64::INFINITY {
        off * off
    } else {
        least
    }
}

/// A point as a solid.
fn ball(point: DVec3) -> Convex<'static> {
    Convex {
        core: Core::Segment { half_length: 0.0 },
        axes: DMat3::IDENTITY,
        at: point,
        round: 0.0,
    }
}

/// The distance from two figures that are square to each other: beside an
/// outline and beyond an end.
#[inline]
fn rim(beside: f64, beyond: f64) -> f64 {
    beside.max(0.0).hypot(beyond.max(0.0)) + beside.max(beyond).min(0.0)
}

/// Signed distance from a convex outline, counter-clockwise.
fn outline(corners: &[DVec2], point: DVec2) -> f64 {
    let mut inside = f64::NEG_INFINITY;
    let mut outside = f64::INFINITY;
    let mut from = corners[corners.len() - 1];
    for &to in corners {
        let side = to - from;
        let away = point - from;
        let length = side.length();
        if length > 0.0 {
            inside = inside.max(away.perp_dot(side) / length);
            let place = (away.dot(side) / (length * length)).clamp(0.0, 1.0);
            outside = outside.min((away - side * place).length_squared());
        }
        from = to;
    }
    if inside > 0.0 { outside.sqrt() } else { inside }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Outline, Plane, Solid};
    use glam::DQuat;

    #[test]
    fn a_point_is_as_far_as_the_distance_engine_says() {
        let corners = [(0., 0.), (30., 0.), (30., 10.), (12., 18.), (0., 20.)];
        let drawn = Outline::new(corners.map(DVec2::from).to_vec()).unwrap();
        let turn = DQuat::from_axis_angle(DVec3::new(1., 2., 3.).normalize(), 0.8);
        let solids = [
            Solid::block(DVec3::ZERO, DVec3::new(9., 4., 20.)),
            Solid::cylinder(DVec3::ZERO, DVec3::new(9., 4., 20.), 12.0),
            Solid::capsule(DVec3::ZERO, DVec3::new(9., 4., 20.), 12.0),
            Solid::prism(&drawn, Plane::DepthUp, [3.0, 12.0]),
            Solid::hull(vec![
                DVec3::ZERO,
                DVec3::X * 9.,
                DVec3::Y * 7.,
                DVec3::Z * 5.,
            ]),
        ];
        for solid in solids {
            for solid in [solid.turned_about_centre(turn), solid] {
                let convex = Convex::piece(&solid, 0);
                for number in 0..500 {
                    let place = f64::from(number);
                    let wander = DVec3::new(
                        (place * 1.1).sin(),
                        (place * 0.7).cos(),
                        (place * 0.3).sin(),
                    );
                    let point = solid.centre() + 18.0 * wander;
                    let known = facing(&ball(point), &convex).distance;
                    let near = Near::new(convex);
                    for found in [point_to(&convex, point), near.distance(point, 1e9)] {
                        assert!(
                            (known - found).abs() < 1e-6,
                            "{solid:?} {point}: {found} for {known}"
                        );
                    }
                    let enough = near.distance(point, 3.0);
                    assert!(enough <= known + 1e-6 && enough >= known.min(3.0) - 1e-6);
                }
            }
        }
    }
}
