//! Lengths, and what the answer says of its routes.

use super::ends::crossing;
use super::trace::Trace;
use super::{Rule, TOLERANCE, Violation};

/// A figure of the answer may be off by this much, mm: twice the tolerance of
/// a measurement, since it stands for a sum.
const STATED: f64 = 2.0 * TOLERANCE;

/// Judges whether a lead reaches, and the figures that the answer states.
pub fn judge(trace: &Trace, violations: &mut Vec<Violation>) {
    let lead = trace.lead;
    let whole = trace.last().along;
    let to_exit = match trace.exit {
        Some(exit) => crossing(exit, trace).map_or(whole, |sample| sample.along),
        None => whole,
    };
    let stiff = lead.start.map_or(0.0, |(_, _, stiff)| stiff);
    let needed = stiff + to_exit + lead.beyond + lead.joint_waste;
    let at = trace.last().at;
    let mut fault = |rule, against: &str, by: f64| {
        violations.push(trace.violation(rule, against, by, at));
    };
    if let Some(length) = lead.length
        && needed - length > STATED
    {
        fault(Rule::TooShort, "its route", needed - length);
    }
    let stated = |key: &str| trace.stated[key].as_f64();
    if let Some(length) = stated("length_mm") {
        let off = (to_exit - length).max(length - whole);
        if off > STATED {
            fault(Rule::Misstated, "length_mm", off);
        }
    }
    if let (Some(slack), Some(length)) = (stated("slack_mm"), lead.length) {
        let over = slack - (length - needed);
        if over > STATED {
            fault(Rule::Misstated, "slack_mm", over);
        }
    }
    if let Some(od) = stated("od_mm")
        && trace.od - od > STATED
    {
        fault(Rule::Misstated, "od_mm", trace.od - od);
    }
    if let Some(rule) = stated("rule_radius_mm")
        && lead.radius - rule > STATED
    {
        fault(Rule::Misstated, "rule_radius_mm", lead.radius - rule);
    }
    let least = trace.least_radius();
    if let Some(radius) = stated("least_radius_mm")
        && radius - least > STATED
    {
        fault(Rule::Misstated, "least_radius_mm", radius - least);
    }
}
