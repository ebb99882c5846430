//! One lead on its way: the direct way first, then the lattice, finer when it
//! must be, each drawn tight and checked.

use super::ahead::Ahead;
use super::approach::{Approach, End, approaches};
use super::corners::tidied;
use super::crowd::Crowd;
use super::draw::Draw;
use super::lattice::{COST, Lattice, Turns};
use super::room::{REACH, Room};
use super::search::{Ground, Side, Slate};
use super::{Effort, NoWay, Surroundings, Task, stubs, verify};
use crate::bends::direct;
use crate::path::{Path, closer_than, paths_closer_than};

/// What is tried in turn: the lattice's step, and the room that may be missing
/// before the lead is drawn tight, mm.
const TRIES: [(f64, f64); 4] = [(8.0, 1.0), (8.0, 3.0), (6.0, 2.0), (4.0, 1.5)];

/// A node counts as free for what is ahead with this much less room than the
/// lead needs, mm: half a step.
const AHEAD_LENIENT: f64 = 3.0;

/// Routes one lead with nothing but solids around it.
///
/// # Errors
/// Why there is no way.
pub fn route_one(around: &Surroundings, task: &Task, effort: &Effort) -> Result<Path, NoWay> {
    let tasks = std::slice::from_ref(task);
    if let Some(why) = stubs::blocked(around, task, 0) {
        return Err(why);
    }
    let mut site = Site::new(around, tasks, effort);
    let crowd = Crowd::new(&site.room, around, tasks);
    let mut plan = Plan::default();
    site.route(&crowd, &[], 0, &mut plan)
}

/// Everything searches share.
pub(super) struct Site<'a> {
    pub around: &'a Surroundings<'a>,
    pub tasks: &'a [Task],
    pub room: Room<'a>,
    effort: Effort,
    turns: Vec<(Lattice, Turns)>,
    pub slate: Slate,
}

/// What is known of one lead's ends, kept from search to search.
#[derive(Default)]
pub(super) struct Plan {
    onto: Vec<Onto>,
}

/// Both ends of a lead on one lattice.
struct Onto {
    step: f64,
    lenient: f64,
    approaches: [Vec<Approach>; 2],
    ahead: [Ahead; 2],
}

impl<'a> Site<'a> {
    pub fn new(around: &'a Surroundings<'a>, tasks: &'a [Task], effort: &Effort) -> Site<'a> {
        Site {
            around,
            tasks,
            room: Room::new(around),
            effort: *effort,
            turns: Vec::new(),
            slate: Slate::default(),
        }
    }

    /// A way for one lead, drawn tight and checked against solids and `laid`.
    pub fn route(
        &mut self,
        crowd: &Crowd,
        laid: &[Option<Path>],
        lead: usize,
        plan: &mut Plan,
    ) -> Result<Path, NoWay> {
        let task = &self.tasks[lead];
        if let Some(path) = self.direct(crowd, laid, lead) {
            return within_length(task, path);
        }
        let mut why = NoWay::Exhausted;
        for (step, lenient) in TRIES {
            match self.search(crowd, lead, plan, (step, lenient), None) {
                Ok(corners) => {
                    if let Some(path) = self.drawn(crowd, laid, lead, corners) {
                        return within_length(task, path);
                    }
                }
                Err(NoWay::GaveUp) => why = NoWay::GaveUp,
                Err(_) => {}
            }
        }
        Err(why)
    }

    /// A way that asks leads in `laid` to move, and the leads it asked, a bit
    /// for each. Those are lifted; their straight runs stay.
    ///
    /// * `prices`: for each lead, in steps of 1 / [`COST`] mm
    pub fn route_asking(
        &mut self,
        crowd: &mut Crowd,
        laid: &[Option<Path>],
        lead: usize,
        plan: &mut Plan,
        prices: &[u32],
    ) -> Option<(Path, u64)> {
        let task = &self.tasks[lead];
        for tries in TRIES {
            let Ok(corners) = self.search(crowd, lead, plan, tries, Some(prices)) else {
                continue;
            };
            let Ok(path) = Path::through(&corners, task.radius) else {
                continue;
            };
            let moved = self.met(laid, lead, &path);
            let mut left = laid.to_vec();
            for (other, path) in left.iter_mut().enumerate() {
                if moved >> other & 1 == 1 && path.take().is_some() {
                    crowd.lift(other);
                    crowd.lay_runs(other, &self.tasks[other]);
                }
            }
            let found = self.drawn(crowd, &left, lead, corners);
            if let Some(path) = found.filter(|path| within_length(task, path.clone()).is_ok()) {
                return Some((path, moved));
            }
            for (other, path) in laid.iter().enumerate() {
                if let (Some(path), None) = (path, &left[other]) {
                    crowd.lift(other);
                    crowd.lay(other, &self.tasks[other], path);
                }
            }
        }
        None
    }

    /// The leads a way is too near to, a bit for each.
    pub fn met(&self, laid: &[Option<Path>], lead: usize, path: &Path) -> u64 {
        let own = verify::stretches(&self.tasks[lead], path);
        let mut met = 0;
        for (other, path) in laid.iter().enumerate() {
            if let Some(path) = path
                && other != lead
                && !self.apart(&own, other, path)
            {
                met |= 1 << other;
            }
        }
        met
    }

    /// The direct way, where nothing stands in it.
    fn direct(&self, crowd: &Crowd, laid: &[Option<Path>], lead: usize) -> Option<Path> {
        let task = &self.tasks[lead];
        let [start, end] = ends(task);
        let middle = direct(start.at, start.way, end.at, -end.way, task.radius)?;
        let path = with_runs(task, middle);
        let plain = task.lumps.is_empty();
        let mut along = 0.5 * task.straight_from;
        while along < path.length() {
            let half = 0.5
                * if plain {
                    task.od
                } else {
                    task.thickness([along, along])
                };
            let point = path.point_at(along);
            let spare = self.room.at(point).min(crowd.at(point, lead)) - half;
            if spare < 0.0 {
                return None;
            }
            along += if plain { spare.max(2.0) } else { 2.0 };
        }
        self.holds(laid, lead, &path).then_some(path)
    }

    /// Corners found on a lattice.
    fn search(
        &mut self,
        crowd: &Crowd,
        lead: usize,
        plan: &mut Plan,
        (step, lenient): (f64, f64),
        prices: Option<&[u32]>,
    ) -> Result<Vec<glam::DVec3>, NoWay> {
        let task = &self.tasks[lead];
        let lattice = Lattice::new(&self.room, step);
        let turns = self.turns_for(lattice, task.radius);
        let onto = plan.onto(&self.room, &lattice, task, (step, lenient));
        let ground = Ground {
            room: &self.room,
            crowd,
            lattice: &lattice,
            turns: &self.turns[turns].1,
            lead,
            half: 0.5 * task.od,
            lumps: &task.lumps,
            lenient,
            prices,
        };
        let [start, end] = &mut onto.ahead;
        let sides = [(0, start), (1, end)].map(|(side, ahead)| Side {
            approaches: &onto.approaches[side],
            ahead,
        });
        let inner = self.slate.search(&ground, sides, self.effort.nodes)?;
        let mut corners = vec![task.from];
        corners.extend(inner);
        corners.push(task.to);
        Ok(tidied(&corners))
    }

    /// The number of the turns for a radius.
    fn turns_for(&mut self, lattice: Lattice, radius: f64) -> usize {
        let known = |(of, turns): &(Lattice, Turns)| *of == lattice && turns.radius == radius;
        self.turns.iter().position(known).unwrap_or_else(|| {
            self.turns.push((lattice, Turns::new(&lattice, radius)));
            self.turns.len() - 1
        })
    }

    /// Corners drawn tight, if that leaves all the room it must.
    fn drawn(
        &self,
        crowd: &Crowd,
        laid: &[Option<Path>],
        lead: usize,
        corners: Vec<glam::DVec3>,
    ) -> Option<Path> {
        let task = &self.tasks[lead];
        let mut draw = Draw::new(&self.room, crowd, task, lead, corners)?;
        for _ in 0..2 {
            if !draw.tighten() {
                return None;
            }
            let path = Path::through(&draw.corners, task.radius).ok()?;
            if self.holds(laid, lead, &path) {
                return Some(path);
            }
            draw.widen();
        }
        None
    }

    /// Whether a way keeps its room to solids and to the leads that are laid.
    pub fn holds(&self, laid: &[Option<Path>], lead: usize, path: &Path) -> bool {
        let task = &self.tasks[lead];
        let own = verify::stretches(task, path);
        let solids = self.around.solids().all(|kept| {
            kept.not_for == Some(lead)
                || own.iter().all(|(stretch, od)| {
                    closer_than(stretch, &kept.solid, 0.5 * od + kept.clear).is_none()
                })
        });
        solids && self.met(laid, lead, path) == 0
    }

    /// Whether a lead's stretches keep their room to another lead.
    fn apart(&self, own: &[(Path, f64)], other: usize, path: &Path) -> bool {
        let others = verify::stretches(&self.tasks[other], path);
        own.iter().all(|(stretch, od)| {
            others.iter().all(|(against, other_od)| {
                paths_closer_than(stretch, against, 0.5 * (od + other_od)).is_none()
            })
        })
    }
}

impl Plan {
    /// What is known of a lead's ends on a lattice, looked up or found.
    fn onto(
        &mut self,
        room: &Room,
        lattice: &Lattice,
        task: &Task,
        (step, lenient): (f64, f64),
    ) -> &mut Onto {
        let known = |onto: &Onto| onto.step == step && onto.lenient == lenient;
        let number = self.onto.iter().position(known).unwrap_or_else(|| {
            self.onto
                .push(Onto::new(room, lattice, task, (step, lenient)));
            self.onto.len() - 1
        });
        &mut self.onto[number]
    }
}

impl Onto {
    fn new(room: &Room, lattice: &Lattice, task: &Task, (step, lenient): (f64, f64)) -> Onto {
        let half = 0.5 * task.od;
        let clear = |point, _| {
            (room.voxel_of(point))
                .is_some_and(|voxel| room.byte(voxel) >= Room::byte_of(half - lenient))
        };
        let approaches = ends(task).map(|end| approaches(room, lattice, task.radius, end, clear));
        let least = Room::byte_of((half - AHEAD_LENIENT).clamp(1.0, REACH));
        let ahead = [1, 0].map(|other: usize| {
            let seeds: Vec<(usize, u32)> = (approaches[other].iter())
                .map(|approach| (approach.node, (approach.length * COST) as u32))
                .collect();
            let targets: Vec<usize> = (approaches[1 - other].iter())
                .map(|approach| approach.node)
                .collect();
            Ahead::new(lattice, least, &seeds, &targets)
        });
        Onto {
            step,
            lenient,
            approaches,
            ahead,
        }
    }
}

/// Where a lead's straight runs end, both looking into the room.
fn ends(task: &Task) -> [End; 2] {
    [
        End {
            at: task.from + task.straight_from * task.from_way,
            way: task.from_way,
        },
        End {
            at: task.to - task.straight_to * task.to_way,
            way: -task.to_way,
        },
    ]
}

/// A way with the straight runs at its ends.
fn with_runs(task: &Task, mut middle: Path) -> Path {
    use crate::path::Piece::Line;
    let (start, end) = (middle.start(), middle.end());
    if let Some(Line { from, .. }) = middle.pieces.first_mut() {
        *from = task.from;
    } else if task.straight_from > 0.0 {
        let (from, to) = (task.from, start);
        middle.pieces.insert(0, Line { from, to });
    }
    if let Some(Line { to, .. }) = middle.pieces.last_mut() {
        *to = task.to;
    } else if task.straight_to > 0.0 {
        let (from, to) = (end, task.to);
        middle.pieces.push(Line { from, to });
    }
    middle
}

fn within_length(task: &Task, path: Path) -> Result<Path, NoWay> {
    let by = path.length() - task.length.unwrap_or(f64::INFINITY);
    if by > 0.0 {
        Err(NoWay::TooShort { by })
    } else {
        Ok(path)
    }
}
