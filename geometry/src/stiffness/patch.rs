//! Five skewed elements that make up a square of side 1, for patch tests: the
//! arrangement of R. H. MacNeal and R. L. Harder, "A proposed standard set of
//! problems to test finite element accuracy", Finite Elements in Analysis and
//! Design 1 (1985), with places of our own.

use glam::DVec2;

const NODES: [[f64; 2]; 8] = [
    [0.0, 0.0],
    [1.0, 0.0],
    [1.0, 1.0],
    [0.0, 1.0],
    [0.22, 0.17],
    [0.74, 0.31],
    [0.66, 0.78],
    [0.34, 0.64],
];
const QUADS: [[usize; 4]; 5] = [
    [0, 1, 5, 4],
    [1, 2, 6, 5],
    [2, 3, 7, 6],
    [3, 0, 4, 7],
    [4, 5, 6, 7],
];

/// The forces at the nodes that a given movement asks for.
fn forces<const D: usize, const N: usize>(
    element: impl Fn(&[DVec2; 4]) -> [[f64; N]; N],
    moved: impl Fn(DVec2) -> [f64; D],
) -> [[f64; D]; 8] {
    let mut forces = [[0.0; D]; 8];
    for quad in QUADS {
        let stiffness = element(&quad.map(|node| DVec2::from(NODES[node])));
        for (row, entries) in stiffness.iter().enumerate() {
            for (column, entry) in entries.iter().enumerate() {
                let movement = moved(DVec2::from(NODES[quad[column / D]]))[column % D];
                forces[quad[row / D]][row % D] += entry * movement;
            }
        }
    }
    forces
}

/// The forces that a movement asks for at the four inner nodes.
pub(super) fn at_inner_nodes<const D: usize, const N: usize>(
    element: impl Fn(&[DVec2; 4]) -> [[f64; N]; N],
    moved: impl Fn(DVec2) -> [f64; D],
) -> Vec<f64> {
    forces(element, moved)[4..]
        .iter()
        .flatten()
        .copied()
        .collect()
}

/// The work of all forces in the movement that asks for them.
pub(super) fn work<const D: usize, const N: usize>(
    element: impl Fn(&[DVec2; 4]) -> [[f64; N]; N],
    moved: impl Fn(DVec2) -> [f64; D],
) -> f64 {
    let forces = forces(element, &moved);
    let parts = NODES.iter().zip(&forces).flat_map(|(node, force)| {
        let moved = moved(DVec2::from(*node));
        (0..D).map(move |i| moved[i] * force[i])
    });
    parts.sum()
}
