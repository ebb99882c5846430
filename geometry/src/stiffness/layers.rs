//! The layers of a mesh between a notch's wall and the grid.

use glam::DVec2;

use super::Edge;
use super::grid::{Border, Grid};
use super::holes::Hole;
use super::mesh::{Fineness, Mesh};

impl Grid<'_> {
    /// The layers between a hole's border and the notch's wall.
    pub fn layers(
        &self,
        hole: &Hole,
        border: &Border,
        numbers: &[usize],
        fineness: &Fineness,
        mesh: &mut Mesh,
    ) {
        let path = self.path(border, numbers);
        let wall: Vec<DVec2> = border
            .walk()
            .map(|(column, deep)| self.on_wall(hole, border, column, deep))
            .collect();
        let count = layer_count(hole, fineness) << self.halvings;
        let thin = thinning(&wall, &path, count, mesh);
        let mut outer = path.clone();
        for layer in (0..count).rev() {
            let t = layer as f64 / count as f64;
            let share = t * (thin + (1.0 - thin) * t);
            let first = mesh.nodes.len();
            for (border, wall) in path.iter().zip(&wall) {
                mesh.nodes.push(wall.lerp(mesh.nodes[*border], share));
            }
            let inner: Vec<usize> = (first..mesh.nodes.len()).collect();
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
            let row = self.rows[self.row(border.edge, deep)];
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

/// Layers about a notch on the coarsest mesh.
fn layer_count(hole: &Hole, fineness: &Fineness) -> usize {
    let thickest = hole
        .layers
        .iter()
        .fold(0.0f64, |most, layer| most.max(*layer));
    let asked = (thickest / fineness.near).ceil().max(1.0) as usize;
    asked.max(fineness.round as usize / 2)
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
