//! From a job to its answer by the routed layer: modules placed, every lead
//! laid, the smallest proud at which all of it holds.
//!
//! 1. `arrangements`: where modules could sit.
//! 2. `scene`: the job as the router sees it; `ends` and `slots` say where
//!    each lead goes, `plan` what it asks for.
//! 3. `least_proud`: what no way can beat, in closed form.
//! 4. `entry`: how the unit gets to where it can stand.
//! 5. `seat`: the smallest proud that holds, each `attempt` checked by exact
//!    distances.
//! 6. `blame`: what stops the next half millimetre.

pub(crate) mod arrangements;
mod at_proud;
mod attempt;
mod blame;
mod ends;
mod entry;
mod least_proud;
mod loom_at;
mod misses;
mod module_ports;
mod pins;
mod placing;
mod plan;
mod rest;
mod routes;
mod scene;
mod seat;
mod settle;
mod slots;
mod stow;
pub(crate) mod trial;
mod variants;

use crate::fit::{Fit, Proof, Stop, StopKind, Verdict};
use crate::fitting::{berths, fit};
use crate::job::Job;
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::routed::{LeftOver, Routed};
use crate::routing::{Effort, NoWay};
use crate::slack::Stowage;
use crate::slide_in::SlideIn;
use arrangements::Arrangement;
use attempt::{Attempt, Failed};
use blame::{Hindrance, hindrance};
use ends::Ends;
use entry::Entries;
pub(crate) use least_proud::HeldOut;
use least_proud::{Stiffness, held_out};
use placing::{Look, closest_miss, glance, tries};
use plan::{Plan, plans};
use scene::Scene;
use seat::{Found, seat};
use settle::{lengthen, settle};
use trial::{Setting, Trial};
use variants::Variants;

pub use at_proud::seat_at;
pub use placing::{FreePlace, places};
pub use scene::VOXEL;
pub use seat::{FURTHEST, Looking, STEP};
pub use stow::BEHIND;

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
    let berths = berths(job, reading);
    let Some(stiff) = berths.first().map(|berth| berth.from) else {
        // It does not go into its mount: there is nothing to lay.
        return nothing(fit);
    };
    let layout = lay_out(job, reading);
    let effort = Effort::default();
    let mut best: Option<Answer> = None;
    let (berths, barred) = entry::open(job, &layout, reading, berths);
    let mut tries = tries(job, &layout, reading, &fit.modules, stiff);
    while let Some(next) = tries.next_try() {
        let arrangement = next.arrangement;
        let (plans, _) = plans(
            job,
            reading,
            &Ends::new(job, &layout, reading, &arrangement, 0),
        );
        let held = held(&plans, &layout, job);
        let held_by = held.iter().map(|(_, held)| held.proud);
        let cables = held_by.fold(0.0, f64::max);
        let mut entries = Entries::new(job, &layout, reading, &arrangement);
        let mut cancelled = false;
        for berth in &berths {
            let least = berth.from.max(cables);
            let worth = best
                .as_ref()
                .map_or(berth.to, |it| it.proud().min(berth.to));
            if least >= worth {
                continue;
            }
            let Ok(way_in) = entries.way_in(berth, least) else {
                continue; // a module placed here is in the way
            };
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
                    let glimpse = glance(&variants, below, &effort, watch);
                    if glimpse.first.holds() && !glimpse.cancelled {
                        seat(&variants, least, worth, &effort, watch)
                    } else if glimpse.cancelled {
                        cancelled = true;
                        break;
                    } else {
                        continue;
                    }
                }
            };
            cancelled = found.cancelled;
            tries.tell(&arrangement, variants.scene(0), &found, voxel);
            let holds = found.best().is_some();
            if best.is_none() || holds {
                let way_in = match found.best() {
                    Some(seat) => entries.way_in(berth, seat.proud).unwrap_or(way_in),
                    None => way_in,
                };
                let bounds = Bounds {
                    least,
                    any: stiff.max(cables),
                };
                let mut answer =
                    Answer::of(job, fit, &variants, &arrangement, bounds, &held, found);
                answer.routed.slide_in = holds.then_some(way_in);
                best = Some(answer);
            }
            if cancelled || holds {
                break;
            }
        }
        let done = best.as_ref().is_some_and(|it| it.proud() <= stiff);
        if cancelled || done {
            break;
        }
    }
    let mut routed = best.map_or_else(|| nothing(fit), |answer| answer.routed);
    let proud = routed.proud.unwrap_or(f64::INFINITY);
    routed.barred = barred.filter(|barred| barred.proud < proud);
    routed
}

/// Everything laid and checked with the unit at one proud, as the job is cut;
/// `None` when no way was found for something.
///
/// * `proud`: mm
/// * `watch`: whether to go on
pub fn routed_at(job: &Job, proud: f64, watch: &mut dyn FnMut() -> bool) -> Option<Routed> {
    let fit = fit(job);
    let layout = lay_out(job, Reading::Nominal);
    arrangements::arrangements(job, &layout, &fit.modules)
        .iter()
        .find_map(|arrangement| {
            let mut trial = Trial::new(Setting {
                job,
                fit: &fit,
                layout: &layout,
                arrangement,
                loose: &[],
            });
            if trial.floor > proud + 1e-9 {
                return None;
            }
            let laid = trial.lay(proud, &[], watch).ok()?;
            trial.answer(job, &laid, &[])
        })
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

/// What the proud cannot be less than, mm.
#[derive(Clone, Copy)]
struct Bounds {
    /// In the berth looked at.
    least: f64,
    /// In any of them.
    any: f64,
}

/// The answer with one arrangement of the modules.
struct Answer {
    routed: Routed,
}

impl Answer {
    fn proud(&self) -> f64 {
        self.routed.proud.unwrap_or(f64::INFINITY)
    }

    /// What holds at one proud, as an answer: everything is laid at it, the
    /// unit slid in straight.
    ///
    /// * `least`: nothing less can hold, mm
    fn at(
        job: &Job,
        layout: &Layout,
        fit: &Fit,
        scene: &Scene<'_>,
        arrangement: &Arrangement,
        least: f64,
        attempt: &Attempt,
    ) -> Routed {
        let proud = attempt.proud;
        let routes = routes::routes(job, scene, attempt);
        Routed {
            verdict: verdict(job, Some(proud)),
            proof: proof(proud, least),
            proud: Some(proud),
            laid_at: proud,
            lower_bound: least,
            stow: stow::stowed(job, arrangement, &routes),
            half_way: stow::stowed_half_way(job, arrangement, scene, &routes, proud),
            looms: loom_at::looms_at(job, scene, attempt),
            routes,
            modules: routes::modules(job, layout, arrangement),
            slide_in: Some(SlideIn::straight(proud)),
            barred: None,
            stopped_by: (fit.stopped_by.iter())
                .filter(|stop| proud > 0.0 && stop.short >= proud - 1e-9)
                .cloned()
                .collect(),
            left_over: Vec::new(),
        }
    }

    fn of(
        job: &Job,
        fit: &Fit,
        variants: &Variants<'_>,
        arrangement: &Arrangement,
        bounds: Bounds,
        held: &[(usize, HeldOut)],
        found: Found,
    ) -> Answer {
        let proud = found.best().map(|best| best.proud);
        let left_over = left_over(job, fit, variants.scene(0), arrangement, &found);
        let proud = proud.filter(|_| left_over.is_empty());
        let shown = found.best().unwrap_or(&found.first);
        let routes = routes::routes(job, variants.scene(shown.variant), shown);
        Answer {
            routed: Routed {
                verdict: verdict(job, proud),
                proof: proof(proud.unwrap_or(f64::INFINITY), bounds.any),
                proud,
                laid_at: shown.proud,
                lower_bound: bounds.any,
                stow: stow::stowed(job, arrangement, &routes),
                half_way: stow::stowed_half_way(
                    job,
                    arrangement,
                    variants.scene(shown.variant),
                    &routes,
                    shown.proud,
                ),
                looms: loom_at::looms_at(job, variants.scene(shown.variant), shown),
                routes,
                modules: routes::modules(job, variants.scene(0).layout(), arrangement),
                stopped_by: stops(job, fit, variants.scene(0), held, bounds.least, &found),
                left_over,
                slide_in: None,
                barred: None,
            },
        }
    }
}

fn verdict(job: &Job, proud: Option<f64>) -> Verdict {
    match proud {
        Some(proud) if proud <= 0.0 => Verdict::Flush,
        Some(proud) if proud <= job.proud_limit => Verdict::Proud,
        _ => Verdict::Blocked,
    }
}

fn proof(proud: f64, least: f64) -> Proof {
    if proud <= least + 1e-9 {
        Proof::Exhausted
    } else {
        Proof::SearchGaveUp
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
        half_way: Vec::new(),
        looms: Vec::new(),
        modules: Vec::new(),
        stopped_by: fit.stopped_by.clone(),
        left_over: Vec::new(),
        slide_in: None,
        barred: None,
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
            miss: None,
        })
        .collect();
    left.extend(scene.unplanned.iter().map(|it| LeftOver {
        id: job.leads[it.lead].id.clone(),
        name: job.leads[it.lead].name.clone(),
        why: it.why.clone(),
        closest_miss: None,
        miss: None,
    }));
    if found.best().is_none() {
        for failed in &found.first.failed {
            let Some(lead) = scene.name_of(failed.plan) else {
                continue;
            };
            left.push(LeftOver {
                id: lead.id,
                name: lead.name,
                why: pins::why(scene, found.first.proud, failed)
                    .unwrap_or_else(|| words(&failed.why)),
                closest_miss: None,
                miss: misses::closest_miss(scene, &found.first, failed),
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
        NoWay::PointBlocked { by, .. } => {
            format!("the point it is to pass has {by:.1} mm too little room")
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
        Hindrance::Point => ("point".to_owned(), "the point it is to pass".to_owned()),
        Hindrance::OtherLeads => ("leads".to_owned(), "the other leads".to_owned()),
        Hindrance::Several => ("several".to_owned(), "several things together".to_owned()),
    }
}
