//! What is cut out of the cavity, with what, and how far one may go.

use glam::DVec2;

use super::Edge;

/// A notch to be cut into an obstacle, open to one of its edges: two straight
/// sides square to the edge, a straight bottom, round inner corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Trim {
    /// Id of the obstacle it is cut into.
    pub rib: String,
    /// The edge it is open to.
    pub edge: Edge,
    /// Where it begins and ends along that edge, in the job's frame, as if the
    /// obstacle were not turned, mm: across for the lower and upper edge of a
    /// rib that faces the installer, and for the near and far edge of a shelf.
    pub along: [f64; 2],
    /// From the edge to its bottom, mm.
    pub depth: f64,
    /// Radius of its inner corners, half the stop hole, mm.
    pub radius: f64,
    /// Whether a search leaves it as it is.
    pub locked: bool,
    /// The strip bonded over what is left of the rib there, if any.
    pub doubler: Option<Strip>,
}

/// Something that hangs on an obstacle: the unit's rear strap, a bracket, a lead.
#[derive(Clone, Debug, PartialEq)]
pub struct RibLoad {
    /// Id of the obstacle it hangs on.
    pub rib: String,
    /// Where along it, counted as notches are ([`Trim::along`]), mm.
    pub along: f64,
    /// Which way it acts.
    pub acts: Acts,
    /// N, more than 0 or less: loads of unlike sign act against each other.
    pub force: f64,
}

/// Which way a load acts on a flat obstacle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Acts {
    /// In its plane, square to its long edges.
    InPlane,
    /// Square to its plane.
    OutOfPlane,
}

impl Acts {
    /// "in its plane", "square to it".
    pub fn word(self) -> &'static str {
        match self {
            Acts::InPlane => "in its plane",
            Acts::OutOfPlane => "square to it",
        }
    }
}

/// A strip of stock bonded flat to a rib beside a notch, its long edge flush
/// with the bottom of the notch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// mm.
    pub thickness: f64,
    /// From the bottom of the notch across what is left, mm.
    pub height: f64,
    /// How far it reaches beyond each side of the notch, mm.
    pub lap: f64,
    /// Modulus of elasticity, MPa.
    pub modulus: f64,
}

/// How the shop cuts and how far it goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// What it cuts with.
    pub tool: Tool,
    /// Diameter of the hole drilled at inner corners, mm; 0 = sharp corners.
    pub stop_hole: f64,
    /// Thickness of the trim put on every cut edge, mm.
    pub edge_trim: f64,
    /// Sides of notches lie on whole steps of this, mm.
    pub snap: f64,
    /// Least share of a rib's stiffness to keep for a push at its middle, 0 to 1.
    pub keep_stiffness: f64,
    /// Whether ribs that need the customer's word may be cut.
    pub asked: bool,
    /// Ids of ribs that are left alone though they might be cut.
    pub left_alone: Vec<String>,
    /// Strip stock for doublers: thickness, height, mm, and modulus, MPa.
    pub strip: Strip,
}

/// A cutting tool as it comes to the cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    /// What the trade calls it.
    pub name: String,
    /// How the blade works at the rib.
    pub works: Works,
    /// Width and height of its body and the hand about it, mm.
    pub shank: DVec2,
    /// From the front of the body to the end of the blade, mm.
    pub reach: f64,
    /// Width of the cut, mm; it falls on the side of the notch.
    pub kerf: f64,
    /// Width and thickness of the blade or jaw, mm.
    pub blade: DVec2,
    /// Room it needs behind the cut, mm.
    pub behind: f64,
}

/// How a tool's blade meets what it cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Works {
    /// Pushed in end first, square to the face of the rib or along it: blades of saws.
    EndFirst,
    /// Reaches round the edge from both sides: cutters and nibblers.
    RoundTheEdge,
}
