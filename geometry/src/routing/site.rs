//! What searches share, and the steps a way is found by: a search on a
//! lattice, drawn tight, held to exact distances.

use glam::DVec3;

use super::ahead::{Ahead, Seed};
use super::approach::{Approach, End, approaches};
use super::corners::tidied;
use super::crowd::Crowd;
use super::draw::Draw;
use super::ground::{Ground, Seen};
use super::lattice::{COST, Lattice, Turns, opposite};
use super::room::{REACH, Room};
use super::search::{Side, Slate};
use super::strain::{MARGIN, Strain};
use super::{NoWay, Surroundings, Task, verify};
use crate::path::{Path, closer_than, paths_closer_than};

/// One way to try a search.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Try {
    /// From node to node, mm.
    pub step: f64,
    /// Whether the lattice is shifted by half a step.
    pub shifted: bool,
    /// Room that may be missing before the lead is drawn tight, mm.
    pub lenient: f64,
    /// The part of the work allowed that it may spend: one in so many.
    pub share: u64,
}

/// A node counts as free for what is ahead with this much less room than the
/// lead needs, mm: less than half a step.
const AHEAD_LENIENT: f64 = 3.0;

/// A lead's middle keeps at least this much room while it is searched for, mm:
/// it does not pass through a wall.
const LEAST: f64 = 0.4;

impl Try {
    /// Room that may be missing for a lead of this diameter, mm.
    fn lenient_for(&self, od: f64) -> f64 {
        self.lenient.min((0.5 * od - LEAST).max(0.0))
    }

    /// Whether another try with all the work in the world is the same as this
    /// one for a lead of this diameter, mm.
    pub(super) fn is_as_good_as(&self, other: Try, od: f64) -> bool {
        self.step == other.step
            && self.shifted == other.shifted
            && self.lenient_for(od) == other.lenient_for(od)
    }
}

/// Everything searches share.
pub(super) struct Site<'a> {
    pub around: &'a Surroundings<'a>,
    pub tasks: &'a [Task],
    pub room: Room<'a>,
    /// Nodes one search may expand.
    pub nodes: u64,
    /// Nodes expanded in all.
    pub work: u64,
    pub tools: Tools,
}

/// What searches work with, whatever stands around: kept from one site to the
/// next it costs no time to make again, and changes nothing.
#[derive(Default)]
pub struct Tools {
    turns: Vec<(Lattice, Turns)>,
    slate: Slate,
    seen: Seen,
}

/// What is known of one lead, kept from search to search.
#[derive(Default)]
pub(super) struct Plan {
    /// The corners of the way it goes when nobody else is there.
    pub own: Option<Vec<DVec3>>,
    onto: Vec<Onto>,
}

/// Both ends of a lead on one lattice.
struct Onto {
    how: Try,
    approaches: [Vec<Approach>; 2],
    ahead: [Ahead; 2],
}

impl<'a> Site<'a> {
    pub fn new(
        around: &'a Surroundings<'a>,
        tasks: &'a [Task],
        nodes: u64,
        tools: Tools,
    ) -> Site<'a> {
        Site {
            around,
            tasks,
            room: Room::new(around),
            nodes,
            work: 0,
            tools,
        }
    }

    /// Corners found on a lattice.
    ///
    /// * `prices`: what it costs to ask each lead to move, if that is allowed
    pub fn search(
        &mut self,
        crowd: &Crowd,
        lead: usize,
        task: &Task,
        plan: &mut Plan,
        how: Try,
        prices: Option<&[u32]>,
    ) -> Result<Vec<DVec3>, NoWay> {
        let lattice = Lattice::new(&self.room, how.step, how.shifted);
        let turns = self.tools.turns_for(lattice, task.radius);
        let onto = plan.onto(&self.room, &lattice, task, how);
        let Tools {
            turns: all_turns,
            slate,
            seen,
        } = &mut self.tools;
        seen.begin(&self.room);
        let mut ground = Ground {
            room: &self.room,
            crowd,
            seen,
            lattice: &lattice,
            turns: &all_turns[turns].1,
            lead,
            half: 0.5 * task.od,
            lumps: &task.lumps,
            lenient: how.lenient_for(task.od),
            prices,
        };
        let [start, end] = &mut onto.ahead;
        let sides = [(0, start), (1, end)].map(|(side, ahead)| Side {
            approaches: &onto.approaches[side],
            ahead,
        });
        let most = self.nodes / how.share;
        let (inner, work) = slate.search(&mut ground, sides, most);
        self.work += work;
        let mut corners = vec![task.from];
        corners.extend(inner?);
        corners.push(task.to);
        Ok(tidied(&corners))
    }

    /// Corners drawn tight, if that leaves all the room it must.
    pub fn drawn(
        &self,
        crowd: &Crowd,
        laid: &[Option<Path>],
        lead: usize,
        task: &Task,
        corners: Vec<DVec3>,
    ) -> Option<Path> {
        let strain = self.strain(crowd, lead, task, 0);
        let mut draw = Draw::new(strain, corners)?;
        self.tightened(&mut draw, laid)
    }

    /// What a lead is measured by.
    ///
    /// * `mates`: leads it is drawn together with, a bit for each
    pub fn strain<'s>(
        &'s self,
        crowd: &'s Crowd,
        lead: usize,
        task: &'s Task,
        mates: u64,
    ) -> Strain<'s> {
        Strain {
            room: &self.room,
            crowd,
            task,
            lead,
            margin: MARGIN,
            mates,
        }
    }

    /// The way a drawing comes to, if that leaves all the room it must.
    pub fn tightened(&self, draw: &mut Draw, laid: &[Option<Path>]) -> Option<Path> {
        let (lead, task) = (draw.strain.lead, draw.strain.task);
        for _ in 0..2 {
            if !draw.tighten() {
                return None;
            }
            let path = Path::through(&draw.corners, task.radius).ok()?;
            if self.holds(laid, lead, task, &path) {
                return Some(path);
            }
            draw.widen();
        }
        None
    }

    /// Whether a way keeps its room to solids and to the leads that are laid.
    pub fn holds(&self, laid: &[Option<Path>], lead: usize, task: &Task, path: &Path) -> bool {
        let own = verify::stretches(task, path);
        let mut solids = self.around.solids().filter(|it| it.not_for != Some(lead));
        solids.all(|kept| {
            own.iter().all(|(stretch, od)| {
                closer_than(stretch, &kept.solid, 0.5 * od + kept.clear).is_none()
            })
        }) && self.met(laid, lead, &own) == 0
    }

    /// The leads that stretches of a lead are too near to, a bit for each.
    pub fn met(&self, laid: &[Option<Path>], lead: usize, own: &[(Path, f64)]) -> u64 {
        let mut met = 0;
        for (other, path) in laid.iter().enumerate() {
            if let Some(path) = path
                && other != lead
                && !self.apart(own, other, path)
            {
                met |= 1 << other;
            }
        }
        met
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

impl Tools {
    /// The number of the turns for a radius.
    fn turns_for(&mut self, lattice: Lattice, radius: f64) -> usize {
        let known = |(of, turns): &(Lattice, Turns)| *of == lattice && turns.radius == radius;
        self.turns.iter().position(known).unwrap_or_else(|| {
            self.turns.push((lattice, Turns::new(&lattice, radius)));
            self.turns.len() - 1
        })
    }
}

impl Plan {
    /// What is known of a lead's ends on a lattice, looked up or found.
    fn onto(&mut self, room: &Room, lattice: &Lattice, task: &Task, how: Try) -> &mut Onto {
        let known = |onto: &Onto| {
            Try {
                share: how.share,
                ..onto.how
            } == how
        };
        let number = self.onto.iter().position(known).unwrap_or_else(|| {
            self.onto.push(Onto::new(room, lattice, task, how));
            self.onto.len() - 1
        });
        &mut self.onto[number]
    }
}

impl Onto {
    fn new(room: &Room, lattice: &Lattice, task: &Task, how: Try) -> Onto {
        let half = 0.5 * task.od;
        let enough = Room::byte_of(half - how.lenient_for(task.od));
        let clear = |point| {
            let voxel = room.voxel_of(point);
            voxel.is_some_and(|voxel| room.byte(voxel) >= enough)
        };
        let approaches = ends(task).map(|end| approaches(lattice, task.radius, end, clear));
        let least = Room::byte_of((half - AHEAD_LENIENT).clamp(LEAST, REACH));
        let ahead = [1, 0].map(|other: usize| {
            let seed = |approach: &Approach| Seed {
                node: approach.node,
                cost: (approach.length * COST) as u32,
                toward: opposite(approach.heading),
            };
            let seeds: Vec<Seed> = approaches[other].iter().map(seed).collect();
            let targets = approaches[1 - other].iter().map(|approach| approach.node);
            Ahead::new(lattice, least, &seeds, targets)
        });
        Onto {
            how,
            approaches,
            ahead,
        }
    }
}

/// Where a lead's straight runs end, both looking into the room.
pub(super) fn ends(task: &Task) -> [End; 2] {
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
