//! How far it is from a node to an end through the free room, bends left out
//! of account: what a search goes by.
//!
//! Nodes are looked at as they are asked for, those first that come first by
//! their cost and by what is left to the other end at least. For the others
//! that order gives a bound.
//!
//! R. B. Dial, "Algorithm 360: shortest-path forest with topological
//! ordering", Communications of the ACM 12 (1969) 632-633: nodes sorted by
//! cost into buckets; P. E. Hart, N. J. Nilsson, B. Raphael, "A formal basis
//! for the heuristic determination of minimum cost paths", IEEE Transactions
//! on Systems Science and Cybernetics 4 (1968) 100-107: the order.

use glam::IVec3;

use super::lattice::{COST, HEADINGS, Lattice, opposite, steps_of};
use super::room::Room;

/// Cost of a node from which the end is not reached.
pub(super) const NEVER: u32 = u32::MAX;

/// A node from which an end is reached.
#[derive(Clone, Copy)]
pub(super) struct Seed {
    pub node: usize,
    /// What it costs from there.
    pub cost: u32,
    /// The heading that leads there.
    pub toward: usize,
}

/// Costs to one end, by node.
pub(super) struct Ahead {
    levels: Levels,
    steps: Steps,
    /// A node counts as free with this much room (a byte of the room), and so
    /// does half-way to a neighbour.
    least: u8,
    /// Levels before this one are done.
    level: usize,
}

impl Ahead {
    /// * `least`: a byte of the room, see [`Ahead`]
    /// * `seeds`: nodes from which the end is known to be reached
    /// * `targets`: nodes at the other end
    pub fn new(
        lattice: &Lattice,
        least: u8,
        seeds: &[Seed],
        targets: impl Iterator<Item = usize>,
    ) -> Ahead {
        let mut levels = Levels {
            costs: vec![NEVER; lattice.count()],
            toward: vec![0; lattice.count()],
            onward: Onward::to(lattice, targets),
            width: (lattice.step * COST) as u32,
            levels: Vec::new(),
        };
        for seed in seeds {
            let place = lattice.place(seed.node);
            levels.put(seed.node, place, seed.cost, seed.toward);
        }
        Ahead {
            levels,
            steps: Steps::new(lattice),
            least,
            level: 0,
        }
    }

    /// Cost from a node at least, [`NEVER`] when the end is not reached from
    /// there, and the heading that leads there, where that is known.
    #[inline]
    pub fn from(&self, node: usize, place: IVec3) -> (u32, Option<usize>) {
        let known = self.levels.costs[node];
        let toward = (known != NEVER).then(|| usize::from(self.levels.toward[node]));
        if self.level >= self.levels.levels.len() {
            return (known, toward);
        }
        let bound = self.level as u32 * self.levels.width;
        let least = bound.saturating_sub(self.levels.onward.least(place));
        (known.min(least), toward)
    }

    /// Looks at some more nodes, unless the cost of this one is known.
    pub fn look_on(&mut self, room: &Room, lattice: &Lattice, node: usize, place: IVec3) {
        let known = self.levels.costs[node];
        let settled = known != NEVER && self.levels.level(place, known) < self.level;
        if settled || self.level >= self.levels.levels.len() {
            return;
        }
        while let Some(node) = self.levels.levels[self.level].pop() {
            let (node, place) = (node as usize, lattice.place(node as usize));
            // One that got cheaper was done with its cheaper cost.
            if self.levels.level(place, self.levels.costs[node]) == self.level {
                let steps = &self.steps;
                steps.go(room, lattice, self.least, node, place, &mut self.levels);
            }
        }
        self.level += 1;
    }
}

/// Least cost from a node to a box of nodes.
struct Onward {
    low: IVec3,
    high: IVec3,
    /// Cost of a step along an axis; what a step costs more across a square,
    /// and across a cube than across a square.
    steps: [u32; 3],
}

impl Onward {
    fn to(lattice: &Lattice, targets: impl Iterator<Item = usize>) -> Onward {
        let places = targets.map(|node| lattice.place(node));
        let around = places.fold(None, |around: Option<(IVec3, IVec3)>, place| {
            let (low, high) = around.unwrap_or((place, place));
            Some((low.min(place), high.max(place)))
        });
        let (low, high) = around.unwrap_or_default();
        let step = lattice.step * COST;
        let whole = [1.0, 2f64.sqrt(), 3f64.sqrt()].map(|it| (it * step) as u32);
        Onward {
            low,
            high,
            steps: [whole[0], whole[1] - whole[0], whole[2] - whole[1]],
        }
    }

    #[inline]
    fn least(&self, place: IVec3) -> u32 {
        let away = (self.low - place).max(place - self.high).max(IVec3::ZERO);
        let most = away.max_element();
        let least = away.min_element();
        let middle = away.element_sum() - most - least;
        most as u32 * self.steps[0] + middle as u32 * self.steps[1] + least as u32 * self.steps[2]
    }
}

/// Nodes by their cost and what is left, in levels one step wide.
struct Levels {
    costs: Vec<u32>,
    toward: Vec<u8>,
    onward: Onward,
    width: u32,
    levels: Vec<Vec<u32>>,
}

impl Levels {
    #[inline]
    fn level(&self, place: IVec3, cost: u32) -> usize {
        ((cost + self.onward.least(place)) / self.width) as usize
    }

    #[inline]
    fn put(&mut self, node: usize, place: IVec3, cost: u32, toward: usize) {
        if cost < self.costs[node] {
            self.costs[node] = cost;
            self.toward[node] = toward as u8;
            let level = self.level(place, cost);
            if level >= self.levels.len() {
                self.levels.resize_with(level + 1, Vec::new);
            }
            self.levels[level].push(node as u32);
        }
    }
}

/// The 26 steps from a node.
struct Steps {
    places: [IVec3; HEADINGS],
    nodes: [isize; HEADINGS],
    costs: [u32; HEADINGS],
    voxels: [isize; HEADINGS],
    halves: [isize; HEADINGS],
    /// Room from which half-way is surely free.
    plenty: [u8; HEADINGS],
}

impl Steps {
    fn new(lattice: &Lattice) -> Steps {
        let places: [IVec3; HEADINGS] = std::array::from_fn(steps_of);
        let length = |place: IVec3| place.as_dvec3().length() * lattice.step;
        let full = |place: IVec3| place.as_dvec3() * lattice.step;
        let [nx, ny, _] = lattice.size.map(|it| it as i32);
        Steps {
            places,
            nodes: places.map(|it| ((it.z * ny + it.y) * nx + it.x) as isize),
            costs: places.map(|place| (length(place) * COST) as u32),
            voxels: places.map(|place| lattice.offset(full(place))),
            halves: places.map(|place| lattice.offset(0.5 * full(place))),
            plenty: places.map(|place| Room::byte_of(0.5 * length(place))),
        }
    }

    /// Goes every step from a node.
    fn go(
        &self,
        room: &Room,
        lattice: &Lattice,
        least: u8,
        node: usize,
        place: IVec3,
        levels: &mut Levels,
    ) {
        let inner = lattice.holds(place - IVec3::ONE) && lattice.holds(place + IVec3::ONE);
        let voxel = lattice.voxel(place) as isize;
        let cost = levels.costs[node];
        let here = room.rough_byte(voxel as usize);
        for heading in 0..HEADINGS {
            let onto = place + self.places[heading];
            if !inner && !lattice.holds(onto) {
                continue;
            }
            let next = (node as isize + self.nodes[heading]) as usize;
            if cost + self.costs[heading] >= levels.costs[next] {
                continue;
            }
            if room.rough_byte((voxel + self.voxels[heading]) as usize) < least {
                continue;
            }
            let sure = here >= least.saturating_add(self.plenty[heading]);
            if sure || room.rough_byte((voxel + self.halves[heading]) as usize) >= least {
                levels.put(next, onto, cost + self.costs[heading], opposite(heading));
            }
        }
    }
}
