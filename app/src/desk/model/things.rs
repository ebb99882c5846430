//! Solids of a layout as things of the picture: what they belong to, tone, hatch.

use geometry::{
    Fixed, FixedClass, Form, Job, Kind, Lead, LeadEnd, Measure, ModulePlace, PlugStyle, Pose, Side,
    SlidingClass, Solid, TurnRoom,
};
use glam::{DVec2, DVec3};

use super::{ESTIMATED_FROM, Hole, Known, Part, Strand, Thing};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::edit::Target;
use crate::desk::theme::Tone;

/// A solid that stays where it is.
pub fn fixed(fixed: &Fixed, job: &Job) -> Thing {
    let target = match fixed.class {
        FixedClass::Obstacle(_) => Target::Obstacle(fixed.id.clone()),
        FixedClass::Module => Target::Module(fixed.id.clone()),
        FixedClass::FactoryPlug => Target::FactoryPlug(fixed.id.clone()),
        FixedClass::Tab => Target::Tab(fixed.id.clone()),
    };
    let known = match fixed.class {
        FixedClass::Obstacle(_) => job
            .cavity
            .obstacles
            .iter()
            .find(|obstacle| obstacle.id == fixed.id)
            .map_or(Known::Measured, |obstacle| known(&measures(&obstacle.form))),
        FixedClass::Module => job
            .modules
            .iter()
            .find(|module| module.id == fixed.id)
            .map_or(Known::Measured, |module| match &module.place {
                ModulePlace::Pinned(faces) => known(&faces.concat()),
                ModulePlace::Movable(_) => Known::Measured,
            }),
        FixedClass::FactoryPlug | FixedClass::Tab => Known::Measured,
    };
    let tone = match fixed.class {
        FixedClass::Obstacle(kind) => tone_of(kind),
        FixedClass::Module => Tone::Module,
        FixedClass::FactoryPlug => Tone::Loom,
        FixedClass::Tab => Tone::Unit,
    };
    let hatch = match fixed.class {
        FixedClass::Module => Hatch::FallingClose,
        _ => Hatch::of(fixed.family),
    };
    Thing {
        target,
        name: fixed.name.clone(),
        part: Part::Fixed,
        tone,
        hatch,
        known,
        solid: fixed.solid.clone(),
    }
}

/// A solid that slides in with the unit, drawn where the unit stands.
pub fn sliding(piece: &geometry::Sliding, stands: &Pose) -> Thing {
    let (target, part, tone, hatch) = match piece.class {
        SlidingClass::Chassis => (Target::Unit, Part::Unit, Tone::Unit, Hatch::Falling),
        SlidingClass::Nose | SlidingClass::Overhang | SlidingClass::RearSupport => {
            (Target::Unit, Part::Unit, Tone::Unit, Hatch::Single)
        }
        SlidingClass::Bracket | SlidingClass::ScrewHead => {
            (Target::Mount, Part::Unit, Tone::Unit, Hatch::Pairs)
        }
        SlidingClass::Plug | SlidingClass::StrainRelief => (
            Target::Lead(piece.id.clone()),
            Part::Plug,
            Tone::Lead,
            Hatch::Upright,
        ),
    };
    Thing {
        target,
        name: piece.name.clone(),
        part,
        tone,
        hatch,
        known: Known::Measured,
        solid: placed(&piece.solid, stands),
    }
}

/// A solid moved as the unit moves.
pub fn placed(solid: &Solid, stands: &Pose) -> Solid {
    solid.posed(stands)
}

/// The tone of a kind of obstacle.
pub fn tone_of(kind: Kind) -> Tone {
    match kind {
        Kind::Rib | Kind::Shelf | Kind::Boss | Kind::Bracket => Tone::SubDash,
        Kind::Duct | Kind::HeaterBox | Kind::Vent => Tone::Air,
        Kind::Loom | Kind::FactoryPlug | Kind::KeyAerial => Tone::Loom,
        Kind::Tab => Tone::Unit,
        Kind::Beam
        | Kind::AirbagPart
        | Kind::ColumnSupport
        | Kind::KneeSupport
        | Kind::HighVoltage
        | Kind::CoolantPipe
        | Kind::RefrigerantPipe
        | Kind::Switch
        | Kind::Selector
        | Kind::Column => Tone::Structure,
        Kind::Unknown => Tone::Unknown,
    }
}

/// Every measure that says where an obstacle is.
fn measures(form: &Form) -> Vec<Measure> {
    match form {
        Form::Block {
            across, depth, up, ..
        } => [*across, *depth, *up].concat(),
        Form::Cylinder { from, to, diameter } => {
            let mut all = [*from, *to].concat();
            all.push(*diameter);
            all
        }
        Form::Outline { along, .. } => along.to_vec(),
    }
}

/// How well a place is known by the worst of its measures.
pub fn known(measures: &[Measure]) -> Known {
    if measures.iter().any(|measure| !measure.is_measured()) {
        Known::Unmeasured
    } else if measures
        .iter()
        .any(|measure| measure.plus_minus() >= ESTIMATED_FROM)
    {
        Known::Estimated
    } else {
        Known::Measured
    }
}

/// The cables of a lead as they leave its plug, with the unit standing `proud` mm out.
pub fn strands(turn: &TurnRoom, lead: &Lead, job: &Job, proud: f64) -> Vec<Strand> {
    let way = way_out(turn.centre, lead, job);
    let centre = DVec3::new(turn.centre.x, 0.0, turn.centre.y);
    let line = match lead.plug.style {
        PlugStyle::Straight { .. } => {
            let start = centre + DVec3::Y * (turn.socket + turn.plug - proud);
            let straight = (turn.turn - turn.radius - 0.5 * turn.od).max(0.0);
            bend(start, way, straight, turn.radius)
        }
        PlugStyle::RightAngle {
            toward,
            reach,
            stands,
        } => {
            let start = centre
                + DVec3::Y * (turn.socket + 0.5 * stands.value() - proud)
                + toward.outward() * reach;
            vec![start, start + toward.outward() * TAIL]
        }
    };
    let beside = way.cross(DVec3::Y);
    let count = lead.cables.max(1);
    (0..count)
        .map(|i| {
            let shift = beside * turn.od * (f64::from(i) - 0.5 * f64::from(count - 1));
            Strand {
                target: Target::Lead(turn.lead.clone()),
                name: turn.name.clone(),
                line: line.iter().map(|&point| point + shift).collect(),
                od: turn.od,
                room: turn.room(proud),
            }
        })
        .collect()
}

/// Cable drawn beyond its bend, mm.
const TAIL: f64 = 14.0;

/// A centreline: straight on, a quarter turn, a tail.
fn bend(start: DVec3, way: DVec3, straight: f64, radius: f64) -> Vec<DVec3> {
    const PARTS: u32 = 12;
    let foot = start + DVec3::Y * straight;
    let mut line = vec![start];
    line.extend((0..=PARTS).map(|i| {
        let (sin, cos) = (std::f64::consts::FRAC_PI_2 * f64::from(i) / f64::from(PARTS)).sin_cos();
        foot + DVec3::Y * (radius * sin) + way * (radius * (1.0 - cos))
    }));
    line.push(foot + DVec3::Y * radius + way * (radius + TAIL));
    line
}

/// The side a lead turns to: toward its end, the longer way of the two; down
/// when nothing is known.
fn way_out(from: DVec2, lead: &Lead, job: &Job) -> DVec3 {
    let goal = match &lead.end {
        LeadEnd::Exit(id) => job
            .cavity
            .exits
            .iter()
            .find(|exit| exit.id == *id)
            .map(|exit| exit.centre),
        LeadEnd::Module(id) => {
            job.modules
                .iter()
                .find(|module| module.id == *id)
                .and_then(|module| match &module.place {
                    ModulePlace::Pinned(faces) => {
                        let [across, depth, up] =
                            faces.map(|[low, high]| 0.5 * (low.value() + high.value()));
                        Some(DVec3::new(across, depth, up))
                    }
                    ModulePlace::Movable(_) => None,
                })
        }
        LeadEnd::FactoryPlug(id) => job
            .cavity
            .factory_plugs
            .iter()
            .find(|plug| plug.id == *id)
            .map(|plug| plug.at),
    };
    let Some(goal) = goal else {
        return Side::Bottom.outward();
    };
    let (across, up) = (goal.x - from.x, goal.z - from.y);
    let side = match (across.abs() > up.abs(), across < 0.0, up < 0.0) {
        (true, true, _) => Side::Left,
        (true, false, _) => Side::Right,
        (false, _, true) => Side::Bottom,
        (false, _, false) => Side::Top,
    };
    side.outward()
}

/// The rim of an exit.
pub fn hole(exit: &geometry::Exit) -> Hole {
    let outline = exit.outline();
    let closed = outline.iter().chain(outline.first());
    let rim = closed.map(|corner| exit.place(*corner)).collect();
    Hole {
        target: Target::Exit(exit.id.clone()),
        name: exit.name.clone(),
        rim,
        way: exit.direction,
        centre: exit.centre,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bend_keeps_its_radius_and_its_room() {
        let line = bend(DVec3::ZERO, -DVec3::Z, 5.0, 20.0);
        let deepest = line.iter().map(|p| p.y).fold(0.0, f64::max);
        assert!((deepest - 25.0).abs() < 1e-9);
        let middle = DVec3::new(0.0, 5.0, -20.0);
        for point in &line[1..line.len() - 1] {
            assert!((point.distance(middle) - 20.0).abs() < 1e-9);
        }
    }

    #[test]
    fn the_worst_measure_decides_how_a_thing_is_drawn() {
        let sharp = Measure::within(10.0, 0.5);
        let rough = Measure::within(10.0, 2.5);
        assert_eq!(known(&[sharp]), Known::Measured);
        assert_eq!(known(&[sharp, rough]), Known::Estimated);
        assert_eq!(
            known(&[rough, Measure::unmeasured(1.0, 2.0)]),
            Known::Unmeasured
        );
    }
}
