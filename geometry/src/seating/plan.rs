//! Which leads run in the cavity, where they start and where they end.

use glam::DVec3;

use super::ends::{End, Ends, Start};
use super::module_ports::ModulePort;
use super::settle::Side;
use crate::job::{Job, Lead, LeadEnd, LeadStart, RuleSet};
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
    /// Length from there to its end, where that is known and some way is short enough, mm.
    pub longest: Option<f64>,
    /// Its lumps.
    pub lumps: Vec<Bulge>,
    /// The modules it starts and ends at, where it does.
    pub modules: [Option<String>; 2],
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
    let starts_at = match &lead.from {
        LeadStart::Module(id) => Some(id.clone()),
        LeadStart::Socket(_) => None,
    };
    let ends_at = match &lead.end {
        LeadEnd::Module(id) if end.exit.is_none() => Some(id.clone()),
        _ => None,
    };
    let longest = lead.length.map(|length| {
        let last = end.last.distance(end.at);
        length.value() - start.cable.stiff - last - end.beyond - lead.slack.joint_waste
    });
    Plan {
        lead: number,
        longest,
        cable,
        od: one,
        radius: lead.cable.rule(job.rules).centreline(one),
        other_radius: lead.cable.rule(other).centreline(one),
        lumps: lumps(lead, &start.cable),
        first: start.first,
        slides: start.slides,
        start: start.cable,
        end,
        modules: [starts_at, ends_at],
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
    /// The module at one of its ends, by its id.
    pub fn module(&self, side: Side) -> Option<&str> {
        self.modules[side as usize].as_deref()
    }

    /// How far it keeps from that module before it turns to it, mm.
    pub fn stand(&self, side: Side) -> f64 {
        match side {
            Side::Start => self.first.distance(self.start.at),
            Side::End => self.end.last.distance(self.end.at),
        }
    }

    /// Puts the end at a module elsewhere on it.
    pub fn put(&mut self, side: Side, port: ModulePort) {
        let at = port.face + self.stand(side) * port.out;
        match side {
            Side::Start => {
                self.first = port.face;
                self.start.at = at;
                self.start.way = port.out;
            }
            Side::End => {
                self.end.last = port.face;
                self.end.at = at;
                self.end.way = -port.out;
            }
        }
    }

    /// Where its cable starts with the unit at `proud` mm.
    pub fn from(&self, proud: f64) -> DVec3 {
        if self.slides {
            self.start.at - proud * DVec3::Y
        } else {
            self.start.at
        }
    }
}
