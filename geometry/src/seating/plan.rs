//! Which leads run in the cavity, where they start and where they end.

use glam::DVec3;

use super::ends::{End, Ends};
use crate::job::{Job, Lead, RuleSet};
use crate::layout::{CableStart, Layout};
use crate::measure::{Harm, Reading};
use crate::packing::{Effort, pack};
use crate::routing::Bulge;

/// One lead that runs in the cavity.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Its number in the job.
    pub lead: usize,
    /// Diameter, all its cables together, mm.
    pub od: f64,
    /// Tightest turn at its middle, mm.
    pub radius: f64,
    /// The same by the other set of rules, mm.
    pub other_radius: f64,
    /// Where its cable starts, the unit at its seat.
    pub start: CableStart,
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

/// Diameter of all cables of a lead laid together, mm.
pub fn lead_od(lead: &Lead, reading: Reading) -> f64 {
    let one = lead.cable.od.at(reading, Harm::Larger);
    if lead.cables == 1 {
        return one;
    }
    pack(&vec![one; lead.cables as usize], Effort::Quick).diameter
}

/// Every lead of the unit that has somewhere to go.
pub fn plans(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    ends: &Ends<'_>,
) -> (Vec<Plan>, Vec<Unplanned>) {
    let mut plans = Vec::new();
    let mut unplanned = Vec::new();
    for (number, lead) in job.leads.iter().enumerate() {
        let Some(start) = layout.cables.iter().find(|start| start.lead == lead.id) else {
            // It starts at a module: module leads are laid on the bench.
            continue;
        };
        match ends.end_of(number) {
            Ok(end) => plans.push(plan(job, reading, number, lead, start, end)),
            Err(why) => unplanned.push(Unplanned { lead: number, why }),
        }
    }
    (plans, unplanned)
}

fn plan(
    job: &Job,
    reading: Reading,
    number: usize,
    lead: &Lead,
    start: &CableStart,
    end: End,
) -> Plan {
    let one = lead.cable.od.at(reading, Harm::Larger);
    let other = match job.rules {
        RuleSet::Published => RuleSet::Shop,
        RuleSet::Shop => RuleSet::Published,
    };
    Plan {
        lead: number,
        od: lead_od(lead, reading),
        radius: lead.cable.rule(job.rules).centreline(one),
        other_radius: lead.cable.rule(other).centreline(one),
        start: start.clone(),
        end,
        lumps: lumps(lead, start),
    }
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
        self.start.at - proud * DVec3::Y
    }
}
