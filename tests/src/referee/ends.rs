//! Both ends of a route.

use glam::DVec3;

use super::ports::{Exit, Port};
use super::scene::{Scene, Seat};
use super::trace::{Sample, Trace};
use super::{Rule, SKEW, TOLERANCE, Violation};

/// A route may meet a module's face this far from square, rad.
const SQUARE: f64 = 0.05;

/// A lead starts where its cable leaves the plug, the way it leaves, and runs
/// straight as far as it must.
pub fn start(scene: &Scene, trace: &Trace, violations: &mut Vec<Violation>) {
    let first = trace.first();
    if let Some((mouth, half, _)) = &trace.lead.start {
        // One cable leaves the middle of its plug; several leave it side by
        // side, each within its outline.
        let aside = first.at - mouth.at;
        let along = aside.dot(mouth.way);
        let room = if trace.alone {
            DVec3::ZERO
        } else {
            (*half - DVec3::splat(0.5 * trace.od)).max(DVec3::ZERO)
        };
        let over = (aside - along * mouth.way).abs() - room;
        let off = over.max(DVec3::ZERO).length().max(along.abs());
        if off > TOLERANCE {
            violations.push(trace.violation(Rule::Start, "its plug", off, first.at));
        }
        let skew = first.way.angle_between(mouth.way);
        if skew > SKEW {
            violations.push(trace.violation(Rule::Start, "way out of its plug", skew, first.at));
        }
    } else if let Port::Module(module) = &trace.lead.from {
        at_module(
            scene,
            trace,
            module,
            first,
            first.way,
            Rule::Start,
            violations,
        );
    }
    let run = trace.lead.straight_run - TOLERANCE;
    let bent = |sample: &&Sample| sample.along <= run && sample.way.angle_between(first.way) > SKEW;
    if let Some(sample) = trace.points.iter().find(bent) {
        let short = trace.lead.straight_run - sample.along;
        violations.push(trace.violation(Rule::StraightRun, "behind its plug", short, sample.at));
    }
}

/// A way passes a point when it comes this near, mm.
const PASSES: f64 = 0.5;

/// A lead's first cable passes the points it was to pass, in their order.
pub fn points(trace: &Trace, violations: &mut Vec<Violation>) {
    if !trace.alone && trace.stated["cable"].as_u64() != Some(1) {
        return;
    }
    let mut from = 0;
    for point in &trace.lead.through {
        let later = trace.points[from..].iter().enumerate();
        let off = later.map(|(number, sample)| (sample.at.distance(*point), number));
        // The first time it comes near enough counts, else the nearest place.
        let nearest = off
            .clone()
            .find(|(off, _)| *off <= PASSES)
            .or_else(|| off.min_by(|a, b| a.0.total_cmp(&b.0)));
        let Some((off, number)) = nearest else {
            continue;
        };
        from += number;
        if off > PASSES {
            violations.push(trace.violation(Rule::Through, "its point", off, *point));
        }
    }
}

/// A lead ends through its exit, at its module, or in its factory plug.
pub fn end(scene: &Scene, trace: &Trace, violations: &mut Vec<Violation>) {
    let last = trace.last();
    if let Some(exit) = trace.exit {
        return through(exit, trace, violations);
    }
    match &trace.lead.to {
        Port::Module(module) => {
            at_module(scene, trace, module, last, -last.way, Rule::End, violations);
        }
        Port::FactoryPlug(id) => {
            let Some(plug) = scene.factory_plugs.iter().find(|plug| plug.id == *id) else {
                violations.push(trace.violation(Rule::End, "no such plug", 0.0, last.at));
                return;
            };
            let out = (last.at - plug.mouth.at).dot(plug.mouth.way);
            let nearest = plug.mouth.at + out.clamp(0.0, plug.pulls_out) * plug.mouth.way;
            let off = last.at.distance(nearest);
            if off > TOLERANCE {
                violations.push(trace.violation(Rule::End, id, off, last.at));
            }
            let skew = last.way.angle_between(-plug.mouth.way);
            if skew > SKEW {
                violations.push(trace.violation(Rule::End, id, skew, last.at));
            }
        }
        Port::Exit(id) | Port::Socket(id) => {
            violations.push(trace.violation(Rule::End, id, 0.0, last.at));
        }
    }
}

/// The lead passes the plane of its exit inside the hole, the way the exit
/// goes, and goes on that way to its end.
fn through(exit: &Exit, trace: &Trace, violations: &mut Vec<Violation>) {
    let last = trace.last();
    let short = -exit.beyond(last.at);
    if short > TOLERANCE {
        violations.push(trace.violation(Rule::End, "stops before its exit", short, last.at));
        return;
    }
    let Some(crossing) = crossing(exit, trace) else {
        violations.push(trace.violation(Rule::End, "starts beyond its exit", 0.0, last.at));
        return;
    };
    let squeeze = 0.5 * trace.od - exit.to_rim(crossing.at);
    if squeeze > TOLERANCE {
        violations.push(trace.violation(Rule::End, "rim of its exit", squeeze, crossing.at));
    }
    let past = trace
        .points
        .iter()
        .filter(|sample| sample.along >= crossing.along - 1e-9);
    let skew = past
        .map(|sample| (sample.way.angle_between(exit.mouth.way), sample.at))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((skew, at)) = skew
        && skew > SKEW
    {
        violations.push(trace.violation(Rule::End, "way of its exit", skew, at));
    }
}

/// Where the route goes through the plane of its exit, between the last point
/// inside it and the next.
pub fn crossing(exit: &Exit, trace: &Trace) -> Option<Sample> {
    let inside = |sample: &Sample| exit.beyond(sample.at) < -TOLERANCE;
    let before = trace.points.iter().rposition(inside)?;
    let (last, next) = (trace.points[before], *trace.points.get(before + 1)?);
    let (from, to) = (exit.beyond(last.at), exit.beyond(next.at));
    let share = (-from / (to - from)).clamp(0.0, 1.0);
    Some(Sample {
        at: last.at.lerp(next.at, share),
        way: next.way,
        along: last.along + share * (next.along - last.along),
    })
}

/// The end of a route on a module: on one of its faces, square to it, the
/// whole lead within the face.
///
/// * `out`: the way out of the module there
fn at_module(
    scene: &Scene,
    trace: &Trace,
    module: &str,
    end: Sample,
    out: DVec3,
    rule: Rule,
    violations: &mut Vec<Violation>,
) {
    let Some(Seat::Cavity([low, high])) = scene.seat(module) else {
        violations.push(trace.violation(rule, "a module that has no place", 0.0, end.at));
        return;
    };
    let (half, from) = (0.5 * (*high - *low), end.at - 0.5 * (*low + *high));
    let over = from.abs() - half;
    let axis = (0..3)
        .max_by(|a, b| over[*a].total_cmp(&over[*b]))
        .unwrap_or(0);
    if over[axis].abs() > TOLERANCE {
        violations.push(trace.violation(rule, module, over[axis].abs(), end.at));
        return;
    }
    let mut face = DVec3::ZERO;
    face[axis] = from[axis].signum();
    let skew = out.angle_between(face);
    if skew > SQUARE {
        violations.push(trace.violation(rule, "square to the module", skew, end.at));
    }
    for other in (0..3).filter(|other| *other != axis) {
        let past = over[other] + 0.5 * trace.od;
        if past > TOLERANCE {
            violations.push(trace.violation(rule, "edge of the module", past, end.at));
        }
    }
}
