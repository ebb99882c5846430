//! How much room there is to the solids: a grid of bytes for the search,
//! exact figures for the rest.
//!
//! The bytes are filled as they are asked for, each with the exact distance
//! from the middle of its voxel, so that what is never visited costs nothing.
//! Solids keep their clear: every figure is the distance less the clear.

use std::cell::Cell;

use glam::DVec3;

use super::point::Near;
use super::{Kept, Surroundings};
use crate::distance::Convex;
use crate::solids::Bounds;
use crate::space::{FreeSpace, Grid};

/// Room beyond this is not told apart, mm.
pub(super) const REACH: f64 = 16.0;

/// Bytes per millimetre.
pub(super) const FINE: f64 = 16.0;

/// Voxels along the edge of a brick. A brick knows the solids within [`REACH`].
const BRICK: usize = 8;

/// A byte nobody asked for yet.
const UNKNOWN: u8 = 0;

/// A convex piece of a solid and the room it asks for.
struct Part<'a> {
    near: Near<'a>,
    /// The box around it.
    bounds: Bounds,
    clear: f64,
}

/// The room around the solids that stand in everybody's way.
pub(super) struct Room<'a> {
    free: &'a FreeSpace,
    /// Middle of the first voxel, mm.
    pub origin: DVec3,
    /// Edge of a voxel, mm.
    pub voxel: f64,
    /// Voxels across, in depth, up.
    pub size: [usize; 3],
    bytes: Vec<Cell<u8>>,
    parts: Vec<Part<'a>>,
    bricks: Bricks,
}

impl<'a> Room<'a> {
    pub fn new(around: &'a Surroundings<'a>) -> Room<'a> {
        let grid = &around.free.grid;
        let mut parts = Vec::new();
        let mut bricks = Bricks::new(grid.size);
        let fixed = around.fixed.iter().map(|kept| (kept, true));
        let movable = around.movable.iter().map(|kept| (kept, false));
        for (kept, stays) in fixed.chain(movable) {
            if kept.not_for.is_some() {
                continue;
            }
            for convex in Convex::pieces(&kept.solid) {
                let bounds = bounds(&convex);
                let reach = bounds.grown(kept.clear + REACH);
                bricks.note(parts.len() as u32, stays, &reach, grid);
                parts.push(Part {
                    near: Near::new(convex),
                    bounds,
                    clear: kept.clear,
                });
            }
        }
        Room {
            free: around.free,
            origin: grid.centre([0; 3]),
            voxel: grid.step,
            size: grid.size,
            bytes: vec![Cell::new(UNKNOWN); grid.len()],
            parts,
            bricks: bricks.sorted(),
        }
    }

    /// Room at a voxel by its number, in steps of 1 / [`FINE`] mm from 1 on:
    /// 1 when there is none, 255 for [`REACH`] and more.
    #[inline]
    pub fn byte(&self, number: usize) -> u8 {
        let known = self.bytes[number].get();
        if known != UNKNOWN {
            return known;
        }
        let byte = Room::byte_of(self.at(self.middle(number)));
        self.bytes[number].set(byte);
        byte
    }

    /// The middle of a voxel by its number, mm.
    pub fn middle(&self, number: usize) -> DVec3 {
        self.free.grid.centre(self.free.grid.cell(number))
    }

    /// The same to a voxel or two, for half the work.
    #[inline]
    pub fn rough_byte(&self, number: usize) -> u8 {
        let known = self.bytes[number].get();
        if known != UNKNOWN {
            return known;
        }
        let cell = self.free.grid.cell(number);
        if self.bricks.movable_near(cell) {
            return self.byte(number);
        }
        let quarters = u16::from(self.free.quarter_mm()[number]);
        (1 + quarters * (FINE as u16 / 4)).min(255) as u8
    }

    /// The byte that stands for this much room, rounded down.
    pub fn byte_of(room: f64) -> u8 {
        1 + (room * FINE).floor().clamp(0.0, 254.0) as u8
    }

    /// The number of the voxel that holds a point.
    #[inline]
    pub fn voxel_of(&self, point: DVec3) -> Option<usize> {
        let grid = &self.free.grid;
        grid.cell_of(point).map(|cell| grid.index(cell))
    }

    /// Exact room at a point, mm: distance to the nearest solid less its
    /// clear, negative where it is missing; [`REACH`] and more reads as [`REACH`].
    pub fn at(&self, point: DVec3) -> f64 {
        let place = (point - self.origin) / self.voxel;
        let mut least = REACH;
        for &part in self.bricks.around(place) {
            let part = &self.parts[part as usize];
            let away = point.clamp(part.bounds.min, part.bounds.max) - point;
            let worth = least + part.clear;
            if worth <= 0.0 || away.length_squared() < worth * worth {
                least = least.min(part.near.distance(point, worth) - part.clear);
            }
        }
        least.min(self.inside(place))
    }

    /// [`REACH`] inside the grid; outside, how far outside, negative, mm.
    #[inline]
    fn inside(&self, place: DVec3) -> f64 {
        let last = DVec3::from_array(self.size.map(|it| (it - 1) as f64));
        let depth = place.min(last - place).min_element() + 0.5;
        if depth < 0.0 {
            depth * self.voxel
        } else {
            REACH
        }
    }
}

/// The smallest upright box around a convex piece.
fn bounds(convex: &Convex) -> Bounds {
    let corner = |sign: f64| {
        let axes = [DVec3::X, DVec3::Y, DVec3::Z];
        DVec3::from_array(axes.map(|axis| sign * convex.most(sign * axis)))
    };
    Bounds {
        min: corner(-1.0),
        max: corner(1.0),
    }
}

/// Which parts are near which block of voxels.
struct Bricks {
    size: [usize; 3],
    noted: Vec<(u32, u32)>,
    starts: Vec<u32>,
    parts: Vec<u32>,
    movable: Vec<bool>,
}

impl Bricks {
    fn new(voxels: [usize; 3]) -> Bricks {
        let size = voxels.map(|it| it.div_ceil(BRICK));
        Bricks {
            size,
            noted: Vec::new(),
            starts: Vec::new(),
            parts: Vec::new(),
            movable: vec![false; size.iter().product()],
        }
    }

    /// Notes that a part counts within `reach`.
    fn note(&mut self, part: u32, stays: bool, reach: &Bounds, grid: &Grid) {
        let edge = BRICK as f64 * grid.step;
        let origin = grid.bounds().min;
        let low = ((reach.min - origin) / edge).floor();
        let high = ((reach.max - origin) / edge).floor();
        let size = self.size;
        let range = |axis: usize| {
            let last = size[axis] as f64 - 1.0;
            // A brick at the rim also answers for what lies beyond it.
            let one = low[axis].clamp(0.0, last) as usize;
            one..=high[axis].clamp(0.0, last) as usize
        };
        for z in range(2) {
            for y in range(1) {
                for x in range(0) {
                    let brick = (z * size[1] + y) * size[0] + x;
                    self.noted.push((brick as u32, part));
                    self.movable[brick] |= !stays;
                }
            }
        }
    }

    /// The same, ready to be asked.
    fn sorted(mut self) -> Bricks {
        self.noted.sort_unstable();
        let count = self.size.iter().product::<usize>();
        self.starts = vec![0; count + 1];
        for &(brick, part) in &self.noted {
            self.starts[brick as usize + 1] += 1;
            self.parts.push(part);
        }
        for brick in 0..count {
            self.starts[brick + 1] += self.starts[brick];
        }
        self.noted = Vec::new();
        self
    }

    /// Whether something that moves is near a voxel.
    #[inline]
    fn movable_near(&self, cell: [usize; 3]) -> bool {
        let [x, y, z] = cell.map(|it| it / BRICK);
        self.movable[(z * self.size[1] + y) * self.size[0] + x]
    }

    /// The parts near a place given in voxels.
    #[inline]
    fn around(&self, place: DVec3) -> &[u32] {
        let index = |axis: usize| {
            let brick = (place[axis] + 0.5).max(0.0) as usize / BRICK;
            brick.min(self.size[axis] - 1)
        };
        let brick = (index(2) * self.size[1] + index(1)) * self.size[0] + index(0);
        let [from, to] = [self.starts[brick], self.starts[brick + 1]];
        &self.parts[from as usize..to as usize]
    }
}

impl Surroundings<'_> {
    /// Every solid, fixed ones first.
    pub(super) fn solids(&self) -> impl Iterator<Item = &Kept> {
        self.fixed.iter().chain(&self.movable)
    }
}
