//! The skin of a solid as flat facets.

use std::f64::consts::{FRAC_PI_2, TAU};

use glam::{DVec2, DVec3};

use crate::solids::{Shape, Solid};

/// Most that a facet strays from the round surface it stands for, mm.
pub const FACET_CHORD: f64 = 0.1;

/// One flat, convex piece of a solid's skin.
#[derive(Clone, Debug, PartialEq)]
pub struct Facet {
    /// Its corners, counter-clockwise seen from outside, mm.
    pub corners: Vec<DVec3>,
    /// Unit vector out of the solid.
    pub normal: DVec3,
}

/// The skin of a solid as flat, convex facets. Round surfaces become facets
/// with their corners on the true surface, off it by at most [`FACET_CHORD`].
pub fn facets(solid: &Solid) -> Vec<Facet> {
    let mut facets = match solid.shape() {
        Shape::Block { half } => {
            let corners = [(1., 1.), (-1., 1.), (-1., -1.), (1., -1.)];
            let corners = corners.map(|c| half.truncate() * DVec2::from(c));
            prism(&corners, &[corners.to_vec()], half.z)
        }
        Shape::Prism {
            outline,
            half_length,
        } => prism(outline.corners(), outline.pieces(), *half_length),
        Shape::Cylinder {
            radius,
            half_length,
        } => {
            let ring = ring(*radius, FACET_CHORD);
            prism(&ring, std::slice::from_ref(&ring), *half_length)
        }
        Shape::Capsule {
            radius,
            half_length,
        } => capsule(*radius, *half_length),
        Shape::Hull(hull) => (hull.faces().iter())
            .map(|face| Facet {
                corners: face.corners.iter().map(|&i| hull.corners()[i]).collect(),
                normal: face.normal,
            })
            .collect(),
    };
    for facet in &mut facets {
        facet.normal = solid.pose().direction(facet.normal);
        for corner in &mut facet.corners {
            *corner = solid.pose().point(*corner);
        }
    }
    facets
}

/// Two ends, each in convex pieces, and a side for every side of the outline.
fn prism(outline: &[DVec2], pieces: &[Vec<DVec2>], half_length: f64) -> Vec<Facet> {
    let mut facets = Vec::new();
    for piece in pieces {
        let upper = piece.iter().map(|c| c.extend(half_length));
        let lower = piece.iter().rev().map(|c| c.extend(-half_length));
        facets.extend(facet(upper.collect()));
        facets.extend(facet(lower.collect()));
    }
    let next = outline.iter().cycle().skip(1);
    for (from, to) in outline.iter().zip(next) {
        facets.extend(facet(vec![
            from.extend(-half_length),
            to.extend(-half_length),
            to.extend(half_length),
            from.extend(half_length),
        ]));
    }
    facets
}

/// Rings from one pole to the other, the middle two joined by the straight side.
fn capsule(radius: f64, half_length: f64) -> Vec<Facet> {
    // Half the chord's error round the axis, half along it.
    let ring = ring(radius, 0.5 * FACET_CHORD);
    let steps = (ring.len() / 4).max(2);
    let rise = |step: usize| FRAC_PI_2 * step as f64 / steps as f64;
    let upper = (0..=steps).map(|step| (rise(step).cos(), half_length + radius * rise(step).sin()));
    let mut heights: Vec<(f64, f64)> = upper.collect();
    heights.extend(heights.clone().into_iter().map(|(share, z)| (share, -z)));
    heights.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut facets = Vec::new();
    for pair in heights.windows(2) {
        let ((low, below), (high, above)) = (pair[0], pair[1]);
        let next = ring.iter().cycle().skip(1);
        for (from, to) in ring.iter().zip(next) {
            facets.extend(facet(vec![
                (*from * low).extend(below),
                (*to * low).extend(below),
                (*to * high).extend(above),
                (*from * high).extend(above),
            ]));
        }
    }
    facets
}

/// Corners on a circle whose sides stray from it by at most `chord`, a multiple of four.
fn ring(radius: f64, chord: f64) -> Vec<DVec2> {
    let step = 2.0 * (1.0 - chord / radius.max(chord)).acos();
    let quarter = (FRAC_PI_2 / step.max(1e-3)).ceil().max(3.0) as usize;
    let count = 4 * quarter;
    (0..count)
        .map(|i| DVec2::from_angle(TAU * i as f64 / count as f64) * radius)
        .collect()
}

/// A facet from corners that run counter-clockwise; `None` when it has no area.
pub(super) fn facet(corners: Vec<DVec3>) -> Option<Facet> {
    let first = corners[0];
    let area: DVec3 = (corners[1..].windows(2))
        .map(|pair| (pair[0] - first).cross(pair[1] - first))
        .sum();
    let normal = area.try_normalize()?;
    Some(Facet { corners, normal })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Plane;
    use crate::solids::Outline;
    use approx::assert_abs_diff_eq;

    /// Volume and closedness by the divergence theorem.
    fn volume(facets: &[Facet]) -> f64 {
        let mut skin = DVec3::ZERO;
        let mut volume = 0.0;
        for facet in facets {
            let first = facet.corners[0];
            for pair in facet.corners[1..].windows(2) {
                let area = 0.5 * (pair[0] - first).cross(pair[1] - first);
                assert!(area.dot(facet.normal) >= -1e-9);
                skin += area;
                volume += first.dot(area) / 3.0;
            }
        }
        assert_abs_diff_eq!(skin, DVec3::ZERO, epsilon = 1e-9);
        volume
    }

    #[test]
    fn facets_close_and_hold_the_volume() {
        let corners = [
            (0., 0.),
            (30., 0.),
            (30., 10.),
            (10., 10.),
            (10., 20.),
            (0., 20.),
        ];
        let outline = Outline::new(corners.map(DVec2::from).to_vec()).unwrap();
        let (from, to) = (DVec3::new(3., 4., 5.), DVec3::new(13., -4., 25.));
        for (solid, fair) in [
            (Solid::block(from, to), 1e-12),
            (Solid::prism(&outline, Plane::AcrossUp, [4.0, 9.0]), 1e-12),
            (Solid::hull(vec![from, to, DVec3::X, DVec3::Y]), 1e-12),
            (Solid::cylinder(from, to, 30.0), 2.0 * FACET_CHORD / 15.0),
            (Solid::capsule(from, to, 30.0), 3.0 * FACET_CHORD / 15.0),
            (Solid::capsule(from, from, 30.0), 3.0 * FACET_CHORD / 15.0),
        ] {
            let (found, wanted) = (volume(&facets(&solid)), solid.volume());
            assert!(found <= wanted * (1.0 + 1e-12));
            assert_abs_diff_eq!(found, wanted, epsilon = fair * wanted);
        }
    }
}
