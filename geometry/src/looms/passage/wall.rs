//! By how much things can grow before they touch the wall of a hole.

use glam::DVec2;

use super::gauge::{Borne, Conjugate, Lie, Thing, reach, rounded};
use super::room::Room;

/// What a thing bears before it touches the wall, one entry for each part of it.
pub(super) fn wall(thing: Thing, lie: Lie, room: &Room, mut each: impl FnMut(Borne)) {
    match thing {
        Thing::Round(radius) => round_at_wall(radius, lie, room, each),
        Thing::Block(half) => match room {
            Room::Disc(rim) if lie.at.length() < *rim => {
                for corner in [half, half * DVec2::new(-1.0, 1.0)] {
                    let corner = DVec2::from_angle(lie.turn).rotate(corner);
                    each(corner_at_rim(corner, lie.at, *rim));
                    each(corner_at_rim(-corner, lie.at, *rim));
                }
            }
            Room::Flat { convex: true, .. } => {
                for [from, to] in room.sides() {
                    each(block_at_line(half, lie, from, (to - from).perp()));
                }
            }
            _ => {
                let (depth, inward) = room.depth(lie.at);
                if depth <= 0.0 {
                    return each(outside(half.length(), depth, inward));
                }
                for side in room.sides() {
                    each(block_at_side(half, lie, side));
                }
            }
        },
    }
}

/// Entries of a thing whose middle is outside lead it back in.
fn outside(size: f64, depth: f64, inward: DVec2) -> Borne {
    Borne {
        growth: depth / size,
        by_place: inward / size,
        by_turn: 0.0,
    }
}

fn round_at_wall(radius: f64, lie: Lie, room: &Room, mut each: impl FnMut(Borne)) {
    if let Room::Flat { convex: true, .. } = room {
        for [from, to] in room.sides() {
            let inward = (to - from).perp().normalize_or_zero();
            each(outside(radius, inward.dot(lie.at - from), inward));
        }
    } else {
        let (depth, inward) = room.depth(lie.at);
        each(outside(radius, depth, inward));
    }
}

/// |at + s corner| = rim.
fn corner_at_rim(corner: DVec2, at: DVec2, rim: f64) -> Borne {
    let half = at.dot(corner);
    let rest = rim * rim - at.length_squared();
    let growth = rest / (half + (half * half + corner.length_squared() * rest).sqrt());
    let touched = at + growth * corner;
    let along = touched.dot(corner).max(f64::MIN_POSITIVE);
    Borne {
        growth,
        by_place: -touched / along,
        by_turn: -growth * touched.dot(corner.perp()) / along,
    }
}

/// A block before it reaches a line through a point; `inward` of any length.
fn block_at_line(half: DVec2, lie: Lie, from: DVec2, inward: DVec2) -> Borne {
    let inward = inward.normalize_or_zero();
    let (reach, by_turn) = reach(half, lie.turn, inward);
    let growth = inward.dot(lie.at - from) / reach;
    Borne {
        growth,
        by_place: inward / reach,
        by_turn: -growth / reach * by_turn,
    }
}

/// A block, its middle in the room, before it reaches a side: the side's line
/// where the corner touches within the side, otherwise the side's end.
fn block_at_side(half: DVec2, lie: Lie, [from, to]: [DVec2; 2]) -> Borne {
    let mut away = (to - from).perp().normalize_or_zero();
    if away.dot(lie.at - from) < 0.0 {
        away = -away;
    }
    let line = block_at_line(half, lie, from, away);
    let turn = DVec2::from_angle(lie.turn);
    let toward = turn.conjugate().rotate(-away);
    let corner = turn.rotate(half * DVec2::ONE.copysign(toward));
    let touched = lie.at + line.growth * corner;
    let along = to - from;
    let share = (touched - from).dot(along) / along.length_squared();
    if (0.0..=1.0).contains(&share) {
        return line;
    }
    let end = if share < 0.0 { from } else { to };
    let off = turn.conjugate().rotate(end - lie.at);
    let (growth, slope) = rounded(off, half, 0.0);
    Borne {
        growth,
        by_place: -turn.rotate(slope),
        by_turn: slope.dot(DVec2::new(off.y, -off.x)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::gauge::tests::{THINGS, moved, slope_holds};
    use super::*;
    use crate::looms::passage::Hole;

    #[test]
    fn the_slopes_at_walls_are_those_of_the_growth() {
        let elbow = [
            (-4., -4.),
            (8., -4.),
            (8., 3.),
            (3., 3.),
            (3., 9.),
            (-4., 9.),
        ];
        let elbow = elbow.map(|(x, y)| DVec2::new(x, y)).to_vec();
        let holes = [
            Hole::Round(14.0),
            Hole::rectangle(15.0, 11.0),
            Hole::Polygon(elbow),
        ];
        for hole in holes {
            let room = Room::of(&hole).unwrap();
            for thing in THINGS {
                let here = Lie {
                    at: DVec2::new(1.3, 0.9),
                    turn: 0.35,
                };
                let all = |lie: Lie| {
                    let mut all = Vec::new();
                    wall(thing, lie, &room, |borne| all.push(borne));
                    all
                };
                for (k, borne) in all(here).into_iter().enumerate() {
                    let growth = |by| all(moved(here, by))[k].growth;
                    slope_holds(growth, [borne.by_place.x, borne.by_place.y, borne.by_turn]);
                }
            }
        }
    }
}
