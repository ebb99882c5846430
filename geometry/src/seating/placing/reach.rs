//! Whether leads can be plugged into a module where it lies.

use glam::DVec3;

use super::room::{Room, Sort, Still};
use super::{WAYS, axis_of};
use crate::distance::signed_distance;
use crate::job::{Job, LeadEnd, LeadStart, Module};
use crate::layout::Layout;
use crate::measure::{Harm, Reading};
use crate::seating::module_ports::other_end;
use crate::solids::{Bounds, Solid};

/// Places along each edge of a face where a cable may leave it.
const ACROSS: u32 = 3;

/// Share of a turn that must have room straight ahead: further on the cable
/// has turned aside.
const AHEAD: f64 = 0.5;

/// A lead that starts or ends at a module.
pub struct Cable {
    /// Its number in the job.
    pub number: usize,
    /// Diameter, mm.
    pub od: f64,
    /// Straight on from the face, mm.
    pub straight: f64,
    /// Tightest turn at its middle, mm.
    pub radius: f64,
    /// Where its other end is, mm, if that is known.
    pub other: Option<DVec3>,
    /// Length it may take from there to the module, mm, if that is known.
    pub longest: Option<f64>,
}

/// The leads at a module.
pub fn cables(job: &Job, layout: &Layout, reading: Reading, module: &Module) -> Vec<Cable> {
    let mut cables = Vec::new();
    for (number, lead) in job.leads.iter().enumerate() {
        let starts = lead.from == LeadStart::Module(module.id.clone());
        let ends = lead.end == LeadEnd::Module(module.id.clone());
        if starts == ends {
            continue;
        }
        let od = lead.cable.od.at(reading, Harm::Larger);
        let unknown = DVec3::INFINITY;
        let other = other_end(job, layout, number, starts, unknown);
        let start = layout.cables.iter().find(|start| start.lead == lead.id);
        let stiff = start.filter(|_| ends).map_or(0.0, |start| start.stiff);
        let own = (lead.length).map(|length| {
            length.value() - stiff - lead.slack.joint_waste - lead.beyond.unwrap_or(0.0)
        });
        let given = module.lead_length.filter(|_| lead.length.is_none());
        cables.push(Cable {
            number,
            od,
            straight: lead.cable.straight_run,
            radius: lead.cable.rule(job.rules).centreline(od),
            other: (other != unknown).then_some(other),
            longest: own.or(given),
        });
    }
    cables
}

impl Cable {
    /// What it is too short by at the very least for a module there, mm:
    /// drawn straight; negative when it reaches.
    pub fn short(&self, bounds: &Bounds) -> Option<f64> {
        let other = self.other?;
        let nearest = other.clamp(bounds.min, bounds.max);
        Some(other.distance(nearest) - self.longest?)
    }

    /// Whether some face but the one it is fixed by has room before it for the
    /// cable to leave square to it and to begin its turn.
    ///
    /// * `clear`: room that leads keep from the module, mm
    pub fn leaves(&self, room: &Room, bounds: &Bounds, mount: DVec3, clear: f64) -> bool {
        let ahead = self.straight.max(0.5 * self.od + clear) + AHEAD * self.radius;
        let near: Vec<&Still> = (room.stills.iter())
            .filter(|still| still.sort != Sort::Open)
            .filter(|still| still.bounds.gap(bounds) <= ahead + 0.5 * self.od + still.clear)
            .collect();
        let free = |from: DVec3, way: DVec3| {
            let run = Solid::capsule(from + 0.5 * self.od * way, from + ahead * way, self.od);
            near.iter()
                .all(|still| signed_distance(&run, &still.solid) >= keeps(still))
        };
        (WAYS.iter().filter(|way| **way != mount))
            .any(|way| mouths(bounds, *way, self.od).any(|from| free(from, *way)))
    }
}

/// Room a lead keeps from something, mm: none from the unit and its plugs.
fn keeps(still: &Still) -> f64 {
    match still.sort {
        Sort::Unit | Sort::Plug => 0.0,
        _ => still.clear,
    }
}

/// Places on a face for a cable that lies on it whole.
fn mouths(bounds: &Bounds, way: DVec3, od: f64) -> impl Iterator<Item = DVec3> {
    let axis = axis_of(way);
    let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
    let middle = bounds.middle();
    let half = 0.5 * bounds.size();
    let inside = (half - 0.5 * od).max(DVec3::ZERO);
    let share = |step: u32| 2.0 * f64::from(step) / f64::from(ACROSS - 1) - 1.0;
    (0..ACROSS * ACROSS).map(move |step| {
        let mut at = middle + half * way;
        at[u] += share(step % ACROSS) * inside[u];
        at[v] += share(step / ACROSS) * inside[v];
        at
    })
}
