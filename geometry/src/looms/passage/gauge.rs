//! By how much things can grow before they touch.
//!
//! Every thing keeps its place and grows about its own middle by one common
//! factor. Each pair, and each thing with the wall, bears a certain growth; the
//! least of these is what the whole bears. All are closed forms with slopes.

use glam::DVec2;

use super::room::Room;

/// What lies in a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Thing {
    /// A cable by its radius.
    Round(f64),
    /// The end of a plug or a lump by half its width and half its height.
    Block(DVec2),
}

/// Where it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lie {
    pub at: DVec2,
    /// How far a block is turned, rad.
    pub turn: f64,
}

/// A growth that is borne, and how it changes with one thing's lie.
#[derive(Clone, Copy, Debug)]
pub(super) struct Borne {
    pub growth: f64,
    /// Change with the thing's place, for each unit of length.
    pub by_place: DVec2,
    /// Change with its turn, for each rad.
    pub by_turn: f64,
}

/// A growth borne by a pair. The second thing's place counts as the first's,
/// reversed.
pub(super) struct BornePair {
    pub one: Borne,
    /// Change with the turn of the second thing.
    pub by_other_turn: f64,
}

impl Thing {
    /// Half its width on the whole.
    pub fn half(&self) -> f64 {
        match self {
            Thing::Round(radius) => *radius,
            Thing::Block(half) => 0.5 * (half.x + half.y),
        }
    }
}

/// What two things bear before they touch.
pub(super) fn between(one: (Thing, Lie), other: (Thing, Lie)) -> BornePair {
    let alone = |growth, by_place| BornePair {
        one: Borne {
            growth,
            by_place,
            by_turn: 0.0,
        },
        by_other_turn: 0.0,
    };
    match (one, other) {
        ((Thing::Round(a), here), (Thing::Round(b), there)) => {
            let off = here.at - there.at;
            let apart = off.length().max(f64::MIN_POSITIVE);
            alone(apart / (a + b), off / (apart * (a + b)))
        }
        ((Thing::Block(half), here), (Thing::Round(radius), there)) => {
            round_beside_block(half, here, radius, there.at)
        }
        ((Thing::Round(radius), here), (Thing::Block(half), there)) => {
            let pair = round_beside_block(half, there, radius, here.at);
            BornePair {
                one: Borne {
                    growth: pair.one.growth,
                    by_place: -pair.one.by_place,
                    by_turn: 0.0,
                },
                by_other_turn: pair.one.by_turn,
            }
        }
        ((Thing::Block(a), here), (Thing::Block(b), there)) => blocks(a, here, b, there),
    }
}

fn round_beside_block(half: DVec2, block: Lie, radius: f64, round: DVec2) -> BornePair {
    let turn = DVec2::from_angle(block.turn);
    let off = turn.conjugate().rotate(round - block.at);
    let (growth, slope) = rounded(off, half, radius);
    BornePair {
        one: Borne {
            growth,
            by_place: -turn.rotate(slope),
            by_turn: slope.dot(DVec2::new(off.y, -off.x)),
        },
        by_other_turn: 0.0,
    }
}

trait Conjugate {
    fn conjugate(self) -> Self;
}

impl Conjugate for DVec2 {
    /// The turn back.
    fn conjugate(self) -> DVec2 {
        DVec2::new(self.x, -self.y)
    }
}

/// The factor by which a rectangle with rounded corners (half sizes `half` plus
/// `radius` all round) must grow to reach a point, and its slope there.
pub(super) fn rounded(point: DVec2, half: DVec2, radius: f64) -> (f64, DVec2) {
    let (p, sign) = (point.abs(), DVec2::ONE.copysign(point));
    let flat = p / (half + radius);
    let slope = DVec2::ONE / (half + radius);
    if p.y <= flat.x * half.y {
        return (flat.x, DVec2::new(sign.x * slope.x, 0.0));
    }
    if p.x <= flat.y * half.x {
        return (flat.y, DVec2::new(0.0, sign.y * slope.y));
    }
    let (b, c) = (p.dot(half), half.length_squared() - radius * radius);
    let square = p.length_squared();
    let growth = square / (b + (b * b - c * square).max(0.0).sqrt());
    let touched = p / growth;
    let square_to = touched - half;
    (growth, sign * square_to / square_to.dot(touched))
}

/// Two blocks: apart by the widest of the four directions square to a side.
fn blocks(a: DVec2, here: Lie, b: DVec2, there: Lie) -> BornePair {
    let off = here.at - there.at;
    let axes = [DVec2::X, DVec2::Y];
    let mut best: Option<BornePair> = None;
    for (own, axis) in [0, 0, 1, 1]
        .into_iter()
        .zip(axes.into_iter().cycle().take(4))
    {
        let (half, owner, other, other_lie) = if own == 0 {
            (a, here, b, there)
        } else {
            (b, there, a, here)
        };
        let normal = DVec2::from_angle(owner.turn).rotate(axis);
        let (reach, by_turn) = reach(other, other_lie.turn, normal);
        let both = half.dot(axis) + reach;
        let along = normal.dot(off);
        let growth = along.abs() / both;
        if best
            .as_ref()
            .is_some_and(|known| known.one.growth >= growth)
        {
            continue;
        }
        let by_reach = -growth / both * by_turn;
        let by_owner = along.signum() * normal.perp().dot(off) / both - by_reach;
        let turns = if own == 0 {
            [by_owner, by_reach]
        } else {
            [by_reach, by_owner]
        };
        best = Some(BornePair {
            one: Borne {
                growth,
                by_place: along.signum() * normal / both,
                by_turn: turns[0],
            },
            by_other_turn: turns[1],
        });
    }
    best.unwrap_or(BornePair {
        one: Borne {
            growth: 0.0,
            by_place: DVec2::ZERO,
            by_turn: 0.0,
        },
        by_other_turn: 0.0,
    })
}

/// How far a turned block reaches along a unit vector, and the change with its turn.
fn reach(half: DVec2, turn: f64, way: DVec2) -> (f64, f64) {
    let axis = DVec2::from_angle(turn);
    let (along, across) = (way.dot(axis), way.dot(axis.perp()));
    (
        half.x * along.abs() + half.y * across.abs(),
        half.x * along.signum() * across - half.y * across.signum() * along,
    )
}

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
    use super::*;
    use crate::looms::passage::Hole;

    const THINGS: [Thing; 3] = [
        Thing::Round(1.3),
        Thing::Block(DVec2::new(2.0, 0.7)),
        Thing::Block(DVec2::new(0.9, 1.6)),
    ];

    fn moved(lie: Lie, by: [f64; 3]) -> Lie {
        Lie {
            at: lie.at + DVec2::new(by[0], by[1]),
            turn: lie.turn + by[2],
        }
    }

    /// Slopes against differences, away from edges where they break.
    fn slope_holds(growth: impl Fn([f64; 3]) -> f64, slope: [f64; 3]) {
        let step = 1e-6;
        for (i, slope) in slope.into_iter().enumerate() {
            let mut by = [0.0; 3];
            by[i] = step;
            let ahead = growth(by);
            by[i] = -step;
            let rise = (ahead - growth(by)) / (2.0 * step);
            assert!((rise - slope).abs() < 1e-6, "{i}: {rise} and {slope}");
        }
    }

    #[test]
    fn the_slopes_between_things_are_those_of_the_growth() {
        for (k, turn) in [0.3, 1.1, 2.0, 4.4].into_iter().enumerate() {
            let at = DVec2::new(3.1 - k as f64, 1.7 + 0.3 * k as f64);
            let here = Lie { at, turn };
            let there = Lie {
                at: DVec2::new(0.2, -0.4),
                turn: 0.8,
            };
            for one in THINGS {
                for other in THINGS {
                    let pair = between((one, here), (other, there));
                    let by = pair.one.by_place;
                    let growth = |by| between((one, moved(here, by)), (other, there)).one.growth;
                    slope_holds(growth, [by.x, by.y, pair.one.by_turn]);
                    let growth = |by| between((one, here), (other, moved(there, by))).one.growth;
                    slope_holds(growth, [-by.x, -by.y, pair.by_other_turn]);
                }
            }
        }
    }

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

    #[test]
    fn a_rounded_block_reaches_a_point_at_its_growth() {
        for point in [
            DVec2::new(5.0, 4.0),
            DVec2::new(-3.0, 0.2),
            DVec2::new(0.1, -6.0),
        ] {
            let (half, radius) = (DVec2::new(2.0, 1.0), 0.5);
            let (growth, _) = rounded(point, half, radius);
            let beyond = (point.abs() - growth * half).max(DVec2::ZERO).length();
            assert!((beyond - growth * radius).abs() < 1e-12);
        }
    }
}
