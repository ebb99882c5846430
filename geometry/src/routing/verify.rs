//! The check that decides: certified distances along the whole lead, nothing
//! of the search.

use glam::DVec3;

use super::{Surroundings, Task};
use crate::path::{Path, path_to_path, path_to_solid};

/// Rounding that is no breach, mm.
const ROUNDING: f64 = 1e-5;

/// Rounding of a way that is no breach, rad.
const ASKEW: f64 = 1e-5;

/// One rule a routed lead breaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breach {
    /// Number of the lead.
    pub lead: usize,
    /// What it is against.
    pub against: Against,
    /// What is missing, mm; of a way, rad.
    pub short_by: f64,
    /// Where, mm.
    pub at: DVec3,
}

/// What a lead can be in breach of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// A solid by its number, fixed ones first.
    Solid(usize),
    /// Another lead by its number.
    Lead(usize),
    /// Its bend radius, or it is no path at all.
    Bend,
    /// Where it starts and ends, and the ways there.
    Ends,
    /// Its straight run at the plug or at the end.
    StraightRun,
    /// A point it was to pass.
    Through(usize),
    /// Its length.
    Length,
}

/// Every rule broken by leads that have a way, by certified distances
/// ([`crate::path::TOLERANCE`]). Empty when all are good.
pub fn verify(around: &Surroundings, tasks: &[Task], paths: &[Option<Path>]) -> Vec<Breach> {
    let mut breaches = Vec::new();
    let laid: Vec<(usize, &Task, &Path)> = (tasks.iter().zip(paths).enumerate())
        .filter_map(|(lead, (task, path))| Some((lead, task, path.as_ref()?)))
        .collect();
    for (number, &(lead, task, path)) in laid.iter().enumerate() {
        shape(&mut breaches, lead, task, path);
        if path.pieces.is_empty() {
            continue;
        }
        let own = stretches(task, path);
        for (solid, kept) in around.solids().enumerate() {
            if kept.not_for == Some(lead) {
                continue;
            }
            for (stretch, od) in &own {
                let least = 0.5 * od + kept.clear;
                if far(stretch, &kept.solid.bounds(), least) {
                    continue;
                }
                let near = path_to_solid(stretch, &kept.solid).expect("it has pieces");
                note(
                    &mut breaches,
                    lead,
                    Against::Solid(solid),
                    least - near.distance,
                    near.point,
                );
            }
        }
        for &(other, other_task, other_path) in &laid[number + 1..] {
            for (stretch, od) in &own {
                for (against, other_od) in &stretches(other_task, other_path) {
                    let least = 0.5 * (od + other_od);
                    let Some(bounds) = against.bounds() else {
                        continue;
                    };
                    if far(stretch, &bounds, least) {
                        continue;
                    }
                    let near = path_to_path(stretch, against).expect("both have pieces");
                    note(
                        &mut breaches,
                        lead,
                        Against::Lead(other),
                        least - near.distance,
                        near.point,
                    );
                }
            }
        }
    }
    breaches
}

fn note(breaches: &mut Vec<Breach>, lead: usize, against: Against, short_by: f64, at: DVec3) {
    // The comparison is false for a figure that is no number, too.
    let good = short_by <= ROUNDING;
    if !good {
        breaches.push(Breach {
            lead,
            against,
            short_by,
            at,
        });
    }
}

/// Whether the boxes alone show that there is room.
fn far(path: &Path, other: &crate::solids::Bounds, least: f64) -> bool {
    path.bounds()
        .is_some_and(|bounds| bounds.gap(other) > least)
}

/// Bends, ends, straight runs, points to pass, length.
fn shape(breaches: &mut Vec<Breach>, lead: usize, task: &Task, path: &Path) {
    let mut add = |against, short_by: f64, at| note(breaches, lead, against, short_by, at);
    if path.check(task.radius).is_err() {
        let tight = path
            .least_radius()
            .map_or(0.0, |radius| task.radius - radius);
        add(Against::Bend, tight.max(2.0 * ROUNDING), path.start());
    }
    let askew = |one: DVec3, other: DVec3| one.cross(other).length().atan2(one.dot(other)) - ASKEW;
    add(Against::Ends, path.start().distance(task.from), task.from);
    add(Against::Ends, path.end().distance(task.to), task.to);
    add(
        Against::Ends,
        askew(path.start_direction(), task.from_way),
        task.from,
    );
    add(
        Against::Ends,
        askew(path.end_direction(), task.to_way),
        task.to,
    );
    let length = path.length();
    let ends = [
        (
            task.straight_from,
            task.from + task.straight_from * task.from_way,
        ),
        (
            length - task.straight_to,
            task.to - task.straight_to * task.to_way,
        ),
    ];
    for (along, point) in ends {
        add(
            Against::StraightRun,
            path.point_at(along).distance(point),
            point,
        );
    }
    for (number, &point) in task.through.iter().enumerate() {
        let ball = crate::Solid::capsule(point, point, 0.0);
        let by = path_to_solid(path, &ball).map_or(f64::INFINITY, |near| near.distance);
        add(Against::Through(number), by, point);
    }
    if let Some(most) = task.length {
        add(Against::Length, length - most, path.end());
    }
}

/// A lead as stretches with the diameter they have: the whole of it, and each
/// of its lumps.
pub(super) fn stretches(task: &Task, path: &Path) -> Vec<(Path, f64)> {
    let mut found = vec![(path.clone(), task.od)];
    for lump in &task.lumps {
        let half = 0.5 * lump.length;
        let stretch = path.part(lump.at - half, lump.at + half);
        if !stretch.pieces.is_empty() {
            found.push((stretch, lump.diameter));
        }
    }
    found
}
