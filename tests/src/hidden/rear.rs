//! Sockets on the back of the unit, so that every plug has its place.

use geometry::{Plug, PlugStyle};
use glam::DVec2;

use crate::chance::Chance;

/// Half the back of the unit that plugs may cover, mm.
const REAR: DVec2 = DVec2::new(87.0, 48.0);

/// Between plugs, mm: a finger's nail.
const BETWEEN: f64 = 2.0;

/// Tries for one plug.
const TRIES: usize = 400;

/// A rectangle of the back.
#[derive(Clone, Copy)]
struct Patch {
    low: DVec2,
    high: DVec2,
}

impl Patch {
    fn overlaps(&self, other: &Patch) -> bool {
        self.low.x < other.high.x + BETWEEN
            && other.low.x < self.high.x + BETWEEN
            && self.low.y < other.high.y + BETWEEN
            && other.low.y < self.high.y + BETWEEN
    }
}

/// The room a plug takes about its socket, down to the edge for a square one
/// (all of them turn down): its cable goes that way close to the chassis.
fn patch(plug: &Plug, at: DVec2) -> Patch {
    let half = 0.5 * DVec2::new(plug.width.value(), plug.height.value());
    let mut patch = Patch {
        low: at - half,
        high: at + half,
    };
    if matches!(plug.style, PlugStyle::RightAngle { .. }) {
        patch.low.y = -REAR.y;
    }
    patch
}

/// A vent of 20 x 20 mm about a place and the air around it.
fn airy(vent: DVec2) -> Patch {
    let half = DVec2::splat(10.0 + geometry::VENT_AIR);
    Patch {
        low: vent - half,
        high: vent + half,
    }
}

/// A place for every plug, none on another or in the air of the vent; `None`
/// when one found no place.
///
/// * `vent`: middle of a fan outlet of 20 x 20 mm
pub fn arrange(plugs: &[&Plug], vent: DVec2, chance: &mut Chance) -> Option<Vec<DVec2>> {
    let mut largest_first: Vec<usize> = (0..plugs.len()).collect();
    let area = |plug: &Plug| plug.width.value() * plug.height.value();
    largest_first.sort_by(|a, b| area(plugs[*b]).total_cmp(&area(plugs[*a])));
    let mut taken = vec![airy(vent)];
    let mut places = vec![DVec2::ZERO; plugs.len()];
    for index in largest_first {
        let plug = plugs[index];
        let half = 0.5 * DVec2::new(plug.width.value(), plug.height.value());
        let mut room = REAR - half;
        let lowest = match plug.style {
            // The plug itself stays within the outline of the chassis.
            PlugStyle::RightAngle { reach, .. } => reach - REAR.y,
            PlugStyle::Straight { .. } => -room.y,
        };
        room = room.max(DVec2::ZERO);
        let (at, patch) = (0..TRIES).find_map(|_| {
            let at = DVec2::new(
                chance.typed(-room.x, room.x),
                chance.typed(lowest, room.y.max(lowest)),
            );
            let patch = patch(plug, at);
            let free = taken.iter().all(|other| !patch.overlaps(other));
            free.then_some((at, patch))
        })?;
        taken.push(patch);
        places[index] = at;
    }
    Some(places)
}
