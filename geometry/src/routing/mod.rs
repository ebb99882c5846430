//! Every lead routed, all together: lines and arcs from plug to end, never
//! tighter than the bend rule, clear of every solid and of each other.
//!
//! The search is coarse: a lattice of some millimetres against room known voxel
//! by voxel. What it finds is drawn tight with exact distances and shown only
//! after a check that shares nothing with the search ([`verify`]). Effort is
//! bounded by counted work, so that the same task has the same answer on every
//! machine.
//!
//! In the order of the work, by file: what can be told before any search
//! (`stubs`); room to solids (`room`) and to other leads (`crowd`); the lattice
//! and the way onto it from any place and direction (`lattice`, `approach`);
//! what is ahead (`ahead`) and the search itself (`ground`, `search`); drawing
//! tight (`strain`, `draw`); one lead (`site`, `one`); all of them (`together`,
//! `gather`); the check (`verify`).

use glam::DVec3;

use crate::solids::Solid;
use crate::space::FreeSpace;

mod again;
mod ahead;
mod approach;
mod corners;
mod crowd;
mod draw;
mod gather;
mod ground;
mod lattice;
mod miss;
mod one;
mod point;
mod room;
mod search;
mod site;
mod strain;
mod stubs;
mod together;
mod verify;

pub use again::{Before, route_again};
pub use miss::{Missed, nearest_miss};
pub use one::route_one;
pub use site::Tools;
pub use together::{Progress, Routing, gathered, route_all, route_each, route_together};
pub use verify::{Against, Breach, verify};

/// The solids leads run between.
#[derive(Clone, Debug)]
pub struct Surroundings<'a> {
    /// The space the fixed solids leave free; leads stay inside its grid.
    pub free: &'a FreeSpace,
    /// Solids that stay through a whole search for the seat.
    pub fixed: &'a [Kept],
    /// Solids that move with the unit, modules, plugs.
    pub movable: Vec<Kept>,
}

/// A solid, and the room leads keep from it.
#[derive(Clone, Debug)]
pub struct Kept {
    /// The solid in place.
    pub solid: Solid,
    /// Room between its surface and a lead's, mm.
    pub clear: f64,
    /// The number of the task whose own plug it is: that lead starts in it.
    pub not_for: Option<usize>,
}

/// One lead to lay.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Outside diameter, mm.
    pub od: f64,
    /// Least bend radius at the centreline, mm.
    pub radius: f64,
    /// Where its centreline leaves the plug, mm.
    pub from: DVec3,
    /// The way it leaves, a unit vector.
    pub from_way: DVec3,
    /// Straight run behind the plug, mm.
    pub straight_from: f64,
    /// Where its centreline ends, mm.
    pub to: DVec3,
    /// The way it goes there, a unit vector.
    pub to_way: DVec3,
    /// Straight run before its end, mm.
    pub straight_to: f64,
    /// It may not be longer than this, mm.
    pub length: Option<f64>,
    /// Where it is thicker.
    pub lumps: Vec<Bulge>,
    /// Points it passes in this order, mm.
    pub through: Vec<DVec3>,
    /// Leads with the same figure are drawn together.
    pub cluster: Option<usize>,
}

/// A lump as a lead sees it: a stretch that is thicker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bulge {
    /// Its middle, mm along the lead from where the cable leaves the plug.
    pub at: f64,
    /// Length along the lead, mm.
    pub length: f64,
    /// Diameter, mm.
    pub diameter: f64,
}

/// How much work a search may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Nodes one search may expand.
    pub nodes: u64,
    /// Turns leads may take at finding a way beside the others.
    pub rounds: u64,
}

impl Default for Effort {
    fn default() -> Effort {
        Effort {
            nodes: 40_000,
            rounds: 200,
        }
    }
}

/// Why a lead has no way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoWay {
    /// Its straight run at the plug or at the end is too near to a solid.
    RunBlocked {
        /// Number of the solid, fixed ones first.
        solid: usize,
        /// Room missing, mm.
        by: f64,
        /// Where, mm.
        at: DVec3,
    },
    /// Its straight runs cross those of another lead: no way can help.
    RunsCross {
        /// Number of the other lead.
        other: usize,
        /// Room missing, mm.
        by: f64,
    },
    /// A point it is to pass is too near to a solid, or outside.
    PointBlocked {
        /// Number of the point among those it passes.
        point: usize,
        /// Number of the solid, fixed ones first; `None` outside the space.
        solid: Option<usize>,
        /// Room missing, mm.
        by: f64,
    },
    /// The shortest way found is longer than the lead, by this, mm.
    TooShort {
        /// Missing length, mm.
        by: f64,
    },
    /// No lattice tried holds a way between the solids, whatever the other leads
    /// do. Not a proof beyond their step: the finest is 4 mm.
    Exhausted,
    /// None was found with the work allowed; there may be one.
    GaveUp,
}

impl Task {
    /// Its greatest diameter, mm.
    pub fn thickest(&self) -> f64 {
        let lumps = self.lumps.iter().map(|lump| lump.diameter);
        lumps.fold(self.od, f64::max)
    }

    /// Its greatest diameter on a stretch, mm, by the places of its ends.
    fn thickness(&self, [from, to]: [f64; 2]) -> f64 {
        let met = |lump: &&Bulge| {
            let half = 0.5 * lump.length;
            from <= lump.at + half && to >= lump.at - half
        };
        let lumps = self.lumps.iter().filter(met).map(|lump| lump.diameter);
        lumps.fold(self.od, f64::max)
    }

    /// The ends of its straight runs, where it has some.
    fn runs(&self) -> [Option<[DVec3; 2]>; 2] {
        let first = [self.from, self.from + self.straight_from * self.from_way];
        let last = [self.to - self.straight_to * self.to_way, self.to];
        [
            (self.straight_from > 0.0).then_some(first),
            (self.straight_to > 0.0).then_some(last),
        ]
    }
}
