//! How much stiffer each element is for the strips bonded over notches.

use glam::DVec2;

use super::chains::{Chains, Wall};
use super::mesh::Mesh;
use super::{Notch, Rib};

/// What each element's stiffness is multiplied by: modulus times thickness in
/// the plane, N/mm, and modulus times thickness cubed over 12 out of it, N mm.
pub(super) struct Stock {
    pub in_plane: Vec<f64>,
    pub out_of_plane: Vec<f64>,
}

impl Stock {
    /// The stock of a rib and its doublers. An element that a doubler covers in
    /// part counts that part of it.
    pub fn new(rib: &Rib, chains: &Chains, notches: &[Notch], mesh: &Mesh) -> Stock {
        let stretch = rib.modulus * rib.thickness;
        let bend = stretch * rib.thickness * rib.thickness / 12.0;
        let mut stock = Stock {
            in_plane: vec![stretch; mesh.quads.len()],
            out_of_plane: vec![bend; mesh.quads.len()],
        };
        for notch in notches {
            let Some(strip) = notch.doubler else { continue };
            let added = strip.modulus * strip.thickness;
            // Two layers that bend as one, about their common neutral plane.
            let arm = 0.5 * (rib.thickness + strip.thickness);
            let bent = added * strip.thickness * strip.thickness / 12.0
                + stretch * added / (stretch + added) * arm * arm;
            let wall = Wall::new(chains, notch);
            let low = DVec2::new(-strip.lap, wall.depth);
            let high = DVec2::new(wall.width + strip.lap, wall.depth + strip.height);
            for (number, quad) in mesh.quads.iter().enumerate() {
                let corners = quad.map(|node| wall.local(mesh.nodes[node]));
                let part = covered(&corners, low, high);
                stock.in_plane[number] += part * added;
                stock.out_of_plane[number] += part * bent;
            }
        }
        stock
    }
}

/// What part of a quadrilateral lies in a rectangle, 0 to 1.
fn covered(corners: &[DVec2; 4], low: DVec2, high: DVec2) -> f64 {
    let whole = area(corners);
    let sides = [
        (DVec2::X, high.x),
        (DVec2::NEG_X, -low.x),
        (DVec2::Y, high.y),
        (DVec2::NEG_Y, -low.y),
    ];
    let mut rest = corners.to_vec();
    for (out, limit) in sides {
        let beyond = |p: DVec2| out.dot(p) - limit;
        let mut kept = Vec::with_capacity(rest.len() + 1);
        for (number, &from) in rest.iter().enumerate() {
            let to = rest[(number + 1) % rest.len()];
            let (a, b) = (beyond(from), beyond(to));
            if a <= 0.0 {
                kept.push(from);
            }
            if (a < 0.0 && b > 0.0) || (a > 0.0 && b < 0.0) {
                kept.push(from.lerp(to, a / (a - b)));
            }
        }
        rest = kept;
    }
    (area(&rest) / whole).clamp(0.0, 1.0)
}

/// The area of a polygon, by its corners in order; its sign is the way round.
fn area(corners: &[DVec2]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    0.5 * corners
        .iter()
        .zip(next)
        .map(|(a, b)| a.perp_dot(*b))
        .sum::<f64>()
}
