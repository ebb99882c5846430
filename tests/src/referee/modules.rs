//! Modules: where the answer puts them, and whether they may lie there.

use glam::DVec3;
use serde_json::Value;

use super::form::Form;
use super::read::{Unreadable, point, text};
use super::scene::{Body, Class, Module, Scene, Seat};
use super::{Rule, TOLERANCE, Violation, placed};

/// A module this near to a solid is mounted on it, mm.
pub const MOUNTED: f64 = 0.5;

impl Scene {
    /// The exit that leads to a module outside the cavity.
    pub fn exit_to(&self, module: &str) -> Option<&super::ports::Exit> {
        match self.seat(module)? {
            Seat::Space(exit) => self.exits.iter().find(|it| it.id == *exit),
            Seat::Cavity(_) => None,
        }
    }
}

fn violation(module: &str, against: impl Into<String>, by: f64) -> Violation {
    Violation {
        rule: Rule::Module,
        what: module.to_owned(),
        against: against.into(),
        by,
        at: None,
    }
}

/// Puts every module where the answer says and judges each.
pub fn place(
    scene: &mut Scene,
    answer: &Value,
    violations: &mut Vec<Violation>,
) -> Result<(), Unreadable> {
    let given = answer["modules"].as_array().cloned().unwrap_or_default();
    let mut seats = Vec::new();
    for module in &scene.modules {
        let found = given.iter().find(|it| it["module"] == module.id);
        let seat = match (found, module.pinned) {
            (Some(place), _) if place["space"].is_string() => {
                space(scene, module, &text(place, "space")?, violations)
            }
            (Some(place), _) => {
                let (centre, size) = (point(place, "centre")?, point(place, "size_mm")?);
                let faces = [centre - 0.5 * size, centre + 0.5 * size];
                in_cavity(scene, module, faces, place, violations)?;
                Some(Seat::Cavity(faces))
            }
            (None, Some(faces)) => Some(Seat::Cavity(faces)),
            (None, None) => {
                violations.push(Violation {
                    rule: Rule::Missing,
                    ..violation(&module.id, "no place", 0.0)
                });
                None
            }
        };
        seats.extend(seat.map(|seat| (module.id.clone(), seat)));
    }
    stand(scene, &seats, violations);
    scene.seats = seats;
    Ok(())
}

/// Whether a module may go to a space.
fn space(
    scene: &Scene,
    module: &Module,
    space: &str,
    violations: &mut Vec<Violation>,
) -> Option<Seat> {
    let may = module.may_go_to.is_empty() || module.may_go_to.iter().any(|id| id == space);
    let found = scene.spaces.iter().find(|(id, _)| id == space);
    if !may || module.pinned.is_some() || found.is_none() {
        violations.push(violation(&module.id, format!("may not go to {space}"), 0.0));
    }
    found.map(|(_, exit)| Seat::Space(exit.clone()))
}

/// Whether a module lies in one of the places it may go to, or where it is
/// pinned, and has its own size.
fn in_cavity(
    scene: &Scene,
    module: &Module,
    faces: [DVec3; 2],
    given: &Value,
    violations: &mut Vec<Violation>,
) -> Result<(), Unreadable> {
    let sorted = |size: DVec3| {
        let mut size = size.to_array();
        size.sort_by(f64::total_cmp);
        DVec3::from_array(size)
    };
    let off = sorted(faces[1] - faces[0]) - sorted(module.size);
    if off.abs().max_element() > TOLERANCE {
        let by = off.abs().max_element();
        violations.push(violation(&module.id, "its own size", by));
    }
    if let Some(pinned) = module.pinned {
        let moved = (0..2)
            .map(|i| faces[i].distance(pinned[i]))
            .fold(0.0, f64::max);
        if moved > TOLERANCE {
            violations.push(violation(&module.id, "the place it is pinned to", moved));
        }
        return Ok(());
    }
    let allowed = scene
        .pockets
        .iter()
        .filter(|pocket| module.may_go_to.is_empty() || module.may_go_to.contains(&pocket.id));
    let out = allowed
        .map(|pocket| {
            let under = (pocket.faces[0] - faces[0]).max_element();
            under.max((faces[1] - pocket.faces[1]).max_element())
        })
        .fold(f64::INFINITY, f64::min);
    if out > TOLERANCE && module.may_go_to.iter().any(|place| place == placed::CAVITY) {
        return placed::judge(scene, module, faces, given, violations);
    }
    if out > TOLERANCE {
        violations.push(violation(&module.id, "every place it may go to", out));
    }
    Ok(())
}

/// Adds the modules in the cavity to its solids and judges the movable ones
/// against everything else. One that touches a solid is mounted on it.
fn stand(scene: &mut Scene, seats: &[(String, Seat)], violations: &mut Vec<Violation>) {
    for (id, seat) in seats {
        let Seat::Cavity([low, high]) = seat else {
            continue;
        };
        let Some(module) = scene.modules.iter().find(|module| module.id == *id) else {
            continue;
        };
        let form = Form::upright(0.5 * (*low + *high), 0.5 * (*high - *low));
        if module.pinned.is_none() {
            for body in &scene.bodies {
                violations.extend(too_near(module, &form, body));
            }
            for vent in &scene.vents {
                let short = scene.vent_air - form.gap(vent);
                if short > TOLERANCE {
                    violations.push(violation(id, "vent", short));
                }
            }
        }
        let clear = module.clear;
        scene.bodies.push(Body {
            class: Class::Module,
            id: id.clone(),
            clear,
            firm: false,
            form,
        });
    }
}

fn too_near(module: &Module, form: &Form, body: &Body) -> Option<Violation> {
    let gap = form.gap(&body.form);
    let short = match body.class {
        Class::Wall => -gap,
        Class::Fixed | Class::Module if gap.abs() <= MOUNTED => -gap,
        Class::Fixed => body.clear - gap,
        Class::Module => body.clear.max(module.clear) - gap,
        Class::Unit | Class::Plug | Class::Front => module.clear - gap,
    };
    (short > TOLERANCE).then(|| violation(&module.id, body.id.as_str(), short))
}
