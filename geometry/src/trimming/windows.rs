//! Where notches may be cut: ribs, their edges, and how deep at every snap.

use super::face::RibFace;
use super::rules::limits;
use crate::job::{Cut, Edge, Job, Obstacle, Trim};
use crate::measure::Reading;

/// A rib that may be cut.
#[derive(Clone, Debug)]
pub struct RibHere {
    /// Its number among the job's obstacles.
    pub number: usize,
    /// Its id.
    pub id: String,
    /// The rib in its own plane.
    pub face: RibFace,
    /// Whether the customer has to agree.
    pub asks: bool,
    /// Notches of it that stay as they are.
    pub locked: Vec<Trim>,
}

/// A stretch of an edge along which notches may be cut.
#[derive(Clone, Debug)]
pub struct Window {
    /// The rib, by its number among those that may be cut.
    pub rib: usize,
    /// The edge.
    pub edge: Edge,
    /// Where it begins along the edge, in snaps.
    pub from: i32,
    /// How deep a notch may be at each snap from there on, in snaps; none 0.
    pub deepest: Vec<i32>,
}

/// A notch on whole snaps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bite {
    /// The window, by its number.
    pub window: usize,
    /// Where it begins and ends along the edge, in snaps.
    pub along: [i32; 2],
    /// How deep it is, in snaps.
    pub depth: i32,
}

impl Bite {
    /// Snaps by snaps that it takes.
    pub fn cells(&self) -> i32 {
        (self.along[1] - self.along[0]) * self.depth
    }

    /// Whether it takes nothing that another does not.
    pub fn is_within(&self, other: &Bite) -> bool {
        self.window == other.window
            && self.along[0] >= other.along[0]
            && self.along[1] <= other.along[1]
            && self.depth <= other.depth
    }
}

impl Window {
    /// Where it ends along the edge, in snaps.
    pub fn to(&self) -> i32 {
        self.from + self.deepest.len() as i32
    }

    /// How deep a notch may be between two places, in snaps; 0 outside.
    pub fn deepest_between(&self, [from, to]: [i32; 2]) -> i32 {
        if from < self.from || to > self.to() || to <= from {
            return 0;
        }
        let cells = (from - self.from) as usize..(to - self.from) as usize;
        self.deepest[cells].iter().copied().min().unwrap_or(0)
    }

    /// The widest stretch around some place in which a notch may be this deep.
    pub fn widest(&self, depth: i32, around: [i32; 2]) -> Option<[i32; 2]> {
        let deep = |at: i32| self.deepest_between([at, at + 1]) >= depth;
        let mut from = (around[0]..around[1]).find(|at| deep(*at))?;
        let mut to = from;
        while deep(to) {
            to += 1;
        }
        while deep(from - 1) {
            from -= 1;
        }
        Some([from, to])
    }

    /// Notches that together open as much of it as they can, a snap between them.
    pub fn opened(&self, number: usize) -> Vec<Bite> {
        let mut bites = Vec::new();
        self.open([self.from, self.to()], number, &mut bites);
        bites
    }

    /// The largest notch between two places, then what is left beside it.
    fn open(&self, [from, to]: [i32; 2], window: usize, bites: &mut Vec<Bite>) {
        let mut best: Option<Bite> = None;
        for left in from..to {
            let mut depth = i32::MAX;
            for right in left + 1..=to {
                depth = depth.min(self.deepest_between([right - 1, right]));
                let bite = Bite {
                    window,
                    along: [left, right],
                    depth,
                };
                if depth > 0 && best.is_none_or(|known| bite.cells() > known.cells()) {
                    best = Some(bite);
                }
            }
        }
        if let Some(bite) = best {
            bites.push(bite);
            self.open([from, bite.along[0] - 1], window, bites);
            self.open([bite.along[1] + 1, to], window, bites);
        }
    }
}

/// The ribs of a job that may be cut, in its order.
///
/// `never`, unknown, what needs the customer's word while nobody asked, and
/// what is left alone is not among them.
pub fn ribs(job: &Job) -> Vec<RibHere> {
    let left_alone = |obstacle: &&Obstacle| !job.cutting.left_alone.contains(&obstacle.id);
    (job.cavity.obstacles.iter().enumerate())
        .filter(|(_, obstacle)| left_alone(obstacle))
        .filter_map(|(number, obstacle)| {
            let asks = match obstacle.cut() {
                Cut::Allowed(_) => false,
                Cut::Ask(_) if job.cutting.asked => true,
                _ => return None,
            };
            let locked = (job.trims.iter())
                .filter(|trim| trim.locked && trim.rib == obstacle.id)
                .cloned();
            Some(RibHere {
                number,
                id: obstacle.id.clone(),
                face: RibFace::new(obstacle, Reading::Nominal).ok()?,
                asks,
                locked: locked.collect(),
            })
        })
        .collect()
}

/// Every stretch of an edge along which a notch may be cut.
pub fn windows(job: &Job, ribs: &[RibHere]) -> Vec<Window> {
    let mut windows = Vec::new();
    for (number, rib) in ribs.iter().enumerate() {
        for edge in rib.face.long_edges() {
            windows.extend(window(job, number, rib, edge));
        }
    }
    windows
}

fn window(job: &Job, number: usize, rib: &RibHere, edge: Edge) -> Option<Window> {
    let range = limits(job, &rib.id, edge).ok()?;
    let deepest: Vec<i32> = (range.deepest.iter())
        .map(|depth| (depth / range.snap + 1e-6).floor() as i32)
        .collect();
    let from = deepest.iter().position(|depth| *depth > 0)?;
    let to = deepest.iter().rposition(|depth| *depth > 0)? + 1;
    Some(Window {
        rib: number,
        edge,
        from: range.first + from as i32,
        deepest: deepest[from..to].to_vec(),
    })
}

/// A notch as it is cut.
pub fn trim(job: &Job, ribs: &[RibHere], windows: &[Window], bite: &Bite) -> Trim {
    let snap = job.cutting.snap;
    let window = &windows[bite.window];
    Trim {
        rib: ribs[window.rib].id.clone(),
        edge: window.edge,
        along: bite.along.map(|at| f64::from(at) * snap),
        depth: f64::from(bite.depth) * snap,
        radius: 0.5 * job.cutting.stop_hole,
        locked: false,
        doubler: None,
    }
}
