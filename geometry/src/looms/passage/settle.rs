//! Where to lay things in a hole so that they could grow furthest.
//!
//! The common growth is pushed up against what every pair and every wall bears
//! ([`gauge`](super::gauge)); what is overrun pushes back with its square. As the
//! pressure falls, so does what is overrun, and the last of it is drawn off.

use std::f64::consts::PI;

use glam::DVec2;

use super::gauge::{Lie, Thing, between};
use super::room::Room;
use super::wall::wall;
use crate::packing::Effort;
use crate::packing::chance::Chance;
use crate::packing::descend::{Descent, Stop};

/// Pressures in turn; the last is half the one before, so that what is left of
/// both can be drawn off.
const PRESSURES: [f64; 6] = [1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 0.5e-5];

/// Things in a hole, in units of its size.
struct Press<'a> {
    things: &'a [Thing],
    room: &'a Room,
    /// Half the width of a thing on the average.
    mean: f64,
    pressure: f64,
}

/// The best lies found, and the growth all bear there together.
///
/// * `goal`: growth at which to stop looking
pub(super) fn settle(things: &[Thing], room: &Room, goal: f64, effort: Effort) -> (Vec<Lie>, f64) {
    let [low, high] = room.bounds();
    let unit = 0.5 * low.distance(high);
    let room = room.in_units(unit);
    let small: Vec<Thing> = (things.iter())
        .map(|thing| match thing {
            Thing::Round(radius) => Thing::Round(radius / unit),
            Thing::Block(half) => Thing::Block(*half / unit),
        })
        .collect();
    let (lies, growth) = search(&small, &room, goal, effort);
    let full = |lie: Lie| Lie {
        at: lie.at * unit,
        ..lie
    };
    (lies.into_iter().map(full).collect(), growth)
}

fn search(things: &[Thing], room: &Room, goal: f64, effort: Effort) -> (Vec<Lie>, f64) {
    let starts = match effort {
        Effort::Quick => 20,
        Effort::Normal => 60,
        Effort::Careful => 200,
        Effort::Thorough => 600,
    };
    let mut chance = Chance::new(1);
    let mut descent = Descent::new(3 * things.len() + 1);
    let mut best = (scattered(things, room, &mut chance), f64::NEG_INFINITY);
    for start in 0..starts {
        // Two in three starts shake up the best so far.
        let mut place = if start % 3 == 0 {
            scattered(things, room, &mut chance)
        } else {
            shaken(things, room, &best.0, &mut chance)
        };
        let enough = [best.1, goal];
        if let Some(growth) = press(things, room, &mut place, enough, &mut descent)
            && growth > best.1
        {
            best = (place, growth);
        }
        if best.1 >= goal {
            break;
        }
    }
    let lies = (0..things.len()).map(|i| lie(things, &best.0, i)).collect();
    (lies, best.1)
}

/// Presses things to a place where no growth is left; returns what they bear.
///
/// Under pressure they grow further than they could, so a place where even that
/// is no more than the best known is given up: `None`. A place that bears the
/// goal is good enough.
fn press(
    things: &[Thing],
    room: &Room,
    place: &mut Vec<f64>,
    [best, goal]: [f64; 2],
    descent: &mut Descent,
) -> Option<f64> {
    let mean = things.iter().map(Thing::half).sum::<f64>() / things.len() as f64;
    let mut earlier = place.clone();
    for pressure in PRESSURES {
        earlier.clone_from(place);
        let press = Press {
            things,
            room,
            mean,
            pressure,
        };
        let stop = Stop {
            flat: if pressure > 1e-4 { 1e-3 } else { 1e-9 } * pressure,
            most: 600,
            hope: f64::INFINITY,
        };
        descent.run(place, stop, |at, slope| press.energy(at, slope));
        if pressure <= 1e-3 && place[3 * things.len()] <= best {
            return None;
        }
        let growth = borne(things, room, place);
        if growth >= goal {
            return Some(growth);
        }
    }
    let growth = borne(things, room, place);
    // What is overrun shrinks with the pressure: at none it would lie here.
    let drawn: Vec<f64> = (place.iter().zip(&earlier))
        .map(|(half, whole)| 2.0 * half - whole)
        .collect();
    let further = borne(things, room, &drawn);
    if further > growth {
        *place = drawn;
        Some(further)
    } else {
        Some(growth)
    }
}

/// The growth that all things bear together.
fn borne(things: &[Thing], room: &Room, place: &[f64]) -> f64 {
    let mut least = f64::INFINITY;
    for i in 0..things.len() {
        let here = (things[i], lie(things, place, i));
        wall(here.0, here.1, room, |borne| {
            least = least.min(borne.growth);
        });
        for j in 0..i {
            let pair = between(here, (things[j], lie(things, place, j)));
            least = least.min(pair.one.growth);
        }
    }
    least
}

/// Where a thing lies. A block's turn is kept as the way its corner goes.
fn lie(things: &[Thing], place: &[f64], index: usize) -> Lie {
    let at = DVec2::new(place[3 * index], place[3 * index + 1]);
    let turn = match things[index] {
        Thing::Round(_) => 0.0,
        Thing::Block(half) => place[3 * index + 2] / half.length(),
    };
    Lie { at, turn }
}

impl Press<'_> {
    /// - pressure x growth + half the sum of squares of what is overrun.
    fn energy(&self, place: &[f64], slope: &mut [f64]) -> f64 {
        let things = self.things;
        let last = 3 * things.len();
        let growth = place[last];
        slope.fill(0.0);
        let mut squares = 0.0;
        let mut push_back = 0.0;
        for i in 0..things.len() {
            let here = (things[i], lie(things, place, i));
            let weight = here.0.half() / self.mean;
            wall(here.0, here.1, self.room, |borne| {
                let over = weight * (growth - borne.growth);
                if over > 0.0 {
                    squares += over * over;
                    push_back += weight * over;
                    pull(
                        slope,
                        things,
                        i,
                        -weight * over,
                        borne.by_place,
                        borne.by_turn,
                    );
                }
            });
            for j in 0..i {
                let pair = between(here, (things[j], lie(things, place, j)));
                let weight = weight + things[j].half() / self.mean;
                let over = weight * (growth - pair.one.growth);
                if over > 0.0 {
                    squares += over * over;
                    push_back += weight * over;
                    let (by_place, by_turn) = (pair.one.by_place, pair.one.by_turn);
                    pull(slope, things, i, -weight * over, by_place, by_turn);
                    pull(
                        slope,
                        things,
                        j,
                        -weight * over,
                        -by_place,
                        pair.by_other_turn,
                    );
                }
            }
        }
        slope[last] = push_back - self.pressure;
        0.5 * squares - self.pressure * growth
    }
}

fn pull(
    slope: &mut [f64],
    things: &[Thing],
    index: usize,
    force: f64,
    by_place: DVec2,
    by_turn: f64,
) {
    slope[3 * index] += force * by_place.x;
    slope[3 * index + 1] += force * by_place.y;
    if let Thing::Block(half) = things[index] {
        slope[3 * index + 2] += force * by_turn / half.length();
    }
}

/// Things scattered at random over the room, blocks turned at random or straight.
fn scattered(things: &[Thing], room: &Room, chance: &mut Chance) -> Vec<f64> {
    let mut place = vec![0.0; 3 * things.len() + 1];
    for i in 0..things.len() {
        drop_in(things, room, &mut place, i, chance);
    }
    place[3 * things.len()] = 0.3;
    place
}

/// The best place so far with one thing dropped elsewhere, or two exchanged.
fn shaken(things: &[Thing], room: &Room, best: &[f64], chance: &mut Chance) -> Vec<f64> {
    let mut place = best.to_vec();
    if things.is_empty() {
        return place;
    }
    let (one, other) = (chance.below(things.len()), chance.below(things.len()));
    if things[one] == things[other] {
        drop_in(things, room, &mut place, one, chance);
    } else {
        place.swap(3 * one, 3 * other);
        place.swap(3 * one + 1, 3 * other + 1);
    }
    place[3 * things.len()] *= 0.7;
    place
}

fn drop_in(things: &[Thing], room: &Room, place: &mut [f64], index: usize, chance: &mut Chance) {
    let [low, high] = room.bounds();
    for _ in 0..50 {
        let share = DVec2::new(chance.unit(), chance.unit());
        let at = low + share * (high - low);
        place[3 * index] = at.x;
        place[3 * index + 1] = at.y;
        if room.depth(at).0 > 0.0 {
            break;
        }
    }
    if let Thing::Block(half) = things[index] {
        let turn = match chance.below(4) {
            0 => 0.0,
            1 => 0.5 * PI,
            _ => PI * chance.unit(),
        };
        place[3 * index + 2] = turn * half.length();
    }
}
