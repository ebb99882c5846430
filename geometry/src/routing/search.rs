//! The search for one lead on the lattice, from both ends at once.
//!
//! P. E. Hart, N. J. Nilsson, B. Raphael, "A formal basis for the heuristic
//! determination of minimum cost paths", IEEE Transactions on Systems Science
//! and Cybernetics 4 (1968) 100-107, in both directions: each side goes by its
//! own cost and by what is ahead of it through the free room ([`Ahead`]).
//! It ends when neither side can better the best meeting, and at once when
//! one side has nowhere left to go.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use glam::DVec3;

use super::NoWay;
use super::ahead::{Ahead, NEVER};
use super::approach::Approach;
use super::ground::Ground;
use super::lattice::{COST, HEADINGS, opposite};

/// One end of a lead for the search.
pub(super) struct Side<'a> {
    pub approaches: &'a [Approach],
    /// What is ahead of this side: the cost to the other end.
    pub ahead: &'a mut Ahead,
}

/// What one side knows of a node and heading: the search it is from, the turn
/// that led there (an approach from [`APPROACH`] on) and the cost, in one word.
/// A fresh slate of zeros costs no time until it is written on.
#[derive(Clone, Copy)]
struct Label {
    stamp: u16,
    by: u16,
    cost: u32,
}

impl Label {
    #[inline]
    fn read(word: u64) -> Label {
        Label {
            stamp: (word >> 48) as u16,
            by: (word >> 32) as u16,
            cost: word as u32,
        }
    }

    #[inline]
    fn word(self) -> u64 {
        u64::from(self.stamp) << 48 | u64::from(self.by) << 32 | u64::from(self.cost)
    }
}

/// What is ahead counts for more than its cost by one part in this many: bends
/// make it dearer than it looks.
const WEIGHT: u32 = 4;

/// Labels from here on name an approach.
const APPROACH: u16 = 0x8000;

/// Added to a label whose turns have been gone.
const DONE: u16 = 0x4000;

/// Labels of both sides, kept from search to search.
#[derive(Default)]
pub(super) struct Slate {
    labels: [Vec<u64>; 2],
    stamp: u16,
}

type Queue = BinaryHeap<Reverse<(u32, u32)>>;

impl Slate {
    /// The inner corners from one end to the other, and the nodes expanded.
    pub fn search(
        &mut self,
        ground: &mut Ground,
        sides: [Side; 2],
        most: u64,
    ) -> (Result<Vec<DVec3>, NoWay>, u64) {
        let states = ground.lattice.count() * HEADINGS;
        if self.labels[0].len() < states || self.stamp == u16::MAX {
            self.labels = [vec![0; states], vec![0; states]];
            self.stamp = 0;
        }
        self.stamp += 1;
        let mut queues = [Queue::new(), Queue::new()];
        let mut best = (NEVER, 0);
        for (side, queue) in queues.iter_mut().enumerate() {
            self.seed(ground, side, &sides[side], queue, &mut best);
        }
        let mut expanded = 0;
        let mut side = 0;
        while let Some(Reverse((promise, state))) = queues[side].pop() {
            if promise >= best.0 {
                break;
            }
            let label = self.label(side, state as usize);
            if label.by & DONE != 0 {
                continue;
            }
            let (node, place) = ground.node_of(state as usize);
            sides[side]
                .ahead
                .look_on(ground.room, ground.lattice, node, place);
            let rest = rest(ground, sides[side].ahead, state as usize);
            if rest == NEVER || label.cost + rest > promise {
                if rest != NEVER {
                    queues[side].push(Reverse((label.cost + rest, state)));
                }
                continue;
            }
            if expanded == most {
                return (Err(NoWay::GaveUp), expanded);
            }
            expanded += 1;
            let by = label.by | DONE;
            self.labels[side][state as usize] = Label { by, ..label }.word();
            self.expand(
                ground,
                side,
                sides[side].ahead,
                state,
                &mut queues[side],
                &mut best,
            );
            side = usize::from(queues[1].len() < queues[0].len());
        }
        if best.0 == NEVER {
            return (Err(NoWay::Exhausted), expanded);
        }
        (Ok(self.corners(ground, &sides, best.1)), expanded)
    }

    #[inline]
    fn label(&self, side: usize, state: usize) -> Label {
        Label::read(self.labels[side][state])
    }

    /// Enters the ways from an end onto the lattice.
    fn seed(
        &mut self,
        ground: &Ground,
        side: usize,
        from: &Side,
        queue: &mut Queue,
        best: &mut (u32, u32),
    ) {
        for (number, approach) in from.approaches.iter().enumerate() {
            let Some(extra) = ground.approach(approach, side == 0) else {
                continue;
            };
            let state = approach.node * HEADINGS + approach.heading;
            let label = Label {
                stamp: self.stamp,
                cost: approach.cost + extra,
                by: APPROACH | number as u16,
            };
            self.note(ground, side, from.ahead, state, label, queue, best);
        }
    }

    /// Goes every turn from a node.
    fn expand(
        &mut self,
        ground: &mut Ground,
        side: usize,
        ahead: &Ahead,
        state: u32,
        queue: &mut Queue,
        best: &mut (u32, u32),
    ) {
        let (node, heading) = (state as usize / HEADINGS, state as usize % HEADINGS);
        let place = ground.lattice.place(node);
        let voxel = ground.lattice.voxel(place);
        let cost = self.label(side, state as usize).cost;
        let turns = ground.turns;
        let range = turns.starts[heading]..turns.starts[heading + 1];
        for number in range {
            let turn = &turns.all[number];
            let Some(next) = ground.lattice.node(place + turn.delta) else {
                continue;
            };
            if turn
                .corner
                .is_some_and(|corner| !ground.lattice.holds(place + corner))
            {
                continue;
            }
            let target = next * HEADINGS + turn.to;
            let onward = cost + turn.cost;
            let known = self.label(side, target);
            if known.stamp == self.stamp && known.cost <= onward {
                continue;
            }
            let start = (side == 0 && !ground.lumps.is_empty()).then_some(f64::from(cost) / COST);
            let Some(extra) = ground.turn(turn, voxel, place, start) else {
                continue;
            };
            let label = Label {
                stamp: self.stamp,
                cost: onward + extra,
                by: number as u16,
            };
            self.note(ground, side, ahead, target, label, queue, best);
        }
    }

    /// Notes a label if it is better than what is known, and a meeting.
    #[allow(clippy::too_many_arguments)]
    fn note(
        &mut self,
        ground: &Ground,
        side: usize,
        ahead: &Ahead,
        state: usize,
        label: Label,
        queue: &mut Queue,
        best: &mut (u32, u32),
    ) {
        let known = self.label(side, state);
        let rest = rest(ground, ahead, state);
        if rest == NEVER || known.stamp == self.stamp && known.cost <= label.cost {
            return;
        }
        self.labels[side][state] = label.word();
        queue.push(Reverse((label.cost + rest, state as u32)));
        let met = state - state % HEADINGS + opposite(state % HEADINGS);
        let other = self.label(1 - side, met);
        let forward = if side == 0 { label.cost } else { other.cost };
        if other.stamp == self.stamp
            && label.cost + other.cost < best.0
            && ground.past_lumps(forward)
        {
            let state = if side == 0 { state } else { met };
            *best = (label.cost + other.cost, state as u32);
        }
    }

    /// The corners through the meeting at a state of the first side.
    fn corners(&self, ground: &Ground, sides: &[Side; 2], state: u32) -> Vec<DVec3> {
        let mut corners = self.back(ground, 0, sides[0].approaches, state as usize);
        corners.reverse();
        let met = state as usize - state as usize % HEADINGS + opposite(state as usize % HEADINGS);
        corners.extend(self.back(ground, 1, sides[1].approaches, met));
        corners
    }

    /// The corners from a state back to its end.
    fn back(
        &self,
        ground: &Ground,
        side: usize,
        approaches: &[Approach],
        mut state: usize,
    ) -> Vec<DVec3> {
        let mut corners = Vec::new();
        loop {
            let by = self.label(side, state).by & !DONE;
            if by & APPROACH != 0 {
                let approach = &approaches[(by ^ APPROACH) as usize];
                corners.extend(approach.corners.iter().rev());
                return corners;
            }
            let turn = &ground.turns.all[by as usize];
            let place = ground.lattice.place(state / HEADINGS) - turn.delta;
            corners.extend(
                turn.corner
                    .map(|corner| ground.lattice.point(place + corner)),
            );
            let node = ground.lattice.node(place).expect("a turn begins at a node");
            state = node * HEADINGS + turn.from;
        }
    }
}

/// What is ahead of a state, weighed.
#[inline]
fn rest(ground: &Ground, ahead: &Ahead, state: usize) -> u32 {
    let (node, place) = ground.node_of(state);
    let (cost, toward) = ahead.from(node, place);
    if cost == NEVER {
        return NEVER;
    }
    let swing = toward.map_or(0, |toward| ground.turns.swing[state % HEADINGS][toward]);
    cost + cost / WEIGHT + swing
}
