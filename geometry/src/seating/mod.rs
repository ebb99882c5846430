//! From a job to its answer by the routed layer: modules placed, every lead
//! laid, the smallest proud at which all of it holds.
//!
//! 1. `arrangements`: where modules could sit.
//! 2. `scene`: the job as the router sees it; `ends` and `slots` say where
//!    each lead goes, `plan` what it asks for.
//! 3. `least_proud`: what no way can beat, in closed form.
//! 4. `seat`: the smallest proud that holds, each `attempt` checked by exact
//!    distances.
//! 5. `blame`: what stops the next half millimetre.

mod arrangements;
mod attempt;
mod blame;
mod ends;
mod least_proud;
mod module_ports;
mod placing;
mod plan;
mod rest;
mod routes;
mod scene;
mod seat;
mod settle;
mod slots;
mod stow;
mod variants;

use crate::fit::{Fit, Proof, Stop, StopKind, Verdict};
use crate::fitting::{fit, rigid_proud};
use crate::job::Job;
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::routed::{LeftOver, Routed};
use crate::routing::{Effort, NoWay};
use crate::slack::Stowage;
use arrangements::Arrangement;
use attempt::{Attempt, Failed};
use blame::{Hindrance, hindrance};
use ends::Ends;
use least_proud::{HeldOut, Stiffness, held_out};
use placing::{Look, closest_miss, glance, tries};
use plan::{Plan, plans};
use scene::Scene;
use seat::{Found, seat};
use settle::{lengthen, settle};
use variants::Variants;

pub use placing::{FreePlace, places};
pub use scene::VOXEL;
pub use seat::{FURTHEST, Looking, STEP};

/// Answers a job by the routed layer, at its stated measures.
///
/// * `watch`: told what is being looked at; `false` stops the search, and what
///   was found until then is the answer
pub fn routed(job: &Job, watch: &mut dyn FnMut(Looking) -> bool) -> Routed {
    routed_on(job, &fit(job), Reading::Nominal, VOXEL, watch)
}

/// The same at one end of every measure's band, the instant layer's answer at
/// hand, with another voxel edge, mm.
pub fn routed_on(
    job: &Job,
    fit: &Fit,
    reading: Reading,
    voxel: f64,
    watch: &mut dyn FnMut(Looking) -> bool,
) -> Routed {
    if fit.proud.is_none() {
        // It does not go through the opening: there is nothing to lay.
        return nothing(fit);
    }
    let layout = lay_out(job, reading);
    let effort = Effort::default();
    let stiff = match reading {
        Reading::Nominal => fit.proud_lower_bound,
        _ => rigid_proud(job, reading),
    };
    let mut best: Option<Answer> = None;
    let mut tries = tries(job, &layout, reading, &fit.modules, stiff);
    while let Some(next) = tries.next_try() {
        let arrangement = next.arrangement;
        let (plans, _) = plans(
            job,
            reading,
            &Ends::new(job, &layout, reading, &arrangement, 0),
        );
        let held = held(&plans, &layout, job);
        let least = held
            .iter()
            .map(|(_, held)| held.proud)
            .fold(stiff, f64::max);
        let worth = best.as_ref().map_or(f64::INFINITY, Answer::proud);
        if least >= worth {
            continue;
        }
        let variants = Variants::new(|variant| {
            let mut scene = Scene::new(job, &layout, reading, &arrangement, voxel, variant);
            settle(&mut scene, least, &effort);
            lengthen(&mut scene, least, &effort);
            scene
        });
        let found = match next.look {
            Look::Climb => seat(&variants, least, worth, &effort, watch),
            Look::AtLeast => glance(&variants, least, &effort, watch),
            Look::ClimbIfBetter => {
                let below = (worth - STEP).min(FURTHEST).max(least);
                let found = glance(&variants, below, &effort, watch);
                if !found.first.holds() || found.cancelled {
                    if found.cancelled {
                        break;
                    }
                    continue;
                }
                seat(&variants, least, worth, &effort, watch)
            }
        };
        let cancelled = found.cancelled;
        tries.tell(&arrangement, variants.scene(0), &found, voxel);
        let better = best.is_none() || found.best().is_some();
        if better {
            let answer = Answer::of(job, fit, &variants, &arrangement, least, &held, found);
            best = Some(answer);
        }
        let done = best.as_ref().is_some_and(|it| it.proud() <= stiff);
        if cancelled || done {
            break;
        }
    }
    best.map_or_else(|| nothing(fit), |answer| answer.routed)
}

/// What each plan's lead is held out by, whatever its way; one that starts at a
/// module does not move with the unit and holds nothing out.
fn held(plans: &[Plan], layout: &Layout, job: &Job) -> Vec<(usize, HeldOut)> {
    plans
        .iter()
        .enumerate()
        .filter(|(_, plan)| plan.slides)
        .filter_map(|(number, plan)| {
            let cable = Stiffness {
                radius: plan.radius,
                od: plan.od,
                straight: job.leads[plan.lead].cable.straight_run,
            };
            Some((number, held_out(layout, &plan.start, cable)?))
        })
        .collect()
}

/// The answer with one arrangement of the modules.
struct Answer {
    routed: Routed,
}

impl Answer {
    fn proud(&self) -> f64 {
        self.routed.proud.unwrap_or(f64::INFINITY)
    }

    fn of(
        job: &Job,
        fit: &Fit,
        variants: &Variants<'_>,
        arrangement: &Arrangement,
        least: f64,
        held: &[(usize, HeldOut)],
        found: Found,
    ) -> Answer {
        let proud = found.best().map(|best| best.proud);
        let left_over = left_over(job, fit, variants.scene(0), arrangement, &found);
        let proud = proud.filter(|_| left_over.is_empty());
        let exhausted = proud.is_some_and(|proud| proud <= least + 1e-9);
        let verdict = match proud {
            Some(proud) if proud <= 0.0 => Verdict::Flush,
            Some(proud) if proud <= job.proud_limit => Verdict::Proud,
            _ => Verdict::Blocked,
        };
        let shown = found.best().unwrap_or(&found.first);
        let routes = routes::routes(job, variants.scene(shown.variant), shown);
        Answer {
            routed: Routed {
                verdict,
                proof: if exhausted {
                    Proof::Exhausted
                } else {
                    Proof::SearchGaveUp
                },
                proud,
                laid_at: shown.proud,
                lower_bound: least,
                stow: stow::stowed(job, arrangement, &routes),
                routes,
                modules: routes::modules(job, variants.scene(0).layout(), arrangement),
                stopped_by: stops(job, fit, variants.scene(0), held, least, &found),
                left_over,
            },
        }
    }
}

fn nothing(fit: &Fit) -> Routed {
    Routed {
        verdict: Verdict::Blocked,
        proof: Proof::SearchGaveUp,
        proud: None,
        laid_at: fit.proud_lower_bound,
        lower_bound: fit.proud_lower_bound,
        routes: Vec::new(),
        stow: Stowage {
            fills: Vec::new(),
            left_out: Vec::new(),
            exhausted: true,
        },
        modules: Vec::new(),
        stopped_by: fit.stopped_by.clone(),
        left_over: Vec::new(),
    }
}

/// Every lead and module without a way or a place.
fn left_over(
    job: &Job,
    fit: &Fit,
    scene: &Scene<'_>,
    arrangement: &Arrangement,
    found: &Found,
) -> Vec<LeftOver> {
    let modules = job.modules.iter().zip(&fit.modules);
    let mut left: Vec<LeftOver> = modules
        .filter(|(module, _)| !arrangement.contains_key(&module.id))
        .map(|it| LeftOver {
            id: it.0.id.clone(),
            name: it.0.name.clone(),
            why: "no place found for it".to_owned(),
            closest_miss: closest_miss(job, scene.layout(), it, fit.proud_lower_bound),
        })
        .collect();
    left.extend(scene.unplanned.iter().map(|it| LeftOver {
        id: job.leads[it.lead].id.clone(),
        name: job.leads[it.lead].name.clone(),
        why: it.why.clone(),
        closest_miss: None,
    }));
    if found.best().is_none() {
        for failed in &found.first.failed {
            let Some(lead) = scene.name_of(failed.plan) else {
                continue;
            };
            left.push(LeftOver {
                id: lead.id,
                name: lead.name,
                why: words(&failed.why),
                closest_miss: None,
            });
        }
    }
    left
}

fn words(why: &NoWay) -> String {
    match why {
        NoWay::TooShort { by } => format!("too short by {by:.0} mm"),
        NoWay::RunBlocked { by, .. } => {
            format!("its straight run has {by:.1} mm too little room")
        }
        NoWay::RunsCross { by, .. } => {
            format!("its straight run is {by:.1} mm too near another lead's")
        }
        NoWay::Exhausted | NoWay::GaveUp => "no way found".to_owned(),
    }
}

/// What stops the next half millimetre, the worst first.
fn stops(
    job: &Job,
    fit: &Fit,
    scene: &Scene<'_>,
    held: &[(usize, HeldOut)],
    least: f64,
    found: &Found,
) -> Vec<Stop> {
    let Some(best) = found.best() else {
        return fit.stopped_by.clone();
    };
    if best.proud <= 0.0 {
        return Vec::new();
    }
    let at = |number: usize| scene.plans[number].from(0.0);
    let stop = |number: usize, against: (String, String)| {
        let lead = &job.leads[scene.plans[number].lead];
        Stop {
            what: StopKind::Cable,
            piece: lead.name.clone(),
            part: "way of its cable".to_owned(),
            piece_id: lead.id.clone(),
            against: against.1,
            against_id: against.0,
            short: best.proud,
            at: at(number),
        }
    };
    let short = found.short.as_ref().or(Some(&found.first));
    match short.filter(|short| !short.holds()) {
        Some(short) => {
            let failed = short.failed.iter();
            failed
                .map(|failed| stop(failed.plan, against(scene, short, failed)))
                .collect()
        }
        None => {
            let certain = held.iter().filter(|(_, held)| held.proud >= least - 1e-9);
            let cables = certain
                .map(|(number, held)| stop(*number, (held.against.clone(), held.name.clone())));
            let stiff = fit.stopped_by.iter();
            let stiff =
                stiff.filter(|stop| stop.short >= least - 1e-9 && stop.what != StopKind::Cable);
            cables.chain(stiff.cloned()).collect()
        }
    }
}

/// Id and words of what keeps a plan from its way.
fn against(scene: &Scene<'_>, short: &Attempt, failed: &Failed) -> (String, String) {
    if let Some(named) = &failed.against {
        return (named.id.clone(), named.name.clone());
    }
    match hindrance(scene, short, failed.plan, &Effort::default()) {
        Hindrance::Solid(named) => (named.id, named.name),
        Hindrance::OtherLeads => ("leads".to_owned(), "the other leads".to_owned()),
        Hindrance::Several => ("several".to_owned(), "several things together".to_owned()),
    }
}
