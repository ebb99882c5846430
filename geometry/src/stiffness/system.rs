//! Unknowns numbered, stiffness gathered and factored.

use glam::DVec2;

use super::RibFault;
use super::grip::{Grip, Grips};
use super::mesh::Mesh;
use super::skyline::{ROWS, Skyline};

/// No unknown: held.
const HELD: usize = usize::MAX;

/// The unknowns of a mesh, `D` a node, of which the last two are a vector in
/// the plane.
#[derive(Clone, Debug)]
struct Unknowns<const D: usize> {
    /// The number of each, or held.
    number: Vec<[usize; D]>,
    /// The direction of the first part of each node's vector.
    axis: Vec<DVec2>,
    /// How many belong to nodes before each node.
    before: Vec<usize>,
    count: usize,
}

/// A load on all unknowns, filled up to whole eights.
type Side = Vec<f64>;

/// The factored stiffness of a mesh.
#[derive(Clone, Debug)]
pub(super) struct System<const D: usize> {
    unknowns: Unknowns<D>,
    factor: Skyline,
}

/// What a load does.
pub(super) struct Work {
    /// Its forces times the movement they cause, N mm.
    pub work: f64,
    /// Movements solved for.
    pub unknowns: usize,
}

/// A mesh, what holds it, and the stiffness of each element; `N` is four times `D`.
pub(super) struct Parts<'a, const D: usize, const N: usize> {
    pub mesh: &'a Mesh,
    pub grips: &'a Grips,
    pub stiffness: &'a dyn Fn(usize) -> [[f64; N]; N],
}

impl<const D: usize, const N: usize> Parts<'_, D, N> {
    /// The factored stiffness, to be used again.
    pub fn system(&self) -> Result<System<D>, RibFault> {
        let unknowns = Unknowns::new(self.grips);
        let factor = self.sweep(&unknowns, None)?;
        Ok(System { unknowns, factor })
    }

    /// What a load does, at once, without keeping the factor.
    pub fn work(&self, load: &[(usize, [f64; D])]) -> Result<Work, RibFault> {
        let unknowns = Unknowns::new(self.grips);
        let mut side = unknowns.side(load).0;
        self.sweep(&unknowns, Some(&mut side))?;
        Ok(Work {
            work: square(&side),
            unknowns: unknowns.count,
        })
    }

    /// Gathers and factors eight rows after eight. With a load it solves that
    /// forward on the way, and drops what it no longer needs.
    fn sweep(&self, unknowns: &Unknowns<D>, side: Option<&mut Side>) -> Result<Skyline, RibFault> {
        if unknowns.count == 0 {
            return Err(RibFault::Loose);
        }
        let mut side = side;
        let mut matrix = Skyline::new(&unknowns.first(self.mesh));
        let mut next = 0;
        for eight in 0..matrix.eights() {
            // Elements lie in the order of their first nodes.
            let quads = &self.mesh.quads;
            while next < quads.len() && unknowns.before(quads[next]) < (eight + 1) * ROWS {
                self.gather(unknowns, next, &mut matrix);
                next += 1;
            }
            if !matrix.factor(eight) {
                return Err(RibFault::Loose);
            }
            if let Some(side) = &mut side {
                matrix.forward(side, eight);
                matrix.drop_before(eight);
            }
        }
        Ok(matrix)
    }

    /// Adds one element.
    #[inline(always)]
    fn gather(&self, unknowns: &Unknowns<D>, number: usize, matrix: &mut Skyline) {
        let quad = &self.mesh.quads[number];
        let mut element = (self.stiffness)(number);
        for (corner, &node) in quad.iter().enumerate() {
            turn(&mut element, D * corner + D - 2, unknowns.axis[node]);
        }
        let numbers: [usize; N] = unknowns.of(quad);
        for (r, &row) in numbers.iter().enumerate().filter(|(_, row)| **row != HELD) {
            for (c, &column) in numbers.iter().enumerate() {
                if column <= row {
                    matrix.add(row, column, element[r][c]);
                }
            }
        }
    }
}

impl<const D: usize> System<D> {
    /// What the forces of a load, given per node, do against the movement they
    /// cause, N mm: for a force of 1 N the deflection under it, mm.
    pub fn work(&self, load: &[(usize, [f64; D])]) -> f64 {
        square(&self.loaded(load))
    }

    /// How the nodes move under a load.
    pub fn movement(&self, load: &[(usize, [f64; D])]) -> Vec<[f64; D]> {
        let mut side = self.loaded(load);
        for eight in (0..self.factor.eights()).rev() {
            self.factor.back(&mut side, eight);
        }
        let node = |(number, axis): (&[usize; D], &DVec2)| {
            let mut moved = number.map(|it| if it == HELD { 0.0 } else { side[it] });
            let [along, square] = [moved[D - 2], moved[D - 1]];
            let vector = *axis * along + axis.perp() * square;
            [moved[D - 2], moved[D - 1]] = vector.to_array();
            moved
        };
        self.unknowns
            .number
            .iter()
            .zip(&self.unknowns.axis)
            .map(node)
            .collect()
    }

    /// A load, solved forward.
    fn loaded(&self, load: &[(usize, [f64; D])]) -> Side {
        let (mut side, from) = self.unknowns.side(load);
        for eight in from / ROWS..self.factor.eights() {
            self.factor.forward(&mut side, eight);
        }
        side
    }
}

/// The work of a load that is solved forward.
fn square(side: &Side) -> f64 {
    side.iter().fold(0.0, |sum, y| sum + y * y)
}

impl<const D: usize> Unknowns<D> {
    /// Numbers the unknowns that are not held, node by node.
    fn new(grips: &Grips) -> Unknowns<D> {
        let nodes = grips.vector.len();
        let mut all = Unknowns {
            number: Vec::with_capacity(nodes),
            axis: Vec::with_capacity(nodes),
            before: Vec::with_capacity(nodes),
            count: 0,
        };
        for (grip, flat) in grips.vector.iter().zip(&grips.deflection) {
            all.before.push(all.count);
            let (axis, vector) = match grip {
                Grip::Free => (DVec2::X, [false, false]),
                Grip::Along(axis) => (*axis, [true, false]),
                Grip::Fixed => (DVec2::X, [true, true]),
            };
            let number = std::array::from_fn(|i| {
                let held = if i + 2 < D { *flat } else { vector[i + 2 - D] };
                all.count += usize::from(!held);
                if held { HELD } else { all.count - 1 }
            });
            all.axis.push(axis);
            all.number.push(number);
        }
        all
    }

    /// The numbers of an element's unknowns.
    #[inline(always)]
    fn of<const N: usize>(&self, quad: &[usize; 4]) -> [usize; N] {
        std::array::from_fn(|i| self.number[quad[i / D]][i % D])
    }

    /// How many unknowns belong to nodes before an element's first.
    fn before(&self, quad: [usize; 4]) -> usize {
        let first = quad.into_iter().fold(HELD, usize::min);
        self.before.get(first).copied().unwrap_or(0)
    }

    /// The least number of an element's unknowns.
    fn start(&self, quad: [usize; 4]) -> usize {
        let least =
            |least: usize, node: usize| self.number[node].iter().fold(least, |a, b| a.min(*b));
        quad.into_iter().fold(HELD, least)
    }

    /// For each unknown the first that it meets in an element.
    fn first(&self, mesh: &Mesh) -> Vec<usize> {
        let mut first: Vec<usize> = (0..self.count).collect();
        for quad in &mesh.quads {
            let start = self.start(*quad);
            for number in quad.iter().flat_map(|node| self.number[*node]) {
                if number != HELD {
                    first[number] = first[number].min(start);
                }
            }
        }
        first
    }

    /// A load given per node, and the first unknown it acts on.
    fn side(&self, load: &[(usize, [f64; D])]) -> (Side, usize) {
        let mut side = vec![0.0; self.count.next_multiple_of(ROWS)];
        let mut from = side.len();
        for (node, force) in load {
            let axis = self.axis[*node];
            let vector = DVec2::new(force[D - 2], force[D - 1]);
            let mut force = *force;
            [force[D - 2], force[D - 1]] = [axis.dot(vector), axis.perp_dot(vector)];
            for (&number, force) in self.number[*node].iter().zip(force) {
                if number != HELD {
                    side[number] += force;
                    from = from.min(number);
                }
            }
        }
        (side, from)
    }
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
    let (before, after) = element.split_at_mut(at + 1);
    for (x, y) in before[at].iter_mut().zip(&mut after[0]) {
        (*x, *y) = turned(*x, *y);
    }
}
