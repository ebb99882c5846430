//! Room: lead to solid, lead to lead, unit to solid, and the cavity around all.

use glam::{DVec2, DVec3};

use super::ports::{Exit, Port, to_rim};
use super::scene::{Body, Class, Scene};
use super::trace::{Sample, Trace};
use super::{Rule, TOLERANCE, Violation};

/// Points of a route that are looked at together.
const BATCH: usize = 24;

/// Near its own plug or module a lead is let off for a little more than the
/// room it asks for: it may turn as soon as it is out.
const OWN: f64 = 1.3;

/// How far in front of and behind its plane a hole is looked for in the walls, mm.
const REACH: f64 = 2.0;

/// Judges a route against every solid and every vent.
pub fn solids(scene: &Scene, trace: &Trace, violations: &mut Vec<Violation>) {
    for body in &scene.bodies {
        let need = 0.5 * trace.od + body.clear;
        let asked = |sample: &Sample| !is_own(trace, body, need, sample);
        if let Some((gap, at)) = nearest(asked_points(trace, body), body, need, asked) {
            violations.push(trace.violation(Rule::Clearance, &body.id, need - gap, at));
        }
    }
    let need = 0.5 * trace.od + scene.vent_air;
    for vent in &scene.vents {
        let distances = trace.points.iter().filter_map(|sample| {
            let distance = vent.distance_within(sample.at, need - TOLERANCE)?;
            Some((distance, sample.at))
        });
        if let Some((gap, at)) = distances.min_by(|a, b| a.0.total_cmp(&b.0)) {
            violations.push(trace.violation(Rule::Vent, "vent", need - gap, at));
        }
    }
    lumps(scene, trace, violations);
}

/// The points of a route that a solid is held against: all, but for the wall
/// that its exit is a hole in only those before it runs straight out.
fn asked_points<'t>(trace: &'t Trace, body: &Body) -> &'t [Sample] {
    match (body.class, trace.exit) {
        (Class::Wall, Some(exit)) if pierces(exit, body) => &trace.points[..trace.tail()],
        _ => &trace.points,
    }
}

/// Where the points come nearer to a body than they may, the worst place.
fn nearest(
    points: &[Sample],
    body: &Body,
    need: f64,
    asked: impl Fn(&Sample) -> bool,
) -> Option<(f64, DVec3)> {
    let most = need - TOLERANCE;
    let mut worst: Option<(f64, DVec3)> = None;
    for batch in points.chunks(BATCH) {
        let middle = batch[batch.len() / 2].at;
        let reach = batch.iter().map(|sample| sample.at.distance(middle));
        let reach = reach.fold(0.0, f64::max);
        if body.form.distance_within(middle, most + reach).is_none() {
            continue;
        }
        for sample in batch.iter().filter(|sample| asked(sample)) {
            if let Some(gap) = body.form.distance_within(sample.at, most)
                && worst.is_none_or(|(least, _)| gap < least)
            {
                worst = Some((gap, sample.at));
            }
        }
    }
    worst
}

/// Whether a point of a route lies where its own plug or module has to be.
fn is_own(trace: &Trace, body: &Body, need: f64, sample: &Sample) -> bool {
    let near = OWN * need + 0.5;
    let from_it = match (&trace.lead.from, body.class) {
        (Port::Socket(_), Class::Plug) => body.id == trace.lead.id,
        (Port::Module(id), Class::Module) => body.id == *id,
        _ => false,
    };
    let to_it =
        matches!((&trace.lead.to, body.class), (Port::Module(id), Class::Module) if body.id == *id);
    (from_it && sample.along <= near) || (to_it && trace.last().along - sample.along <= near)
}

/// Whether an exit is a hole in this wall.
fn pierces(exit: &Exit, wall: &Body) -> bool {
    let [low, high] = exit
        .rim()
        .iter()
        .fold([exit.mouth.at, exit.mouth.at], |[low, high], point| {
            [low.min(*point), high.max(*point)]
        });
    let across = low.distance(high);
    let mut points = exit.rim();
    points.push(exit.mouth.at);
    let steps = ((across + REACH) / REACH).ceil() as i32;
    (-steps..=steps).any(|step| {
        let on = f64::from(step) * REACH * exit.mouth.way;
        points
            .iter()
            .any(|point| wall.form.distance_within(*point + on, 1e-6).is_some())
    })
}

/// Lumps in a lead, as round bars of their least thickness.
fn lumps(scene: &Scene, trace: &Trace, violations: &mut Vec<Violation>) {
    let stiff = trace.lead.start.map_or(0.0, |(_, _, stiff)| stiff);
    let inside = |sample: &Sample| trace.exit.is_none_or(|exit| exit.beyond(sample.at) < 0.0);
    for &[at, length, thick] in &trace.lead.lumps {
        let [from, to] = [at - 0.5 * length, at + 0.5 * length].map(|place| place - stiff);
        let in_it = |sample: &Sample| (from..=to).contains(&sample.along) && inside(sample);
        for body in &scene.bodies {
            let need = 0.5 * thick + body.clear;
            let asked = |sample: &Sample| in_it(sample) && !is_own(trace, body, need, sample);
            let points = asked_points(trace, body);
            if let Some((gap, at)) = nearest(points, body, need, asked) {
                let against = format!("{} (lump)", body.id);
                violations.push(trace.violation(Rule::Clearance, &against, need - gap, at));
            }
        }
    }
}

/// Judges two routes against each other.
pub fn leads(trace: &Trace, other: &Trace, violations: &mut Vec<Violation>) {
    let need = 0.5 * (trace.od + other.od);
    let most = need - TOLERANCE;
    let mut worst: Option<(f64, DVec3)> = None;
    for batch in trace.points.chunks(BATCH) {
        let [low, high] = bounds(batch);
        for others in other.points.chunks(BATCH) {
            let [other_low, other_high] = bounds(others);
            let apart = (low - other_high).max(other_low - high).max(DVec3::ZERO);
            if apart.length() >= most {
                continue;
            }
            for sample in batch {
                for other in others {
                    let gap = sample.at.distance(other.at);
                    if gap < most && worst.is_none_or(|(least, _)| gap < least) {
                        worst = Some((gap, sample.at));
                    }
                }
            }
        }
    }
    if let Some((gap, at)) = worst {
        violations.push(trace.violation(Rule::LeadToLead, &other.lead.id, need - gap, at));
    }
}

fn bounds(points: &[Sample]) -> [DVec3; 2] {
    points
        .iter()
        .fold([points[0].at, points[0].at], |[low, high], sample| {
            [low.min(sample.at), high.max(sample.at)]
        })
}

/// Judges whether a route stays in the cavity up to its exit.
pub fn inside(scene: &Scene, trace: &Trace, violations: &mut Vec<Violation>) {
    if scene.stations.is_empty() {
        return;
    }
    let outside = trace.points[..trace.tail()]
        .iter()
        .map(|sample| (-scene.to_surface(sample.at), sample.at))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((out, at)) = outside
        && out > TOLERANCE
    {
        violations.push(trace.violation(Rule::Outside, "the cavity", out, at));
    }
}

impl Scene {
    /// From a point to the surface of the cavity at its depth, mm; negative outside.
    ///
    /// Between two sections the corners run straight; a wall of four corners
    /// out of one plane may stand inside that by less than it is twisted, which
    /// the wall's own solid accounts for.
    fn to_surface(&self, point: DVec3) -> f64 {
        let at = DVec2::new(point.x, point.z);
        let (first, last) = (self.stations[0].0, self.stations[self.stations.len() - 1].0);
        let ends = (point.y - first).min(last - point.y);
        if ends < 0.0 {
            return ends;
        }
        let cell = self.stations.windows(2).find(|cell| point.y <= cell[1].0);
        let Some([(near, corners, steps), (far, further, _)]) = cell else {
            return ends;
        };
        let t = if *steps {
            0.0
        } else {
            (point.y - near) / (far - near)
        };
        let section: Vec<DVec2> = if *steps {
            corners.clone()
        } else {
            corners
                .iter()
                .zip(further)
                .map(|(a, b)| a.lerp(*b, t))
                .collect()
        };
        to_rim(&section, at).min(ends)
    }
}

/// Judges the unit and its plugs, where they stand, against every solid.
pub fn unit(scene: &Scene, violations: &mut Vec<Violation>) {
    for piece in &scene.bodies {
        if !matches!(piece.class, Class::Unit | Class::Plug) {
            continue;
        }
        for body in &scene.bodies {
            let clear = match (body.class, piece.class) {
                (Class::Wall, Class::Unit) => scene.slide_gap,
                (Class::Wall | Class::Fixed | Class::Module, _) => body.clear,
                _ => continue,
            };
            let short = clear - piece.form.gap(&body.form);
            if short > TOLERANCE {
                violations.push(Violation {
                    rule: Rule::Unit,
                    what: piece.id.clone(),
                    against: body.id.clone(),
                    by: short,
                    at: None,
                });
            }
        }
    }
}
