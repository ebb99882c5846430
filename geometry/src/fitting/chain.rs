//! The depth chain: the quick rule, lead by lead.
//!
//! needed = setback + chassis + plug + turn. available = front of the nearest
//! solid in the plug's shadow, less that solid's clear. The shadow is the
//! plug's rectangle and [`SHADOW`] mm around it, as far as the chassis itself
//! reaches: what lies beyond the outline of the chassis stands beside the unit,
//! and is for the insertion to judge.

use glam::{DVec2, DVec3};

use crate::fit::ChainLink;
use crate::frame::DEPTH;
use crate::layout::{Layout, TurnRoom};
use crate::solids::{Bounds, Shape, Solid};
use crate::sweep::stop_along;

/// Room around a plug in which a solid behind it counts, mm. Common practice, no source.
pub const SHADOW: f64 = 3.0;

/// Rectangles that overlap by less than this only touch, mm.
const TOUCH: f64 = 1e-9;

/// A rectangle looked along into the dash, and what of it counts.
struct Column {
    low: DVec2,
    high: DVec2,
}

impl Column {
    /// The shadow of a plug on a chassis of the given outline.
    fn shadow(turn: &TurnRoom, chassis: [DVec2; 2]) -> Column {
        let grown = turn.half + DVec2::splat(SHADOW);
        let low = (turn.centre - grown).max(chassis[0]);
        let high = (turn.centre + grown).min(chassis[1]);
        // A plug that itself reaches past the chassis keeps its whole rectangle.
        Column {
            low: low.min(turn.centre - turn.half),
            high: high.max(turn.centre + turn.half),
        }
    }

    fn misses(&self, bounds: &Bounds) -> bool {
        bounds.max.x <= self.low.x + TOUCH
            || bounds.min.x >= self.high.x - TOUCH
            || bounds.max.z <= self.low.y + TOUCH
            || bounds.min.z >= self.high.y - TOUCH
    }

    /// Depth at which a plate as wide and high as the column first meets the
    /// solid, coming from the installer's side, mm.
    fn front(&self, solid: &Solid, bounds: &Bounds) -> Option<f64> {
        if self.misses(bounds) {
            return None;
        }
        if is_upright_block(solid) {
            return Some(bounds.min.y);
        }
        let plate = Solid::block(
            DVec3::new(self.low.x, 0.0, self.low.y),
            DVec3::new(self.high.x, 0.0, self.high.y),
        );
        stop_along(&plate, solid, DEPTH, 0.0).map(|meeting| -meeting.travel)
    }
}

fn is_upright_block(solid: &Solid) -> bool {
    matches!(solid.shape(), Shape::Block { .. }) && solid.pose().turn == glam::DQuat::IDENTITY
}

/// The solid that limits a lead: what is available before it, and which one it is.
struct Limit<'a> {
    available: f64,
    id: &'a str,
    name: &'a str,
}

/// The chain of every lead on the rear, in the job's order.
///
/// * `layout`: the job in place
/// * `wall_clear`: room that leads keep from the cavity's walls, mm
pub fn links(layout: &Layout, wall_clear: f64) -> Vec<ChainLink> {
    layout
        .turns
        .iter()
        .map(|turn| link(layout, wall_clear, turn))
        .collect()
}

fn link(layout: &Layout, wall_clear: f64, turn: &TurnRoom) -> ChainLink {
    let chassis = turn.socket - layout.chassis_front;
    let needed = layout.chassis_front + chassis + turn.plug + turn.turn;
    let limit = nearest(layout, wall_clear, turn);
    let available = limit.as_ref().map(|limit| limit.available);
    ChainLink {
        lead: turn.lead.clone(),
        name: turn.name.clone(),
        setback: layout.chassis_front,
        chassis,
        plug: turn.plug,
        turn: turn.turn,
        needed,
        available,
        margin: available.map(|available| available - needed),
        margin_plus_minus: 0.0,
        against: limit.as_ref().map(|limit| limit.id.to_owned()),
        against_name: limit.map(|limit| limit.name.to_owned()),
    }
}

fn nearest<'a>(layout: &'a Layout, wall_clear: f64, turn: &TurnRoom) -> Option<Limit<'a>> {
    let shadow = Column::shadow(turn, layout.chassis_face);
    let fixed = layout.fixed.iter().map(|fixed| {
        (
            &fixed.solid,
            fixed.clear,
            fixed.id.as_str(),
            fixed.name.as_str(),
        )
    });
    let walls = layout.walls.iter().map(|wall| {
        (
            &wall.solid,
            wall_clear,
            crate::fit::WALL,
            wall.name.as_str(),
        )
    });
    let mut nearest: Option<Limit> = None;
    for (solid, clear, id, name) in fixed.chain(walls) {
        let bounds = solid.bounds();
        let Some(front) = shadow.front(solid, &bounds) else {
            continue;
        };
        let available = front - clear;
        if nearest
            .as_ref()
            .is_none_or(|limit| available < limit.available)
        {
            nearest = Some(Limit {
                available,
                id,
                name,
            });
        }
    }
    nearest
}
