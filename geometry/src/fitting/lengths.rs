//! Whether leads are long enough, as far as can be said before any is laid.
//!
//! The length asked for is that of the short way, nothing in it: no way that
//! is laid can do with less than the straight lines, and most need more than
//! the short one.

use glam::DVec3;

use crate::bends;
use crate::distance::signed_distance;
use crate::fit::LeadLength;
use crate::job::{Job, Lead, LeadEnd};
use crate::layout::{CableStart, FixedClass, Layout};
use crate::slack::{CableEnd, ReachAsked, Weight, service_reach};
use crate::solids::Solid;

/// Lengths nearer than this are the same, mm.
const SAME: f64 = 0.05;

/// What can be said of every lead whose length is known.
pub fn lengths(job: &Job, layout: &Layout) -> Vec<LeadLength> {
    layout
        .cables
        .iter()
        .filter_map(|start| {
            let lead = job.leads.iter().find(|lead| lead.id == start.lead)?;
            length_of(job, layout, lead, start)
        })
        .collect()
}

fn length_of(job: &Job, layout: &Layout, lead: &Lead, start: &CableStart) -> Option<LeadLength> {
    let length = lead.length?.value();
    let radius = lead.cable.rule(job.rules).centreline(lead.cable.od.value());
    let from = start.at + lead.cable.straight_run * start.way;
    let stiff = start.stiff + lead.cable.straight_run;
    let waste = lead.slack.joint_waste;
    let end = end_of(job, layout, lead, start)?;
    let beyond = waste + end.beyond;
    let at_least = stiff + beyond + from.distance(end.at);
    let taut = end
        .way
        .and_then(|way| bends::direct(from, start.way, end.at, way, radius))
        .map(|way| stiff + beyond + way.length());
    let reach = end.way.map(|way| {
        let asked = ReachAsked {
            plug: CableEnd {
                at: from,
                way: start.way,
            },
            stiff,
            end: CableEnd {
                at: end.at + end.pulls_out,
                way,
            },
            beyond,
            length,
            radius,
        };
        service_reach(&asked, lead.service_reach)
    });
    Some(LeadLength {
        lead: lead.id.clone(),
        name: lead.name.clone(),
        length,
        at_least,
        taut,
        reach,
    })
}

/// Where a lead goes when nothing is in its way.
struct Goal {
    at: DVec3,
    way: Option<DVec3>,
    /// How far the end itself comes out to meet it, mm.
    pulls_out: DVec3,
    /// Length wanted on from there, mm.
    beyond: f64,
}

fn end_of(job: &Job, layout: &Layout, lead: &Lead, start: &CableStart) -> Option<Goal> {
    let still = |at, way| Goal {
        at,
        way,
        pulls_out: DVec3::ZERO,
        beyond: 0.0,
    };
    match &lead.end {
        LeadEnd::Exit(id) => {
            let exit = job.cavity.exits.iter().find(|exit| exit.id == *id)?;
            Some(Goal {
                beyond: lead.beyond.unwrap_or(0.0),
                ..still(exit.centre, Some(exit.direction))
            })
        }
        LeadEnd::Module(id) => {
            let mut fixed = layout.fixed.iter();
            let module =
                fixed.find(|fixed| fixed.class == FixedClass::Module && fixed.id == *id)?;
            let dot = Solid::capsule(start.at, start.at, 0.0);
            let gap = signed_distance(&dot, &module.solid).max(0.0);
            let toward = (module.solid.centre() - start.at).normalize_or_zero();
            Some(still(start.at + gap * toward, None))
        }
        LeadEnd::FactoryPlug(id) => {
            let mut plugs = job.cavity.factory_plugs.iter();
            let plug = plugs.find(|plug| plug.id == *id)?;
            Some(Goal {
                pulls_out: plug.pulls_out * plug.direction,
                ..still(plug.at, Some(-plug.direction))
            })
        }
    }
}

/// What keeps the job from being ready, in words: leads that cannot be as short
/// as they are, and those that must reach with the unit held out and do not.
pub fn too_short(lengths: &[LeadLength]) -> Vec<String> {
    let own_way = lengths
        .iter()
        .filter(|it| it.surely_short() > SAME)
        .map(|it| {
            format!(
                "The {} is {:.0} mm long and needs at least {:.0} mm.",
                it.name, it.length, it.at_least
            )
        });
    own_way.chain(held_out(lengths, Weight::Error)).collect()
}

/// Leads too short to be plugged in with the unit held out, in words: one
/// sentence for all of them that are held as far.
pub fn held_out(lengths: &[LeadLength], weight: Weight) -> Vec<String> {
    let mut said: Vec<(f64, Vec<String>)> = Vec::new();
    for it in lengths.iter().filter(|it| it.surely_short() <= SAME) {
        let Some(reach) = &it.reach else { continue };
        if reach.weight != weight || reach.short_by <= SAME {
            continue;
        }
        let words = format!("the {} by {:.0} mm", it.name, reach.short_by);
        match said.iter_mut().find(|(out, _)| *out == reach.pull_out) {
            Some((_, leads)) => leads.push(words),
            None => said.push((reach.pull_out, vec![words])),
        }
    }
    said.into_iter()
        .map(|(out, leads)| {
            format!(
                "Too short to plug in with the unit held {out:.0} mm out: {}.",
                leads.join(", ")
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::ServiceReach;
    use crate::slack::Reach;

    fn lead(length: f64, at_least: f64, required: bool) -> LeadLength {
        let asked = ReachAsked {
            plug: CableEnd {
                at: DVec3::ZERO,
                way: DVec3::Y,
            },
            stiff: 20.0,
            end: CableEnd {
                at: DVec3::new(0.0, at_least - 20.0, 0.0),
                way: DVec3::Y,
            },
            beyond: 0.0,
            length,
            radius: 10.0,
        };
        let service = ServiceReach {
            pull_out: 120.0,
            required,
        };
        let reach: Reach = service_reach(&asked, service);
        LeadLength {
            lead: "L1".into(),
            name: "main plug".into(),
            length,
            at_least,
            taut: Some(at_least),
            reach: Some(reach),
        }
    }

    #[test]
    fn too_short_for_its_own_way_keeps_the_job_from_being_ready() {
        let said = too_short(&[lead(150.0, 200.0, false)]);
        assert_eq!(
            said,
            ["The main plug is 150 mm long and needs at least 200 mm."]
        );
    }

    #[test]
    fn reach_with_the_unit_held_out_is_a_remark_unless_required() {
        let wished = [lead(250.0, 200.0, false)];
        assert!(too_short(&wished).is_empty());
        let remark = "Too short to plug in with the unit held 120 mm out: the main plug by 70 mm.";
        assert_eq!(held_out(&wished, Weight::Warning), [remark]);
        assert_eq!(too_short(&[lead(250.0, 200.0, true)]), [remark]);
        assert!(held_out(&[lead(330.0, 200.0, false)], Weight::Warning).is_empty());
    }
}
