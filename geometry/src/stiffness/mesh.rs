//! Quadrilaterals fitted to a rib as cut.
//!
//! The rib is a grid of lines along it and across it. About each notch the grid
//! leaves a four-sided hole, filled with layers that follow the notch's wall,
//! its round corners too, from node to node of the hole's border:
//!
//! ```text
//!   ┬───┬───┬─────┬───┬───┬     the web, grid
//!   ├───┼───┴─────┴───┼───┤
//!   │   │ ╲  │  │   ╱ │   │     layers
//!   ├───┤  ╭──────╮   ├───┤     the notch's wall
//!   │   ├──┤      ├───┤   │
//!   ┴───┴──┘      └───┴───┴     the rib's edge
//! ```

use glam::DVec2;

use super::chains::Chains;
use super::grid::Grid;
use super::holes::holes;
use super::{Notch, Rib, RibFault};

/// How fine a mesh is, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Sides of elements along the height of the rib and beside its notches.
    pub near: f64,
    /// Sides along the rib, far from all notches.
    pub far: f64,
    /// Elements round a notch's corner, at least.
    pub round: u32,
}

impl Fineness {
    /// What is fine enough for a rib's stiffness: a twelfth of its height.
    pub fn usual(rib: &Rib) -> Fineness {
        let heights = || rib.outline.iter().map(|corner| corner.y);
        let height = heights().fold(f64::MIN, f64::max) - heights().fold(f64::MAX, f64::min);
        Fineness {
            near: height / 12.0,
            far: 0.5 * height,
            round: 4,
        }
    }
}

/// A rib's mesh.
#[derive(Clone, Debug)]
pub(super) struct Mesh {
    /// Numbered along the longer side of the rib, mm.
    pub nodes: Vec<DVec2>,
    /// Corners of each element, counter-clockwise; elements in the order of
    /// their first nodes.
    pub quads: Vec<[usize; 4]>,
    /// The nodes along each notch's wall, from its left foot to its right.
    pub walls: Vec<Vec<usize>>,
}

impl Mesh {
    /// The mesh of a rib as cut, every step halved so many times. Pushes that
    /// act at some x's find a line there, unless one is near enough.
    pub fn new(
        chains: &Chains,
        notches: &[Notch],
        pushed: &[f64],
        fineness: &Fineness,
        halvings: u32,
    ) -> Result<Mesh, RibFault> {
        let holes = holes(chains, notches)?;
        let grid = Grid::new(chains, &holes, pushed, fineness, halvings);
        let mut mesh = Mesh {
            nodes: Vec::new(),
            quads: Vec::new(),
            walls: Vec::new(),
        };
        let numbers = grid.fill(&mut mesh);
        for (hole, border) in holes.iter().zip(&grid.borders) {
            grid.layers(hole, border, &numbers, fineness, &mut mesh);
        }
        if !mesh.is_sound() {
            return Err(RibFault::TooTight);
        }
        mesh.renumber();
        Ok(mesh)
    }

    /// Whether every element is convex and the right way round.
    fn is_sound(&self) -> bool {
        self.quads.iter().all(|quad| {
            let corners = quad.map(|node| self.nodes[node]);
            (0..4).all(|i| {
                let [before, at, after] = [corners[(i + 3) % 4], corners[i], corners[(i + 1) % 4]];
                (at - before).perp_dot(after - at) > 0.0
            })
        })
    }

    /// Numbers nodes along the longer side, so that neighbours stay close, and
    /// sorts elements by them.
    fn renumber(&mut self) {
        let bounds = self
            .nodes
            .iter()
            .fold((DVec2::MAX, DVec2::MIN), |(low, high), node| {
                (low.min(*node), high.max(*node))
            });
        let size = bounds.1 - bounds.0;
        let key = |node: &DVec2| {
            if size.x < size.y {
                (node.y, node.x)
            } else {
                (node.x, node.y)
            }
        };
        let mut order: Vec<usize> = (0..self.nodes.len()).collect();
        order.sort_by(|a, b| {
            let (a, b) = (key(&self.nodes[*a]), key(&self.nodes[*b]));
            a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        let mut number = vec![0; order.len()];
        for (new, &old) in order.iter().enumerate() {
            number[old] = new;
        }
        self.nodes = order.iter().map(|&old| self.nodes[old]).collect();
        self.quads
            .iter_mut()
            .flatten()
            .for_each(|node| *node = number[*node]);
        self.quads.sort_by_key(|quad| quad.iter().copied().min());
        self.walls
            .iter_mut()
            .flatten()
            .for_each(|node| *node = number[*node]);
    }
}
