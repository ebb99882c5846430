//! Room beside, above and below the seated unit; air at its vents.

use glam::DVec3;

use crate::distance::signed_distance;
use crate::fit::{MOUNT, OPENING, Room, WALL};
use crate::frame::{DEPTH, Side};
use crate::job::{Job, SocketFace, VentFace};
use crate::layout::{Layout, SlidingClass};
use crate::solids::{Bounds, Solid};
use crate::sweep::stop_along;

/// Air a vent or fan outlet needs in front of it, mm. Common practice, no source.
pub const VENT_AIR: f64 = 10.0;

/// Solids closer than this touch, mm.
const TOUCH: f64 = 1e-9;

/// The nearest thing on each side of the chassis and its brackets, straight that way.
///
/// * `pocket`: room the mount's pocket leaves on the left and right, mm, where it is known
pub fn rooms(layout: &Layout, pocket: Option<f64>) -> Vec<Room> {
    Side::ALL
        .into_iter()
        .map(|side| {
            let room = room(layout, side);
            match pocket {
                Some(free) if side.outward().x != 0.0 && free < room.free => Room {
                    free,
                    against: MOUNT.to_owned(),
                    against_name: "pocket of the kit".to_owned(),
                    to: room.from + free * side.outward(),
                    ..room
                },
                _ => room,
            }
        })
        .collect()
}

fn room(layout: &Layout, side: Side) -> Room {
    let out = side.outward();
    let pieces: Vec<&Solid> = layout
        .sliding
        .iter()
        .filter(|piece| {
            matches!(
                piece.class,
                SlidingClass::Chassis | SlidingClass::Bracket | SlidingClass::ScrewHead
            )
        })
        .map(|piece| &piece.solid)
        .collect();
    let mut room = opening_room(layout, side, &pieces);
    for (solid, id, name) in standing(layout) {
        let bounds = solid.bounds();
        for piece in &pieces {
            if passes(&piece.bounds(), &bounds, out, room.free) {
                continue;
            }
            // Going out that way until they meet is sliding in from the far
            // side. What it would meet before it reaches its place lies behind
            // it, or overlaps it and is named among the stops.
            let meeting = stop_along(piece, solid, out, 0.0);
            let Some(meeting) = meeting.filter(|meeting| meeting.travel <= TOUCH) else {
                continue;
            };
            let free = -meeting.travel;
            if free >= room.free {
                continue;
            }
            room = Room {
                side,
                free,
                against: id.to_owned(),
                against_name: name.to_owned(),
                from: meeting.on_fixed - free * out,
                to: meeting.on_fixed,
            };
        }
    }
    room
}

/// Everything that stays, walls included: its solid, id and name.
fn standing(layout: &Layout) -> impl Iterator<Item = (&Solid, &str, &str)> {
    let fixed = layout
        .fixed
        .iter()
        .map(|fixed| (&fixed.solid, fixed.id.as_str(), fixed.name.as_str()));
    let walls = layout
        .walls
        .iter()
        .map(|wall| (&wall.solid, WALL, wall.name.as_str()));
    fixed.chain(walls)
}

/// Whether a piece going `out` passes a solid, or has at least `free` mm before
/// it, as their boxes already show.
fn passes(piece: &Bounds, solid: &Bounds, out: DVec3, free: f64) -> bool {
    let gap = (solid.min - piece.max).max(piece.min - solid.max);
    let beside = gap * (DVec3::ONE - out.abs());
    let ahead = (solid.min - piece.max).dot(out.max(DVec3::ZERO))
        + (piece.min - solid.max).dot((-out).max(DVec3::ZERO));
    beside.max_element() > 0.0 || ahead >= free
}

/// Room to the edge of the opening, which every piece passes.
fn opening_room(layout: &Layout, side: Side, pieces: &[&Solid]) -> Room {
    let out = side.outward();
    let edge = out.abs().dot(DVec3::new(
        layout.opening_half.x,
        0.0,
        layout.opening_half.y,
    ));
    let reach = |solid: &Solid| {
        let bounds = solid.bounds();
        bounds.max.dot(out.max(DVec3::ZERO)) - bounds.min.dot((-out).max(DVec3::ZERO))
    };
    let widest = pieces
        .iter()
        .map(|piece| reach(piece))
        .fold(f64::NEG_INFINITY, f64::max);
    let centre = 0.5 * (layout.chassis_face[0] + layout.chassis_face[1]);
    let along = DVec3::new(centre.x, 0.0, centre.y) * (DVec3::ONE - out.abs());
    Room {
        side,
        free: edge - widest,
        against: OPENING.to_owned(),
        against_name: "edge of the opening".to_owned(),
        from: along + widest * out,
        to: along + edge * out,
    }
}

/// A remark for every vent or fan outlet with too little air in front of it.
pub fn vent_remarks(job: &Job, layout: &Layout) -> Vec<String> {
    job.unit
        .vents
        .iter()
        .filter_map(|vent| vent_remark(vent, layout))
        .collect()
}

fn vent_remark(vent: &VentFace, layout: &Layout) -> Option<String> {
    let face = vent_plate(vent, layout);
    let plugs = layout
        .sliding
        .iter()
        .filter(|piece| piece.class == SlidingClass::Plug)
        .map(|piece| (&piece.solid, piece.name.as_str()));
    let around = face.bounds().grown(VENT_AIR);
    let nearest = standing(layout)
        .map(|(solid, _, name)| (solid, name))
        .chain(plugs)
        .filter(|(solid, _)| around.gap(&solid.bounds()) <= 0.0)
        .map(|(solid, name)| (signed_distance(&face, solid), name))
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    let (air, name) = nearest;
    (air < VENT_AIR).then(|| {
        format!(
            "{}: {:.1} mm of air to the {name}; {VENT_AIR:.0} mm is the usual least.",
            vent.name,
            air.max(0.0)
        )
    })
}

/// The face of a vent as a plate.
pub fn vent_plate(vent: &VentFace, layout: &Layout) -> Solid {
    let [low, high] = layout.chassis_face;
    let centre = 0.5 * (low + high);
    let half = 0.5 * vent.size;
    let plate = |middle: DVec3, half: DVec3| Solid::block(middle - half, middle + half);
    match vent.face {
        SocketFace::Rear => plate(
            DVec3::new(
                centre.x + vent.at.x,
                layout.chassis_rear,
                centre.y + vent.at.y,
            ),
            DVec3::new(half.x, 0.0, half.y),
        ),
        SocketFace::On(side) => {
            let out = side.outward();
            let other = if out.x == 0.0 { DVec3::X } else { DVec3::Z };
            let reach = out
                .abs()
                .dot(DVec3::new(high.x - low.x, 0.0, high.y - low.y))
                * 0.5;
            let middle = DVec3::new(centre.x, layout.chassis_front, centre.y)
                + vent.at.x * DEPTH
                + vent.at.y * other
                + reach * out;
            plate(middle, half.x * DEPTH + half.y * other)
        }
    }
}

/// Free length sideways from a plug on a side of the chassis, against what its
/// lead needs, in words; `None` when there is room.
///
/// * `plug`: the plug's solid at the seat
/// * `side`: the side it is on
/// * `turn`: turn room of its cable, mm
pub fn side_lead_remark(
    layout: &Layout,
    name: &str,
    plug: &Solid,
    side: Side,
    turn: f64,
) -> Option<String> {
    let out = side.outward();
    let (free, against) = standing(layout)
        .map(|(solid, _, name)| (solid, name))
        .filter_map(|(solid, name)| {
            stop_along(plug, solid, out, 0.0).map(|meeting| (-meeting.travel, name))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    (free < turn).then(|| {
        format!(
            "The {name} needs {turn:.1} mm beyond its plug on the {} of the unit; {:.1} mm is free before the {against}.",
            side.word(),
            free.max(0.0)
        )
    })
}
