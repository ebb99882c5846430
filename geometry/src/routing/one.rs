//! One lead on its way: the direct way first, then one known before, moved
//! aside, then a lattice, finer when it must be.

use glam::DVec3;

use super::crowd::Crowd;
use super::lattice::{HEADINGS, way_of};
use super::site::{Plan, Site, Tools, Try, ends};
use super::{Bulge, Effort, NoWay, Surroundings, Task, stubs};
use crate::bends::{direct, planar};
use crate::path::{Path, Piece};

/// What is tried in turn: quick ones first.
pub(super) const TRIES: [Try; 7] = [
    on(8.0, false, 1.0, 10),
    on(8.0, true, 1.5, 10),
    on(8.0, false, 3.0, 10),
    on(6.0, false, 2.0, 4),
    on(8.0, false, 1.0, 1),
    on(4.0, false, 2.0, 1),
    on(4.0, true, 2.0, 1),
];

/// The last of [`TRIES`] but one: as fine as it gets.
pub(super) const FINEST: Try = TRIES[5];

const fn on(step: f64, shifted: bool, lenient: f64, share: u64) -> Try {
    Try {
        step,
        shifted,
        lenient,
        share,
    }
}

/// Ways tried through the points a lead is to pass.
const PINNED_TRIES: u32 = 24;

/// A corner further round than this is no corner to draw from, rad.
const SHARPEST: f64 = 2.6;

/// Routes one lead with nothing but solids around it.
///
/// # Errors
/// Why there is no way.
pub fn route_one(around: &Surroundings, task: &Task, effort: &Effort) -> Result<Path, NoWay> {
    let tasks = std::slice::from_ref(task);
    if let Some(why) = stubs::hopeless(around, task, 0) {
        return Err(why);
    }
    let mut site = Site::new(around, tasks, effort.nodes, Tools::default());
    let crowd = Crowd::new(&site.room, around, tasks);
    site.route(&crowd, &[], 0, &mut Plan::default(), &TRIES)
}

impl Site<'_> {
    /// A way for a lead, drawn tight and held to solids and to `laid`.
    pub fn route(
        &mut self,
        crowd: &Crowd,
        laid: &[Option<Path>],
        lead: usize,
        plan: &mut Plan,
        tries: &[Try],
    ) -> Result<Path, NoWay> {
        let task = &self.tasks[lead];
        let path = if task.through.is_empty() {
            self.leg(crowd, laid, lead, task, plan, tries)?
        } else {
            let mut left = PINNED_TRIES;
            self.legs(crowd, laid, lead, task, tries, &mut left)?
        };
        let by = path.length() - task.length.unwrap_or(f64::INFINITY);
        if by > 0.0 {
            Err(NoWay::TooShort { by })
        } else {
            Ok(path)
        }
    }

    /// A way from end to end, whatever points it is to pass.
    fn leg(
        &mut self,
        crowd: &Crowd,
        laid: &[Option<Path>],
        lead: usize,
        task: &Task,
        plan: &mut Plan,
        tries: &[Try],
    ) -> Result<Path, NoWay> {
        let straightest = direct_way(task);
        if let Some(path) = &straightest
            && self.is_clear(crowd, lead, task, path)
            && self.holds(laid, lead, task, path)
        {
            return Ok(path.clone());
        }
        let known = plan.own.clone();
        let aside = known.or_else(|| corners_of(&straightest?));
        if let Some(corners) = aside
            && let Some(path) = self.drawn(crowd, laid, lead, task, corners)
        {
            return Ok(path);
        }
        let mut why = NoWay::Exhausted;
        let mut ended: Vec<Try> = Vec::new();
        let mut drawn: Vec<Vec<DVec3>> = Vec::new();
        for &how in tries {
            // More work changes nothing for one that came to its end.
            if ended.iter().any(|it| it.is_as_good_as(how, task.od)) {
                continue;
            }
            match self.search(crowd, lead, task, plan, how, None) {
                Ok(corners) => {
                    ended.push(how);
                    // There may be one: this is drawn, and room is missing.
                    why = NoWay::GaveUp;
                    if drawn.contains(&corners) {
                        continue;
                    }
                    let path = self.drawn(crowd, laid, lead, task, corners.clone());
                    if let Some(path) = path {
                        return Ok(path);
                    }
                    drawn.push(corners);
                }
                Err(NoWay::Exhausted) => ended.push(how),
                Err(reason) => why = reason,
            }
        }
        Err(why)
    }

    /// A way through the points a lead is to pass, leg by leg.
    fn legs(
        &mut self,
        crowd: &Crowd,
        laid: &[Option<Path>],
        lead: usize,
        task: &Task,
        tries: &[Try],
        left: &mut u32,
    ) -> Result<Path, NoWay> {
        let Some((&pin, onward)) = task.through.split_first() else {
            return self.leg(crowd, laid, lead, task, &mut Plan::default(), tries);
        };
        let next = onward.first().copied().unwrap_or(task.to);
        let mut why = NoWay::GaveUp;
        for way in ways_through(task.from, pin, next) {
            if *left == 0 {
                break;
            }
            *left -= 1;
            let first = Task {
                to: pin,
                to_way: way,
                straight_to: 0.0,
                through: Vec::new(),
                ..task.clone()
            };
            let path = match self.leg(crowd, laid, lead, &first, &mut Plan::default(), tries) {
                Ok(path) => path,
                Err(reason) => {
                    why = reason;
                    continue;
                }
            };
            let rest = Task {
                from: pin,
                from_way: way,
                straight_from: 0.0,
                through: onward.to_vec(),
                lumps: moved_on(&task.lumps, path.length()),
                ..task.clone()
            };
            let rest = self.legs(crowd, laid, lead, &rest, tries, left);
            match rest.map(|rest| path.join(&rest)) {
                Ok(Ok(whole)) => return Ok(whole),
                Ok(Err(_)) => {}
                Err(reason) => why = reason,
            }
        }
        Err(why)
    }

    /// Whether nothing is found too near to a way at points along it.
    fn is_clear(&self, crowd: &Crowd, lead: usize, task: &Task, path: &Path) -> bool {
        let plain = task.lumps.is_empty();
        let mut along = 0.0;
        for piece in &path.pieces {
            let mut place = 0.0;
            while place < piece.length() {
                let at = along + place;
                let half = if plain {
                    0.5 * task.od
                } else {
                    0.5 * task.thickness([at, at])
                };
                let point = piece.point_at(place);
                let spare = self.room.at(point).min(crowd.at(point, lead)) - half;
                // What stands in the straight runs was looked for before.
                if spare < 0.0 && at > task.straight_from {
                    return false;
                }
                place += if plain { spare.max(2.0) } else { 2.0 };
            }
            along += piece.length();
        }
        true
    }
}

/// The shortest way where nothing is in it, with the straight runs at its ends.
fn direct_way(task: &Task) -> Option<Path> {
    let [start, end] = ends(task);
    let flat = planar(start.at, start.way, end.at, -end.way, task.radius);
    let mut path = flat.or_else(|| direct(start.at, start.way, end.at, -end.way, task.radius))?;
    if let Some(Piece::Line { from, .. }) = path.pieces.first_mut() {
        *from = task.from;
    } else if task.straight_from > 0.0 {
        let (from, to) = (task.from, start.at);
        path.pieces.insert(0, Piece::Line { from, to });
    }
    if let Some(Piece::Line { to, .. }) = path.pieces.last_mut() {
        *to = task.to;
    } else if task.straight_to > 0.0 {
        let (from, to) = (end.at, task.to);
        path.pieces.push(Piece::Line { from, to });
    }
    Some(path)
}

/// The corners of a way, if none is too sharp to draw from.
pub(super) fn corners_of(path: &Path) -> Option<Vec<DVec3>> {
    let mut corners = vec![path.start()];
    for piece in &path.pieces {
        if let Piece::Arc { radius, angle, .. } = *piece {
            if angle > SHARPEST {
                return None;
            }
            corners.push(piece.start() + piece.direction_at(0.0) * (radius * (0.5 * angle).tan()));
        }
    }
    corners.push(path.end());
    Some(super::corners::tidied(&corners))
}

/// Ways to go through a point, the likeliest first.
fn ways_through(before: DVec3, point: DVec3, after: DVec3) -> Vec<DVec3> {
    let (one, other) = (
        (point - before).normalize_or_zero(),
        (after - point).normalize_or_zero(),
    );
    let likely = (one + other).normalize_or_zero();
    let mut ways: Vec<DVec3> = (0..HEADINGS).map(way_of).collect();
    ways.sort_by(|a, b| b.dot(likely).total_cmp(&a.dot(likely)));
    ways.truncate(HEADINGS / 2);
    if likely != DVec3::ZERO {
        ways.insert(0, likely);
    }
    ways
}

/// Lumps as seen from a place further along.
fn moved_on(lumps: &[Bulge], by: f64) -> Vec<Bulge> {
    let moved = |lump: &Bulge| Bulge {
        at: lump.at - by,
        ..*lump
    };
    lumps.iter().map(moved).collect()
}
