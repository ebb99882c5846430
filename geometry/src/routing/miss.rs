//! How near a lead that has no way came to one.

use glam::DVec3;

use super::crowd::Crowd;
use super::draw::Draw;
use super::one::TRIES;
use super::site::{Plan, Site, Tools};
use super::{Effort, Surroundings, Task};
use crate::distance::signed_distance;
use crate::path::{Path, path_to_solid};
use crate::solids::Solid;

/// Where most was lacking of the best way that is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missed {
    /// Room missing, mm.
    pub by: f64,
    /// Where, mm.
    pub at: DVec3,
    /// The solid it is too near to, by its number, fixed ones first.
    pub solid: Option<usize>,
    /// Or the lead.
    pub lead: Option<usize>,
}

/// The least that is lacking of any way drawn for a lead, the others laid as
/// given. Every lattice proposes one, room lacking or not, drawn as tight as
/// it comes. `None` when none proposes any. Points to pass are left aside.
pub fn nearest_miss(
    around: &Surroundings,
    tasks: &[Task],
    laid: &[Option<Path>],
    lead: usize,
    effort: &Effort,
) -> Option<Missed> {
    let mut site = Site::new(around, tasks, effort.nodes, Tools::default());
    let mut crowd = Crowd::new(&site.room, around, tasks);
    for (other, path) in laid.iter().enumerate() {
        if let Some(path) = path
            && other != lead
        {
            crowd.lay(other, &tasks[other], path);
        }
    }
    let (task, mut plan) = (&tasks[lead], Plan::default());
    let mut best: Option<(f64, DVec3)> = None;
    for how in TRIES {
        let Ok(corners) = site.search(&crowd, lead, task, &mut plan, how, None) else {
            continue;
        };
        let strain = site.strain(&crowd, lead, task, 0);
        let Some(mut draw) = Draw::new(strain, corners) else {
            continue;
        };
        draw.tighten();
        let (by, at) = draw.worst();
        if by > 0.0 && best.is_none_or(|(least, _)| by < least) {
            best = Some((by, at));
        }
    }
    let (by, at) = best?;
    let ball = Solid::capsule(at, at, 0.0);
    let solids = around.solids().enumerate();
    let solids = solids.filter(|(_, kept)| kept.not_for != Some(lead));
    let solid = solids
        .map(|(solid, kept)| (signed_distance(&ball, &kept.solid) - kept.clear, solid))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let leads = laid.iter().enumerate().filter(|(other, _)| *other != lead);
    let other = leads
        .filter_map(|(other, path)| {
            let near = path_to_solid(path.as_ref()?, &ball)?;
            Some((near.distance - 0.5 * tasks[other].od, other))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let nearer = match (solid, other) {
        (Some((room, _)), Some((lead_room, _))) => room <= lead_room,
        (solid, _) => solid.is_some(),
    };
    Some(Missed {
        by,
        at,
        solid: solid.map(|(_, solid)| solid).filter(|_| nearer),
        lead: other.map(|(_, lead)| lead).filter(|_| !nearer),
    })
}
