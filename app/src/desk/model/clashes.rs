//! Where something is in the way, as a room that two things want.

use geometry::{Bounds, FixedClass, Layout, Stop};
use glam::DVec3;

use super::Clash;
use crate::desk::edit::Target;
use crate::words;

/// The target that an id of a stop means.
fn target_of(id: &str, layout: &Layout) -> Option<Target> {
    match id {
        "chassis" | "nose" | "overhang" | "rear support" => return Some(Target::Unit),
        "brackets" => return Some(Target::Mount),
        "wall" => return Some(Target::Walls),
        "opening" | "finished face" => return Some(Target::Opening),
        _ => {}
    }
    if layout.turns.iter().any(|turn| turn.lead == id) {
        return Some(Target::Lead(id.to_owned()));
    }
    layout
        .fixed
        .iter()
        .find(|fixed| fixed.id == id)
        .map(|fixed| match fixed.class {
            FixedClass::Obstacle(_) => Target::Obstacle(id.to_owned()),
            FixedClass::Module => Target::Module(id.to_owned()),
            FixedClass::FactoryPlug => Target::FactoryPlug(id.to_owned()),
            FixedClass::Tab => Target::Tab(id.to_owned()),
        })
}

/// The room that a piece at its seat and what it meets both want.
pub fn clash(stop: &Stop, layout: &Layout) -> Option<Clash> {
    let piece = wanted(stop, layout)?;
    let other = layout
        .fixed
        .iter()
        .filter(|fixed| fixed.id == stop.against_id)
        .map(|fixed| fixed.solid.bounds().grown(fixed.clear))
        .reduce(|a, b| a.joined(&b))
        .unwrap_or_else(|| piece.grown(1.0));
    let low = piece.min.max(other.min);
    let high = piece.max.min(other.max);
    let (low, high) = (low.min(high), low.max(high));
    let end = piece.max.y;
    Some(Clash {
        piece: target_of(&stop.piece_id, layout),
        against: target_of(&stop.against_id, layout),
        room: [
            DVec3::new(low.x, end - stop.short, low.z),
            DVec3::new(high.x, end, high.z),
        ],
        short: stop.short,
        says: words::meets(stop),
    })
}

/// The box a piece wants with the unit at its seat.
fn wanted(stop: &Stop, layout: &Layout) -> Option<Bounds> {
    if let Some(turn) = layout.turns.iter().find(|turn| turn.lead == stop.piece_id) {
        let [low, high] = turn.room(0.0);
        return Some(Bounds {
            min: low.with_y(turn.socket),
            max: high,
        });
    }
    layout
        .sliding
        .iter()
        .filter(|piece| piece.id == stop.piece_id)
        .map(|piece| piece.solid.bounds())
        .reduce(|a, b| a.joined(&b))
}
