//! By how much things can grow before they touch.
//!
//! Every thing keeps its place and grows about its own middle by one common
//! factor. Each pair, and each thing with the wall, bears a certain growth; the
//! least of these is what the whole bears. All are closed forms with slopes.

use glam::DVec2;

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

pub(super) trait Conjugate {
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
pub(super) fn reach(half: DVec2, turn: f64, way: DVec2) -> (f64, f64) {
    let axis = DVec2::from_angle(turn);
    let (along, across) = (way.dot(axis), way.dot(axis.perp()));
    (
        half.x * along.abs() + half.y * across.abs(),
        half.x * along.signum() * across - half.y * across.signum() * along,
    )
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub(crate) const THINGS: [Thing; 3] = [
        Thing::Round(1.3),
        Thing::Block(DVec2::new(2.0, 0.7)),
        Thing::Block(DVec2::new(0.9, 1.6)),
    ];

    pub(crate) fn moved(lie: Lie, by: [f64; 3]) -> Lie {
        Lie {
            at: lie.at + DVec2::new(by[0], by[1]),
            turn: lie.turn + by[2],
        }
    }

    /// Slopes against differences, away from edges where they break.
    pub(crate) fn slope_holds(growth: impl Fn([f64; 3]) -> f64, slope: [f64; 3]) {
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
