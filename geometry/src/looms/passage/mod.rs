//! Does a set of leads pass a hole?
//!
//! Lengths in millimetres, in the plane of the hole.

mod hole;

use crate::packing::{Effort, PackedCircle, pack};

pub use hole::Hole;

/// Whether a set of leads lies in a hole all at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Passage {
    /// Whether it does, and why not.
    pub verdict: Passes,
    /// Area of the leads as a share of the hole's.
    pub fill: f64,
    /// By how much all diameters could grow where they are placed; below 1 they
    /// must shrink. The best found, so a lower bound of what is possible.
    pub growth: f64,
    /// Where they lie, in the order given, from the hole's own origin; the best
    /// place found even when they do not pass.
    pub placed: Vec<PackedCircle>,
}

/// The answer to whether leads pass a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Passes {
    /// They do, lying as placed.
    Yes,
    /// They cannot, and why.
    No(WhyNot),
    /// No place was found and no proof either that there is none.
    NotFound,
}

/// Why leads cannot pass a hole. All lengths mm, areas mm².
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WhyNot {
    /// One is thicker than the largest circle in the hole.
    TooThick {
        /// Its place in the list.
        lead: usize,
        /// The largest circle in the hole.
        largest_round: f64,
    },
    /// Together they have more area than the hole.
    Areas {
        /// What they ask.
        asks: f64,
        /// What the hole has.
        has: f64,
    },
}

/// Whether circles lie in a hole all at once.
///
/// * `diameters`: mm
pub fn lie_in(diameters: &[f64], hole: &Hole, effort: Effort) -> Passage {
    let packing = pack(diameters, effort);
    let Hole::Round(bore) = hole else {
        return Passage {
            verdict: Passes::NotFound,
            fill: 0.0,
            growth: 0.0,
            placed: packing.circles,
        };
    };
    Passage {
        verdict: if packing.diameter <= *bore {
            Passes::Yes
        } else {
            Passes::NotFound
        },
        fill: 0.0,
        growth: bore / packing.diameter,
        placed: packing.circles,
    }
}
