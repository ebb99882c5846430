//! Where the slack of laid leads goes.

use glam::DVec3;

use super::arrangements::Arrangement;
use super::ends::Sits;
use super::plan::Plan;
use super::scene::Scene;
use crate::bends::cable_volume;
use crate::frame::DEPTH;
use crate::job::{Job, Pocket, ServiceReach, SlackGoes};
use crate::layout::Layout;
use crate::measure::Reading;
use crate::routed::Route;
use crate::slack::{
    CableEnd, FILL_LIMIT, HalfWay, PocketRoom, ReachAsked, Stowage, ToStow, half_way,
    service_reach, stow,
};
use crate::solids::{Bounds, Solid};

/// The slack that must find room in the cavity, folded into its pockets.
pub fn stowed(job: &Job, arrangement: &Arrangement, routes: &[Route]) -> Stowage {
    let wanting: Vec<ToStow> = routes
        .iter()
        .filter(|route| route.cable == 0)
        .filter_map(|route| {
            let slack = route.slack.as_ref()?;
            let lead = job.leads.iter().find(|lead| lead.id == slack.lead)?;
            Some(ToStow {
                lead: slack.lead.clone(),
                od: lead.cable.od.value(),
                cables: lead.cables,
                fold_radius: lead.cable.fold_radius,
                length: slack.to_stow(),
            })
        })
        .collect();
    stow(&wanting, &rooms(job, arrangement), FILL_LIMIT)
}

/// The same with the unit half its depth out, and at the pull-out distance;
/// nothing where no lead has slack to stow.
pub fn stowed_half_way(
    job: &Job,
    arrangement: &Arrangement,
    scene: &Scene<'_>,
    routes: &[Route],
    proud: f64,
) -> Vec<HalfWay> {
    let layout = scene.layout();
    let pulls = scene.plans.iter().filter(|plan| plan.slides);
    let pull_out = pulls.map(|plan| job.leads[plan.lead].service_reach.pull_out);
    let half = 0.5 * (layout.chassis_rear - layout.chassis_front);
    let mut outs = vec![half, pull_out.fold(half, f64::max)];
    outs.dedup();
    outs.retain(|out| *out > proud);
    let pockets = rooms(job, arrangement);
    outs.into_iter()
        .map(|out| {
            let wanting: Vec<ToStow> = scene
                .plans
                .iter()
                .filter(|plan| plan.cable == 0)
                .filter_map(|plan| wanting_at(job, plan, routes, out))
                .collect();
            let mut rooms = pockets.clone();
            rooms.push(behind(layout, &scene.plans, out));
            half_way(out, &wanting, &rooms, FILL_LIMIT)
        })
        .filter(|it| !it.short.is_empty() || it.stowage.fills.iter().any(|fill| fill.fill > 0.0))
        .collect()
}

/// Slack of a lead with the unit held out: its length less the short way that
/// keeps its rule, nothing in it. A lead that stays has what it has.
fn wanting_at(job: &Job, plan: &Plan, routes: &[Route], out: f64) -> Option<ToStow> {
    let lead = &job.leads[plan.lead];
    let length = lead.length?.value();
    if lead.slack.goes != SlackGoes::Stow {
        return None;
    }
    let left = if plan.slides {
        let asked = ReachAsked {
            plug: CableEnd {
                at: plan.start.at + lead.cable.straight_run * plan.start.way,
                way: plan.start.way,
            },
            stiff: plan.start.stiff + lead.cable.straight_run,
            end: CableEnd {
                at: plan.end.at,
                way: plan.end.way,
            },
            beyond: plan.end.last.distance(plan.end.at) + plan.end.beyond + lead.slack.joint_waste,
            length,
            radius: plan.radius,
        };
        let held = ServiceReach {
            pull_out: out,
            required: false,
        };
        let reach = service_reach(&asked, held);
        length - reach.needed.unwrap_or(reach.at_least)
    } else {
        let route = routes.iter().find(|route| route.lead == lead.id)?;
        route.slack.as_ref()?.to_stow()
    };
    Some(ToStow {
        lead: lead.id.clone(),
        od: lead.cable.od.value(),
        cables: lead.cables,
        fold_radius: lead.cable.fold_radius,
        length: left.max(0.0),
    })
}

/// Id of the room behind the unit among the pockets.
pub const BEHIND: &str = "behind the unit";

/// The room that the chassis has yet to take up, less the plugs behind it and
/// the cables through it.
fn behind(layout: &Layout, plans: &[Plan], out: f64) -> PocketRoom {
    let [low, high] = layout.chassis_face;
    let rear = layout.chassis_rear;
    let block = Bounds {
        min: DVec3::new(low.x, rear - out, low.y),
        max: DVec3::new(high.x, rear, high.y),
    };
    let plugs = layout.sliding.iter().filter(|piece| piece.is_plug());
    let plugs: f64 = plugs
        .map(|piece| {
            let bounds = piece.solid.bounds();
            let at = Bounds {
                min: bounds.min - out * DEPTH,
                max: bounds.max - out * DEPTH,
            };
            common(&at, &block)
        })
        .sum();
    let cables: f64 = plans
        .iter()
        .filter(|plan| plan.slides)
        .map(|plan| cable_volume(plan.od, (out - (plan.start.at.y - rear)).clamp(0.0, out)))
        .sum();
    PocketRoom {
        pocket: BEHIND.to_owned(),
        size: block.size().to_array(),
        taken: plugs + cables,
    }
}

/// Every pocket with what modules take of it.
fn rooms(job: &Job, arrangement: &Arrangement) -> Vec<PocketRoom> {
    let pockets = job.cavity.pockets.iter();
    pockets
        .map(|pocket| PocketRoom {
            taken: taken(pocket, arrangement),
            ..PocketRoom::of(pocket, Reading::Nominal)
        })
        .collect()
}

/// Volume of what two boxes have in common, mm3.
fn common(a: &Bounds, b: &Bounds) -> f64 {
    let size = a.max.min(b.max) - a.min.max(b.min);
    size.max(DVec3::ZERO).element_product()
}

/// Volume of a pocket that modules take, mm3.
fn taken(pocket: &Pocket, arrangement: &Arrangement) -> f64 {
    let room = Bounds {
        min: DVec3::from_array(pocket.faces.map(|face| face[0].value())),
        max: DVec3::from_array(pocket.faces.map(|face| face[1].value())),
    };
    let inside = |block: &Solid| common(&block.bounds(), &room);
    let blocks = arrangement.values().filter_map(|sits| match sits {
        Sits::Cavity(block) => Some(block),
        Sits::Space(_) => None,
    });
    blocks.map(inside).sum()
}
