//! An independent judge of routed answers.
//!
//! It reads what any outside program can read, `seatwell plain JOB --json` and
//! `seatwell check JOB --layer routed --json`, shares no code with the crates
//! that made them, and measures anew: solids through a general-purpose
//! collision library (parry3d-f64), routes as points every quarter millimetre.
//!
//! A figure may be off by [`TOLERANCE`] before it counts, which covers the
//! sampling: two curves further apart than 2 mm look at most 0.016 mm further
//! apart than they are.

mod cables;
mod clearance;
mod ends;
mod form;
mod lengths;
mod modules;
mod placed;
mod ports;
mod read;
mod scene;
mod trace;

use glam::DVec3;
use serde_json::Value;

pub use read::Unreadable;
use scene::Scene;
use trace::Trace;

/// A figure may be off by this much, mm.
pub const TOLERANCE: f64 = 0.05;

/// Two ways may differ by this much, rad.
const SKEW: f64 = 1e-3;

/// The rules of a routed answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// The files do not hold what they should.
    Unreadable,
    /// A lead or a module has no place in the answer.
    Missing,
    /// A route starts where its cable leaves the plug, the way it leaves.
    Start,
    /// The straight run behind the plug.
    StraightRun,
    /// A route ends through its exit, at its module or in its factory plug.
    End,
    /// A piece begins where the one before ends.
    Gap,
    /// A piece goes on the way the one before went.
    Kink,
    /// The figures of an arc agree with each other.
    Arc,
    /// No turn tighter than the cable's rule.
    TooTight,
    /// The points a lead was to pass.
    Through,
    /// The room a lead keeps from a solid.
    Clearance,
    /// Leads do not run through each other.
    LeadToLead,
    /// Air before a fan outlet or vent face.
    Vent,
    /// A route stays in the cavity up to its exit.
    Outside,
    /// A lead is long enough for its route.
    TooShort,
    /// What the answer says of a route is so.
    Misstated,
    /// A module lies where it may, clear of everything.
    Module,
    /// The unit and its plugs stand clear of every solid.
    Unit,
}

/// One breach of a rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Violation {
    /// The rule.
    pub rule: Rule,
    /// The lead, module or piece of the unit.
    pub what: String,
    /// What it breaks the rule against, or how, in words.
    pub against: String,
    /// By how much: mm, or rad for a kink.
    pub by: f64,
    /// Where, mm.
    pub at: Option<DVec3>,
}

/// Every breach of a rule in an answer, each lead and solid once, the worst place.
///
/// * `plain`: the job as plain solids
/// * `answer`: the answer whose routes and modules are judged, at its `proud_mm`
pub fn judge(plain: &Value, answer: &Value) -> Vec<Violation> {
    match judged(plain, answer) {
        Ok(violations) => violations,
        Err(Unreadable(what)) => vec![Violation {
            rule: Rule::Unreadable,
            what,
            against: String::new(),
            by: 0.0,
            at: None,
        }],
    }
}

fn judged(plain: &Value, answer: &Value) -> Result<Vec<Violation>, Unreadable> {
    let proud = answer["proud_mm"].as_f64().unwrap_or(0.0);
    let mut scene = Scene::read(plain, proud)?;
    let mut violations = Vec::new();
    modules::place(&mut scene, answer, &mut violations)?;
    clearance::unit(&scene, &mut violations);
    let traces = traces(&scene, answer, &mut violations)?;
    for trace in &traces {
        trace.judge_curve(&mut violations);
        ends::start(&scene, trace, &mut violations);
        ends::end(&scene, trace, &mut violations);
        clearance::solids(&scene, trace, &mut violations);
        clearance::inside(&scene, trace, &mut violations);
        ends::points(trace, &mut violations);
        lengths::judge(trace, &mut violations);
    }
    for (index, trace) in traces.iter().enumerate() {
        for other in &traces[index + 1..] {
            clearance::leads(trace, other, &mut violations);
        }
    }
    Ok(violations)
}

/// The routes of an answer, each with its lead: one for every cable (`cable`
/// from 1), or one for all of them laid as one. Anything else is a violation.
fn traces<'a>(
    scene: &'a Scene,
    answer: &Value,
    violations: &mut Vec<Violation>,
) -> Result<Vec<Trace<'a>>, Unreadable> {
    let routes = answer["routes"].as_array().cloned().unwrap_or_default();
    let mut traces = Vec::new();
    for lead in &scene.leads {
        if scene.lies_outside(lead) {
            continue;
        }
        let of_it: Vec<&Value> = routes
            .iter()
            .filter(|route| route["lead"] == lead.id)
            .collect();
        let mut numbers: Vec<u64> = of_it.iter().filter_map(|it| it["cable"].as_u64()).collect();
        numbers.sort_unstable();
        let one_each = numbers == (1..=u64::from(lead.cables)).collect::<Vec<_>>();
        if of_it.len() == 1 || one_each {
            let alone = of_it.len() == 1;
            for route in of_it {
                traces.push(Trace::read(lead, scene, route, alone)?);
            }
        } else {
            violations.push(Violation {
                rule: Rule::Missing,
                what: lead.id.clone(),
                against: format!("{} routes for {} cables", of_it.len(), lead.cables),
                by: 0.0,
                at: None,
            });
        }
    }
    Ok(traces)
}
