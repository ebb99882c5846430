//! How far a point is from a convex solid, in closed form where there is one.

use glam::{DMat3, DVec2, DVec3};

use crate::distance::{Convex, Core, facing};
use crate::solids::Hull;

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
        Core::Hull(hull) => {
            let plane = beyond(hull, own);
            // Inside it, and before the middle of a face, the face is nearest.
            let foot = own - plane.distance * plane.normal;
            let before = || hull_faces(hull).all(|it| it.of(foot) <= FLAT);
            if plane.distance <= 0.0 || before() {
                plane.distance
            } else {
                facing(&ball(point), convex).distance + convex.round
            }
        }
    };
    distance - convex.round
}

/// A figure that the signed distance is certainly not below, mm; sooner had.
#[inline]
pub(super) fn point_at_least(convex: &Convex, point: DVec3) -> f64 {
    match convex.core {
        Core::Hull(hull) => {
            let own = convex.axes.transpose() * (point - convex.at);
            beyond(hull, own).distance - convex.round
        }
        _ => f64::NEG_INFINITY,
    }
}

/// A face of a hull as a plane.
#[derive(Clone, Copy)]
struct Plane {
    normal: DVec3,
    on: DVec3,
    /// How far some point is before it, mm.
    distance: f64,
}

impl Plane {
    fn of(&self, point: DVec3) -> f64 {
        (point - self.on).dot(self.normal)
    }
}

/// A point this little beyond the plane of a face is not beyond it, mm.
const FLAT: f64 = 1e-9;

fn hull_faces(hull: &Hull) -> impl Iterator<Item = Plane> {
    hull.faces().iter().map(|face| Plane {
        normal: face.normal,
        on: hull.points()[face.corners[0]],
        distance: 0.0,
    })
}

/// The plane of a face that a point is furthest before.
fn beyond(hull: &Hull, point: DVec3) -> Plane {
    let mut furthest = Plane {
        normal: DVec3::Z,
        on: DVec3::ZERO,
        distance: f64::NEG_INFINITY,
    };
    for plane in hull_faces(hull) {
        let distance = plane.of(point);
        if distance > furthest.distance {
            furthest = Plane { distance, ..plane };
        }
    }
    furthest
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
                    let found = point_to(&convex, point);
                    assert!(
                        (known - found).abs() < 1e-6
                            && point_at_least(&convex, point) <= found + 1e-9,
                        "{solid:?} {point}: {found} for {known}"
                    );
                }
            }
        }
    }
}
