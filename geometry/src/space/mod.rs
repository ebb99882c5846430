//! The free space of a cavity: how far a line may stray before it comes too
//! near what is fixed.
//!
//! A grid proposes, exact solids decide: what is read here is right to a cell,
//! and says so. Room that solids ask for (`clear`) is part of the space they
//! take, so that one figure answers for all of them: a lead whose middle runs
//! where the figure is at least half its outside diameter keeps every clear.
//!
//! Only what stays is taken up; chassis, plugs, modules and notches move from
//! one try to the next and are measured exactly.

use glam::DVec3;

use crate::cavity;
use crate::job::Job;
use crate::lay_out::lay_out;
use crate::layout::{FixedClass, Layout};
use crate::measure::Reading;
use crate::solids::{Bounds, Solid};

mod bar;
mod grid;
mod rounded;
mod taken;
mod transform;

pub use grid::Grid;
pub use taken::{Taken, taken_cells};
pub use transform::{Scratch, distance_squared};

/// Cells that lie around a cavity, so that its walls are seen.
const MARGIN: f64 = 2.0;

/// Parts of a millimetre in [`FreeSpace::quarter_mm`].
const PARTS: f64 = 4.0;

/// The free space of a cavity: how far each cell lies from where a line may
/// not go, that is, from the nearest fixed solid less its clear.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeSpace {
    /// The cells.
    pub grid: Grid,
    /// Squared distance from each cell's centre to that of the nearest taken one, in cells.
    squared: Vec<u16>,
    /// The distance in quarters of a millimetre.
    quarters: Vec<u8>,
}

impl FreeSpace {
    /// The space that solids leave free.
    ///
    /// * `solids`: each with its clear, mm
    /// * `bounds`: the box to look at, mm; nothing is known outside
    /// * `step`: side of a cell, mm
    /// * `threads`: how many to work with; the result is the same for any number
    pub fn of(solids: &[(Solid, f64)], bounds: &Bounds, step: f64, threads: usize) -> FreeSpace {
        let grid = Grid::covering(bounds, step);
        let taken = taken_cells(&grid, solids);
        let mut squared = Vec::new();
        let mut scratch = Scratch::default();
        distance_squared(grid.size, &taken, threads, &mut squared, &mut scratch);
        let quarters = quarters(&squared, grid.step);
        FreeSpace {
            grid,
            squared,
            quarters,
        }
    }

    /// The space inside a job's cavity, less what stays there; `None` when the
    /// cavity was not measured.
    ///
    /// * `reading`: which end of every measure's band to build with
    /// * `step`: side of a cell, mm
    /// * `threads`: how many to work with; the result is the same for any number
    pub fn of_job(job: &Job, reading: Reading, step: f64, threads: usize) -> Option<FreeSpace> {
        let bounds = cavity_bounds(job, reading)?.grown(MARGIN * step);
        let solids = staying(&lay_out(job, reading), job.cavity.wall_clear);
        Some(FreeSpace::of(&solids, &bounds, step, threads))
    }

    /// A distance that is never more than that from a point to where a line
    /// may not go, mm; 0 where that is not known, near it and outside the grid.
    ///
    /// It is at most two diagonals of a cell less than the true one, unless
    /// the end of the grid is nearer.
    pub fn at_least(&self, point: DVec3) -> f64 {
        let Some(cell) = self.grid.cell_of(point) else {
            return 0.0;
        };
        let cells = f64::from(self.squared[self.grid.index(cell)]).sqrt();
        let aside = point.distance(self.grid.centre(cell));
        let free = cells * self.grid.step - self.grid.half_diagonal() - aside;
        // Solids may go on outside the grid.
        let Bounds { min, max } = self.grid.bounds();
        let seen = (point - min).min(max - point).min_element();
        free.min(seen).max(0.0)
    }

    /// For each cell the distance from its centre to where a line may not go,
    /// in quarters of a millimetre rounded down, at most 255.
    ///
    /// Right to [half a cell's diagonal](Grid::half_diagonal) and that quarter,
    /// as far as solids lie within the grid: for searches, not for answers.
    pub fn quarter_mm(&self) -> &[u8] {
        &self.quarters
    }

    /// For each cell the squared distance, in cells, from its centre to that of
    /// the nearest taken cell; see [`distance_squared`].
    pub fn squared(&self) -> &[u16] {
        &self.squared
    }
}

/// What stays in a cavity whatever is tried, each with its clear, mm: walls,
/// obstacles, unused factory plugs, tabs. Modules are left out: they may go elsewhere.
///
/// * `wall_clear`: room kept from the walls, mm
pub fn staying(layout: &Layout, wall_clear: f64) -> Vec<(Solid, f64)> {
    let walls = layout.walls.iter();
    let walls = walls.map(|wall| (wall.solid.clone(), wall_clear));
    let fixed = layout.fixed.iter();
    let fixed = fixed.filter(|fixed| fixed.class != FixedClass::Module);
    walls
        .chain(fixed.map(|fixed| (fixed.solid.clone(), fixed.clear)))
        .collect()
}

/// The box around a cavity's cross-sections; `None` when there are none.
pub fn cavity_bounds(job: &Job, reading: Reading) -> Option<Bounds> {
    let rings = cavity::rings(&job.cavity, reading);
    let corners = rings.iter().flat_map(|ring| {
        let in_place = |corner: &glam::DVec2| DVec3::new(corner.x, ring.depth, corner.y);
        ring.corners.iter().map(in_place)
    });
    Bounds::around(corners)
}

/// Squared distances in cells as quarters of a millimetre.
fn quarters(squared: &[u16], step: f64) -> Vec<u8> {
    let most = f64::from(u8::MAX);
    let quarter = |squared: f64| (squared.sqrt() * step * PARTS).min(most) as u8;
    // Further than this they are all the same.
    let known = (most / (PARTS * step)).powi(2).ceil() as usize + 1;
    let table: Vec<u8> = (0..=known.min(usize::from(u16::MAX)))
        .map(|squared| quarter(squared as f64))
        .collect();
    let furthest = table.len() - 1;
    squared
        .iter()
        .map(|&squared| table[usize::from(squared).min(furthest)])
        .collect()
}
