//! Unknowns numbered, stiffness gathered and factored.

use glam::DVec2;

use super::RibFault;
use super::grip::{Grip, Grips};
use super::mesh::Mesh;
use super::skyline::Skyline;

/// No unknown: held.
const HELD: usize = usize::MAX;

/// The factored stiffness of a mesh with `D` unknowns a node, of which the last
/// two are a vector in the plane.
#[derive(Clone, Debug)]
pub(super) struct System<const D: usize> {
    /// The number of each unknown, or held.
    unknown: Vec<[usize; D]>,
    /// The direction of the first part of each node's vector.
    axis: Vec<DVec2>,
    factor: Skyline,
}

impl<const D: usize> System<D> {
    /// Gathers the stiffness of all elements, as `stiffness` gives it for each,
    /// and factors it. `N` is four times `D`.
    pub fn new<const N: usize>(
        mesh: &Mesh,
        grips: &Grips,
        stiffness: impl Fn(usize) -> [[f64; N]; N],
    ) -> Result<System<D>, RibFault> {
        let (unknown, axis, count) = number::<D>(grips);
        let mut first: Vec<usize> = (0..count).collect();
        let of = |quad: &[usize; 4]| -> [usize; N] {
            std::array::from_fn(|i| unknown[quad[i / D]][i % D])
        };
        for quad in &mesh.quads {
            let unknowns = of(quad);
            let least = unknowns.iter().fold(HELD, |least, it| least.min(*it));
            for it in unknowns.into_iter().filter(|it| *it != HELD) {
                first[it] = first[it].min(least);
            }
        }
        let mut matrix = Skyline::new(&first);
        for (number, quad) in mesh.quads.iter().enumerate() {
            let mut element = stiffness(number);
            for (corner, &node) in quad.iter().enumerate() {
                turn(&mut element, D * corner + D - 2, axis[node]);
            }
            let unknowns = of(quad);
            for (r, &row) in unknowns.iter().enumerate().filter(|(_, row)| **row != HELD) {
                for (c, &column) in unknowns.iter().enumerate() {
                    if column <= row {
                        matrix.add(row, column, element[r][c]);
                    }
                }
            }
        }
        if count == 0 || !matrix.factor() {
            return Err(RibFault::Loose);
        }
        Ok(System {
            unknown,
            axis,
            factor: matrix,
        })
    }

    /// Movements solved for.
    pub fn unknowns(&self) -> usize {
        self.unknown
            .iter()
            .flatten()
            .filter(|it| **it != HELD)
            .count()
    }

    /// What the forces of a load, given per node, do against the movement they
    /// cause, N mm: for a force of 1 N the deflection under it, mm.
    pub fn work(&self, load: &[(usize, [f64; D])]) -> f64 {
        self.loaded(load).iter().fold(0.0, |sum, y| sum + y * y)
    }

    /// How the nodes move under a load.
    pub fn movement(&self, load: &[(usize, [f64; D])]) -> Vec<[f64; D]> {
        let mut side = self.loaded(load);
        self.factor.back(&mut side);
        let node = |(unknown, axis): (&[usize; D], &DVec2)| {
            let mut moved = unknown.map(|it| if it == HELD { 0.0 } else { side[it] });
            let [along, square] = [moved[D - 2], moved[D - 1]];
            let vector = *axis * along + axis.perp() * square;
            [moved[D - 2], moved[D - 1]] = vector.to_array();
            moved
        };
        self.unknown.iter().zip(&self.axis).map(node).collect()
    }

    /// A load, solved forward only: the square of that is its work.
    fn loaded(&self, load: &[(usize, [f64; D])]) -> Vec<f64> {
        let mut side = vec![0.0; self.factor.padded()];
        let mut from = side.len();
        for (node, force) in load {
            let axis = self.axis[*node];
            let vector = DVec2::new(force[D - 2], force[D - 1]);
            let mut force = *force;
            [force[D - 2], force[D - 1]] = [axis.dot(vector), axis.perp_dot(vector)];
            for (&unknown, force) in self.unknown[*node].iter().zip(force) {
                if unknown != HELD {
                    side[unknown] += force;
                    from = from.min(unknown);
                }
            }
        }
        self.factor.forward(&mut side, from);
        side
    }
}

/// Numbers the unknowns that are not held, node by node.
fn number<const D: usize>(grips: &Grips) -> (Vec<[usize; D]>, Vec<DVec2>, usize) {
    let mut count = 0;
    let mut axes = Vec::with_capacity(grips.vector.len());
    let numbered = grips
        .vector
        .iter()
        .zip(&grips.deflection)
        .map(|(grip, flat)| {
            let (axis, held) = match grip {
                Grip::Free => (DVec2::X, [false, false]),
                Grip::Along(axis) => (*axis, [true, false]),
                Grip::Fixed => (DVec2::X, [true, true]),
            };
            axes.push(axis);
            std::array::from_fn(|i| {
                let held = if i + 2 < D { *flat } else { held[i + 2 - D] };
                if held {
                    return HELD;
                }
                count += 1;
                count - 1
            })
        });
    let unknown = numbered.collect();
    (unknown, axes, count)
}

/// Refers the two unknowns from `at` on to an axis of their own.
fn turn<const N: usize>(element: &mut [[f64; N]; N], at: usize, axis: DVec2) {
    if axis == DVec2::X {
        return;
    }
    let turned = |x: f64, y: f64| (axis.x * x + axis.y * y, axis.x * y - axis.y * x);
    for row in element.iter_mut() {
        (row[at], row[at + 1]) = turned(row[at], row[at + 1]);
    }
    for column in 0..N {
        let (x, y) = (element[at][column], element[at + 1][column]);
        (element[at][column], element[at + 1][column]) = turned(x, y);
    }
}
