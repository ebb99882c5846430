//! Boxes that lie against something, in all six ways round.
//!
//! Along the way out of the face it is fixed by, a box lies against what it is
//! fixed to. Along the other two it is put where it just clears something,
//! and now and then in between: whatever room there is, if a box fits into it
//! square, it fits against two of its sides as well.

use glam::DVec3;

use super::room::{Room, Sort, Still};
use super::{BACKED, TAPE, WAYS, axis_of};
use crate::solids::Bounds;
use crate::space::{FreeSpace, Grid};

/// Side of the cells that throw boxes out, mm.
const CELL: f64 = 3.0;

/// Places to try where nothing decides, mm apart.
const APART: f64 = 20.0;

/// A place of less interest is left out this near to another, mm.
const NEAR: f64 = 3.0;

/// Share of a face that must lie on one piece of a wall; what lies on its
/// neighbours counts as well in the end.
const ON_WALL: f64 = 0.3;

/// Places along one axis at most, for each way round.
const MOST_ALONG: usize = 90;

/// Spots looked at closely at most.
pub const MOST: usize = 60_000;

/// The six ways round of three sizes: which of them lies along (across, depth, up).
const WAYS_ROUND: [[usize; 3]; 6] = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
];

/// A box that lies against something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// The box, mm.
    pub bounds: Bounds,
    /// The way out of the face it is fixed by.
    pub mount: DVec3,
    /// What it lies against, by its number in the room.
    pub on: usize,
}

/// Spots short of room by at most `slack` mm, as far as the grid and the boxes
/// of obstacles tell: some are shorter, none that fits is left out.
///
/// * `size`: the module's three sizes, mm
/// * `slack`: 0 for those that fit
pub fn spots(room: &Room, size: DVec3, slack: f64) -> Vec<Spot> {
    let cells = Cells::of(room);
    let mut spots: Vec<Spot> = Vec::new();
    let mut sizes: Vec<DVec3> = Vec::new();
    for way in WAYS_ROUND {
        let lying = DVec3::from_array(way.map(|axis| size[axis]));
        if !sizes.contains(&lying) {
            sizes.push(lying);
        }
    }
    for lying in sizes {
        let along = [0, 1, 2].map(|axis| places(room, axis, lying[axis], slack));
        let mut seen: Vec<(usize, f64)> = Vec::new();
        for (on, still) in room.stills.iter().enumerate() {
            for (way, mount) in WAYS.iter().enumerate() {
                let Some(at) = against(room, still, *mount, lying) else {
                    continue;
                };
                // The same piece of wall again, as far as a box can tell.
                let first = !seen.contains(&(way, at));
                seen.push((way, at));
                let lies = Lies {
                    room,
                    cells: &cells,
                    lying,
                    slack,
                    mount: *mount,
                    on,
                    at,
                };
                lies.over(&along, still.sort == Sort::Wall && !first, &mut spots);
                if spots.len() >= MOST {
                    return spots;
                }
            }
        }
    }
    spots
}

/// Where a box lies against something, along the way out of the face it is
/// fixed by: its middle, mm; `None` when nothing is ever fixed to it that way.
fn against(room: &Room, still: &Still, mount: DVec3, lying: DVec3) -> Option<f64> {
    if !still.holds {
        return None;
    }
    let axis = axis_of(mount);
    let positive = mount[axis] > 0.0;
    let face = if positive {
        still.bounds.min[axis]
    } else {
        still.bounds.max[axis]
    };
    let middle = room.bounds.middle()[axis];
    let inner = if positive {
        face >= middle
    } else {
        face <= middle
    };
    let faces_in = match still.sort {
        Sort::Wall => axis != 1 && inner,
        Sort::BackWall => axis == 1 && positive,
        _ => true,
    };
    faces_in.then(|| face - mount[axis] * (TAPE + 0.5 * lying[axis]))
}

/// One way of lying against one thing.
struct Lies<'a> {
    room: &'a Room,
    cells: &'a Cells,
    lying: DVec3,
    slack: f64,
    mount: DVec3,
    on: usize,
    at: f64,
}

impl Lies<'_> {
    /// All places beside each other on it.
    ///
    /// * `again`: boxes have lain here before on another piece of the wall
    fn over(&self, along: &[Vec<f64>; 3], again: bool, spots: &mut Vec<Spot>) {
        let axis = axis_of(self.mount);
        let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
        let still = &self.room.stills[self.on];
        let overlap = |axis: usize, at: f64| {
            let half = 0.5 * self.lying[axis];
            let low = still.bounds.min[axis].max(at - half);
            let high = still.bounds.max[axis].min(at + half);
            ((high - low) / self.lying[axis]).max(0.0)
        };
        let share = match still.sort {
            Sort::Wall => ON_WALL,
            _ => BACKED,
        };
        for at_u in &along[u] {
            let over_u = overlap(u, *at_u);
            if over_u < share {
                continue;
            }
            for at_v in &along[v] {
                if over_u * overlap(v, *at_v) < share {
                    continue;
                }
                let mut centre = DVec3::ZERO;
                (centre[axis], centre[u], centre[v]) = (self.at, *at_u, *at_v);
                let bounds = Bounds {
                    min: centre - 0.5 * self.lying,
                    max: centre + 0.5 * self.lying,
                };
                let known = |spot: &Spot| spot.mount == self.mount && spot.bounds == bounds;
                if !self.cells.free(&bounds, self.slack)
                    || self.room.at_least_short(&bounds, self.mount, self.slack) > self.slack
                    || (again && spots.iter().any(known))
                {
                    continue;
                }
                spots.push(Spot {
                    bounds,
                    mount: self.mount,
                    on: self.on,
                });
            }
        }
    }
}

/// Middles along an axis at which a box just clears something, and some in
/// between where nothing fits tightly.
fn places(room: &Room, axis: usize, length: f64, slack: f64) -> Vec<f64> {
    let half = 0.5 * length;
    let (low, high) = (room.bounds.min[axis] + half, room.bounds.max[axis] - half);
    let inside = |at: &f64| (low - slack..=high + slack).contains(at);
    let beside = |still: &Still| {
        [
            still.bounds.max[axis] + still.clear + half,
            still.bounds.min[axis] - still.clear - half,
        ]
    };
    let firm = |still: &&Still| !matches!(still.sort, Sort::Plug | Sort::Open);
    let mut places: Vec<f64> = (room.stills.iter().filter(firm))
        .flat_map(beside)
        .filter(inside)
        .collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let lesser = room.stills.iter().filter(|still| !firm(still));
    let mut further: Vec<f64> = lesser.flat_map(beside).collect();
    let steps = ((high - low) / APART).ceil().max(1.0);
    if slack == 0.0 && high >= low {
        further.extend((0..=steps as usize).map(|step| low + (high - low) * step as f64 / steps));
    }
    for at in further.into_iter().filter(inside) {
        if places.len() >= MOST_ALONG {
            break;
        }
        if places.iter().all(|other| (other - at).abs() >= NEAR) {
            places.push(at);
        }
    }
    places.sort_by(f64::total_cmp);
    places
}

/// The cells of the cavity that solids take, counted so that the number in any
/// box is known at once.
struct Cells {
    grid: Grid,
    /// Taken cells below each corner of the grid, in its order with one more along each axis.
    sums: Vec<u32>,
}

impl Cells {
    fn of(room: &Room) -> Cells {
        let solids: Vec<_> = (room.stills.iter())
            .map(|still| (still.solid.clone(), 0.0))
            .collect();
        let space = FreeSpace::of(&solids, &room.bounds, CELL, 1);
        let [across, depth, up] = space.grid.size;
        let mut sums = vec![0u32; (across + 1) * (depth + 1) * (up + 1)];
        let index = |i: usize, j: usize, k: usize| (k * (depth + 1) + j) * (across + 1) + i;
        for k in 0..up {
            for j in 0..depth {
                let mut row = 0;
                for i in 0..across {
                    let taken = space.squared()[space.grid.index([i, j, k])] == 0;
                    row += u32::from(taken);
                    sums[index(i + 1, j + 1, k + 1)] =
                        row + sums[index(i + 1, j, k + 1)] + sums[index(i + 1, j + 1, k)]
                            - sums[index(i + 1, j, k)];
                }
            }
        }
        Cells {
            grid: space.grid,
            sums,
        }
    }

    /// Whether no taken cell lies in a box, as far inside it as a cell may be
    /// taken by something that the box is short of by no more than `slack` mm.
    fn free(&self, bounds: &Bounds, slack: f64) -> bool {
        let inner = self.grid.half_diagonal() + slack + 1e-6;
        let [i, j, k] = [0, 1, 2].map(|axis| {
            let (low, high) = (bounds.min[axis] + inner, bounds.max[axis] - inner);
            self.grid.between(axis, low, high.max(low - self.grid.step))
        });
        if i.is_empty() || j.is_empty() || k.is_empty() {
            return true;
        }
        let [_, depth, _] = self.grid.size;
        let wide = self.grid.size[0] + 1;
        let sum =
            |i: usize, j: usize, k: usize| i64::from(self.sums[(k * (depth + 1) + j) * wide + i]);
        let below = |k: usize| {
            sum(i.end, j.end, k) - sum(i.start, j.end, k) - sum(i.end, j.start, k)
                + sum(i.start, j.start, k)
        };
        below(k.end) == below(k.start)
    }
}
