//! Leads that are to pass points: how near they come, and what is said where
//! they cannot.

use glam::DVec3;

use super::attempt::Failed;
use super::rest::Rest;
use super::scene::{Scene, Stand};
use crate::path::{Path, path_to_solid};
use crate::routed::Passed;
use crate::routing::{Effort, NoWay, Task, route_one};
use crate::solids::Solid;

/// How near a way comes to each point it is to pass.
pub fn passed(way: &Path, points: &[DVec3]) -> Vec<Passed> {
    let off = |at: DVec3| {
        let ball = Solid::capsule(at, at, 0.0);
        path_to_solid(way, &ball).map_or(f64::INFINITY, |near| near.distance)
    };
    points
        .iter()
        .map(|&point| Passed {
            point,
            off: off(point),
        })
        .collect()
}

/// Whether a lead that is to pass points has a way where it need not.
pub fn has_a_way_without(
    scene: &Scene<'_>,
    stand: &Stand<'_>,
    number: usize,
    effort: &Effort,
) -> bool {
    let task = &stand.tasks[number];
    if task.through.is_empty() || number >= scene.plans.len() {
        return false;
    }
    let free = Task {
        through: Vec::new(),
        ..task.clone()
    };
    let rest = Rest::of(stand, number, None);
    route_one(&rest.around(stand), &free, effort).is_ok()
}

/// Why a lead that is to pass points has no way, in words; `None` for others,
/// and where the points are not the reason.
pub fn why(scene: &Scene<'_>, proud: f64, failed: &Failed) -> Option<String> {
    let stand = scene.at(proud);
    let task = stand.tasks.get(failed.plan)?;
    let count = task.through.len();
    if let NoWay::PointBlocked { point, by, .. } = failed.why {
        let which = match count {
            1 => "the point it is to pass".to_owned(),
            _ => format!("point {} of those it is to pass", point + 1),
        };
        return Some(match &failed.against {
            Some(named) => format!("{which} is {by:.1} mm too near the {}", named.name),
            None => format!("{which} lies {by:.1} mm outside the cavity"),
        });
    }
    let open = matches!(failed.why, NoWay::Exhausted | NoWay::GaveUp);
    (open && has_a_way_without(scene, &stand, failed.plan, &Effort::default())).then(|| {
        let which = if count == 1 {
            "the point it is to pass"
        } else {
            "the points it is to pass"
        };
        format!("no way found through {which}; it has one without")
    })
}
