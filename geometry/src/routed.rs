//! The answer of the routed layer: every lead laid, every module placed, the
//! slack stowed, and the smallest proud at which all of it holds.

use glam::DVec3;

use crate::fit::{Fit, Proof, Stop, Sure, Verdict};
use crate::fitting::look_proud;
use crate::job::Job;
use crate::layout::Layout;
use crate::path::Path;
use crate::slack::{HalfWay, LeadSlack, Stowage};
use crate::slide_in::{Barred, SlideIn};

/// Everything the routed layer can say of a job at its stated measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Routed {
    /// Flush, proud or blocked.
    pub verdict: Verdict,
    /// How the figure was found.
    pub proof: Proof,
    /// Smallest proud found at which everything holds, mm; `None` when nothing
    /// was found that holds.
    pub proud: Option<f64>,
    /// The proud at which the routes are laid, mm: `proud`, or the least possible
    /// when nothing holds.
    pub laid_at: f64,
    /// No way of any kind stands less proud than this, mm.
    pub lower_bound: f64,
    /// Every cable that runs in the cavity, in the order of the job; at `proud`,
    /// or as far as they came when nothing holds.
    pub routes: Vec<Route>,
    /// The leads of each exit where they pass it, as they were laid.
    pub looms: Vec<LoomAt>,
    /// Where each module sits.
    pub modules: Vec<ModuleAt>,
    /// Where the slack goes that must find room in the cavity.
    pub stow: Stowage,
    /// The same with the unit held out on its way in, by how far out; nothing
    /// where no slack has to be stowed.
    pub half_way: Vec<HalfWay>,
    /// What stops the next half millimetre, the worst first; empty when flush.
    pub stopped_by: Vec<Stop>,
    /// What has no way or no place, in words of the trade; empty when everything holds.
    pub left_over: Vec<LeftOver>,
    /// How the unit goes in; `None` when nothing was found that holds.
    pub slide_in: Option<SlideIn>,
    /// Why it stands no nearer its seat where it would stand free, but no way
    /// in was found.
    pub barred: Option<Barred>,
}

/// The way of one lead.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// Id of the lead.
    pub lead: String,
    /// What the installer calls it.
    pub name: String,
    /// The exit it leaves by, if it leaves.
    pub exit: Option<String>,
    /// Which of its cables, from 0; a lead with several has a route for each.
    pub cable: u32,
    /// Diameter of the cable, mm.
    pub od: f64,
    /// Its middle from the plug to its end, the run through the exit included.
    pub path: Path,
    /// Length of the way from the end of the plug to the exit or to its end, mm.
    pub length: f64,
    /// Tightest turn it makes, at its middle, mm; `None` when it runs straight.
    pub least_radius: Option<f64>,
    /// Tightest turn it may make, at its middle, mm.
    pub rule_radius: f64,
    /// The same by the other set of rules, mm.
    pub other_rule_radius: f64,
    /// The points it was to pass, and how near it comes to each.
    pub through: Vec<Passed>,
    /// Where it comes nearest to anything.
    pub nearest: Option<Nearby>,
    /// What is left of its length; `None` when that is not known.
    pub slack: Option<LeadSlack>,
}

/// A point that a lead was to pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passed {
    /// The point, mm.
    pub point: DVec3,
    /// From there to the lead's middle, mm; never shown where it is 0.5 or more.
    pub off: f64,
}

/// What a lead comes nearest to.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearby {
    /// Id of it.
    pub against: String,
    /// What the installer calls it.
    pub name: String,
    /// From surface to surface, mm.
    pub gap: f64,
    /// Over the room it asks for, mm.
    pub spare: f64,
    /// Where on the lead's middle, mm.
    pub at: DVec3,
}

/// The leads of one exit where they pass it.
#[derive(Clone, Debug, PartialEq)]
pub struct LoomAt {
    /// Id of the exit.
    pub exit: String,
    /// Ids of the leads, in the order of the job.
    pub leads: Vec<String>,
    /// Middle of the smallest circle around them, in the plane of the exit, mm.
    pub centre: DVec3,
    /// The way they pass, a unit vector.
    pub way: DVec3,
    /// Diameter of that circle, mm: as they lie there, without tape.
    pub diameter: f64,
}

/// Where a module sits.
#[derive(Clone, Debug, PartialEq)]
pub struct ModuleAt {
    /// Id of the module.
    pub module: String,
    /// What the installer calls it.
    pub name: String,
    /// Where.
    pub place: ModuleSeat,
    /// What holds it there, where something firm lies at one of its faces.
    pub mounted_on: Option<MountedOn>,
}

/// What a module in the cavity is fixed to.
#[derive(Clone, Debug, PartialEq)]
pub struct MountedOn {
    /// The way out of the face it is fixed by, a unit vector.
    pub face: DVec3,
    /// Id of what it is fixed to, `wall` for a wall.
    pub against: String,
    /// What the installer calls it.
    pub name: String,
    /// Share of that face with something firm at its back.
    pub backed: f64,
}

/// A place of a module.
#[derive(Clone, Debug, PartialEq)]
pub enum ModuleSeat {
    /// In the cavity: its centre and its size (across, depth, up), mm.
    Cavity {
        /// Centre, mm.
        centre: DVec3,
        /// Size as it lies, mm.
        size: DVec3,
    },
    /// In this space outside the cavity.
    Space(String),
}

/// A lead or a module for which nothing was found.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOver {
    /// Id of the lead or module.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Why, in words.
    pub why: String,
    /// The nearest that a module came to a place.
    pub closest_miss: Option<Miss>,
    /// Where a way for it came nearest to being one, if any came near.
    pub miss: Option<LeadMiss>,
}

/// The nearest that a module came to a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// The place, in words: a space, a pocket, or what it would be fixed to;
    /// empty when there is no such place at all.
    pub place: String,
    /// The middle of it there, mm; `None` outside the cavity.
    pub at: Option<DVec3>,
    /// What it is short of room against, in words; empty where that is the place itself.
    pub against: String,
    /// By how much, mm.
    pub short: f64,
}

/// The least that was lacking of a way.
#[derive(Clone, Debug, PartialEq)]
pub struct LeadMiss {
    /// Room missing at the worst place, mm.
    pub short: f64,
    /// Id of what it is too near to there.
    pub against: String,
    /// What the installer calls it.
    pub name: String,
    /// Where, mm.
    pub at: DVec3,
}

impl Routed {
    /// The answer to a job with the routed layer's verdict: what it says of the
    /// verdict, the proud and what stops it takes the place of the instant
    /// layer's; everything else stays.
    ///
    /// * `layout`: the job's nominal solids
    /// * `ends`: the same question at the worst and at the best end of every measure
    pub fn over(&self, job: &Job, layout: &Layout, fit: &Fit, ends: &[Routed; 2]) -> Fit {
        let prouds = ends
            .each_ref()
            .map(|end| end.proud.unwrap_or(f64::INFINITY));
        let own = self.proud.unwrap_or(f64::INFINITY);
        let range = [prouds[1].min(own), prouds[0].max(own)];
        let turns = ends.iter().any(|end| end.verdict != self.verdict);
        let sure = match (fit.unmeasured.is_empty(), turns) {
            (true, false) => Sure::Yes,
            (true, true) => Sure::No,
            (false, _) => Sure::Doubtful,
        };
        let corners = self.proud.map(|proud| [proud; 4]);
        let mut remarks = fit.remarks.clone();
        let mut not_ready = fit.not_ready.clone();
        for (required, said) in self.half_way_short(job) {
            let list = if required {
                &mut not_ready
            } else {
                &mut remarks
            };
            list.push(said);
        }
        Fit {
            verdict: self.verdict,
            sure,
            proof: self.proof,
            proud: self.proud,
            proud_corners: corners,
            proud_range: range,
            proud_lower_bound: self.lower_bound,
            look_proud: corners.and_then(|corners| look_proud(job, layout, corners)),
            stopped_by: self.stopped_by.clone(),
            not_ready,
            remarks,
            ..fit.clone()
        }
    }

    /// Slack that has no room with the unit part of the way in, in words, and
    /// whether the job asks that this lead can be plugged in with the unit held out.
    pub fn half_way_short(&self, job: &Job) -> Vec<(bool, String)> {
        let mut said = Vec::new();
        for held in &self.half_way {
            for short in &held.short {
                let lead = job.leads.iter().find(|lead| lead.id == short.lead);
                let name = lead.map_or(short.lead.as_str(), |lead| &lead.name);
                let lacks = match &short.pocket {
                    Some(id) => {
                        let pocket = job.cavity.pockets.iter().find(|it| it.id == *id);
                        let place = match pocket {
                            Some(pocket) => format!("in the {}", pocket.name),
                            None => id.clone(),
                        };
                        format!("{:.0} cm3 too little {place}", short.short_cm3)
                    }
                    None => "its folds go in nowhere".to_owned(),
                };
                said.push((
                    lead.is_some_and(|lead| lead.service_reach.required),
                    format!(
                        "With the unit held {:.0} mm out the slack of the {name} has no room: {lacks}.",
                        held.out
                    ),
                ));
            }
        }
        said
    }
}
