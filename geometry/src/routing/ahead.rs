//! How far it is from every node to an end through the free room, bends left
//! out of account: what a search goes by.
//!
//! R. B. Dial, "Algorithm 360: shortest-path forest with topological
//! ordering", Communications of the ACM 12 (1969) 632-633: distances sorted
//! into buckets no wider than the shortest step.

use super::lattice::{COST, HEADINGS, Lattice, steps_of};
use super::room::Room;

/// Cost of a node from which the end is not reached.
pub(super) const NEVER: u32 = u32::MAX;

/// Costs to one end, by node.
pub(super) struct Ahead {
    costs: Vec<u32>,
}

impl Ahead {
    /// * `room`, `least`: a node counts as free with this much room (a byte of
    ///   the room), and so does half-way to a neighbour
    /// * `seeds`: nodes and what they cost
    pub fn new(room: &Room, lattice: &Lattice, least: u8, seeds: &[(usize, u32)]) -> Ahead {
        let width = (lattice.step * COST) as u32;
        let mut costs = vec![NEVER; lattice.count()];
        let mut buckets: Vec<Vec<u32>> = Vec::new();
        let put = |buckets: &mut Vec<Vec<u32>>, costs: &mut [u32], node: usize, cost: u32| {
            if cost < costs[node] {
                costs[node] = cost;
                let bucket = (cost / width) as usize;
                if bucket >= buckets.len() {
                    buckets.resize_with(bucket + 4, Vec::new);
                }
                buckets[bucket].push(node as u32);
            }
        };
        for &(node, cost) in seeds {
            put(&mut buckets, &mut costs, node, cost);
        }
        let steps = Steps::new(lattice);
        let mut level = 0;
        while level < buckets.len() {
            let bucket = std::mem::take(&mut buckets[level]);
            for node in bucket {
                let node = node as usize;
                let cost = costs[node];
                if (cost / width) as usize != level {
                    continue;
                }
                let place = lattice.place(node);
                let voxel = lattice.voxel(place);
                // A node seen twice in its own bucket does its work twice.
                for heading in 0..HEADINGS {
                    let onward = cost + steps.costs[heading];
                    let Some(next) = lattice.node(place + steps.places[heading]) else {
                        continue;
                    };
                    if onward >= costs[next] {
                        continue;
                    }
                    let target = (voxel as isize + steps.voxels[heading]) as usize;
                    let halfway = (voxel as isize + steps.halves[heading]) as usize;
                    if room.byte(target) >= least && room.byte(halfway) >= least {
                        put(&mut buckets, &mut costs, next, onward);
                    }
                }
            }
            level += 1;
        }
        Ahead { costs }
    }

    /// Cost from a node, [`NEVER`] when the end is not reached from there.
    #[inline]
    pub fn from(&self, node: usize) -> u32 {
        self.costs[node]
    }
}

/// The 26 steps from a node.
struct Steps {
    places: [glam::IVec3; HEADINGS],
    costs: [u32; HEADINGS],
    voxels: [isize; HEADINGS],
    halves: [isize; HEADINGS],
}

impl Steps {
    fn new(lattice: &Lattice) -> Steps {
        let places = std::array::from_fn(steps_of);
        let length = |place: glam::IVec3| place.as_dvec3().length() * lattice.step;
        let full = |place: glam::IVec3| place.as_dvec3() * lattice.step;
        Steps {
            places,
            costs: places.map(|place| (length(place) * COST) as u32),
            voxels: places.map(|place| lattice.offset(full(place))),
            halves: places.map(|place| lattice.offset(0.5 * full(place))),
        }
    }
}
