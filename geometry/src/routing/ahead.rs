//! How far it is from every node to an end through the free room, bends left
//! out of account: what a search goes by.
//!
//! R. B. Dial, "Algorithm 360: shortest-path forest with topological
//! ordering", Communications of the ACM 12 (1969) 632-633: distances sorted
//! into buckets no wider than the shortest step.

use glam::IVec3;

use super::lattice::{COST, HEADINGS, Lattice, steps_of};
use super::room::Room;

/// Cost of a node from which the end is not reached.
pub(super) const NEVER: u32 = u32::MAX;

/// Beyond the other end by this share of the way, and by this many steps, costs
/// are no longer told apart.
const FURTHER: f64 = 0.5;
const STEPS_FURTHER: usize = 12;

/// Costs to one end, by node.
pub(super) struct Ahead {
    costs: Vec<u32>,
    /// Cost of a node that was not looked at, at least.
    rest: u32,
}

impl Ahead {
    /// * `least`: a node counts as free with this much room (a byte of
    ///   the room), and so does half-way to a neighbour
    /// * `seeds`: nodes and what they cost
    /// * `targets`: nodes whose costs are wanted most
    pub fn new(
        room: &Room,
        lattice: &Lattice,
        least: u8,
        seeds: &[(usize, u32)],
        targets: &[usize],
    ) -> Ahead {
        let width = (lattice.step * COST) as u32;
        let mut costs = vec![NEVER; lattice.count()];
        let mut buckets = Buckets {
            width,
            levels: Vec::new(),
        };
        for &(node, cost) in seeds {
            buckets.put(&mut costs, node, cost);
        }
        let steps = Steps::new(lattice);
        let mut level = 0;
        let mut last = usize::MAX;
        while level < buckets.levels.len() && level < last {
            if last == usize::MAX && targets.iter().all(|&node| costs[node] != NEVER) {
                last = (level as f64 * (1.0 + FURTHER)) as usize + STEPS_FURTHER;
            }
            for node in std::mem::take(&mut buckets.levels[level]) {
                let node = node as usize;
                // One that got cheaper was done with its cheaper cost.
                if (costs[node] / width) as usize == level {
                    steps.go(room, lattice, least, node, &mut costs, &mut buckets);
                }
            }
            level += 1;
        }
        let all = level >= buckets.levels.len();
        Ahead {
            costs,
            rest: if all { NEVER } else { level as u32 * width },
        }
    }

    /// Cost from a node, [`NEVER`] when the end is not reached from there.
    #[inline]
    pub fn from(&self, node: usize) -> u32 {
        self.costs[node].min(self.rest)
    }
}

/// Nodes by their cost, in levels no wider than the shortest step.
struct Buckets {
    width: u32,
    levels: Vec<Vec<u32>>,
}

impl Buckets {
    #[inline]
    fn put(&mut self, costs: &mut [u32], node: usize, cost: u32) {
        if cost < costs[node] {
            costs[node] = cost;
            let level = (cost / self.width) as usize;
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
        costs: &mut [u32],
        buckets: &mut Buckets,
    ) {
        let place = lattice.place(node);
        let inner = lattice.holds(place - IVec3::ONE) && lattice.holds(place + IVec3::ONE);
        let voxel = lattice.voxel(place) as isize;
        let cost = costs[node];
        let here = room.rough_byte(voxel as usize);
        for heading in 0..HEADINGS {
            if !inner && !lattice.holds(place + self.places[heading]) {
                continue;
            }
            let next = (node as isize + self.nodes[heading]) as usize;
            if cost + self.costs[heading] >= costs[next] {
                continue;
            }
            if room.rough_byte((voxel + self.voxels[heading]) as usize) < least {
                continue;
            }
            let sure = here >= least.saturating_add(self.plenty[heading]);
            if sure || room.rough_byte((voxel + self.halves[heading]) as usize) >= least {
                buckets.put(costs, next, cost + self.costs[heading]);
            }
        }
    }
}
