//! What a lead must keep clear of besides the solids that stand in
//! everybody's way: the other leads, exactly as they lie, and their plugs.

use glam::DVec3;

use super::point::point_to;
use super::room::Room;
use super::{Kept, Surroundings, Task};
use crate::distance::Convex;
use crate::path::{Path, Piece};
use crate::solids::Bounds;

/// Edge of a cell, mm.
const CELL: f64 = 16.0;

/// Room is told apart to this far beyond half the thickest lead, mm.
const BEYOND: f64 = 6.0;

/// Pieces are cut so that no line is longer, mm, and no arc turns further, rad.
const LONGEST: f64 = 24.0;
const FURTHEST: f64 = 0.8;

/// A stretch of a lead or a piece of a plug.
struct Chunk<'a> {
    owner: usize,
    /// Half its thickness; of a plug the room it asks for, mm.
    thick: f64,
    /// Whether it stays where it is: a plug, or a lead's straight run.
    stays: bool,
    form: Form<'a>,
    cells: [[usize; 2]; 3],
}

/// The little that most chunks are told apart by: whose they are, and the box
/// around them.
#[derive(Clone, Copy)]
struct Outside {
    owner: usize,
    thick: f64,
    bounds: Bounds,
}

impl Outside {
    /// Whether all of a chunk is further from a point than `most`, mm.
    #[inline]
    fn is_beyond(&self, point: DVec3, most: f64) -> bool {
        let away = point.clamp(self.bounds.min, self.bounds.max) - point;
        let worth = most + self.thick;
        worth > 0.0 && away.length_squared() >= worth * worth
    }
}

enum Form<'a> {
    Line {
        from: DVec3,
        along: DVec3,
        square: f64,
    },
    /// Less than half a turn, by unit vectors from the centre: to its start,
    /// square to that the way it goes, to its end, square to that.
    Arc {
        centre: DVec3,
        radius: f64,
        out: DVec3,
        ahead: DVec3,
        last: DVec3,
        beyond: DVec3,
        ends: [DVec3; 2],
    },
    Plug(Convex<'a>),
}

/// The leads that are laid, and every plug and straight run.
pub(super) struct Crowd<'a> {
    origin: DVec3,
    size: [usize; 3],
    cells: Vec<Vec<u32>>,
    chunks: Vec<Chunk<'a>>,
    /// One for each chunk.
    outsides: Vec<Outside>,
    unused: Vec<u32>,
    reach: f64,
}

/// What a point is too near to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Look {
    /// Room to what may not be moved, mm.
    pub room: f64,
    /// Leads that would have to move, a bit for each.
    pub moved: u64,
}

impl<'a> Crowd<'a> {
    /// Nobody laid yet: only plugs.
    pub fn new(room: &Room, around: &'a Surroundings<'a>, tasks: &[Task]) -> Crowd<'a> {
        let spread = DVec3::from_array(room.size.map(|it| it as f64)) * room.voxel;
        let size = (spread / CELL).ceil().to_array().map(|it| it as usize + 1);
        let thickest = tasks.iter().map(Task::thickest).fold(0.0, f64::max);
        let mut crowd = Crowd {
            origin: room.origin - 0.5 * room.voxel,
            size,
            cells: vec![Vec::new(); size.iter().product()],
            chunks: Vec::new(),
            outsides: Vec::new(),
            unused: Vec::new(),
            reach: 0.5 * thickest + BEYOND,
        };
        for kept in around.solids() {
            if let Some(owner) = kept.not_for {
                crowd.add_plug(kept, owner);
            }
        }
        crowd
    }

    fn add_plug(&mut self, kept: &'a Kept, owner: usize) {
        let bounds = kept.solid.bounds();
        for convex in Convex::pieces(&kept.solid) {
            let form = Form::Plug(convex);
            self.add(owner, kept.clear, true, form, &bounds);
        }
    }

    /// Lays a lead, its straight runs to stay.
    pub fn lay(&mut self, owner: usize, task: &Task, path: &Path) {
        let length = path.length();
        let mut start = 0.0;
        for piece in &path.pieces {
            let run = piece.length();
            let most = match piece {
                Piece::Line { .. } => LONGEST,
                Piece::Arc { radius, .. } => FURTHEST * radius,
            };
            let count = (run / most).ceil().max(1.0);
            for part in 0..count as usize {
                let (from, to) = (part as f64 / count * run, (part + 1) as f64 / count * run);
                let places = [start + from, start + to];
                let stays = places[1] <= task.straight_from + 1e-6
                    || places[0] >= length - task.straight_to - 1e-6;
                self.add_stretch(owner, task.thickness(places), stays, piece, [from, to]);
            }
            start += run;
        }
    }

    /// Lays the straight runs of a lead that has no way yet.
    pub fn lay_runs(&mut self, owner: usize, task: &Task) {
        for [from, to] in task.runs().into_iter().flatten() {
            let piece = Piece::Line { from, to };
            self.add_stretch(owner, task.od, true, &piece, [0.0, piece.length()]);
        }
    }

    fn add_stretch(
        &mut self,
        owner: usize,
        od: f64,
        stays: bool,
        piece: &Piece,
        [from, to]: [f64; 2],
    ) {
        let ends = [piece.point_at(from), piece.point_at(to)];
        let mut bounds = Bounds::around(ends).expect("two points");
        let form = match *piece {
            Piece::Line { .. } => {
                let along = ends[1] - ends[0];
                Form::Line {
                    from: ends[0],
                    along,
                    square: along.length_squared().max(f64::MIN_POSITIVE),
                }
            }
            Piece::Arc { centre, radius, .. } => {
                let rise = radius * (1.0 - (0.5 * (to - from) / radius).cos());
                bounds = bounds.grown(rise);
                Form::Arc {
                    centre,
                    radius,
                    out: (ends[0] - centre) / radius,
                    ahead: piece.direction_at(from),
                    last: (ends[1] - centre) / radius,
                    beyond: piece.direction_at(to),
                    ends,
                }
            }
        };
        self.add(owner, 0.5 * od, stays, form, &bounds);
    }

    fn add(&mut self, owner: usize, thick: f64, stays: bool, form: Form<'a>, bounds: &Bounds) {
        let reach = bounds.grown(thick + self.reach);
        let range = |axis: usize| {
            let last = self.size[axis] as f64 - 1.0;
            let at = |place: f64| {
                ((place - self.origin[axis]) / CELL)
                    .floor()
                    .clamp(0.0, last)
            };
            [at(reach.min[axis]) as usize, at(reach.max[axis]) as usize]
        };
        let cells = [range(0), range(1), range(2)];
        let chunk = Chunk {
            owner,
            thick,
            stays,
            form,
            cells,
        };
        let outside = Outside {
            owner,
            thick,
            bounds: *bounds,
        };
        let number = match self.unused.pop() {
            Some(number) => {
                self.chunks[number as usize] = chunk;
                self.outsides[number as usize] = outside;
                number
            }
            None => {
                self.chunks.push(chunk);
                self.outsides.push(outside);
                self.chunks.len() as u32 - 1
            }
        };
        self.each_cell(cells, |cell| cell.push(number));
    }

    /// Takes a lead out again, its plug excepted.
    pub fn lift(&mut self, owner: usize) {
        for number in 0..self.chunks.len() {
            let chunk = &mut self.chunks[number];
            if chunk.owner != owner || matches!(chunk.form, Form::Plug(_)) {
                continue;
            }
            chunk.owner = usize::MAX;
            let cells = chunk.cells;
            self.each_cell(cells, |cell| cell.retain(|&it| it != number as u32));
            self.unused.push(number as u32);
        }
    }

    fn each_cell(
        &mut self,
        [across, depth, up]: [[usize; 2]; 3],
        mut visit: impl FnMut(&mut Vec<u32>),
    ) {
        for z in up[0]..=up[1] {
            for y in depth[0]..=depth[1] {
                for x in across[0]..=across[1] {
                    visit(&mut self.cells[(z * self.size[1] + y) * self.size[0] + x]);
                }
            }
        }
    }

    #[inline]
    fn cell(&self, point: DVec3) -> &[u32] {
        let place = (point - self.origin) / CELL;
        let index = |axis: usize| (place[axis].max(0.0) as usize).min(self.size[axis] - 1);
        &self.cells[(index(2) * self.size[1] + index(1)) * self.size[0] + index(0)]
    }

    /// Room of a lead's point to everything of the others, mm; at most
    /// what it can tell apart.
    #[inline]
    pub fn at(&self, point: DVec3, lead: usize) -> f64 {
        self.at_most(point, lead, self.reach)
    }

    /// The same where more than `most` mm is of no interest.
    #[inline]
    pub fn at_most(&self, point: DVec3, lead: usize, most: f64) -> f64 {
        let mut least = self.reach.min(most);
        for &number in self.cell(point) {
            let outside = &self.outsides[number as usize];
            if outside.owner != lead && !outside.is_beyond(point, least) {
                let chunk = &self.chunks[number as usize];
                least = least.min(chunk.form.distance(point) - chunk.thick);
            }
        }
        least
    }

    /// Room of a point to the nearest of some leads, a bit for each, mm; at
    /// most what it can tell apart.
    pub fn beside(&self, point: DVec3, leads: u64) -> f64 {
        let mut least = self.reach;
        for &number in self.cell(point) {
            let chunk = &self.chunks[number as usize];
            let lead = !matches!(chunk.form, Form::Plug(_));
            if lead
                && leads >> chunk.owner & 1 == 1
                && !self.outsides[number as usize].is_beyond(point, least)
            {
                least = least.min(chunk.form.distance(point) - chunk.thick);
            }
        }
        least
    }

    /// Room to everything of the others where leads may be asked to move.
    ///
    /// * `half`: half the lead's thickness there, mm
    pub fn look(&self, point: DVec3, lead: usize, half: f64) -> Look {
        let mut seen = Look {
            room: self.reach,
            moved: 0,
        };
        for &number in self.cell(point) {
            let chunk = &self.chunks[number as usize];
            if chunk.owner == lead
                || self.outsides[number as usize].is_beyond(point, seen.room.max(half))
            {
                continue;
            }
            let room = chunk.form.distance(point) - chunk.thick;
            if chunk.stays {
                seen.room = seen.room.min(room);
            } else if room < half {
                seen.moved |= 1 << chunk.owner;
            }
        }
        seen
    }
}

impl Form<'_> {
    /// From a point to the middle of a stretch or the surface of a plug, mm.
    #[inline]
    fn distance(&self, point: DVec3) -> f64 {
        match *self {
            Form::Line {
                from,
                along,
                square,
            } => {
                let away = point - from;
                let place = (away.dot(along) / square).clamp(0.0, 1.0);
                (away - along * place).length()
            }
            Form::Arc {
                centre,
                radius,
                out,
                ahead,
                last,
                beyond,
                ends,
            } => {
                let away = point - centre;
                if away.dot(ahead) >= 0.0 && away.dot(beyond) <= 0.0 && away.dot(out + last) > 0.0 {
                    let flat = away.dot(out).hypot(away.dot(ahead));
                    let square = away.length_squared() - flat * flat;
                    ((flat - radius) * (flat - radius) + square.max(0.0)).sqrt()
                } else {
                    point.distance(ends[0]).min(point.distance(ends[1]))
                }
            }
            Form::Plug(ref convex) => point_to(convex, point),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::path::path_to_solid;
    use crate::solids::Solid;
    use crate::space::FreeSpace;

    #[test]
    fn a_lead_is_as_near_as_its_centreline_says() {
        let task = Task {
            od: 5.0,
            radius: 18.0,
            from: DVec3::new(-60., 0., 0.),
            from_way: DVec3::X,
            straight_from: 4.0,
            to: DVec3::new(50., 40., 20.),
            to_way: DVec3::Z,
            straight_to: 6.0,
            length: None,
            lumps: Vec::new(),
            through: Vec::new(),
            cluster: None,
        };
        let corners = [task.from, DVec3::ZERO, DVec3::new(50., 40., -30.), task.to];
        let path = Path::through(&corners, 18.0).unwrap();
        let bounds = Bounds {
            min: DVec3::splat(-80.0),
            max: DVec3::splat(80.0),
        };
        let free = FreeSpace::of(&[], &bounds, 2.0, 1);
        let around = Surroundings {
            free: &free,
            fixed: &[],
            movable: Vec::new(),
        };
        let tasks = [task.clone(), task];
        let mut crowd = Crowd::new(&Room::new(&around), &around, &tasks);
        crowd.lay(0, &tasks[0], &path);
        for number in 0..2000 {
            let place = f64::from(number);
            let wander = DVec3::new(
                (place * 0.37).sin(),
                (place * 0.91).cos(),
                (place * 0.53).sin(),
            );
            let point = 70.0 * wander;
            let ball = Solid::capsule(point, point, 0.0);
            let known = path_to_solid(&path, &ball).unwrap().distance - 2.5;
            let found = crowd.at(point, 1);
            assert!(
                (found - known.min(crowd.reach)).abs() < 1e-6,
                "{point}: {found} for {known}"
            );
            assert_eq!(crowd.at(point, 0), crowd.reach);
        }
        crowd.lift(0);
        assert_eq!(crowd.at(DVec3::ZERO, 1), crowd.reach);
    }
}
