//! Modules in the open cavity: fixed to something firm, clear of the unit on
//! its way in, and able to get there at all.

use glam::{DVec2, DVec3};
use serde_json::Value;

use super::form::Form;
use super::ports::to_rim;
use super::read::{Unreadable, point};
use super::scene::{Class, Module, Scene};
use super::{Rule, TOLERANCE, Violation};

/// The word for anywhere in the cavity among the places of a module.
pub const CAVITY: &str = "cavity";

/// What a module is fixed to lies this near to its face, mm: hook-and-loop tape
/// is about that thick. Common practice, no source.
const PAD: f64 = 3.0;

/// Share of the face that it must lie at. Common practice, no source.
const BACKED: f64 = 0.5;

/// Points along each edge of a face.
const ACROSS: usize = 21;

/// Steps in which the unit is drawn out, mm.
const STEP: f64 = 1.0;

/// Judges a module that lies in none of its pockets.
///
/// * `faces`: its lowest and highest corner, mm
/// * `given`: what the answer says of it
pub fn judge(
    scene: &Scene,
    module: &Module,
    faces: [DVec3; 2],
    given: &Value,
    violations: &mut Vec<Violation>,
) -> Result<(), Unreadable> {
    let mut say = |against: String, by: f64| {
        violations.push(Violation {
            rule: Rule::Module,
            what: module.id.clone(),
            against,
            by,
            at: Some(0.5 * (faces[0] + faces[1])),
        });
    };
    let out = outside(scene, faces);
    if out > TOLERANCE {
        say("the cavity as measured".to_owned(), out);
    }
    let too_large = through_opening(scene, faces[1] - faces[0]);
    if too_large > TOLERANCE {
        say("the opening".to_owned(), too_large);
    }
    if given["mounted_on"].is_object() {
        let face = point(&given["mounted_on"], "face")?;
        let backed = backed(scene, faces, face);
        if backed < BACKED {
            say(
                "something firm at the face it is fixed by".to_owned(),
                BACKED - backed,
            );
        }
    } else {
        say("nothing that it is fixed to".to_owned(), 0.0);
    }
    let form = Form::upright(0.5 * (faces[0] + faces[1]), 0.5 * (faces[1] - faces[0]));
    for wall in scene.bodies.iter().filter(|body| body.class == Class::Wall) {
        let gap = form.gap(&wall.form);
        if gap > super::modules::MOUNTED && wall.clear - gap > TOLERANCE {
            say(wall.id.clone(), wall.clear - gap);
        }
    }
    for (id, short) in on_its_way(scene, module, &form) {
        say(format!("{id} on its way in"), short);
    }
    Ok(())
}

/// How far a box lies outside what was measured of the cavity: its ends, and
/// its middle, which the walls then keep from crossing.
fn outside(scene: &Scene, [low, high]: [DVec3; 2]) -> f64 {
    let (Some(first), Some(last)) = (scene.stations.first(), scene.stations.last()) else {
        return f64::INFINITY;
    };
    let ends = (first.0 - low.y).max(high.y - last.0);
    let middle = 0.5 * (low + high);
    let at = DVec2::new(middle.x, middle.z);
    let cell = scene.stations.windows(2).find(|cell| middle.y <= cell[1].0);
    let Some([(near, corners, steps), (far, others, _)]) = cell else {
        return ends.max(TOLERANCE * 2.0);
    };
    let share = if *steps || others.len() != corners.len() {
        0.0
    } else {
        ((middle.y - near) / (far - near)).clamp(0.0, 1.0)
    };
    let between = |index: usize| match others.get(index) {
        Some(other) => corners[index].lerp(*other, share),
        None => corners[index],
    };
    let section: Vec<DVec2> = (0..corners.len()).map(between).collect();
    ends.max(-to_rim(&section, at))
}

/// How much a box is too large for the opening, the way it goes through best.
fn through_opening(scene: &Scene, size: DVec3) -> f64 {
    let mut sizes = size.to_array();
    sizes.sort_by(f64::total_cmp);
    let [small, large] = scene.opening;
    (sizes[0] - small.min(large)).max(sizes[1] - small.max(large))
}

/// Share of a face that has something firm near it.
fn backed(scene: &Scene, [low, high]: [DVec3; 2], face: DVec3) -> f64 {
    let axis = (0..3).find(|axis| face[*axis].abs() > 0.5).unwrap_or(0);
    let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
    let firm = || scene.bodies.iter().filter(|body| body.firm);
    let mut backed = 0;
    for step in 0..ACROSS * ACROSS {
        let share = |step: usize| (step as f64 + 0.5) / ACROSS as f64;
        let mut at = if face[axis] > 0.0 { high } else { low };
        at[u] = low[u] + share(step % ACROSS) * (high[u] - low[u]);
        at[v] = low[v] + share(step / ACROSS) * (high[v] - low[v]);
        let near = firm().any(|body| {
            let within = |point| body.form.distance_within(point, PAD + TOLERANCE).is_some();
            // Straight behind the face, not beside it.
            within(at)
                && (0..=6).any(|part| {
                    let point = at + 0.5 * f64::from(part) * face;
                    body.form.distance_within(point, 0.3).is_some()
                })
        });
        backed += usize::from(near);
    }
    // A point more or less at the edge is rounding.
    (backed as f64 + ACROSS as f64) / (ACROSS * ACROSS) as f64
}

/// What of the unit comes too near to a module while it slides in, and by how
/// much. Plugs that reach past the chassis are led in before it.
fn on_its_way(scene: &Scene, module: &Module, form: &Form) -> Vec<(String, f64)> {
    let sliding = |class: Class| matches!(class, Class::Unit | Class::Plug);
    let chassis = scene.bodies.iter().find(|body| body.id == "chassis");
    let [inner, outer] = chassis.map_or([DVec3::ZERO; 2], |body| body.form.bounds());
    let [low, high] = form.bounds();
    let mut short = Vec::new();
    for body in scene.bodies.iter().filter(|body| sliding(body.class)) {
        let [least, most] = body.form.bounds();
        let past = least.x < inner.x - TOLERANCE
            || least.z < inner.z - TOLERANCE
            || most.x > outer.x + TOLERANCE
            || most.z > outer.z + TOLERANCE;
        if body.class == Class::Plug && past {
            continue;
        }
        // It passes beside, or never comes in front of it.
        let aside = (low - most).max(least - high);
        if aside.x >= module.clear || aside.z >= module.clear {
            continue;
        }
        let steps = ((most.y - low.y).max(0.0) / STEP).ceil() as usize;
        let worst = (0..=steps)
            .map(|step| body.form.moved(-(step as f64) * STEP * DVec3::Y).gap(form))
            .fold(f64::INFINITY, f64::min);
        if module.clear - worst > TOLERANCE {
            short.push((body.id.clone(), module.clear - worst));
        }
    }
    short
}
