//! An element in its own plane.

use glam::DVec2;

/// The stiffness of a quadrilateral in plane stress, its modulus times
/// thickness 1. Unknowns are (x, y) of its four corners in turn.
///
/// Displacements are bilinear; stress is constant plus two terms, each in the
/// direction of one pair of sides and linear across the other: T. H. H. Pian
/// and K. Sumihara, "Rational approach for assumed stress finite elements",
/// International Journal for Numerical Methods in Engineering 20 (1984), from
/// memory. One layer of such rectangles bends as a beam does, and constant
/// stress is exact on any shape. All integrals are closed forms.
#[inline(always)]
pub(super) fn membrane(corners: &[DVec2; 4], poisson: f64) -> [[f64; 8]; 8] {
    const XI: [f64; 4] = [-1.0, 1.0, 1.0, -1.0];
    const ETA: [f64; 4] = [-1.0, -1.0, 1.0, 1.0];
    let sum = |weight: fn(usize) -> f64| {
        (0..4)
            .map(|i| corners[i] * weight(i))
            .fold(DVec2::ZERO, |sum, it| sum + it)
            * 0.25
    };
    // Place = middle + along xi + skew xi eta + up eta.
    let (along, skew, up) = (sum(|i| XI[i]), sum(|i| XI[i] * ETA[i]), sum(|i| ETA[i]));
    // The area per unit of xi and eta is even + tilt.x xi + tilt.y eta.
    let even = along.perp_dot(up);
    let tilt = DVec2::new(along.perp_dot(skew), skew.perp_dot(up));
    let middle = tilt / (3.0 * even);

    // Gradients of the shape functions times that area: even, per xi, per eta.
    let across = |v: DVec2| DVec2::new(v.y, -v.x);
    let gradient = |i: usize| {
        let (xi, eta) = (XI[i], ETA[i]);
        [
            across(xi * up - eta * along) * 0.25,
            across(xi * skew - xi * eta * along) * 0.25,
            across(xi * eta * up - eta * skew) * 0.25,
        ]
    };
    let bend = |v: DVec2| [v.x * v.x, v.y * v.y, v.x * v.y];
    let modes = [bend(along), bend(up)];
    let work = |a: &[f64; 3], b: &[f64; 3]| {
        a[0] * b[0] + a[1] * b[1] - poisson * (a[0] * b[1] + a[1] * b[0])
            + 2.0 * (1.0 + poisson) * a[2] * b[2]
    };
    let spread = |which: f64| 4.0 * even * (1.0 / 3.0 - which * which);
    let give = [
        work(&modes[0], &modes[0]) * spread(middle.y),
        -work(&modes[0], &modes[1]) * 4.0 * even * middle.x * middle.y,
        work(&modes[1], &modes[1]) * spread(middle.x),
    ];
    let scale = 1.0 / (give[0] * give[2] - give[1] * give[1]);

    let mut strain = [[0.0; 3]; 8];
    let mut moment = [[0.0; 2]; 8];
    for i in 0..4 {
        let [level, by_xi, by_eta] = gradient(i);
        let mean = level / even;
        strain[2 * i] = [mean.x, 0.0, mean.y];
        strain[2 * i + 1] = [0.0, mean.y, mean.x];
        let varying = [
            by_eta * (4.0 / 3.0) - level * (4.0 * middle.y),
            by_xi * (4.0 / 3.0) - level * (4.0 * middle.x),
        ];
        for (mode, (stress, g)) in modes.iter().zip(varying).enumerate() {
            moment[2 * i][mode] = stress[0] * g.x + stress[2] * g.y;
            moment[2 * i + 1][mode] = stress[1] * g.y + stress[2] * g.x;
        }
    }
    let stiff = 4.0 * even / (1.0 - poisson * poisson);
    let shear = 0.5 * (1.0 - poisson);
    let mut stiffness = [[0.0; 8]; 8];
    for r in 0..8 {
        let e = strain[r];
        let stress = [
            stiff * (e[0] + poisson * e[1]),
            stiff * (e[1] + poisson * e[0]),
            stiff * shear * e[2],
        ];
        let [m, n] = moment[r];
        let bent = [
            scale * (give[2] * m - give[1] * n),
            scale * (give[0] * n - give[1] * m),
        ];
        for c in 0..=r {
            let f = strain[c];
            let even = stress[0] * f[0] + stress[1] * f[1] + stress[2] * f[2];
            let bent = bent[0] * moment[c][0] + bent[1] * moment[c][1];
            stiffness[r][c] = even + bent;
            stiffness[c][r] = even + bent;
        }
    }
    stiffness
}

#[cfg(test)]
mod tests {
    use super::super::patch::{at_inner_nodes, work};
    use super::*;

    /// The patch test: even strain over five skewed elements asks for no force
    /// at the inner nodes, and does the work it should.
    #[test]
    fn even_strain_is_exact_on_skewed_elements() {
        let (poisson, [ex, ey, shear]) = (0.38, [0.7, -0.4, 0.9]);
        let moved = |p: DVec2| {
            [
                0.1 + ex * p.x + 0.3 * p.y,
                -0.2 + (shear - 0.3) * p.x + ey * p.y,
            ]
        };
        let element = |corners: &[DVec2; 4]| membrane(corners, poisson);
        for force in at_inner_nodes(element, moved) {
            assert!(force.abs() < 1e-14, "{force}");
        }
        let energy =
            (ex * ex + ey * ey + 2.0 * poisson * ex * ey + 0.5 * (1.0 - poisson) * shear * shear)
                / (1.0 - poisson * poisson);
        assert!((work(element, moved) / energy - 1.0).abs() < 1e-13);
    }
}
