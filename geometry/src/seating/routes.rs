//! From ways found to routes as they are read: whole, measured, with what each
//! comes nearest to.

use super::arrangements::Arrangement;
use super::attempt::Attempt;
use super::ends::Sits;
use super::pins::passed;
use super::placing::mounted_on;
use super::plan::Plan;
use super::scene::{Named, Scene, Stand};
use crate::job::Job;
use crate::layout::Layout;
use crate::path::{Path, Piece, path_to_path, path_to_solid};
use crate::routed::{ModuleAt, ModuleSeat, Nearby, Route};
use crate::slack::lead_slack;

/// Every way of an attempt as a route.
pub fn routes(job: &Job, scene: &Scene<'_>, attempt: &Attempt) -> Vec<Route> {
    let stand = scene.at(attempt.proud);
    attempt
        .ways
        .iter()
        .enumerate()
        .filter_map(|(number, way)| {
            let way = way.as_ref()?;
            Some(route(job, scene, &stand, attempt, number, way))
        })
        .collect()
}

fn route(
    job: &Job,
    scene: &Scene<'_>,
    stand: &Stand<'_>,
    attempt: &Attempt,
    number: usize,
    way: &Path,
) -> Route {
    let plan = &scene.plans[number];
    let lead = &job.leads[plan.lead];
    let last = plan.end.last.distance(plan.end.at);
    Route {
        lead: lead.id.clone(),
        name: lead.name.clone(),
        exit: plan.end.exit.clone(),
        cable: plan.cable,
        od: plan.od,
        path: whole(plan, way),
        length: plan.first.distance(plan.start.at) + way.length() + last,
        least_radius: way.least_radius(),
        rule_radius: plan.radius,
        other_rule_radius: plan.other_radius,
        through: passed(way, &stand.tasks[number].through),
        nearest: nearest(scene, stand, attempt, number, way),
        slack: lead_slack(job, &lead.id, plan.start.stiff + way.length() + last),
    }
}

/// The way and the run through the exit or onto the module.
fn whole(plan: &Plan, way: &Path) -> Path {
    let mut path = way.clone();
    if plan.first.distance(plan.start.at) > 1e-9 {
        let line = Piece::Line {
            from: plan.first,
            to: plan.start.at,
        };
        path.pieces.insert(0, line);
    }
    let out = plan.end.last + plan.end.run_beyond * plan.end.way;
    if out.distance(plan.end.at) > 1e-9 {
        path.pieces.push(Piece::Line {
            from: plan.end.at,
            to: out,
        });
    }
    path
}

/// What the way has least to spare against.
fn nearest(
    scene: &Scene<'_>,
    stand: &Stand<'_>,
    attempt: &Attempt,
    number: usize,
    way: &Path,
) -> Option<Nearby> {
    let own = scene.plans[number].od;
    let solids = stand
        .solids()
        .enumerate()
        .filter(|(_, kept)| kept.not_for != Some(number))
        .filter_map(|(solid, kept)| {
            let near = path_to_solid(way, &kept.solid)?;
            let gap = near.distance - 0.5 * own;
            Some(nearby(
                &stand.names[solid],
                gap,
                gap - kept.clear,
                near.point,
            ))
        });
    let others = attempt
        .ways
        .iter()
        .enumerate()
        .filter(|(other, _)| *other != number)
        .filter_map(|(other, theirs)| {
            let near = path_to_path(way, theirs.as_ref()?)?;
            let gap = near.distance - 0.5 * (own + scene.plans[other].od);
            Some(nearby(&scene.name_of(other)?, gap, gap, near.point))
        });
    solids
        .chain(others)
        .min_by(|a, b| a.spare.total_cmp(&b.spare))
}

fn nearby(named: &Named, gap: f64, spare: f64, at: glam::DVec3) -> Nearby {
    Nearby {
        against: named.id.clone(),
        name: named.name.clone(),
        gap,
        spare,
        at,
    }
}

/// Where each module of an arrangement sits.
pub fn modules(job: &Job, layout: &Layout, arrangement: &Arrangement) -> Vec<ModuleAt> {
    job.modules
        .iter()
        .filter_map(|module| {
            let sits = arrangement.get(&module.id)?;
            let mounted_on = match sits {
                Sits::Cavity(block) => mounted_on(layout, block),
                Sits::Space(_) => None,
            };
            let place = match sits {
                Sits::Space(space) => ModuleSeat::Space(space.clone()),
                Sits::Cavity(block) => {
                    let bounds = block.bounds();
                    ModuleSeat::Cavity {
                        centre: block.centre(),
                        size: bounds.max - bounds.min,
                    }
                }
            };
            Some(ModuleAt {
                module: module.id.clone(),
                name: module.name.clone(),
                place,
                mounted_on,
            })
        })
        .collect()
}
