//! The answer to a job: does the unit seat, how far does it stand proud, what stops it.

use glam::DVec3;

use crate::frame::Side;
use crate::slack::Reach;

/// Id of the cavity's walls in answers.
pub const WALL: &str = "wall";
/// Id of the opening's edge in answers.
pub const OPENING: &str = "opening";
/// Id of the mount in answers.
pub const MOUNT: &str = "mount";
/// Id of the finished face in answers.
pub const FINISHED_FACE: &str = "finished face";

/// Everything this layer can say of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Flush, proud or blocked, at the stated measures.
    pub verdict: Verdict,
    /// Whether the ± of the measures could turn the verdict.
    pub sure: Sure,
    /// How the figure was found.
    pub proof: Proof,
    /// How far the unit stands out from its seat at the worst corner, mm;
    /// `None` when it does not go through the opening at all.
    pub proud: Option<f64>,
    /// The same at the four corners (top left, top right, bottom right, bottom left), mm.
    pub proud_corners: Option<[f64; 4]>,
    /// Smallest and largest proud within the ± of every measure, mm. The
    /// upper end is infinite when the unit may not go in at all.
    pub proud_range: [f64; 2],
    /// No answer of any layer can stand less proud than this, mm: nearer its seat
    /// the unit itself overlaps something, whatever way it came there.
    pub proud_lower_bound: f64,
    /// How far the nose stands out of the finished face at that proud, worst corner, mm.
    pub look_proud: Option<f64>,
    /// Depth to spare at the tightest place, mm; negative when short, infinite
    /// when nothing stands behind the unit.
    pub margin: f64,
    /// Names of the measures that could not be taken.
    pub unmeasured: Vec<String>,
    /// What stops it, the worst first; empty when flush.
    pub stopped_by: Vec<Stop>,
    /// The depth chain of every lead on the rear, the tightest first.
    pub chain: Vec<ChainLink>,
    /// Room beside, above and below the unit.
    pub rooms: Vec<Room>,
    /// Where each module sits or could sit.
    pub modules: Vec<ModuleRoom>,
    /// Hole pairs of factory brackets.
    pub hole_pairs: Vec<HolePair>,
    /// What still keeps the job from being ready to fit, in words; empty = ready.
    pub not_ready: Vec<String>,
    /// Whether each lead of known length is long enough, as far as can be said
    /// before it is laid.
    pub lengths: Vec<LeadLength>,
    /// Remarks that do not change the verdict, in words.
    pub remarks: Vec<String>,
}

/// A lead's length against what it needs at least, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct LeadLength {
    /// Id of the lead.
    pub lead: String,
    /// What the installer calls it.
    pub name: String,
    /// Length from its plug's mating face.
    pub length: f64,
    /// What any way needs: the stiff plug, straight lines, what lies beyond, joint waste.
    pub at_least: f64,
    /// What the short way needs that keeps the bend rule, nothing in it.
    pub taut: Option<f64>,
    /// Whether it can be plugged in with the unit held out.
    pub reach: Option<Reach>,
}

impl LeadLength {
    /// What it lacks whichever way it goes, mm; 0 when it may reach.
    pub fn surely_short(&self) -> f64 {
        (self.at_least - self.length).max(0.0)
    }

    /// Slack at most, mm; negative when it is short even the short way.
    pub fn slack_at_most(&self) -> f64 {
        self.length - self.taut.unwrap_or(self.at_least)
    }
}

/// The verdict at the stated measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It seats: proud 0.
    Flush,
    /// It stands proud, within the job's limit.
    Proud,
    /// It stands further out than the limit, or nothing works.
    Blocked,
}

impl Verdict {
    /// The word for it in answers.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Flush => "flush",
            Verdict::Proud => "proud",
            Verdict::Blocked => "blocked",
        }
    }
}

/// Whether the ± of the measures could turn the verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// The same verdict at both ends of every band.
    Yes,
    /// Something that matters could not be measured.
    Doubtful,
    /// The verdict turns within the ±.
    No,
}

impl Sure {
    /// The word for it in answers.
    pub fn word(self) -> &'static str {
        match self {
            Sure::Yes => "yes",
            Sure::Doubtful => "doubtful",
            Sure::No => "no",
        }
    }
}

/// How a figure was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// By formula and exact distances; nothing was searched.
    ClosedForm,
    /// Searched, and nothing less is possible: the answer meets its lower bound.
    Exhausted,
    /// Searched with bounded effort; something less may yet exist.
    SearchGaveUp,
}

impl Proof {
    /// The word for it in answers.
    pub fn word(self) -> &'static str {
        match self {
            Proof::ClosedForm => "closed_form",
            Proof::Exhausted => "exhausted",
            Proof::SearchGaveUp => "search_gave_up",
        }
    }
}

/// One thing that keeps the unit from seating.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// What kind of thing is in the way.
    pub what: StopKind,
    /// What the installer calls the piece that touches ("video lead", "chassis").
    pub piece: String,
    /// Which part of it touches ("turn of its cable"); empty = all of it.
    pub part: String,
    /// Id of the part it belongs to: a lead, a module, `chassis`, `brackets`, `nose`, `overhang`.
    pub piece_id: String,
    /// What it touches, in words.
    pub against: String,
    /// Id of what it touches: an obstacle, a module, `wall`, `opening`, `finished face`.
    pub against_id: String,
    /// How much it is short, mm.
    pub short: f64,
    /// Where they meet with the unit at its seat, mm.
    pub at: DVec3,
}

/// What kind of stop it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopKind {
    /// A piece of the unit or its mount meets a solid while sliding in.
    Unit,
    /// A stiff plug meets a solid while sliding in.
    Plug,
    /// A cable has no room to turn.
    Cable,
    /// The unit does not go through the opening.
    Opening,
    /// A module has no place.
    Module,
    /// The nose meets the finished face before the mount's seat.
    Nose,
}

impl StopKind {
    /// The word for it in answers.
    pub fn word(self) -> &'static str {
        match self {
            StopKind::Unit => "unit",
            StopKind::Plug => "plug",
            StopKind::Cable => "cable",
            StopKind::Opening => "opening",
            StopKind::Module => "module",
            StopKind::Nose => "nose",
        }
    }
}

/// The depth chain of one lead: the quick rule, line by line, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainLink {
    /// Id of the lead.
    pub lead: String,
    /// What the installer calls it.
    pub name: String,
    /// From the dash face to the chassis front.
    pub setback: f64,
    /// From there to the face of the socket.
    pub chassis: f64,
    /// The stiff plug.
    pub plug: f64,
    /// What its cable needs to turn; 0 for a right-angle plug.
    pub turn: f64,
    /// The sum of the four.
    pub needed: f64,
    /// Front of the nearest solid in the plug's shadow less its clear;
    /// `None` when nothing stands behind it.
    pub available: Option<f64>,
    /// available - needed; `None` when nothing stands behind it.
    pub margin: Option<f64>,
    /// ± of the margin, every error at its worst.
    pub margin_plus_minus: f64,
    /// Id of the nearest solid.
    pub against: Option<String>,
    /// What the installer calls that solid.
    pub against_name: Option<String>,
}

/// Room between the seated unit and the nearest thing on one side.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// Which side.
    pub side: Side,
    /// Free distance straight that way, mm; negative when they overlap.
    pub free: f64,
    /// Id of the nearest thing.
    pub against: String,
    /// What the installer calls it.
    pub against_name: String,
    /// Where on the unit, mm.
    pub from: DVec3,
    /// Where on that thing, mm.
    pub to: DVec3,
}

/// Where a module sits, or where it could.
#[derive(Clone, Debug, PartialEq)]
pub struct ModuleRoom {
    /// Id of the module.
    pub module: String,
    /// What the installer calls it.
    pub name: String,
    /// Whether it stays where it is.
    pub pinned: bool,
    /// Whether it may go anywhere in the cavity: its place there is looked for
    /// when leads are laid.
    pub anywhere: bool,
    /// Named places it fits into, the roomiest first.
    pub fits: Vec<PlaceFit>,
    /// The closest miss when it fits nowhere: the place and what is short, mm.
    pub closest_miss: Option<(String, f64)>,
}

/// One place a module fits into.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceFit {
    /// Id of the space or pocket.
    pub place: String,
    /// What the installer calls it.
    pub name: String,
    /// Its size as turned to fit (across, depth, up), mm.
    pub size: DVec3,
    /// Room left in the tightest direction, both sides together, mm.
    pub spare: f64,
    /// Lead still wanting to reach it, mm; 0 when it reaches, `None` when not known.
    pub lead_short: Option<f64>,
}

/// A hole of a factory bracket and the unit's hole nearest to it.
#[derive(Clone, Debug, PartialEq)]
pub struct HolePair {
    /// Which side of the unit.
    pub side: Side,
    /// The bracket's hole.
    pub bracket_hole: String,
    /// The unit's hole.
    pub unit_hole: String,
    /// How far their centres are apart after the slot has been used, mm.
    pub off: f64,
    /// Whether a screw goes in.
    pub lines_up: bool,
}
