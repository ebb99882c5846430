//! Which leads run in the cavity, where they start and where they end.

use glam::DVec3;

use super::ends::{End, Ends, Start};
use crate::job::{Job, Lead, RuleSet};
use crate::layout::CableStart;
use crate::measure::{Harm, Reading};
use crate::routing::Bulge;

/// One cable that runs in the cavity: a lead has one or several.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Its number in the job.
    pub lead: usize,
    /// Which of its cables, from 0.
    pub cable: u32,
    /// Diameter, mm.
    pub od: f64,
    /// Tightest turn at its middle, mm.
    pub radius: f64,
    /// The same by the other set of rules, mm.
    pub other_radius: f64,
    /// The very first point: on its module's face, or where its cable starts, mm.
    pub first: DVec3,
    /// Where its way through the cavity starts, the unit at its seat.
    pub start: CableStart,
    /// Whether its start moves with the unit.
    pub slides: bool,
    /// Where it ends.
    pub end: End,
    /// Its lumps.
    pub lumps: Vec<Bulge>,
}

/// A lead that does not run in the cavity, and why, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Unplanned {
    /// Its number in the job.
    pub lead: usize,
    /// Why there is no way to look for.
    pub why: String,
}

/// Every cable that has somewhere to go.
pub fn plans(job: &Job, reading: Reading, ends: &Ends<'_>) -> (Vec<Plan>, Vec<Unplanned>) {
    let mut plans = Vec::new();
    let mut unplanned = Vec::new();
    for (number, lead) in job.leads.iter().enumerate() {
        for cable in 0..lead.cables {
            // What starts in a space outside does not run in the cavity.
            let Some(start) = ends.start_of(number, cable) else {
                break;
            };
            match ends.end_of(number, cable) {
                Ok(end) => plans.push(plan(job, reading, number, cable, start, end)),
                Err(why) => {
                    unplanned.push(Unplanned { lead: number, why });
                    break;
                }
            }
        }
    }
    (plans, unplanned)
}

fn plan(job: &Job, reading: Reading, number: usize, cable: u32, start: Start, end: End) -> Plan {
    let lead = &job.leads[number];
    let one = lead.cable.od.at(reading, Harm::Larger);
    let other = match job.rules {
        RuleSet::Published => RuleSet::Shop,
        RuleSet::Shop => RuleSet::Published,
    };
    Plan {
        lead: number,
        cable,
        od: one,
        radius: lead.cable.rule(job.rules).centreline(one),
        other_radius: lead.cable.rule(other).centreline(one),
        lumps: lumps(lead, &start.cable),
        first: start.first,
        slides: start.slides,
        start: start.cable,
        end,
    }
}

/// Where one of several cables leaves the plug, from its middle, mm.
pub fn abreast(start: &CableStart, lead: &Lead, cable: u32) -> DVec3 {
    let share = (f64::from(cable) + 0.5) / f64::from(lead.cables) - 0.5;
    share * start.abreast
}

/// A lump is as thick as its diagonal: it may lie any way round.
fn lumps(lead: &Lead, start: &CableStart) -> Vec<Bulge> {
    lead.lumps
        .iter()
        .map(|lump| Bulge {
            at: lump.at - start.stiff,
            length: lump.size.x,
            diameter: lump.size.y.hypot(lump.size.z),
        })
        .filter(|bulge| bulge.at + 0.5 * bulge.length > 0.0)
        .collect()
}

impl Plan {
    /// Where its cable starts with the unit at `proud` mm.
    pub fn from(&self, proud: f64) -> DVec3 {
        if self.slides {
            self.start.at - proud * DVec3::Y
        } else {
            self.start.at
        }
    }
}
