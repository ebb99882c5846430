//! Seeded random cavities: walls with exits, a chassis with plugs on its rear,
//! ribs and modules in between, and leads from the plugs to the exits.
// Every test and bench takes what it needs of it.
#![allow(dead_code)]

use geometry::path::{Path, Piece};
use geometry::path::{closer_than, paths_closer_than};
use geometry::routing::{Kept, Surroundings, Task};
use geometry::space::FreeSpace;
use geometry::{Bounds, Solid, signed_distance};
use glam::DVec3;

use super::random_solids::Seeded;

/// Room to walls, ribs and modules, chassis, plugs, mm.
const CLEAR: [f64; 4] = [1.0, 3.0, 2.0, 0.5];

/// A cavity and the leads in it.
pub struct Cavity {
    pub bounds: Bounds,
    pub free: FreeSpace,
    pub fixed: Vec<Kept>,
    pub movable: Vec<Kept>,
    pub tasks: Vec<Task>,
}

impl Cavity {
    /// Finds the free space, with cells of this size, mm.
    pub fn survey(&mut self, step: f64) {
        let solids: Vec<(Solid, f64)> = (self.fixed.iter())
            .map(|kept| (kept.solid.clone(), kept.clear))
            .collect();
        self.free = FreeSpace::of(&solids, &self.bounds, step, 1);
    }

    pub fn around(&self) -> Surroundings<'_> {
        Surroundings {
            free: &self.free,
            fixed: &self.fixed,
            movable: self.movable.clone(),
        }
    }

    /// The same with one lead only; every other plug is in its way.
    pub fn alone(&self, lead: usize) -> (Surroundings<'_>, Task) {
        let mut around = self.around();
        for kept in &mut around.movable {
            kept.not_for = match kept.not_for {
                Some(own) if own == lead => Some(0),
                _ => None,
            };
        }
        (around, self.tasks[lead].clone())
    }
}

fn kept(solid: Solid, clear: f64) -> Kept {
    Kept {
        solid,
        clear,
        not_for: None,
    }
}

/// A hole in a wall.
struct Exit {
    /// Its middle in the cavity's surface, mm.
    centre: DVec3,
    /// Out of the cavity; two axes of the wall.
    out: DVec3,
    axes: [DVec3; 2],
    /// Half its sizes along `axes`, mm.
    half: [f64; 2],
    /// The way leads go in it.
    way: DVec3,
}

/// A cavity with this many leads.
///
/// * `ribs`: ribs and modules in the room behind the chassis
pub fn cavity(seed: u64, leads: usize, ribs: usize) -> Cavity {
    let mut seeded = Seeded(seed);
    let half = DVec3::new(seeded.within(112., 140.), 0.0, seeded.within(64., 84.));
    let rear = seeded.within(150., 168.);
    let depth = rear + seeded.within(105., 145.);
    let inside = Bounds {
        min: DVec3::new(-half.x, 0.0, -half.z),
        max: DVec3::new(half.x, depth, half.z),
    };
    let exits = exits(&mut seeded, &inside, rear);
    let fixed = walls(&inside, &exits);
    let chassis = Solid::block(DVec3::new(-91., 0., -51.), DVec3::new(91., rear, 51.));
    let mut movable = vec![kept(chassis, CLEAR[2])];
    let tasks = leads_of(&mut seeded, leads, rear, &exits, &mut movable);
    let mut cavity = Cavity {
        bounds: inside.grown(14.0),
        free: FreeSpace::of(&[], &inside, 50.0, 1),
        fixed,
        movable,
        tasks,
    };
    add_ribs(&mut seeded, &mut cavity, &inside, rear, ribs);
    cavity.survey(2.0);
    cavity
}

/// Three exits: left, right, and in the back or the floor.
fn exits(seeded: &mut Seeded, inside: &Bounds, rear: f64) -> Vec<Exit> {
    let mut exits = Vec::new();
    for out in [
        -DVec3::X,
        DVec3::X,
        if seeded.below(2) == 0 {
            DVec3::Y
        } else {
            -DVec3::Z
        },
    ] {
        let axes = if out.x != 0.0 {
            [DVec3::Y, DVec3::Z]
        } else if out.y != 0.0 {
            [DVec3::X, DVec3::Z]
        } else {
            [DVec3::X, DVec3::Y]
        };
        let surface = if out.max_element() > 0.0 {
            inside.max
        } else {
            inside.min
        };
        let place = DVec3::new(
            seeded.within(-60., 60.),
            seeded.within(rear + 30., inside.max.y - 32.),
            seeded.within(-30., 30.),
        );
        let centre = place + (surface - place).dot(out) * out;
        let lean = seeded.within(-0.5, 0.5) * axes[0] + seeded.within(-0.5, 0.5) * axes[1];
        exits.push(Exit {
            centre,
            out,
            axes,
            half: [24.0, 20.0],
            way: (out
                + if seeded.below(2) == 0 {
                    lean
                } else {
                    DVec3::ZERO
                })
            .normalize(),
        });
    }
    exits
}

/// Walls 3 mm thick with the exits left open.
fn walls(inside: &Bounds, exits: &[Exit]) -> Vec<Kept> {
    let mut walls = Vec::new();
    let (low, high) = (inside.min - 3.0, inside.max + 3.0);
    for axis in 0..3 {
        for (side, sign) in [(inside.min, -1.0), (inside.max, 1.0)] {
            if axis == 1 && sign < 0.0 {
                continue;
            }
            let mut out = DVec3::ZERO;
            out[axis] = sign;
            let mut wall = Bounds {
                min: low,
                max: high,
            };
            (wall.min[axis], wall.max[axis]) = (
                side[axis].min(side[axis] + 3.0 * sign),
                side[axis].max(side[axis] + 3.0 * sign),
            );
            match exits.iter().find(|exit| exit.out == out) {
                None => walls.push(wall),
                Some(exit) => walls.extend(with_hole(wall, exit)),
            }
        }
    }
    let solid = |wall: &Bounds| kept(Solid::block(wall.min, wall.max), CLEAR[0]);
    walls.iter().map(solid).collect()
}

/// A wall as four blocks around a hole.
fn with_hole(wall: Bounds, exit: &Exit) -> Vec<Bounds> {
    let axis = |way: DVec3| way.abs().max_position();
    let [one, other] = exit.axes.map(axis);
    let (low, high) = (
        |at: usize, half: f64| exit.centre[at] - half,
        |at: usize, half: f64| exit.centre[at] + half,
    );
    let mut parts = vec![wall; 4];
    parts[0].max[one] = low(one, exit.half[0]);
    parts[1].min[one] = high(one, exit.half[0]);
    for part in &mut parts[2..] {
        part.min[one] = low(one, exit.half[0]);
        part.max[one] = high(one, exit.half[0]);
    }
    parts[2].max[other] = low(other, exit.half[1]);
    parts[3].min[other] = high(other, exit.half[1]);
    parts
}

/// Leads from plugs on the rear to the exits; adds the plugs.
fn leads_of(
    seeded: &mut Seeded,
    leads: usize,
    rear: f64,
    exits: &[Exit],
    movable: &mut Vec<Kept>,
) -> Vec<Task> {
    let mut sockets: Vec<DVec3> = (0..24)
        .map(|number| {
            DVec3::new(
                -70.0 + 28.0 * f64::from(number % 6),
                rear,
                -33.0 + 22.0 * f64::from(number / 6),
            )
        })
        .collect();
    let mut used = vec![0usize; exits.len()];
    let mut tasks = Vec::new();
    for lead in 0..leads {
        let socket = sockets.swap_remove(seeded.below(sockets.len()))
            + DVec3::new(seeded.within(-5., 5.), 0.0, seeded.within(-4., 4.));
        let od = [3.0, 3.5, 4.5, 5.0, 6.0, 7.0][seeded.below(6)];
        let radius = (seeded.within(3.5, 5.5) * od).max(15.0);
        let plug = DVec3::new(
            seeded.within(5., 8.),
            seeded.within(18., 34.),
            seeded.within(4., 6.),
        );
        let (low, high) = (socket - DVec3::new(plug.x, 0., plug.z), socket + plug);
        movable.push(Kept {
            solid: Solid::block(low, high),
            clear: CLEAR[3],
            not_for: Some(lead),
        });
        let number = seeded.below(exits.len());
        let exit = &exits[number];
        // Side by side on a raster of 8.5 mm, from the middle outward.
        let places = [
            (0., 0.),
            (1., 0.),
            (-1., 0.),
            (0., 1.),
            (0., -1.),
            (1., 1.),
            (-1., -1.),
            (1., -1.),
            (-1., 1.),
            (2., 0.),
            (-2., 0.),
            (2., 1.),
            (-2., -1.),
            (2., -1.),
            (-2., 1.),
        ];
        let (x, y) = places[used[number] % places.len()];
        used[number] += 1;
        let aside = 8.5 * (x * exit.axes[0] + y * exit.axes[1]);
        tasks.push(Task {
            od,
            radius,
            from: socket + DVec3::Y * plug.y,
            from_way: DVec3::Y,
            straight_from: seeded.within(0.5, 1.5) * od,
            to: exit.centre + aside + 8.0 * exit.way / exit.way.dot(exit.out),
            to_way: exit.way,
            straight_to: 10.0,
            length: None,
            lumps: Vec::new(),
            through: Vec::new(),
            cluster: Some(number),
        });
    }
    tasks
}

/// Ribs across the room behind the chassis and modules in it, clear of plugs and of
/// straight runs.
fn add_ribs(seeded: &mut Seeded, cavity: &mut Cavity, inside: &Bounds, rear: f64, count: usize) {
    let mut added = 0;
    for _ in 0..400 {
        if added == count {
            break;
        }
        let size = match seeded.below(3) {
            0 => DVec3::new(seeded.within(60., 180.), 2.5, seeded.within(20., 50.)),
            1 => DVec3::new(2.5, seeded.within(30., 60.), seeded.within(30., 90.)),
            _ => DVec3::new(
                seeded.within(30., 60.),
                seeded.within(15., 30.),
                seeded.within(30., 60.),
            ),
        };
        let low = DVec3::new(
            seeded.within(inside.min.x, inside.max.x - size.x),
            seeded.within(rear + 20., inside.max.y - size.y),
            seeded.within(inside.min.z, inside.max.z - size.z),
        );
        let rib = Solid::block(low, low + size);
        let plugs = cavity
            .movable
            .iter()
            .all(|it| signed_distance(&it.solid, &rib) > 3.0);
        let runs = cavity.tasks.iter().all(|task| {
            let bend = 0.35 * task.radius + 2.0;
            let first = (
                task.from,
                task.from + (task.straight_from + bend) * task.from_way,
            );
            let last = (task.to - (task.straight_to + bend) * task.to_way, task.to);
            [first, last].into_iter().all(|(from, to)| {
                let run = Path {
                    pieces: vec![Piece::Line { from, to }],
                };
                closer_than(&run, &rib, 0.5 * task.od + 4.0).is_none()
            })
        });
        if plugs && runs {
            cavity.fixed.push(kept(rib, CLEAR[1]));
            added += 1;
        }
    }
}

/// A cavity built around an answer: leads that lie without harm, then ribs
/// and modules set close beside them.
pub fn around_answer(seed: u64, leads: usize, ribs: usize) -> (Cavity, Vec<Path>) {
    let mut cavity = cavity(seed, leads + 6, 0);
    let mut seeded = Seeded(seed ^ 0x5eed_0000_0000_0000);
    let inside = cavity.bounds.grown(-14.0);
    let rear = 165.0;
    let (mut tasks, mut paths) = (Vec::new(), Vec::new());
    let mut kept_leads = Vec::new();
    for (lead, task) in cavity.tasks.iter().enumerate() {
        if paths.len() == leads {
            break;
        }
        let good = |path: &Path| {
            let solids = cavity.fixed.iter().chain(&cavity.movable);
            let mut others = solids.filter(|it| it.not_for != Some(lead));
            others.all(|it| closer_than(path, &it.solid, 0.5 * task.od + it.clear).is_none())
                && (paths.iter().zip(&tasks)).all(|(other, their): (&Path, &Task)| {
                    paths_closer_than(path, other, 0.5 * (task.od + their.od)).is_none()
                })
                && (cavity.tasks.iter().enumerate()).all(|(other, their)| {
                    other == lead
                        || runs(their).iter().all(|run| {
                            paths_closer_than(path, run, 0.5 * (task.od + their.od)).is_none()
                        })
                })
        };
        let found = (0..3000).find_map(|_| {
            let path = wandering(&mut seeded, task, &inside, rear)?;
            good(&path).then_some(path)
        });
        if let Some(path) = found {
            tasks.push(task.clone());
            paths.push(path);
            kept_leads.push(lead);
        }
    }
    // Leads without a way go, with their plugs.
    cavity.movable.retain_mut(|it| match it.not_for {
        None => true,
        Some(own) => {
            let number = kept_leads.iter().position(|&lead| lead == own);
            it.not_for = number;
            number.is_some()
        }
    });
    cavity.tasks = tasks;
    set_beside(&mut seeded, &mut cavity, &paths, &inside, rear, ribs);
    cavity.survey(2.0);
    (cavity, paths)
}

/// The straight runs of a lead.
fn runs(task: &Task) -> [Path; 2] {
    let first = (task.from, task.from + task.straight_from * task.from_way);
    let last = (task.to - task.straight_to * task.to_way, task.to);
    [first, last].map(|(from, to)| Path {
        pieces: vec![Piece::Line { from, to }],
    })
}

/// A lead by random corners.
fn wandering(seeded: &mut Seeded, task: &Task, inside: &Bounds, rear: f64) -> Option<Path> {
    let mut corners = vec![task.from];
    let ahead = task.straight_from + seeded.within(0.3, 1.6) * task.radius;
    corners.push(task.from + ahead * task.from_way);
    for _ in 0..seeded.below(3) {
        corners.push(DVec3::new(
            seeded.within(inside.min.x, inside.max.x),
            seeded.within(rear, inside.max.y),
            seeded.within(inside.min.z, inside.max.z),
        ));
    }
    let behind = task.straight_to + seeded.within(0.3, 1.6) * task.radius;
    corners.push(task.to - behind * task.to_way);
    corners.push(task.to);
    let path = Path::through(&corners, task.radius).ok()?;
    let [first, last] = runs(task).map(|run| run.pieces[0].length());
    let straight = |piece: &Piece| match piece {
        Piece::Line { from, to } => from.distance(*to),
        Piece::Arc { .. } => 0.0,
    };
    (straight(&path.pieces[0]) >= first && straight(path.pieces.last()?) >= last).then_some(path)
}

/// Sets ribs and modules within 2 mm of the room the leads need.
fn set_beside(
    seeded: &mut Seeded,
    cavity: &mut Cavity,
    paths: &[Path],
    inside: &Bounds,
    rear: f64,
    count: usize,
) {
    let mut added = 0;
    for _ in 0..6000 {
        if added == count {
            break;
        }
        let size = match seeded.below(4) {
            0 => DVec3::new(seeded.within(60., 180.), 2.5, seeded.within(20., 70.)),
            1 => DVec3::new(2.5, seeded.within(30., 80.), seeded.within(30., 100.)),
            2 => DVec3::new(seeded.within(40., 140.), seeded.within(30., 80.), 2.5),
            _ => DVec3::new(
                seeded.within(30., 70.),
                seeded.within(20., 50.),
                seeded.within(30., 70.),
            ),
        };
        let low = DVec3::new(
            seeded.within(inside.min.x, inside.max.x - size.x),
            seeded.within(rear + 5., inside.max.y - size.y),
            seeded.within(inside.min.z, (inside.max.z - size.z).max(inside.min.z + 1.)),
        );
        let rib = Solid::block(low, low + size);
        let mut spare = f64::INFINITY;
        for (path, task) in paths.iter().zip(&cavity.tasks) {
            let least = 0.5 * task.od + CLEAR[1];
            if let Some(near) = closer_than(path, &rib, least + 2.0) {
                spare = spare.min(near.distance - least);
            }
        }
        if (0.0..2.0).contains(&spare) {
            cavity.fixed.push(kept(rib, CLEAR[1]));
            added += 1;
        }
    }
}
