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

use super::axis::{Mark, divide, line_at};
use super::chains::Chains;
use super::holes::{Hole, holes};
use super::{Edge, Notch, Rib, RibFault};

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
    /// Corners of each element, counter-clockwise.
    pub quads: Vec<[usize; 4]>,
    /// The nodes along each notch's wall, from its left foot to its right.
    pub walls: Vec<Vec<usize>>,
}

/// The grid of a rib: where its lines lie, in shares of length and height
/// times the nominal span and height.
struct Grid<'a> {
    chains: &'a Chains,
    size: DVec2,
    columns: Vec<f64>,
    rows: Vec<f64>,
}

/// The numbers of the lines about a hole, and of those where its wall's
/// corners begin.
#[derive(Clone, Copy)]
struct Border {
    /// Left, where the bottom begins, where it ends, right.
    columns: [usize; 4],
    /// The far side, and where the sides' straight part ends, in lines from
    /// the notch's edge of the rib.
    deep: usize,
    straight: usize,
}

impl Mesh {
    /// The mesh of a rib as cut, halved so many times.
    pub fn new(
        chains: &Chains,
        notches: &[Notch],
        fineness: &Fineness,
        halvings: u32,
    ) -> Result<Mesh, RibFault> {
        let holes = holes(chains, notches)?;
        let (grid, borders) = Grid::new(chains, &holes, fineness, halvings);
        let mut mesh = Mesh {
            nodes: Vec::new(),
            quads: Vec::new(),
            walls: Vec::new(),
        };
        let numbers = grid.fill(&borders, &mut mesh);
        for (hole, (edge, border)) in holes.iter().zip(&borders) {
            let path = grid.path(*edge, border, &numbers);
            let around = layer_count(hole, fineness) << halvings;
            grid.layers(hole, border, &path, around, &mut mesh);
        }
        mesh.renumber();
        Ok(mesh)
    }

    /// Numbers nodes along the longer side, so that neighbours stay close.
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
        self.walls
            .iter_mut()
            .flatten()
            .for_each(|node| *node = number[*node]);
    }
}

/// Layers about a notch on the coarsest mesh.
fn layer_count(hole: &Hole, fineness: &Fineness) -> usize {
    let thickest = hole
        .layers
        .iter()
        .fold(0.0f64, |most, layer| most.max(*layer));
    let asked = (thickest / fineness.near).ceil().max(1.0) as usize;
    asked.max(fineness.round as usize / 2)
}

impl<'a> Grid<'a> {
    /// The grid, and where the holes lie in it.
    fn new(
        chains: &'a Chains,
        holes: &[Hole],
        fineness: &Fineness,
        halvings: u32,
    ) -> (Grid<'a>, Vec<(Edge, Border)>) {
        let [from, to] = chains.span();
        let corners = || {
            [Edge::Lower, Edge::Upper]
                .into_iter()
                .flat_map(|e| chains.edge(e))
        };
        let tallest = corners().fold(0.0f64, |most, c| most.max(chains.height(c.x)));
        let size = DVec2::new(to - from, tallest);
        let Fineness { near, far, round } = *fineness;
        let mark = |at: f64, size: f64| Mark { at, size };
        let mut across = vec![mark(0.0, far), mark(size.x, far)];
        let mut up = vec![mark(0.0, near), mark(size.y, near)];
        for edge in [Edge::Lower, Edge::Upper] {
            let along = |corner: &DVec2| size.x * chains.share(edge, corner.x);
            let inner = chains.edge(edge).iter().map(along);
            across.extend(
                inner
                    .filter(|p| *p > 0.0 && *p < size.x)
                    .map(|p| mark(p, far)),
            );
        }
        let places: Vec<([f64; 4], [f64; 2])> = holes
            .iter()
            .map(|hole| places(chains, hole, size))
            .collect();
        for (hole, (columns, rows)) in holes.iter().zip(&places) {
            let fine = |length: f64| near.min(2.0 * length / f64::from(round.max(2)));
            let sides = [fine(columns[1] - columns[0]), fine(columns[3] - columns[2])];
            let (sizes, deep) = if hole.wall.radius > 0.0 {
                let sizes = [sides[0], sides[0], sides[1], sides[1]];
                (sizes, fine(rows[0] - rows[1]))
            } else {
                ([0.5 * near; 4], 0.5 * near)
            };
            across.extend(columns.iter().zip(sizes).map(|(at, size)| mark(*at, size)));
            let from_edge = |deep: f64| match hole.edge {
                Edge::Lower => deep,
                Edge::Upper => size.y - deep,
            };
            up.extend(rows.iter().map(|row| mark(from_edge(*row), deep)));
        }
        let (columns, rows) = (divide(across, halvings), divide(up, halvings));
        let border = |(hole, (at, deep)): (&Hole, &([f64; 4], [f64; 2]))| {
            let row = |deep: f64| match hole.edge {
                Edge::Lower => line_at(&rows, deep),
                Edge::Upper => rows.len() - 1 - line_at(&rows, size.y - deep),
            };
            let border = Border {
                columns: at.map(|at| line_at(&columns, at)),
                deep: row(deep[0]),
                straight: row(deep[1]),
            };
            (hole.edge, border)
        };
        let borders = holes.iter().zip(&places).map(border).collect();
        (
            Grid {
                chains,
                size,
                columns,
                rows,
            },
            borders,
        )
    }

    /// The row so many lines from an edge.
    fn row(&self, edge: Edge, deep: usize) -> usize {
        match edge {
            Edge::Lower => deep,
            Edge::Upper => self.rows.len() - 1 - deep,
        }
    }

    /// The place of a node of the grid, mm.
    fn place(&self, column: usize, row: usize) -> DVec2 {
        let (x, y) = (
            self.columns[column] / self.size.x,
            self.rows[row] / self.size.y,
        );
        self.chains.place(x, y)
    }

    /// Nodes and elements outside all holes; the numbers of the nodes.
    fn fill(&self, borders: &[(Edge, Border)], mesh: &mut Mesh) -> Vec<usize> {
        let tall = self.rows.len();
        let mut numbers = vec![usize::MAX; self.columns.len() * tall];
        let open = |column: usize, row: usize| {
            !borders.iter().any(|(edge, border)| {
                let deep = match edge {
                    Edge::Lower => row,
                    Edge::Upper => tall - 2 - row,
                };
                column >= border.columns[0] && column < border.columns[3] && deep < border.deep
            })
        };
        for column in 0..self.columns.len() - 1 {
            for row in (0..tall - 1).filter(|row| open(column, *row)) {
                let corners = [(0, 0), (1, 0), (1, 1), (0, 1)];
                let quad = corners.map(|(right, up)| {
                    let number = &mut numbers[(column + right) * tall + row + up];
                    if *number == usize::MAX {
                        *number = mesh.nodes.len();
                        mesh.nodes.push(self.place(column + right, row + up));
                    }
                    *number
                });
                mesh.quads.push(quad);
            }
        }
        // A border node may touch no open element, between two holes.
        for (edge, border) in borders {
            for (column, deep) in border.walk() {
                let row = self.row(*edge, deep);
                let number = &mut numbers[column * tall + row];
                if *number == usize::MAX {
                    *number = mesh.nodes.len();
                    mesh.nodes.push(self.place(column, row));
                }
            }
        }
        numbers
    }

    /// The nodes along a hole's border, from its left foot to its right.
    fn path(&self, edge: Edge, border: &Border, numbers: &[usize]) -> Vec<usize> {
        let number = |(column, deep)| numbers[column * self.rows.len() + self.row(edge, deep)];
        border.walk().map(number).collect()
    }

    /// The layers between a hole's border and the notch's wall.
    fn layers(&self, hole: &Hole, border: &Border, path: &[usize], around: usize, mesh: &mut Mesh) {
        let wall: Vec<DVec2> = border
            .walk()
            .map(|(column, deep)| self.on_wall(hole, border, column, deep))
            .collect();
        let thin = thinning(&wall, path, around, mesh);
        let mut outer = path.to_vec();
        for layer in (0..around).rev() {
            let t = layer as f64 / around as f64;
            let share = t * (thin + (1.0 - thin) * t);
            let inner: Vec<usize> = (path.iter().zip(&wall))
                .map(|(border, wall)| {
                    mesh.nodes.push(wall.lerp(mesh.nodes[*border], share));
                    mesh.nodes.len() - 1
                })
                .collect();
            for k in 0..path.len() - 1 {
                let mut quad = [inner[k], inner[k + 1], outer[k + 1], outer[k]];
                if hole.edge == Edge::Upper {
                    quad.reverse();
                }
                mesh.quads.push(quad);
            }
            outer = inner;
        }
        mesh.walls.push(outer);
    }

    /// The point of the wall that belongs to a node of the hole's border.
    fn on_wall(&self, hole: &Hole, border: &Border, column: usize, deep: usize) -> DVec2 {
        let wall = &hole.wall;
        let depth = |deep: usize| {
            let row = self.rows[self.row(hole.edge, deep)];
            if hole.edge == Edge::Lower {
                row
            } else {
                self.size.y - row
            }
        };
        let part = |from: f64, at: f64, to: f64| {
            if to == from {
                0.0
            } else {
                (at - from) / (to - from)
            }
        };
        let [left, begin, end, right] = border.columns.map(|at| self.columns[at]);
        let at = self.columns[column];
        let mirrored = column == border.columns[3];
        if deep < border.deep && deep >= border.straight && wall.radius > 0.0 {
            let share = part(depth(border.straight), depth(deep), depth(border.deep));
            wall.arc(0.5 * share, mirrored)
        } else if deep < border.deep {
            let straight =
                (wall.depth - wall.radius) * part(0.0, depth(deep), depth(border.straight));
            wall.point(if mirrored { wall.width } else { 0.0 }, straight)
        } else if column <= border.columns[1] && wall.radius > 0.0 {
            wall.arc(0.5 + 0.5 * part(left, at, begin), false)
        } else if column >= border.columns[2] && wall.radius > 0.0 {
            wall.arc(0.5 + 0.5 * part(right, at, end), true)
        } else {
            let bottom = wall.width - 2.0 * wall.radius;
            let (from, to) = if wall.radius > 0.0 {
                (begin, end)
            } else {
                (left, right)
            };
            wall.point(wall.radius + bottom * part(from, at, to), wall.depth)
        }
    }
}

impl Border {
    /// Columns and depths along the border, from the left foot to the right.
    fn walk(&self) -> impl Iterator<Item = (usize, usize)> {
        let (deep, [left, _, _, right]) = (self.deep, self.columns);
        let up = (0..deep).map(move |row| (left, row));
        let over = (left..=right).map(move |column| (column, deep));
        let down = (0..deep).rev().map(move |row| (right, row));
        up.chain(over).chain(down)
    }
}

/// Where a hole's border and the ends of its wall's parts lie in the grid: four
/// columns, and two depths from its edge, mm.
fn places(chains: &Chains, hole: &Hole, size: DVec2) -> ([f64; 4], [f64; 2]) {
    let Hole {
        edge,
        wall,
        along: [from, to],
        layers: [left, right, beyond],
    } = *hole;
    let column = |x: f64| size.x * chains.share(edge, x);
    let columns = [
        from - left,
        from + wall.radius,
        to - wall.radius,
        to + right,
    ]
    .map(column);
    let scale = size.y / chains.height(0.5 * (from + to));
    let straight = if wall.radius > 0.0 {
        wall.depth - wall.radius
    } else {
        wall.depth + beyond
    };
    (columns, [scale * (wall.depth + beyond), scale * straight])
}

/// How thin the layer at the wall is, as a share of equal layers: as thick as
/// the shortest side along the wall.
fn thinning(wall: &[DVec2], path: &[usize], around: usize, mesh: &Mesh) -> f64 {
    let shortest = (wall.windows(2)).fold(f64::INFINITY, |least, two| {
        least.min(two[0].distance(two[1]))
    });
    let thickest = (wall.iter().zip(path)).fold(0.0f64, |most, (wall, border)| {
        most.max(wall.distance(mesh.nodes[*border]))
    });
    (shortest * around as f64 / thickest).clamp(0.2, 1.0)
}
