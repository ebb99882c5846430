//! Solids that are said to be in the same place.

use geometry::{Cavity, FactoryPlug, Form, Measure, Module, ModulePlace};
use glam::DVec3;

use super::draft::Draft;
use super::findings::{Field, Findings};

/// How deep two solids may lie in each other before it is a mistake, mm: what
/// rounding of typed figures can do.
const ALLOWED: f64 = 0.01;

/// A solid as found, and who says so.
struct Found<'a> {
    id: &'a str,
    name: &'a str,
    joined_to: &'a [String],
    at: Field,
    bounds: Option<[DVec3; 2]>,
}

/// Faults every two solids that lie in each other as found, unless one says
/// that it is joined to the other.
pub(super) fn check(
    cavity: &Cavity,
    modules: &[Module],
    draft: &Draft<'_>,
    findings: &mut Findings,
) {
    let solids = as_found(cavity, modules, draft);
    for (index, later) in solids.iter().enumerate() {
        for earlier in &solids[..index] {
            let joined = later.joined_to.iter().any(|id| id == earlier.id)
                || earlier.joined_to.iter().any(|id| id == later.id);
            if joined {
                continue;
            }
            let deep = depth_of_overlap(earlier, later);
            if deep > ALLOWED {
                findings.error(
                    &later.at,
                    format!(
                        "the {} {:.2} mm inside the {} (`{}`)",
                        later.name, deep, earlier.name, earlier.id
                    ),
                    "solids side by side, or `joined_to` where one grows from the other",
                );
            }
        }
    }
}

/// Obstacles, unused factory plugs and pinned modules, in that order.
fn as_found<'a>(cavity: &'a Cavity, modules: &'a [Module], draft: &'a Draft<'_>) -> Vec<Found<'a>> {
    let at = Field::top("cavity");
    let place = |list: &str, index: Option<usize>| at.key(list).item(index.unwrap_or(0));
    let obstacles = cavity.obstacles.iter().map(|obstacle| Found {
        id: &obstacle.id,
        name: &obstacle.name,
        joined_to: &obstacle.joined_to,
        at: place(
            "obstacles",
            draft
                .cavity
                .obstacles
                .iter()
                .position(|file| file.id == obstacle.id),
        ),
        bounds: block(&obstacle.form),
    });
    let plugs = cavity.factory_plugs.iter().enumerate();
    let plugs = plugs
        .filter(|(_, plug)| !plug.used)
        .map(|(index, plug)| Found {
            id: &plug.id,
            name: &plug.name,
            joined_to: &[],
            at: place("factory_plugs", Some(index)),
            bounds: plug_block(plug),
        });
    let modules = modules.iter().filter_map(|module| {
        let ModulePlace::Pinned(faces) = &module.place else {
            return None;
        };
        let draft = draft
            .modules
            .iter()
            .find(|draft| draft.file.id == module.id)?;
        Some(Found {
            id: &module.id,
            name: &module.name,
            joined_to: &[],
            at: draft.at.clone(),
            bounds: Some(between(faces)),
        })
    });
    obstacles.chain(plugs).chain(modules).collect()
}

/// The corners of an unturned block.
fn block(form: &Form) -> Option<[DVec3; 2]> {
    match form {
        Form::Block {
            across,
            depth,
            up,
            turned: DVec3::ZERO,
        } => Some(between(&[*across, *depth, *up])),
        _ => None,
    }
}

fn between(faces: &[[Measure; 2]; 3]) -> [DVec3; 2] {
    [0, 1].map(|end| DVec3::from_array(faces.map(|face| face[end].value())))
}

/// The corners of a factory plug that looks along an axis.
fn plug_block(plug: &FactoryPlug) -> Option<[DVec3; 2]> {
    let out = plug.direction;
    let DVec3 {
        x: width,
        y: height,
        z: length,
    } = plug.size;
    let side = match out.abs() {
        DVec3::X => DVec3::new(0.0, width, height),
        DVec3::Y => DVec3::new(width, 0.0, height),
        DVec3::Z => DVec3::new(width, height, 0.0),
        _ => return None,
    };
    let (near, far) = (plug.at, plug.at - length * out);
    Some([near.min(far) - 0.5 * side, near.max(far) + 0.5 * side])
}

/// How deep two solids lie in each other, mm; negative when they are apart.
fn depth_of_overlap(a: &Found<'_>, b: &Found<'_>) -> f64 {
    let (Some(a), Some(b)) = (a.bounds, b.bounds) else {
        return f64::NEG_INFINITY;
    };
    (a[1] - b[0]).min(b[1] - a[0]).min_element()
}
