//! The lattice a lead is first laid on: 26 headings, and the turns between
//! them that a bend radius allows.
//!
//! A turn goes some steps along one heading and some along another, with an
//! arc of the bend radius in the corner. Its ends are nodes, and the same
//! turn backward is one of the set too.

use glam::{DVec3, IVec3};

use super::room::Room;

/// Headings of a lattice: to the 26 neighbours of a node.
pub(super) const HEADINGS: usize = 26;

/// Costs are counted in steps of 1 / 8 mm.
pub(super) const COST: f64 = 8.0;

/// Points at which a turn is looked at are this far apart, mm.
pub(super) const SAMPLE: f64 = 2.0;

/// A turn costs this much beside its length, mm per rad: few corners are
/// easier to draw tight afterwards.
const TURNING: f64 = 4.0;

/// The heading the other way.
#[inline]
pub(super) fn opposite(heading: usize) -> usize {
    HEADINGS - 1 - heading
}

/// A heading in steps of the lattice.
pub(super) fn steps_of(heading: usize) -> IVec3 {
    let place = if heading < 13 { heading } else { heading + 1 } as i32;
    IVec3::new(place / 9 - 1, place / 3 % 3 - 1, place % 3 - 1)
}

/// A heading as a unit vector.
pub(super) fn way_of(heading: usize) -> DVec3 {
    steps_of(heading).as_dvec3().normalize()
}

/// Nodes at every few voxels of a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lattice {
    /// Voxels from node to node.
    pub stride: usize,
    /// Voxels before the first node.
    shift: usize,
    /// From node to node, mm.
    pub step: f64,
    /// Middle of the first node, mm.
    pub origin: DVec3,
    /// Nodes across, in depth, up.
    pub size: [usize; 3],
    /// Voxels of the room.
    voxels: [usize; 3],
}

impl Lattice {
    /// The lattice whose step comes nearest to `step` mm, or the same lattice
    /// shifted by half a step along every axis.
    pub fn new(room: &Room, step: f64, shifted: bool) -> Lattice {
        let stride = (step / room.voxel).round().max(1.0) as usize;
        let shift = if shifted { stride / 2 } else { 0 };
        Lattice {
            stride,
            step: stride as f64 * room.voxel,
            shift,
            origin: room.origin + shift as f64 * room.voxel,
            size: room
                .size
                .map(|it| (it - 1).saturating_sub(shift) / stride + 1),
            voxels: room.size,
        }
    }

    /// How many nodes there are.
    pub fn count(&self) -> usize {
        self.size.iter().product()
    }

    /// The place of a node by its number.
    #[inline]
    pub fn place(&self, node: usize) -> IVec3 {
        let [nx, ny, _] = self.size;
        IVec3::new(
            (node % nx) as i32,
            (node / nx % ny) as i32,
            (node / (nx * ny)) as i32,
        )
    }

    /// The number of the node at a place, if there is one.
    #[inline]
    pub fn node(&self, place: IVec3) -> Option<usize> {
        self.holds(place).then(|| {
            (place.z as usize * self.size[1] + place.y as usize) * self.size[0] + place.x as usize
        })
    }

    #[inline]
    pub fn holds(&self, place: IVec3) -> bool {
        (place.x as usize) < self.size[0]
            && (place.y as usize) < self.size[1]
            && (place.z as usize) < self.size[2]
    }

    /// Where a node is, mm.
    #[inline]
    pub fn point(&self, place: IVec3) -> DVec3 {
        self.origin + place.as_dvec3() * self.step
    }

    /// The voxel in whose middle a node is.
    #[inline]
    pub fn voxel(&self, place: IVec3) -> usize {
        let at = |axis: usize| place[axis] as usize * self.stride + self.shift;
        (at(2) * self.voxels[1] + at(1)) * self.voxels[0] + at(0)
    }

    /// From a node's voxel to the voxel of a point this far from the node.
    pub fn offset(&self, from_node: DVec3) -> isize {
        let edge = self.step / self.stride as f64;
        let place = (from_node / edge).round();
        let [nx, ny, _] = self.voxels.map(|it| it as isize);
        (place.z as isize * ny + place.y as isize) * nx + place.x as isize
    }
}

/// A point of a turn, as seen from the node where the turn begins.
#[derive(Clone, Copy)]
pub(super) struct Sample {
    /// From the node's voxel to the point's voxel.
    pub voxel: isize,
    /// From the node to the point, mm.
    pub from_node: DVec3,
    /// Along the turn, mm.
    pub along: f64,
}

/// One turn, or one step straight on.
pub(super) struct Turn {
    /// Heading at its start and end.
    pub from: usize,
    /// See `from`.
    pub to: usize,
    /// From its first node to its last.
    pub delta: IVec3,
    /// From its first node to its corner; none on a straight step.
    pub corner: Option<IVec3>,
    /// Cost, in steps of 1 / [`COST`] mm.
    pub cost: u32,
    /// Its points in order, the first node left out.
    pub samples: Vec<Sample>,
}

/// Every turn a bend radius allows on a lattice, by heading.
pub(super) struct Turns {
    /// Radius at the centreline, mm.
    pub radius: f64,
    /// All of them, those of one heading together.
    pub all: Vec<Turn>,
    /// Where those of a heading begin in `all`.
    pub starts: [usize; HEADINGS + 1],
    /// What it costs to swing from one heading to another beside the way made
    /// in the other one, taken twice: a search that heeds it strays less.
    pub swing: [[u32; HEADINGS]; HEADINGS],
}

impl Turns {
    pub fn new(lattice: &Lattice, radius: f64) -> Turns {
        let mut all = Vec::new();
        let mut starts = [0; HEADINGS + 1];
        for from in 0..HEADINGS {
            for to in 0..HEADINGS {
                if way_of(from).dot(way_of(to)) > -1e-9 {
                    all.push(turn(lattice, radius, from, to));
                }
            }
            starts[from + 1] = all.len();
        }
        let swing = |from: usize, to: usize| {
            let angle = way_of(from).angle_between(way_of(to));
            (2.0 * radius * (angle - angle.sin()) * COST) as u32
        };
        Turns {
            radius,
            all,
            starts,
            swing: std::array::from_fn(|from| std::array::from_fn(|to| swing(from, to))),
        }
    }
}

/// The least turn from one heading to another.
fn turn(lattice: &Lattice, radius: f64, from: usize, to: usize) -> Turn {
    let (one, other) = (steps_of(from), steps_of(to));
    let (before, after) = (way_of(from), way_of(to));
    let cos = before.dot(after).min(1.0);
    let leg = radius * ((1.0 - cos) / (1.0 + cos)).sqrt();
    let steps = |heading: IVec3| {
        let step = heading.as_dvec3().length() * lattice.step;
        (leg / step - 1e-12).ceil().max(1.0) as i32
    };
    let straight = from == to;
    let (corner, delta) = if straight {
        (IVec3::ZERO, one)
    } else {
        let corner = one * steps(one);
        (corner, corner + other * steps(other))
    };
    let (knee, end) = (
        corner.as_dvec3() * lattice.step,
        delta.as_dvec3() * lattice.step,
    );
    let turned = if straight { 0.0 } else { cos.acos() };
    let arc = radius * turned;
    // On a straight step all of it is run out of a corner at its start.
    let run_in = knee.length() - leg;
    let run_out = knee.distance(end) - leg;
    let length = run_in + arc + run_out;
    let inward = (after - before * cos).normalize_or_zero();
    let point = |along: f64| {
        if along < run_in {
            before * along
        } else if along < run_in + arc {
            let (sin, cos) = ((along - run_in) / radius).sin_cos();
            before * (run_in + radius * sin) + inward * (radius * (1.0 - cos))
        } else {
            end - after * (length - along)
        }
    };
    let count = (length / SAMPLE).ceil().max(1.0);
    let samples = (1..=count as usize).map(|number| {
        let along = length * number as f64 / count;
        let from_node = point(along);
        Sample {
            voxel: lattice.offset(from_node),
            from_node,
            along,
        }
    });
    Turn {
        from,
        to,
        delta,
        corner: (!straight).then_some(corner),
        cost: ((length + TURNING * turned) * COST).round() as u32,
        samples: samples.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turns(radius: f64) -> (Lattice, Turns) {
        let lattice = Lattice {
            stride: 4,
            shift: 0,
            step: 8.0,
            origin: DVec3::ZERO,
            size: [40; 3],
            voxels: [157; 3],
        };
        (lattice, Turns::new(&lattice, radius))
    }

    #[test]
    fn every_turn_backward_is_one_too() {
        let (_, turns) = turns(27.0);
        assert_eq!(turns.all.len(), turns.starts[HEADINGS]);
        for turn in &turns.all {
            let backward = turns
                .all
                .iter()
                .find(|it| it.from == opposite(turn.to) && it.to == opposite(turn.from));
            let backward = backward.expect("the set is closed");
            assert_eq!(backward.delta, -turn.delta);
            assert_eq!(backward.cost, turn.cost);
        }
    }

    #[test]
    fn a_turn_bends_no_tighter_than_its_radius() {
        use crate::path::Path;
        let (lattice, turns) = turns(27.0);
        for turn in turns.all.iter().filter(|turn| turn.corner.is_some()) {
            let place = |steps: IVec3| steps.as_dvec3() * lattice.step;
            let corner = place(turn.corner.unwrap_or_default());
            let path = Path::through(&[DVec3::ZERO, corner, place(turn.delta)], 27.0).unwrap();
            assert_eq!(path.check(27.0), Ok(()));
            for sample in &turn.samples {
                let on_path = path.point_at(sample.along);
                assert!(on_path.distance(sample.from_node) < 1e-9);
            }
        }
    }
}
