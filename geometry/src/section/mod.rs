//! Solids as flat figures: cut faces, shadows, facets.
//!
//! A cut or a shadow is given in the two axes of its [`Plane`], mm, and runs
//! counter-clockwise in them. Straight sides are exact. Round ones become
//! polygons with their corners on the true curve, and no side strays from it
//! by more than [`CHORD`].

use glam::{DMat3, DVec2, DVec3};

use crate::job::Plane;
use crate::solids::{Shape, Solid};

mod clip;
mod facets;
mod round;
mod trace;
mod tube;

pub use facets::{FACET_CHORD, Facet, facets};
pub use tube::{centreline, tube};

/// Most that the side of a polygon strays from the curve it stands for, mm.
pub const CHORD: f64 = 0.01;

/// Planes closer to parallel than this (sine of the angle) are parallel.
const PARALLEL: f64 = 1e-9;

/// The cut faces of a solid, each a closed loop; empty when the plane misses
/// it or only touches it.
///
/// * `plane`: the plane of the drawing
/// * `at`: where it cuts along its third axis, mm: a depth for `AcrossUp`, an
///   up for `AcrossDepth`, an across for `DepthUp`
pub fn slice(solid: &Solid, plane: Plane, at: f64) -> Vec<Vec<DVec2>> {
    let axes = Axes::of(plane);
    // The cutting plane in the solid's own coordinates: every point whose
    // product with `normal` is `height`.
    let pose = solid.pose();
    let normal = pose.direction_back(axes.third);
    let height = at - pose.shift.dot(axes.third);
    let loops = match solid.shape() {
        Shape::Block { half } => {
            let corners = [(1., 1.), (-1., 1.), (-1., -1.), (1., -1.)];
            let corners = corners.map(|c| half.truncate() * DVec2::from(c));
            clip::cut_prism(&corners, half.z, normal, height)
        }
        Shape::Prism {
            outline,
            half_length,
        } => clip::cut_prism(outline.corners(), *half_length, normal, height),
        Shape::Hull(hull) => vec![clip::cut_hull(hull, normal, height)],
        Shape::Cylinder {
            radius,
            half_length,
        } => vec![round::cut_cylinder(*radius, *half_length, normal, height)],
        Shape::Capsule {
            radius,
            half_length,
        } => vec![round::cut_capsule(*radius, *half_length, normal, height)],
    };
    let placed = loops.into_iter().map(|cut| {
        let flat = cut.into_iter().map(|point| axes.flat(pose.point(point)));
        counter_clockwise(flat.collect())
    });
    placed.filter(|cut| cut.len() >= 3).collect()
}

/// The outline of a solid's shadow, seen along the third axis of a plane.
///
/// A prism seen along its own axis shows its outline; everything else shows
/// the convex hull of what it covers. A solid seen edge on, without any
/// thickness, gives its two ends.
pub fn silhouette(solid: &Solid, plane: Plane) -> Vec<DVec2> {
    let axes = Axes::of(plane);
    if let Shape::Prism { outline, .. } = solid.shape() {
        let own = DMat3::from_quat(solid.pose().turn).z_axis;
        if own.cross(axes.third).length() <= PARALLEL {
            let place = |c: &DVec2| axes.flat(solid.pose().point(c.extend(0.0)));
            return counter_clockwise(outline.corners().iter().map(place).collect());
        }
    }
    trace::trace(CHORD, |way| {
        axes.flat(solid.support(axes.first * way.x + axes.second * way.y))
    })
}

/// The axes of a plane, and the one square to it.
struct Axes {
    first: DVec3,
    second: DVec3,
    third: DVec3,
}

impl Axes {
    fn of(plane: Plane) -> Axes {
        let [first, second, third] = match plane {
            Plane::AcrossUp => [DVec3::X, DVec3::Z, DVec3::Y],
            Plane::AcrossDepth => [DVec3::X, DVec3::Y, DVec3::Z],
            Plane::DepthUp => [DVec3::Y, DVec3::Z, DVec3::X],
        };
        Axes {
            first,
            second,
            third,
        }
    }

    fn flat(&self, point: DVec3) -> DVec2 {
        DVec2::new(point.dot(self.first), point.dot(self.second))
    }
}

/// The same loop, counter-clockwise.
fn counter_clockwise(mut corners: Vec<DVec2>) -> Vec<DVec2> {
    let count = corners.len();
    let twice_area: f64 = (0..count)
        .map(|i| corners[i].perp_dot(corners[(i + 1) % count]))
        .sum();
    if twice_area < 0.0 {
        corners.reverse();
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Pose;
    use crate::frame::turn_from_degrees;
    use crate::solids::Outline;
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    const PLANES: [Plane; 3] = [Plane::AcrossUp, Plane::AcrossDepth, Plane::DepthUp];

    fn area(corners: &[DVec2]) -> f64 {
        let next = corners.iter().cycle().skip(1);
        let twice: f64 = corners.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum();
        0.5 * twice
    }

    fn u_outline() -> Outline {
        let corners = [
            (0., 0.),
            (30., 0.),
            (30., 20.),
            (25., 20.),
            (25., 5.),
            (5., 5.),
            (5., 20.),
            (0., 20.),
        ];
        Outline::new(corners.map(DVec2::from).to_vec()).unwrap()
    }

    #[test]
    fn a_block_is_cut_where_the_plane_passes_and_not_where_it_touches() {
        let block = Solid::block(DVec3::new(1., 2., 3.), DVec3::new(4., 6., 8.));
        let cut = slice(&block, Plane::AcrossUp, 5.0);
        assert_eq!(cut.len(), 1);
        assert_abs_diff_eq!(area(&cut[0]), 15.0, epsilon = 1e-12);
        assert!(slice(&block, Plane::AcrossUp, 6.0).is_empty());
        assert!(slice(&block, Plane::AcrossUp, 1.9).is_empty());
        assert_abs_diff_eq!(
            area(&slice(&block, Plane::AcrossDepth, 4.0)[0]),
            12.0,
            epsilon = 1e-12
        );
        assert_abs_diff_eq!(
            area(&slice(&block, Plane::DepthUp, 4.0 - 1e-6)[0]),
            20.0,
            epsilon = 1e-12
        );
    }

    #[test]
    fn a_channel_cut_across_its_legs_shows_both() {
        // Drawn looking in, pushed along depth.
        let channel = Solid::prism(&u_outline(), Plane::AcrossUp, [100., 140.]);
        let whole = slice(&channel, Plane::AcrossUp, 120.0);
        assert_eq!(whole.len(), 1);
        assert_eq!(whole[0].len(), 8);
        assert_abs_diff_eq!(area(&whole[0]), 300.0, epsilon = 1e-9);
        let legs = slice(&channel, Plane::AcrossDepth, 10.0);
        assert_eq!(legs.len(), 2);
        for leg in &legs {
            assert_abs_diff_eq!(area(leg), 200.0, epsilon = 1e-9);
        }
        let base = slice(&channel, Plane::AcrossDepth, 2.0);
        assert_eq!(base.len(), 1);
        assert_abs_diff_eq!(area(&base[0]), 1200.0, epsilon = 1e-9);
    }

    #[test]
    fn a_bar_shows_a_circle_a_rectangle_or_an_ellipse() {
        let bar = Solid::cylinder(DVec3::ZERO, DVec3::Y * 200.0, 20.0);
        let circle = &slice(&bar, Plane::AcrossUp, 50.0)[0];
        assert!(circle.iter().all(|p| (p.length() - 10.0).abs() < 1e-9));
        assert_abs_diff_eq!(area(circle), PI * 100.0, epsilon = PI * 20.0 * CHORD);
        // Cut 6 mm off its axis the chord is 16 mm.
        assert_abs_diff_eq!(
            area(&slice(&bar, Plane::AcrossDepth, 6.0)[0]),
            3200.0,
            epsilon = 1e-9
        );
        let leaning = bar.turned_about_centre(turn_from_degrees(DVec3::new(60., 0., 0.)));
        let ellipse = &slice(&leaning, Plane::AcrossUp, 100.0)[0];
        // The axis leans 60 degrees, so the cut is twice as long as wide.
        assert_abs_diff_eq!(area(ellipse), 2.0 * PI * 100.0, epsilon = 0.7);
        let cable = Solid::capsule(DVec3::ZERO, DVec3::Y * 200.0, 20.0);
        assert_abs_diff_eq!(
            area(&slice(&cable, Plane::AcrossDepth, 0.0)[0]),
            4000.0 + PI * 100.0,
            epsilon = PI * 20.0 * CHORD
        );
    }

    #[test]
    fn shadows() {
        let channel = Solid::prism(&u_outline(), Plane::AcrossUp, [100., 140.]);
        assert_abs_diff_eq!(
            area(&silhouette(&channel, Plane::AcrossUp)),
            300.0,
            epsilon = 1e-9
        );
        assert_abs_diff_eq!(
            area(&silhouette(&channel, Plane::AcrossDepth)),
            1200.0,
            epsilon = 1e-9
        );
        assert_eq!(silhouette(&channel, Plane::AcrossDepth).len(), 4);
        let ball = Solid::capsule(DVec3::ONE, DVec3::ONE, 30.0);
        assert_abs_diff_eq!(
            area(&silhouette(&ball, Plane::DepthUp)),
            PI * 225.0,
            epsilon = PI * 30.0 * CHORD
        );
        let plate = Solid::hull(vec![DVec3::ZERO, DVec3::X, DVec3::Y]);
        assert_eq!(silhouette(&plate, Plane::AcrossUp).len(), 2);
    }

    fn any_solid() -> impl Strategy<Value = Solid> {
        let turns = [-180.0..180.0f64, -180.0..180.0, -180.0..180.0];
        let sizes = [1.0..40.0f64, 1.0..40.0, 1.0..40.0];
        (0..5usize, sizes, turns).prop_map(|(kind, [a, b, c], turns)| {
            let (from, to) = (DVec3::new(-a, -b, -c), DVec3::new(c, b, a));
            let solid = match kind {
                0 => Solid::block(from, to),
                1 => Solid::cylinder(from, to, b),
                2 => Solid::capsule(from, to, c),
                3 => Solid::prism(&u_outline(), Plane::DepthUp, [a, -b]),
                _ => Solid::hull(vec![from, to, DVec3::X * a, DVec3::Y * b, DVec3::ZERO]),
            };
            solid.posed(&Pose {
                turn: turn_from_degrees(DVec3::from(turns)),
                shift: DVec3::new(b, c, a),
            })
        })
    }

    proptest! {
        #[test]
        fn slices_add_up_to_the_volume(solid in any_solid(), which in 0..3usize) {
            let axes = Axes::of(PLANES[which]);
            let bounds = solid.bounds();
            let (low, high) = (bounds.min.dot(axes.third), bounds.max.dot(axes.third));
            let count = 500;
            let step = (high - low) / count as f64;
            let sum: f64 = (0..count)
                .flat_map(|i| slice(&solid, PLANES[which], low + step * (i as f64 + 0.5)))
                .map(|cut| area(&cut) * step)
                .sum();
            let size = bounds.size();
            let fair = 5e-3 * size.x * size.y * size.z + CHORD * 2.0 * size.length() * (high - low);
            prop_assert!((sum - solid.volume()).abs() <= fair, "{} {}", sum, solid.volume());
        }

        #[test]
        fn a_shadow_holds_every_slice_and_reaches_the_bounds(solid in any_solid(), which in 0..3usize) {
            let axes = Axes::of(PLANES[which]);
            let shadow = silhouette(&solid, PLANES[which]);
            let bounds = solid.bounds();
            for way in [DVec2::X, DVec2::Y, -DVec2::X, -DVec2::Y] {
                let reach = shadow.iter().map(|p| p.dot(way)).fold(f64::MIN, f64::max);
                let corner = if way.element_sum() > 0.0 { bounds.max } else { bounds.min };
                prop_assert!((reach - axes.flat(corner).dot(way)).abs() <= CHORD + 1e-9);
            }
            let middle = solid.centre().dot(axes.third);
            for point in slice(&solid, PLANES[which], middle).concat() {
                for i in 0..shadow.len() {
                    let (from, to) = (shadow[i], shadow[(i + 1) % shadow.len()]);
                    let outside = -(to - from).normalize_or_zero().perp_dot(point - from);
                    let concave = matches!(solid.shape(), Shape::Prism { .. });
                    prop_assert!(concave || outside <= CHORD + 1e-9, "{outside}");
                }
            }
        }
    }
}
