//! An element that bends out of its plane.

use glam::DVec2;

/// The stiffness of a thin plate's quadrilateral, its modulus times thickness
/// cubed over 12 set to 1. Unknowns are the deflection and its two slopes,
/// (w, ∂w/∂x, ∂w/∂y), at its four corners in turn.
///
/// The plate's lines stay square to it at the corners and middles of the sides
/// (a discrete Kirchhoff quadrilateral): J.-L. Batoz and M. Ben Tahar,
/// "Evaluation of a new quadrilateral thin plate bending element",
/// International Journal for Numerical Methods in Engineering 18 (1982), from
/// memory, worked out anew here. Rotations are those of an eight-node element.
#[inline(always)]
pub(super) fn plate(corners: &[DVec2; 4], poisson: f64) -> [[f64; 12]; 12] {
    let sides = sides(corners);
    let mut stiffness = [[0.0; 12]; 12];
    let gauss = (1.0f64 / 3.0).sqrt();
    for (xi, eta) in [
        (-gauss, -gauss),
        (gauss, -gauss),
        (gauss, gauss),
        (-gauss, gauss),
    ] {
        let (gradients, area) = gradients(corners, xi, eta);
        let curvature = curvature(&sides, &gradients);
        let stiff = area / (1.0 - poisson * poisson);
        for r in 0..12 {
            let k = [curvature[0][r], curvature[1][r], curvature[2][r]];
            let moment = [
                stiff * (k[0] + poisson * k[1]),
                stiff * (k[1] + poisson * k[0]),
                stiff * 0.5 * (1.0 - poisson) * k[2],
            ];
            for c in 0..12 {
                stiffness[r][c] += moment[0] * curvature[0][c]
                    + moment[1] * curvature[1][c]
                    + moment[2] * curvature[2][c];
            }
        }
    }
    stiffness
}

/// What the rotation of the lines at a side's middle owes to the unknowns of
/// one of its ends: to its deflection (with the other sign at the other end)
/// and to its two slopes.
type Side = [DVec2; 3];

#[inline(always)]
fn sides(corners: &[DVec2; 4]) -> [Side; 4] {
    std::array::from_fn(|i| {
        let run = corners[(i + 1) % 4] - corners[i];
        let length = run.length();
        let along = run / length;
        let square = along.perp();
        // Along the side the deflection is cubic; square to it the slope is linear.
        let slope = |a: f64, s: f64| along * (0.25 * a) - square * (0.5 * s);
        [
            along * (1.5 / length),
            slope(along.x, square.x),
            slope(along.y, square.y),
        ]
    })
}

/// Gradients of the eight shape functions, corners then middles of sides, and
/// the area a unit of xi and eta stands for.
#[inline(always)]
fn gradients(corners: &[DVec2; 4], xi: f64, eta: f64) -> ([DVec2; 8], f64) {
    const AT: [(f64, f64); 4] = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let (mut by_xi, mut by_eta) = (DVec2::ZERO, DVec2::ZERO);
    for (corner, (p, q)) in corners.iter().zip(AT) {
        by_xi += *corner * (0.25 * p * (1.0 + q * eta));
        by_eta += *corner * (0.25 * q * (1.0 + p * xi));
    }
    let area = by_xi.perp_dot(by_eta);
    let gradient = |d_xi: f64, d_eta: f64| {
        DVec2::new(
            d_xi * by_eta.y - d_eta * by_xi.y,
            d_eta * by_xi.x - d_xi * by_eta.x,
        ) / area
    };
    let mut all = [DVec2::ZERO; 8];
    for (i, (p, q)) in AT.into_iter().enumerate() {
        all[i] = gradient(
            0.25 * p * (1.0 + q * eta) * (2.0 * p * xi + q * eta),
            0.25 * q * (1.0 + p * xi) * (2.0 * q * eta + p * xi),
        );
    }
    for (i, q) in [(4, -1.0), (6, 1.0)] {
        all[i] = gradient(-xi * (1.0 + q * eta), 0.5 * q * (1.0 - xi * xi));
    }
    for (i, p) in [(5, 1.0), (7, -1.0)] {
        all[i] = gradient(0.5 * p * (1.0 - eta * eta), -eta * (1.0 + p * xi));
    }
    (all, area)
}

/// The curvatures (along x, along y, twist) that each unknown makes.
#[inline(always)]
fn curvature(sides: &[Side; 4], gradients: &[DVec2; 8]) -> [[f64; 12]; 3] {
    let mut all = [[0.0; 12]; 3];
    let mut add = |unknown: usize, turn: DVec2, gradient: DVec2| {
        all[0][unknown] += gradient.x * turn.x;
        all[1][unknown] += gradient.y * turn.y;
        all[2][unknown] += gradient.y * turn.x + gradient.x * turn.y;
    };
    for i in 0..4 {
        let next = (i + 1) % 4;
        add(3 * i + 1, -DVec2::X, gradients[i]);
        add(3 * i + 2, -DVec2::Y, gradients[i]);
        let [lift, slope_x, slope_y] = sides[i];
        let middle = gradients[4 + i];
        add(3 * i, lift, middle);
        add(3 * next, -lift, middle);
        for end in [i, next] {
            add(3 * end + 1, slope_x, middle);
            add(3 * end + 2, slope_y, middle);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::patch::{at_inner_nodes, work};
    use super::*;

    /// The patch test: even curvature and twist over five skewed elements.
    #[test]
    fn even_curvature_is_exact_on_skewed_elements() {
        let (poisson, [kx, ky, twist]) = (0.3, [0.8, -0.5, 0.6]);
        let moved = |p: DVec2| {
            let lift = 0.5 * (kx * p.x * p.x + ky * p.y * p.y) + twist * p.x * p.y;
            [
                lift + 0.2 * p.x - 0.1 * p.y + 0.4,
                kx * p.x + twist * p.y + 0.2,
                ky * p.y + twist * p.x - 0.1,
            ]
        };
        let element = |corners: &[DVec2; 4]| plate(corners, poisson);
        for force in at_inner_nodes(element, moved) {
            assert!(force.abs() < 1e-12, "{force}");
        }
        let energy = (kx * kx
            + ky * ky
            + 2.0 * poisson * kx * ky
            + 0.5 * (1.0 - poisson) * 4.0 * twist * twist)
            / (1.0 - poisson * poisson);
        assert!((work(element, moved) / energy - 1.0).abs() < 1e-12);
    }
}
