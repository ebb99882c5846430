//! A coarse way in: from posture to posture, by how far out and how tilted.
//!
//! For each of them the free room sideways is worked out exactly, so only two
//! of three freedoms are on a grid. The way sought is the one that tilts
//! least, and of those the shortest. A step is certified when it is about to
//! be taken, not before.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use super::Posture;
use super::Tight;
use super::certify::{Checks, THINNEST, certify};
use super::passage::Passage;

/// Steps of the grid: how far out, mm, and how tilted, radians. A degree
/// moves the rear of a deep unit about as far as one step further in.
const STEP: f64 = 3.0;
const TILT_STEP: f64 = std::f64::consts::PI / 360.0;

/// What is asked to spare all the way in, mm, and how many times finer than
/// [`STEP`] the steps are: with a steady hand's room first, common practice, no
/// source; then whatever goes in at all.
pub const RUNGS: [[f64; 2]; 3] = [[0.5, 1.0], [THINNEST, 1.0], [THINNEST, 2.0]];

/// Room beyond the play in the opening that is looked at sideways, mm.
const BESIDE: f64 = 3.0;

/// Taken off both ends of every free range over what is asked to spare, mm.
const OFF: f64 = 0.02;

/// Cost of a step further in or out, of one of tilt, and of both.
const COSTS: [u32; 3] = [10, 10, 14];

/// What came of the search.
pub enum Found {
    /// A way, certified step by step, down to a level posture in line, and what
    /// it has to spare all along, mm.
    Way(Vec<Posture>, f64),
    /// None; how far in it came, mm proud, and what bars it there.
    Nothing {
        /// Least proud reached, mm.
        deepest: f64,
        /// What bars it there.
        by: Option<Tight>,
    },
}

/// One free range of one place of the grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    row: i32,
    tilt: i32,
    range: u8,
}

/// Steepest tilt on the way and its cost: what is least of both in turn.
type Cost = (u32, u32);

/// How a node was reached: from where, and at which `aside` the step was taken, mm.
type Reached = (Option<Node>, f64);

/// Looks for a way in.
///
/// * `most_tilt`: steepest tilt allowed, radians
/// * `berth`: the proud to come to, and the end of the range it lies in, mm
/// * `rung`: one of [`RUNGS`]
pub fn search(
    passage: &Passage<'_>,
    most_tilt: f64,
    berth: [f64; 2],
    rung: [f64; 2],
    checks: &mut Checks,
) -> Found {
    let steps = STEP / rung[1];
    Grid::new(passage, most_tilt, berth, [steps, rung[0]]).search(checks)
}

struct Grid<'a, 'p> {
    passage: &'a Passage<'p>,
    berth: [f64; 2],
    /// Proud of the first row, and from row to row, mm.
    first: f64,
    step: f64,
    /// What is to be spare all the way, mm.
    spare: f64,
    last_row: i32,
    /// Places of tilt to each side of level, and from one to the next, radians.
    tilts: i32,
    tilt_step: f64,
    ranges: BTreeMap<(i32, i32), Vec<[f64; 2]>>,
}

impl<'a, 'p> Grid<'a, 'p> {
    fn new(
        passage: &'a Passage<'p>,
        most_tilt: f64,
        berth: [f64; 2],
        [step, spare]: [f64; 2],
    ) -> Grid<'a, 'p> {
        let [from, to] = berth;
        // A row in the middle of a short berth; else a little out of its end,
        // where something usually touches.
        let first = from + (0.5 * (to - from)).min(0.25 * step);
        let last_row = ((passage.outside(most_tilt) - first) / step)
            .ceil()
            .max(0.0) as i32;
        let tilts = (most_tilt / TILT_STEP).ceil() as i32;
        Grid {
            passage,
            berth,
            first,
            step,
            spare,
            last_row,
            tilts,
            tilt_step: most_tilt / f64::from(tilts.max(1)),
            ranges: BTreeMap::new(),
        }
    }

    fn proud(&self, row: i32) -> f64 {
        self.first + f64::from(row) * self.step
    }

    fn posture(&self, node: Node, aside: f64) -> Posture {
        Posture {
            proud: self.proud(node.row),
            tilt: f64::from(node.tilt) * self.tilt_step,
            aside,
        }
    }

    /// The free ranges sideways at a place, mm.
    fn ranges(&mut self, row: i32, tilt: i32, checks: &mut Checks) -> &[[f64; 2]] {
        let (proud, turned) = (self.proud(row), f64::from(tilt) * self.tilt_step);
        let reach = self.passage.play + BESIDE;
        let off = self.spare + OFF;
        self.ranges.entry((row, tilt)).or_insert_with(|| {
            let (free, work) = self.passage.free(proud, turned, reach);
            checks.work += work;
            free.into_iter()
                .map(|[low, high]| [low + off, high - off])
                .filter(|[low, high]| low < high)
                .take(usize::from(u8::MAX))
                .collect()
        })
    }

    fn range(&self, node: Node) -> [f64; 2] {
        self.ranges[&(node.row, node.tilt)][usize::from(node.range)]
    }

    fn is_goal(&self, node: Node) -> bool {
        let [low, high] = self.range(node);
        node.tilt == 0 && self.proud(node.row) < self.berth[1] && low <= 0.0 && 0.0 <= high
    }

    fn search(mut self, checks: &mut Checks) -> Found {
        let mut open = BinaryHeap::new();
        let mut reached: BTreeMap<Node, Reached> = BTreeMap::new();
        for tilt in -self.tilts..=self.tilts {
            for range in 0..self.ranges(self.last_row, tilt, checks).len() {
                let start = Node {
                    row: self.last_row,
                    tilt,
                    range: range as u8,
                };
                open.push(Reverse(((tilt.unsigned_abs(), 0), start, None)));
            }
        }
        let mut deepest: Option<Node> = None;
        while let Some(Reverse((cost, node, parent))) = open.pop() {
            if reached.contains_key(&node) {
                continue;
            }
            if checks.is_spent() {
                break;
            }
            let Some(aside) = self.step_to(parent, node, checks) else {
                continue;
            };
            reached.insert(node, (parent, aside));
            if self.is_goal(node) {
                return Found::Way(self.way(&reached, node), self.spare);
            }
            if deepest.is_none_or(|known| node.row < known.row) {
                deepest = Some(node);
            }
            self.spread(node, cost, &reached, &mut open, checks);
        }
        self.nothing(deepest)
    }

    /// Where sideways a step can be taken, certified, mm.
    fn step_to(&self, parent: Option<Node>, node: Node, checks: &mut Checks) -> Option<f64> {
        let [low, high] = self.range(node);
        let Some(parent) = parent else {
            return Some(0.0_f64.clamp(low, high));
        };
        let other = self.range(parent);
        let (low, high) = (low.max(other[0]), high.min(other[1]));
        [0.5, 0.2, 0.8].into_iter().find_map(|share| {
            let aside = low + share * (high - low);
            let [from, to] = [parent, node].map(|it| self.posture(it, aside));
            certify(self.passage, [&from, &to], self.spare, checks).map(|_| aside)
        })
    }

    /// Puts everything that may be reached from a node on the list.
    fn spread(
        &mut self,
        node: Node,
        cost: Cost,
        reached: &BTreeMap<Node, Reached>,
        open: &mut BinaryHeap<Reverse<(Cost, Node, Option<Node>)>>,
        checks: &mut Checks,
    ) {
        let own = self.range(node);
        for (rows, turns) in [-1, 0, 1]
            .into_iter()
            .flat_map(|a| [-1, 0, 1].map(|b| (a, b)))
        {
            let (row, tilt) = (node.row + rows, node.tilt + turns);
            let inside = (0..=self.last_row).contains(&row) && tilt.abs() <= self.tilts;
            if (rows, turns) == (0, 0) || !inside {
                continue;
            }
            let price = match (rows, turns) {
                (_, 0) => COSTS[0],
                (0, _) => COSTS[1],
                _ => COSTS[2],
            };
            let next = (cost.0.max(tilt.unsigned_abs()), cost.1 + price);
            let ranges = self.ranges(row, tilt, checks).iter().enumerate();
            for (number, [low, high]) in ranges {
                let to = Node {
                    row,
                    tilt,
                    range: number as u8,
                };
                let meet = low.max(own[0]) < high.min(own[1]);
                if meet && !reached.contains_key(&to) {
                    open.push(Reverse((next, to, Some(node))));
                }
            }
        }
    }

    /// The way to a goal: each step at its own place sideways, and moves
    /// sideways between them.
    fn way(&self, reached: &BTreeMap<Node, Reached>, goal: Node) -> Vec<Posture> {
        let mut way = vec![self.posture(goal, 0.0)];
        let mut at = goal;
        while let (Some(parent), aside) = reached[&at] {
            for posture in [self.posture(at, aside), self.posture(parent, aside)] {
                if way.last() != Some(&posture) {
                    way.push(posture);
                }
            }
            at = parent;
        }
        way.reverse();
        way
    }

    /// What bars the way behind the node that is furthest in.
    fn nothing(&self, deepest: Option<Node>) -> Found {
        let Some(node) = deepest else {
            return Found::Nothing {
                deepest: f64::INFINITY,
                by: None,
            };
        };
        let [low, high] = self.range(node);
        let on = Posture {
            proud: self.proud(node.row - 1),
            ..self.posture(node, 0.5 * (low + high))
        };
        Found::Nothing {
            deepest: self.proud(node.row),
            by: self
                .passage
                .nearest(&on)
                .map(|near| self.passage.tight(&near)),
        }
    }
}
