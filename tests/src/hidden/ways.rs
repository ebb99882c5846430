//! The hidden routes: one lead after the other through random corners, each
//! checked against everything before it stays.

use geometry::{Path, Piece};
use glam::DVec3;

use super::boxed::Boxed;
use super::shell::Shell;
use super::stage::{Cable, Port, Spare, Stage};
use crate::chance::Chance;

/// Orders tried.
const ROUNDS: usize = 5;

/// Ways tried for one lead.
const TRIES: usize = 1500;

/// Good ways of which the shortest is kept.
const GOOD: usize = 3;

/// A lead starts to turn at least this far in front of its exit, mm.
const BEFORE_EXIT: f64 = 4.0;

/// One end of a route: where, the way the route runs there, and how much of it
/// must be straight.
struct End {
    at: DVec3,
    way: DVec3,
    straight: f64,
}

/// A route for every lead, in their order; `None` when that did not come.
///
/// The stiffest is laid first; one that found no way is laid before all others
/// the next time.
pub fn lay(
    stage: &Stage,
    shell: &Shell,
    cables: &[Cable],
    chance: &mut Chance,
) -> Option<Vec<Path>> {
    let mut order: Vec<usize> = (0..cables.len()).collect();
    let stiffness = |cable: &Cable| cable.radius + 2.0 * cable.od;
    order.sort_by(|a, b| stiffness(&cables[*b]).total_cmp(&stiffness(&cables[*a])));
    for _ in 0..ROUNDS {
        match lay_in(&order, stage, shell, cables, chance) {
            Ok(paths) => return Some(paths),
            Err(0) => return None, // no way although it was the first
            Err(place) => order[..=place].rotate_right(1),
        }
    }
    None
}

/// A route for every lead, laid in this order, or the place in it of the one
/// that found none.
fn lay_in(
    order: &[usize],
    stage: &Stage,
    shell: &Shell,
    cables: &[Cable],
    chance: &mut Chance,
) -> Result<Vec<Path>, usize> {
    let mut laid: Vec<Option<Path>> = vec![None; cables.len()];
    for (place, &index) in order.iter().enumerate() {
        let cable = &cables[index];
        let stubs: Vec<(f64, Path)> = (order[place + 1..].iter())
            .flat_map(|&later| {
                let stubs = stubs(stage, &cables[later]);
                stubs.into_iter().map(move |stub| (cables[later].od, stub))
            })
            .collect();
        let ods = cables.iter().map(|cable| cable.od);
        let there = ods
            .zip(&laid)
            .filter_map(|(od, path)| Some((od, path.as_ref()?)));
        let others: Vec<(f64, Boxed)> = there
            .chain(stubs.iter().map(|(od, stub)| (*od, stub)))
            .map(|(od, path)| (od, Boxed::new(path)))
            .collect();
        let found = way(stage, shell, cable, &others, chance).ok_or(place)?;
        laid[index] = Some(found);
    }
    Ok(laid.into_iter().flatten().collect())
}

/// The straight ends that a lead not yet laid will need.
fn stubs(stage: &Stage, cable: &Cable) -> Vec<Path> {
    let line = |from: DVec3, to: DVec3| Path {
        pieces: vec![Piece::Line { from, to }],
    };
    let mut stubs = Vec::new();
    if let Port::Plug(at, way) = cable.from {
        stubs.push(line(at, at + (cable.straight + 0.5 * cable.radius) * way));
    }
    if let Port::Door(door, slot) = cable.to {
        let door = &stage.doors[door];
        let out = slot + door.beyond * door.way;
        stubs.push(line(slot - 0.5 * cable.radius * door.way, out));
    }
    stubs
}

/// The shortest of the first few ways that hold.
fn way(
    stage: &Stage,
    shell: &Shell,
    cable: &Cable,
    others: &[(f64, Boxed)],
    chance: &mut Chance,
) -> Option<Path> {
    let mut good: Vec<Path> = Vec::new();
    for _ in 0..TRIES {
        let Some(path) = guess(stage, shell, cable, chance) else {
            continue;
        };
        if stage.allows(cable, &path, others, Spare::HIDDEN) {
            good.push(path);
            if good.len() == GOOD {
                break;
            }
        }
    }
    good.into_iter()
        .min_by(|a, b| a.length().total_cmp(&b.length()))
}

/// A way through at most two random corners that bends no tighter than it may.
fn guess(stage: &Stage, shell: &Shell, cable: &Cable, chance: &mut Chance) -> Option<Path> {
    let from = end(stage, cable, &cable.from, chance)?;
    let to = end(stage, cable, &cable.to, chance)?;
    let radius = cable.radius * chance.within(1.0, 1.25) + 0.01;
    let onward = |end: &End, chance: &mut Chance| end.straight + radius * chance.within(0.25, 2.0);
    // At an exit the way is measured from the plane of the exit inward.
    let mut corners = vec![from.at, from.at + onward(&from, chance) * from.way];
    let between = match chance.within(0.0, 1.0) {
        share if share < 0.5 => 0,
        share if share < 0.9 => 1,
        _ => 2,
    };
    for _ in 0..between {
        let low = DVec3::new(shell.low.x, shell.rear, shell.low.z);
        corners.push(chance.point(low + 6.0, shell.high - 6.0));
    }
    corners.push(to.at - onward(&to, chance) * to.way);
    corners.push(match cable.to {
        Port::Door(door, _) => to.at + stage.doors[door].beyond * to.way,
        _ => to.at,
    });
    let path = Path::through(&corners, radius).ok()?;
    let line = |piece: Option<&Piece>| match piece {
        Some(piece @ Piece::Line { .. }) => piece.length(),
        _ => 0.0,
    };
    let straight_out = line(path.pieces.first()) >= from.straight;
    let beyond = path.end().distance(to.at);
    let straight_in = line(path.pieces.last()) >= to.straight + beyond;
    (straight_out && straight_in && path.pieces.len() > 1).then_some(path)
}

/// Where a route starts or ends; on a module somewhere on a face that has room.
fn end(stage: &Stage, cable: &Cable, port: &Port, chance: &mut Chance) -> Option<End> {
    Some(match *port {
        Port::Plug(at, way) => End {
            at,
            way,
            straight: cable.straight.max(0.5 * cable.od + 0.3),
        },
        Port::Door(door, slot) => End {
            at: slot,
            way: stage.doors[door].way,
            straight: 0.5 * cable.od + stage.wall_clear + BEFORE_EXIT,
        },
        Port::Module(module) => {
            let starts = matches!(cable.from, Port::Module(_));
            let (at, out) = on_module(stage, module, cable.od, chance)?;
            let straight = super::boxes::CLEAR + 0.5 * cable.od + 0.4;
            End {
                at,
                way: if starts { out } else { -out },
                straight: straight.max(if starts { cable.straight } else { 0.0 }),
            }
        }
    })
}

/// A place on a face of a module with room for the lead, and the way out of it.
fn on_module(stage: &Stage, module: usize, od: f64, chance: &mut Chance) -> Option<(DVec3, DVec3)> {
    let [low, high] = stage.modules[module].faces;
    let axis = chance.below(3);
    let upper = chance.happens(0.5);
    let margin = DVec3::splat(0.5 * od + 0.5);
    if ((high - low) - 2.0 * margin).min_element() < 0.0 {
        return None;
    }
    let mut at = chance.point(low + margin, high - margin);
    let mut out = DVec3::ZERO;
    at[axis] = if upper { high } else { low }[axis];
    out[axis] = if upper { 1.0 } else { -1.0 };
    Some((at, out))
}
