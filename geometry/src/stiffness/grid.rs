//! The lines of a mesh along a rib and across it, with holes for its notches.

use glam::DVec2;

use super::Edge;
use super::axis::{Mark, divide, line_at};
use super::chains::Chains;
use super::holes::Hole;
use super::mesh::{Fineness, Mesh};

/// A push closer to a line than this share of a fine step needs none of its own.
const NEAR_ENOUGH: f64 = 0.3;

/// The grid of a rib. Its lines lie in a rectangle as long as the rib's middle
/// and as high as it is at most, which the rib's edges bend into its shape.
pub(super) struct Grid<'a> {
    chains: &'a Chains,
    /// That rectangle, mm.
    pub size: DVec2,
    pub columns: Vec<f64>,
    pub rows: Vec<f64>,
    /// Where each notch lies in it.
    pub borders: Vec<Border>,
    pub halvings: u32,
}

/// The numbers of the lines about a hole, and of those where the parts of its
/// wall begin.
#[derive(Clone, Copy)]
pub(super) struct Border {
    pub edge: Edge,
    /// Left, where the bottom begins, where it ends, right.
    pub columns: [usize; 4],
    /// The far side, in rows from the notch's edge.
    pub deep: usize,
    /// Where the straight part of its sides ends, in rows from the edge.
    pub straight: usize,
}

impl Border {
    /// Columns, and rows from its edge, from the left foot round to the right.
    pub fn walk(&self) -> impl Iterator<Item = (usize, usize)> {
        let (deep, [left, _, _, right]) = (self.deep, self.columns);
        let up = (0..deep).map(move |row| (left, row));
        let over = (left..=right).map(move |column| (column, deep));
        let down = (0..deep).rev().map(move |row| (right, row));
        up.chain(over).chain(down)
    }

    /// Whether an element is in the hole, by its first column and its first
    /// row, of so many lines.
    fn holds(&self, column: usize, row: usize, tall: usize) -> bool {
        let row = match self.edge {
            Edge::Lower => row,
            Edge::Upper => tall - 2 - row,
        };
        let [left, _, _, right] = self.columns;
        (left..right).contains(&column) && row < self.deep
    }
}

/// Where a hole's border and the parts of its wall lie in the rectangle, mm.
struct Places {
    columns: [f64; 4],
    /// The far side, and where the straight part of the sides ends, from the edge.
    rows: [f64; 2],
    /// How far apart lines may be there.
    sizes: [f64; 3],
}

impl<'a> Grid<'a> {
    /// The grid of a rib with some holes.
    pub fn new(
        chains: &'a Chains,
        holes: &[Hole],
        pushed: &[f64],
        fineness: &Fineness,
        halvings: u32,
    ) -> Grid<'a> {
        let size = rectangle(chains);
        let places: Vec<Places> = holes
            .iter()
            .map(|hole| Places::new(chains, hole, size, fineness))
            .collect();
        let columns = divide(across(chains, size, &places, pushed, fineness), halvings);
        let rows = divide(up(size, holes, &places, fineness), halvings);
        let border = |(hole, places): (&Hole, &Places)| {
            let row = |deep: f64| match hole.edge {
                Edge::Lower => line_at(&rows, deep),
                Edge::Upper => rows.len() - 1 - line_at(&rows, size.y - deep),
            };
            let [deep, straight] = places.rows.map(row);
            let columns = places.columns.map(|at| line_at(&columns, at));
            Border {
                edge: hole.edge,
                columns,
                deep,
                straight,
            }
        };
        let borders = holes.iter().zip(&places).map(border).collect();
        Grid {
            chains,
            size,
            columns,
            rows,
            borders,
            halvings,
        }
    }

    /// The row so many lines from an edge.
    pub fn row(&self, edge: Edge, deep: usize) -> usize {
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

    /// Nodes and elements outside all holes; the numbers of the nodes, column by
    /// column.
    pub fn fill(&self, mesh: &mut Mesh) -> Vec<usize> {
        let tall = self.rows.len();
        let mut numbers = vec![usize::MAX; self.columns.len() * tall];
        let mut node = |column: usize, row: usize, mesh: &mut Mesh| {
            let number = &mut numbers[column * tall + row];
            if *number == usize::MAX {
                *number = mesh.nodes.len();
                mesh.nodes.push(self.place(column, row));
            }
            *number
        };
        for column in 0..self.columns.len() - 1 {
            for row in 0..tall - 1 {
                if !self
                    .borders
                    .iter()
                    .any(|hole| hole.holds(column, row, tall))
                {
                    let corners = [(0, 0), (1, 0), (1, 1), (0, 1)];
                    let quad = corners.map(|(right, up)| node(column + right, row + up, mesh));
                    mesh.quads.push(quad);
                }
            }
        }
        // Between two holes a border may touch no element outside.
        for border in &self.borders {
            for (column, deep) in border.walk() {
                node(column, self.row(border.edge, deep), mesh);
            }
        }
        numbers
    }

    /// The nodes along a hole's border, from its left foot to its right.
    pub fn path(&self, border: &Border, numbers: &[usize]) -> Vec<usize> {
        let tall = self.rows.len();
        let number = |(column, deep)| numbers[column * tall + self.row(border.edge, deep)];
        border.walk().map(number).collect()
    }
}

impl Places {
    fn new(chains: &Chains, hole: &Hole, size: DVec2, fineness: &Fineness) -> Places {
        let Hole {
            edge,
            wall,
            along: [from, to],
            layers: [left, right, beyond],
        } = *hole;
        let column = |x: f64| size.x * chains.share(edge, x);
        // How far the corners reach along the rib, at most to the middle.
        let reach = (wall.radius * wall.along.x).min(0.5 * (to - from));
        let columns = [from - left, from + reach, to - reach, to + right].map(column);
        let scale = size.y / chains.height(0.5 * (from + to));
        let far = wall.depth + beyond;
        let Fineness { near, round, .. } = *fineness;
        // Half of a corner's elements lie on each of the two sides about it.
        let fine = |length: f64| near.min(2.0 * length / f64::from(round.max(2)));
        let (straight, sizes) = if wall.radius > 0.0 {
            let straight = wall.depth - wall.radius;
            (
                straight,
                [left, right, beyond].map(|layer| fine(layer + wall.radius)),
            )
        } else {
            (far, [0.5 * near; 3])
        };
        Places {
            columns,
            rows: [scale * far, scale * straight],
            sizes,
        }
    }
}

/// The rectangle of a rib's grid, mm.
fn rectangle(chains: &Chains) -> DVec2 {
    let [from, to] = chains.span();
    let corners = [Edge::Lower, Edge::Upper]
        .into_iter()
        .flat_map(|edge| chains.edge(edge));
    let tallest = corners.fold(0.0f64, |most, corner| most.max(chains.height(corner.x)));
    DVec2::new(to - from, tallest)
}

/// Where columns have to lie.
fn across(
    chains: &Chains,
    size: DVec2,
    places: &[Places],
    pushed: &[f64],
    fineness: &Fineness,
) -> Vec<Mark> {
    let mark = |at, size| Mark { at, size };
    let mut marks = vec![mark(0.0, fineness.far), mark(size.x, fineness.far)];
    for edge in [Edge::Lower, Edge::Upper] {
        let at = |corner: &DVec2| size.x * chains.share(edge, corner.x);
        let inner = chains
            .edge(edge)
            .iter()
            .map(at)
            .filter(|at| *at > 0.0 && *at < size.x);
        marks.extend(inner.map(|at| mark(at, fineness.far)));
    }
    for place in places {
        let [left, right, _] = place.sizes;
        let sizes = [left, left, right, right];
        marks.extend(
            place
                .columns
                .iter()
                .zip(sizes)
                .map(|(at, size)| mark(*at, size)),
        );
    }
    for x in pushed {
        let at = size.x * chains.share(Edge::Lower, *x);
        let reach = NEAR_ENOUGH * fineness.near;
        if at > 0.0 && at < size.x && marks.iter().all(|mark| (mark.at - at).abs() > reach) {
            marks.push(mark(at, fineness.near));
        }
    }
    marks
}

/// Where rows have to lie.
fn up(size: DVec2, holes: &[Hole], places: &[Places], fineness: &Fineness) -> Vec<Mark> {
    let mut marks = vec![
        Mark {
            at: 0.0,
            size: fineness.near,
        },
        Mark {
            at: size.y,
            size: fineness.near,
        },
    ];
    for (hole, place) in holes.iter().zip(places) {
        let from_edge = |deep: f64| match hole.edge {
            Edge::Lower => deep,
            Edge::Upper => size.y - deep,
        };
        let mark = |deep: &f64| Mark {
            at: from_edge(*deep),
            size: place.sizes[2],
        };
        marks.extend(place.rows.iter().map(mark));
    }
    marks
}
