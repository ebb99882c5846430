//! What a lead's length is needed for, and what is left.

use crate::job::{Job, Lead, SlackGoes};
use crate::looms::leaves_by;

/// What a lead's length is needed for, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ways {
    /// From its plug's mating face to the exit, module or factory plug.
    pub route: f64,
    /// On from the exit to its end.
    pub beyond: f64,
    /// Lost in a joint.
    pub waste: f64,
}

/// What is left of a lead's length, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct LeadSlack {
    /// The lead (its id).
    pub lead: String,
    /// Its length from the plug's mating face.
    pub length: f64,
    /// ± of that length.
    pub plus_minus: f64,
    /// What it is needed for.
    pub ways: Ways,
    /// All of that together.
    pub needed: f64,
    /// What is left; 0 when it is short.
    pub slack: f64,
    /// What it lacks for its own way: with more than 0 the job cannot be done
    /// with this lead.
    pub short_by: f64,
    /// Where the slack goes.
    pub goes: SlackGoes,
}

impl LeadSlack {
    /// What is left of a length: length - route - what lies beyond - waste.
    pub fn of(lead: &Lead, length: f64, plus_minus: f64, ways: Ways) -> LeadSlack {
        let needed = ways.route + ways.beyond + ways.waste;
        let left = length - needed;
        LeadSlack {
            lead: lead.id.clone(),
            length,
            plus_minus,
            ways,
            needed,
            slack: left.max(0.0),
            short_by: (-left).max(0.0),
            goes: lead.slack.goes,
        }
    }

    /// Whether it reaches its end at all.
    pub fn reaches(&self) -> bool {
        self.short_by <= 0.0
    }

    /// Whether a length at the wrong end of its band would turn the answer round.
    pub fn doubtful(&self) -> bool {
        self.slack.max(self.short_by) < self.plus_minus
    }

    /// Slack that must find room in the cavity, mm: none of a lead that is cut
    /// to length or whose slack lies beyond the exit.
    pub fn to_stow(&self) -> f64 {
        match self.goes {
            SlackGoes::Stow => self.slack,
            SlackGoes::Beyond | SlackGoes::Cut => 0.0,
        }
    }
}

/// The slack of a lead of a job. `None` when there is no such lead or nobody
/// knows how long it is.
///
/// * `route_length`: from its plug's mating face to where it ends in the cavity
///   or to its exit, mm
pub fn lead_slack(job: &Job, lead_id: &str, route_length: f64) -> Option<LeadSlack> {
    let lead = job.leads.iter().find(|lead| lead.id == lead_id)?;
    let length = lead.length?;
    let leaves = !leaves_by(job, lead).is_empty();
    let ways = Ways {
        route: route_length,
        beyond: lead.beyond.filter(|_| leaves).unwrap_or(0.0),
        waste: lead.slack.joint_waste,
    };
    Some(LeadSlack::of(
        lead,
        length.value(),
        length.plus_minus(),
        ways,
    ))
}
