//! Which cells of a grid solids take.

use crate::distance::Convex;
use crate::solids::{Bounds, Solid};

use super::Grid;
use super::rounded::{Line, Rounded};

/// Which cells of a grid are taken.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// 1 where taken, else 0, in the order of the grid.
    cells: Vec<u8>,
}

impl Taken {
    /// Cells as they are given: anything but 0 is taken.
    pub fn from_cells(cells: Vec<u8>) -> Taken {
        Taken { cells }
    }

    /// 0 for every free cell, in the order of the grid.
    pub fn cells(&self) -> &[u8] {
        &self.cells
    }

    /// Whether a cell is taken.
    pub fn is_taken(&self, index: usize) -> bool {
        self.cells[index] != 0
    }

    /// How many cells are taken.
    pub fn count(&self) -> usize {
        self.cells.iter().filter(|cell| **cell != 0).count()
    }
}

/// The cells taken by solids with the room to be kept from them: those whose
/// centre is no further from a solid than its clear and
/// [half a cell's diagonal](Grid::half_diagonal).
///
/// However thin a solid is, the cells it passes through are taken; and none
/// whose centre is further than that diagonal from where a line may not go.
///
/// * `solids`: each with its clear, mm; a negative one counts as 0
pub fn taken_cells(grid: &Grid, solids: &[(Solid, f64)]) -> Taken {
    let mut cells = vec![0; grid.len()];
    for (solid, clear) in solids {
        let reach = clear.max(0.0) + grid.half_diagonal();
        let bounds = solid.bounds();
        if bounds.gap(&grid.bounds()) > reach {
            continue;
        }
        for piece in Convex::pieces(solid) {
            fill(grid, &Rounded::new(&piece, &bounds, reach), &mut cells);
        }
    }
    Taken { cells }
}

/// Takes the cells of one piece, row by row.
fn fill(grid: &Grid, piece: &Rounded, cells: &mut [u8]) {
    let Bounds { min, max } = piece.bounds;
    for k in grid.between(2, min.z, max.z) {
        for j in grid.between(1, min.y, max.y) {
            let start = grid.centre([0, j, k]);
            let line = Line {
                depth: start.y,
                up: start.z,
            };
            if let Some([low, high]) = piece.stretch(line) {
                let row = grid.index([0, j, k]);
                let met = grid.between(0, low, high);
                cells[row + met.start..row + met.end].fill(1);
            }
        }
    }
}
