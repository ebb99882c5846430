//! What the views show, gathered once for each revision of the document.
//!
//! Only this folder asks the other rooms of the house for anything: parts from
//! `profiles`, solids and answers from `geometry`, sentences from `words`.

mod clashes;
mod dims;
mod facts;
mod gather;
mod kinds;
mod laid;
mod looms;
mod outlines;
mod ribs;
mod stand;
mod steps;
mod things;

use geometry::cavity::{Ring, section_at};
use geometry::looms::Loom;
use geometry::{Fit, Job, Layout, Solid};
use glam::{DVec2, DVec3};
use profiles::Problem;

use super::canvas::camera::View;
use super::canvas::hatch::Hatch;
use super::canvas::polygon;
use super::edit::{Step, Target};
use super::theme::Tone;

pub use facts::{Fact, Value};
pub use kinds::kind_of;
pub use laid::{Laid, LoomRing, Pin, Pocket, Way, lead_note, route_lines};
pub use looms::LaidUp;
pub use outlines::{Outlines, Section};
pub use ribs::{Passing, RibSheet, SheetNotch};
pub use steps::StepState;

/// Everything the views show of one revision.
pub struct Model {
    /// The revision it belongs to.
    pub revision: u64,
    /// The job as numbers; `None` while the document cannot be answered.
    pub job: Option<Job>,
    /// Its solids at their seat.
    pub layout: Option<Layout>,
    /// The answer of the quick rule.
    pub fit: Option<Fit>,
    /// What keeps it from being answered, and what is doubtful.
    pub problems: Vec<Problem>,
    /// The same in words, things by their names.
    pub problems_said: Vec<String>,
    /// Everything solid that is drawn, in the order of the job.
    pub things: Vec<Thing>,
    /// The walls of the cavity.
    pub walls: Vec<Solid>,
    /// The cavity's cross-sections, by rising depth.
    pub rings: Vec<Ring>,
    /// The box they are shown in, mm.
    pub walls_box: [DVec3; 2],
    /// Cables as they turn, of leads that are not laid.
    pub strands: Vec<Strand>,
    /// Pockets for slack.
    pub pockets: Vec<Pocket>,
    /// Points that leads are to pass.
    pub pins: Vec<Pin>,
    /// Leads as they were laid, of this revision or an earlier one.
    pub laid: Option<Laid>,
    /// Holes that leads leave through.
    pub holes: Vec<Hole>,
    /// What is in the way, and where.
    pub clashes: Vec<Clash>,
    /// The loom of every exit that a lead leaves by.
    pub looms: Vec<Loom>,
    /// Exits (their ids) whose loom is as it was before the last change.
    pub looms_behind: Vec<String>,
    /// Ribs that may be cut, each in its own plane.
    pub ribs: Vec<RibSheet>,
    /// Dimensions.
    pub dims: Vec<Dim>,
    /// The box that holds all that matters, mm.
    pub extent: [DVec3; 2],
    /// How far each step has got, in the order of [`Step::ALL`].
    pub steps: [StepState; Step::COUNT],
    /// The verdict, as a sentence.
    pub headline: String,
    /// What goes with it.
    pub second_line: String,
    /// Cautions that apply to the job.
    pub cautions: Vec<Caution>,
    /// What to heed before any cut.
    pub before_a_cut: Vec<Caution>,
    /// Whether something that may be cut is in the way.
    pub cut_is_near: bool,
    /// The same job with something changed.
    pub alternatives: Vec<Alternative>,
    /// Whether those are answered as they were before the last changes.
    pub alternatives_behind: bool,
}

/// How well a thing's place is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Measured: drawn with full lines.
    Measured,
    /// Only to ± 2.5 mm or worse: drawn with long dashes.
    Estimated,
    /// Not measured: drawn with dots and a question mark.
    Unmeasured,
    /// Nobody put it there yet: placed by the search, drawn with short dashes.
    Placed,
}

/// From this ± on a thing counts as estimated, mm. Common practice, no source.
pub const ESTIMATED_FROM: f64 = 2.5;

/// What part of the picture a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// It stays where it is.
    Fixed,
    /// The box of the unit, its nose, its brackets.
    Unit,
    /// A plug.
    Plug,
}

/// A solid that is drawn.
#[derive(Clone, Debug)]
pub struct Thing {
    /// What it belongs to.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// What part of the picture it is.
    pub part: Part,
    /// Its tone.
    pub tone: Tone,
    /// Its hatch where it is cut.
    pub hatch: Hatch,
    /// How well its place is known.
    pub known: Known,
    /// Its shape, in place, with the unit standing as proud as it must.
    pub solid: Solid,
}

/// A cable as it leaves its plug.
#[derive(Clone, Debug)]
pub struct Strand {
    /// The lead.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// Its centreline, mm.
    pub line: Vec<DVec3>,
    /// Outside diameter, mm.
    pub od: f64,
    /// The room its turn takes: nearest lower left and furthest upper right corner, mm.
    pub room: [DVec3; 2],
}

/// A hole that leads leave through.
#[derive(Clone, Debug)]
pub struct Hole {
    /// The exit.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// Its rim, mm.
    pub rim: Vec<DVec3>,
    /// Unit vector outward.
    pub way: DVec3,
    /// Its centre, mm.
    pub centre: DVec3,
}

impl Hole {
    /// From its centre to the furthest point of its rim, mm.
    pub fn reach(&self) -> f64 {
        self.rim
            .iter()
            .map(|point| point.distance(self.centre))
            .fold(0.0, f64::max)
    }
}

/// Where something is in the way.
#[derive(Clone, Debug)]
pub struct Clash {
    /// What does not get past.
    pub piece: Option<Target>,
    /// What stands in its way.
    pub against: Option<Target>,
    /// The room that both want with the unit pushed home: two opposite corners, mm.
    pub room: [DVec3; 2],
    /// How much it is short, mm.
    pub short: f64,
    /// Both of them, in words.
    pub says: String,
}

/// A dimension line of one view.
#[derive(Clone, Debug)]
pub struct Dim {
    /// The view it is drawn in.
    pub view: View,
    /// What it measures from and to, as drawn, mm.
    pub ends: [DVec2; 2],
    /// How far the line stands off, in screen points.
    pub off: DVec2,
    /// The length, mm.
    pub mm: f64,
    /// Its ±, mm.
    pub plus_minus: f64,
    /// A word after the number.
    pub word: &'static str,
    /// Whether it says what is in the way.
    pub strong: bool,
    /// Whether it is drawn only while this is pointed at or chosen.
    pub only_with: Option<Target>,
}

/// One caution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Its heading.
    pub title: String,
    /// What to do.
    pub text: String,
}

/// The same job with something changed.
#[derive(Clone, Debug)]
pub struct Alternative {
    /// What the installer calls it.
    pub name: String,
    /// What comes of it, in words.
    pub says: String,
    /// Whether it seats flush, is proud, or blocked.
    pub verdict: Option<geometry::Verdict>,
}

impl Model {
    /// The first thing drawn for a target.
    pub fn thing(&self, target: &Target) -> Option<&Thing> {
        self.things.iter().find(|thing| thing.target == *target)
    }

    /// Whether anything is drawn for a target.
    pub fn is_drawn(&self, target: &Target) -> bool {
        matches!(target, Target::Opening | Target::Walls) || self.thing(target).is_some()
    }

    /// Whether a place is in the cavity, or before the dash face, mm.
    pub fn is_free(&self, place: DVec3) -> bool {
        place.y < 0.0
            || section_at(&self.rings, place.y)
                .is_some_and(|section| polygon::contains(&section, DVec2::new(place.x, place.z)))
    }

    /// Whether a target is part of what is in the way, on either side.
    pub fn clashes_with(&self, target: &Target) -> bool {
        self.clashes.iter().any(|clash| {
            clash.piece.as_ref() == Some(target) || clash.against.as_ref() == Some(target)
        })
    }

    /// The loom of an exit (its id), where any lead leaves by it.
    pub fn loom(&self, exit: &str) -> Option<&Loom> {
        self.looms.iter().find(|loom| loom.exit == exit)
    }

    /// How far a step has got.
    pub fn step(&self, step: Step) -> &StepState {
        &self.steps[step as usize]
    }
}

/// What the installer calls a target, and what is known of it.
pub fn facts_of(model: &Model, target: &Target) -> Option<(String, Vec<Fact>)> {
    let known = model.job.as_ref().and_then(|job| facts::of(job, target));
    let (name, mut facts) = known.or_else(|| {
        model
            .thing(target)
            .map(|thing| (thing.name.clone(), Vec::new()))
    })?;
    facts.extend(laid::facts(model, target));
    Some((name, facts))
}
