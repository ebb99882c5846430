//! A regular grid of cells in the one frame.

use glam::DVec3;

use crate::solids::Bounds;

/// More cells than this along one axis are never made; the step grows instead.
const MOST_CELLS: f64 = 1000.0;

/// Upright cube cells side by side over a box.
///
/// The cell `[i, j, k]` (across, depth, up) has the number
/// `(k * size[1] + j) * size[0] + i`: across runs fastest.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Lowest corner of the cell `[0, 0, 0]`, mm.
    pub origin: DVec3,
    /// Side of a cell, mm.
    pub step: f64,
    /// Cells along (across, depth, up), at least one each.
    pub size: [usize; 3],
}

impl Grid {
    /// The grid whose cells just cover a box, as far over on either side.
    ///
    /// * `bounds`: the box, mm
    /// * `step`: side of a cell, mm; taken larger where more than 1000 cells
    ///   would lie in a row
    pub fn covering(bounds: &Bounds, step: f64) -> Grid {
        let extent = bounds.size().max(DVec3::ZERO);
        let step = step.max(extent.max_element() / MOST_CELLS);
        // A box of whole cells gets no further one by rounding.
        let cells = (extent / step - 1e-9).ceil().max(DVec3::ONE);
        Grid {
            origin: bounds.middle() - 0.5 * step * cells,
            step,
            size: cells.to_array().map(|count| count as usize),
        }
    }

    /// How many cells there are.
    pub fn len(&self) -> usize {
        self.size.iter().product()
    }

    /// Never: a grid has at least one cell.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The number of a cell.
    pub fn index(&self, cell: [usize; 3]) -> usize {
        (cell[2] * self.size[1] + cell[1]) * self.size[0] + cell[0]
    }

    /// The cell of a number.
    pub fn cell(&self, index: usize) -> [usize; 3] {
        let [across, depth, _] = self.size;
        let row = index / across;
        [index % across, row % depth, row / depth]
    }

    /// The middle of a cell, mm.
    pub fn centre(&self, cell: [usize; 3]) -> DVec3 {
        let cell = DVec3::from_array(cell.map(|count| count as f64));
        self.origin + self.step * (cell + 0.5)
    }

    /// The cell that holds a point, mm; `None` outside the grid.
    pub fn cell_of(&self, point: DVec3) -> Option<[usize; 3]> {
        let cell = ((point - self.origin) / self.step).to_array();
        let inside = (0..3).all(|axis| cell[axis] >= 0.0 && cell[axis] < self.size[axis] as f64);
        inside.then(|| cell.map(|count| count as usize))
    }

    /// The box its cells fill, mm.
    pub fn bounds(&self) -> Bounds {
        let size = DVec3::from_array(self.size.map(|count| count as f64));
        Bounds {
            min: self.origin,
            max: self.origin + self.step * size,
        }
    }

    /// Half the diagonal of a cell, mm: no point of a cell is further from its centre.
    pub fn half_diagonal(&self) -> f64 {
        0.5 * 3f64.sqrt() * self.step
    }

    /// The cells along an axis whose centres lie between two places, mm.
    pub(crate) fn between(&self, axis: usize, low: f64, high: f64) -> std::ops::Range<usize> {
        let at = |place: f64| (place - self.origin[axis]) / self.step - 0.5;
        let count = self.size[axis] as f64;
        let start = at(low).ceil().max(0.0).min(count);
        let end = (at(high).floor() + 1.0).min(count).max(start);
        start as usize..end as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid() -> Grid {
        let bounds = Bounds {
            min: DVec3::new(-9.0, 0.0, -5.0),
            max: DVec3::new(9.0, 15.0, 5.0),
        };
        Grid::covering(&bounds, 2.0)
    }

    #[test]
    fn cells_cover_the_box_and_no_more() {
        let grid = grid();
        assert_eq!(grid.size, [9, 8, 5]);
        assert_eq!(grid.origin, DVec3::new(-9.0, -0.5, -5.0));
        assert_eq!(grid.bounds().max, DVec3::new(9.0, 15.5, 5.0));
    }

    #[test]
    fn numbers_cells_and_centres_agree() {
        let grid = grid();
        for index in 0..grid.len() {
            let cell = grid.cell(index);
            assert_eq!(grid.index(cell), index);
            assert_eq!(grid.cell_of(grid.centre(cell)), Some(cell));
        }
        assert_eq!(grid.cell_of(DVec3::new(9.0, 1.0, 0.0)), None);
        assert_eq!(grid.cell_of(DVec3::new(0.0, 1.0, f64::NAN)), None);
    }

    #[test]
    fn between_counts_centres() {
        let grid = grid();
        assert_eq!(grid.between(0, -8.0, -4.0), 0..3);
        assert_eq!(grid.between(0, -7.9, -4.1), 1..2);
        assert_eq!(grid.between(0, -7.9, -6.1), 1..1);
        assert_eq!(grid.between(2, -100.0, 100.0), 0..5);
        assert_eq!(grid.between(2, 50.0, 100.0), 5..5);
    }
}
