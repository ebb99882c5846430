//! Leads and modules.

use glam::DVec3;

use crate::frame::Side;
use crate::measure::Measure;

use super::looms::WireTail;

/// One lead: a plug, its cable or cables, and where they end.
#[derive(Clone, Debug, PartialEq)]
pub struct Lead {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The socket it plugs into (its id among the sockets of the unit), or the module that carries it.
    pub from: LeadStart,
    /// Its plug.
    pub plug: Plug,
    /// Its cable.
    pub cable: Cable,
    /// How many such cables leave the plug.
    pub cables: u32,
    /// Length from the plug's mating face, mm, where known.
    pub length: Option<Measure>,
    /// Where it ends.
    pub end: LeadEnd,
    /// Further run after the exit before its end, mm, where known.
    pub beyond: Option<f64>,
    /// Lumps in it.
    pub lumps: Vec<Lump>,
    /// Points its middle passes in this order, mm; of several cables the first one's.
    pub through: Vec<DVec3>,
    /// What becomes of its slack.
    pub slack: Slack,
    /// Whether it must be long enough to plug in with the unit held out.
    pub service_reach: ServiceReach,
}

/// What a lead starts from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadStart {
    /// A socket of the unit.
    Socket(String),
    /// A module that carries it.
    Module(String),
}

/// Where a lead ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadEnd {
    /// It leaves the cavity through this exit.
    Exit(String),
    /// It plugs into this module.
    Module(String),
    /// It plugs into this factory plug.
    FactoryPlug(String),
}

/// A plug as mated: what stands out of the socket.
#[derive(Clone, Debug, PartialEq)]
pub struct Plug {
    /// Its name in the library or the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its family; a socket takes plugs of its own family.
    pub family: String,
    /// Across and up as it sits in the socket, mm.
    pub width: Measure,
    /// See `width`.
    pub height: Measure,
    /// How it leaves the socket.
    pub style: PlugStyle,
}

/// How a plug leaves its socket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlugStyle {
    /// Straight back.
    Straight {
        /// Stiff body beyond the socket's face, mm.
        body: Measure,
        /// Strain relief beyond the body, mm; 0 = none.
        relief: f64,
        /// Diameter of the strain relief, mm.
        relief_diameter: f64,
    },
    /// Turned square, close to the chassis.
    RightAngle {
        /// How far it stands out of the socket's face, mm.
        stands: Measure,
        /// The way its cable leaves.
        toward: Side,
        /// Stiff length from the socket's centre that way, mm.
        reach: f64,
    },
}

/// A cable, and how tightly it may bend.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// Its name in the library or the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Outside diameter, mm.
    pub od: Measure,
    /// What is published for it.
    pub published: BendRule,
    /// What fitters do with it.
    pub shop: BendRule,
    /// ± of the turn room measured on the bench, mm.
    pub turn_plus_minus: f64,
    /// Tightest fold it may be stowed with, centreline radius, mm.
    pub fold_radius: f64,
    /// Straight run it needs behind the plug before a bend, mm.
    pub straight_run: f64,
    /// The loose wires it consists of, when it is an open tail.
    pub tail: Option<WireTail>,
}

impl Cable {
    /// The rule that counts in a job.
    pub fn rule(&self, rules: RuleSet) -> BendRule {
        match rules {
            RuleSet::Published => self.published,
            RuleSet::Shop => self.shop,
        }
    }
}

/// The tightest bend a cable may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendRule {
    /// The radius, as a multiple of the outside diameter or in mm.
    pub radius: BendRadius,
    /// Where that radius is measured.
    pub measured: BendLine,
}

impl BendRule {
    /// Radius at the cable's centreline, mm, for a cable of outside diameter `od` mm.
    pub fn centreline(&self, od: f64) -> f64 {
        let radius = match self.radius {
            BendRadius::TimesOd(times) => times * od,
            BendRadius::Millimetres(radius) => radius,
        };
        match self.measured {
            BendLine::Inside => radius + 0.5 * od,
            BendLine::Centreline => radius,
        }
    }
}

/// A bend radius as a rule states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BendRadius {
    /// So many times the outside diameter.
    TimesOd(f64),
    /// A length, mm.
    Millimetres(f64),
}

/// Where a bend radius is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BendLine {
    /// At the inside of the curve, as published rules do.
    Inside,
    /// At the middle of the cable.
    Centreline,
}

/// Which of a cable's two bend rules a job goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RuleSet {
    /// What is published.
    Published,
    /// What fitters do.
    Shop,
}

/// A lump in a lead: mated pair, joint, fuse holder, filter, booster.
#[derive(Clone, Debug, PartialEq)]
pub struct Lump {
    /// What it is.
    pub name: String,
    /// Length along the lead, width and height, mm.
    pub size: DVec3,
    /// From the plug's mating face to its middle, mm.
    pub at: f64,
}

/// What becomes of a lead's slack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slack {
    /// Where it goes.
    pub goes: SlackGoes,
    /// Length lost in a joint, mm.
    pub joint_waste: f64,
}

/// Where slack goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlackGoes {
    /// Folded into a pocket of the cavity.
    Stow,
    /// Beyond the exit.
    Beyond,
    /// The lead is cut to length and joined.
    Cut,
}

/// Whether a lead must reach with the unit held out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ServiceReach {
    /// How far out the unit is held, mm.
    pub pull_out: f64,
    /// Too short is an error rather than a warning.
    pub required: bool,
}

/// An interface module.
#[derive(Clone, Debug, PartialEq)]
pub struct Module {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its three sizes, mm; as placed (across, depth, up) when it is pinned.
    pub size: [Measure; 3],
    /// Room that leads, plugs and the unit keep from it, mm.
    pub clear: f64,
    /// Where it is or may go.
    pub place: ModulePlace,
    /// Length of lead it can be reached with, mm, where known.
    pub lead_length: Option<f64>,
}

/// Among the places a module may go to: anywhere in the cavity, fixed to
/// whatever holds it.
pub const CAVITY: &str = "cavity";

/// Where a module is or may go.
#[derive(Clone, Debug, PartialEq)]
pub enum ModulePlace {
    /// It stays here: its two faces along (across, depth, up), mm.
    Pinned([[Measure; 2]; 3]),
    /// It may go to any of these spaces and pockets, [`CAVITY`] = anywhere in
    /// the cavity; empty = to any space or pocket in the job.
    Movable(Vec<String>),
}
