//! What a lead costs as it lies: its length, and the room it lacks, by exact
//! distances to every solid and every other lead.

use glam::DVec3;

use super::Task;
use super::approach::half_tangent;
use super::crowd::Crowd;
use super::room::Room;

/// Room beyond what is needed, mm: points looked at lie some way apart.
pub(super) const MARGIN: f64 = 0.03;

/// Points looked at are no further apart where room is scarce, mm.
const APART: f64 = 1.0;

/// A millimetre of missing room costs as much as this length, mm, at its worst
/// place, and as much again along 4 mm: more than any corner can gain.
const WORST: f64 = 30.0;
const ALONG: f64 = 8.0;

/// A lead may be longer by this share where that brings it to its mates.
const TIDY: f64 = 0.12;

/// Leads with less than this between them lie together, and with that much
/// more they do not at all, mm.
pub(super) const TOUCHING: f64 = 1.0;
const LOOSE: f64 = 4.0;

/// Corners do not turn further than this, cosine.
const SHARPEST: f64 = -0.9;

/// What a leg and the arc at its end cost.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Cost {
    /// Length, mm.
    pub length: f64,
    /// Price of missing room.
    pub missing: f64,
    /// Price of running apart from its mates.
    pub apart: f64,
    /// The worst place and how much is missing there, mm.
    pub worst: DVec3,
    pub by: f64,
}

impl Cost {
    /// Length and price.
    pub fn sum(&self) -> f64 {
        self.length + self.missing + self.apart
    }
}

/// Measures a lead by its corners.
pub(super) struct Strain<'a> {
    pub room: &'a Room<'a>,
    pub crowd: &'a Crowd<'a>,
    pub task: &'a Task,
    /// Number of the lead.
    pub lead: usize,
    /// Room asked for beyond the rule, mm.
    pub margin: f64,
    /// Leads it is drawn together with, a bit for each.
    pub mates: u64,
}

impl Strain<'_> {
    /// What every corner takes of its legs, mm, or `None` when a leg is too short.
    pub fn turns_of(&self, corners: &[DVec3]) -> Option<Vec<f64>> {
        let last = corners.len() - 1;
        let mut turns = Vec::with_capacity(last + 1);
        turns.push(self.task.straight_from);
        for corner in 1..last {
            turns.push(self.turn(corners, corner)?);
        }
        turns.push(self.task.straight_to);
        let fits = (0..last).all(|leg| {
            turns[leg] + turns[leg + 1] <= corners[leg].distance(corners[leg + 1]) + 1e-10
        });
        fits.then_some(turns)
    }

    /// What a corner takes of its legs, mm; `None` when it is too sharp.
    pub fn turn(&self, corners: &[DVec3], corner: usize) -> Option<f64> {
        let before = (corners[corner] - corners[corner - 1]).try_normalize()?;
        let after = (corners[corner + 1] - corners[corner]).try_normalize()?;
        let cos = before.dot(after);
        (cos > SHARPEST).then(|| self.task.radius * half_tangent(cos))
    }

    /// Length of a leg and the arc at its end, mm.
    pub fn length(&self, corners: &[DVec3], turns: &[f64], leg: usize) -> f64 {
        let (from, to) = (corners[leg], corners[leg + 1]);
        let last = leg + 2 == corners.len();
        let run = from.distance(to);
        let line = run - turns[leg] - turns[leg + 1];
        let start = if leg == 0 { turns[leg] } else { 0.0 };
        if last {
            return line + start + turns[leg + 1];
        }
        let way = (to - from) / run;
        let after = (corners[leg + 2] - to).normalize();
        line + start + self.task.radius * way.dot(after).clamp(-1.0, 1.0).acos()
    }

    /// What a leg and the arc at its end cost.
    ///
    /// * `worth`: looks no further once the prices come to more than this
    pub fn cost(
        &self,
        corners: &[DVec3],
        turns: &[f64],
        leg: usize,
        along: f64,
        worth: f64,
    ) -> Cost {
        let (from, to) = (corners[leg], corners[leg + 1]);
        let run = from.distance(to);
        let way = (to - from) / run;
        let last = leg + 2 == corners.len();
        let mut cost = Cost::default();
        // The straight runs are looked at before any search.
        let start = turns[leg];
        let line = run - start - turns[leg + 1];
        let begin = from + start * way;
        let before = if leg == 0 { along + start } else { along };
        self.look(&mut cost, line, before, worth, |place| begin + place * way);
        cost.length =
            line + if leg == 0 { start } else { 0.0 } + if last { turns[leg + 1] } else { 0.0 };
        if last || cost.missing > worth {
            return cost;
        }
        let after = (corners[leg + 2] - to).normalize();
        let cos = way.dot(after).clamp(-1.0, 1.0);
        let (radius, angle) = (self.task.radius, cos.acos());
        let inward = (after - cos * way).normalize_or_zero();
        let begin = to - turns[leg + 1] * way;
        let arc = radius * angle;
        let before = along + cost.length;
        self.look(&mut cost, arc, before, worth, |place| {
            let (sin, cos) = (place / radius).sin_cos();
            begin + radius * (sin * way + (1.0 - cos) * inward)
        });
        cost.length += arc;
        cost
    }

    /// Looks along a piece for missing room.
    #[inline]
    fn look(
        &self,
        cost: &mut Cost,
        length: f64,
        before: f64,
        worth: f64,
        point: impl Fn(f64) -> DVec3,
    ) {
        let mut place = 0.0;
        let mut worst = 0.0;
        loop {
            let at = point(place);
            let (spare, firm) = self.spare(at, before + place);
            if spare < 0.0 {
                cost.missing += ALONG * APART * -spare;
                if -spare > cost.by {
                    (cost.by, cost.worst) = (-spare, at);
                }
                worst = f64::max(worst, -spare);
            }
            if place >= length || cost.missing > worth {
                break;
            }
            let step = if firm { spare.max(APART) } else { APART };
            let step = step.min(length - place);
            cost.apart += step * self.apart(at);
            place += step;
        }
        cost.missing += WORST * worst;
    }

    /// What it costs to run apart from its mates, mm for each mm.
    #[inline]
    fn apart(&self, point: DVec3) -> f64 {
        if self.mates == 0 {
            return 0.0;
        }
        let gap = self.crowd.beside(point, self.mates) - 0.5 * self.task.od;
        TIDY * ((gap - TOUCHING) / LOOSE).clamp(0.0, 1.0)
    }

    /// Room beyond what is needed at a point, mm, and whether it holds for
    /// points around as well.
    #[inline]
    fn spare(&self, point: DVec3, along: f64) -> (f64, bool) {
        let plain = self.task.lumps.is_empty();
        let od = if plain {
            self.task.od
        } else {
            self.task.thickness([along, along])
        };
        let room = self.room.at(point);
        let room = self.crowd.at_most(point, self.lead, room);
        (room - 0.5 * od - self.margin, plain)
    }

    /// The way in which room grows fastest at a point.
    pub fn away(&self, point: DVec3) -> DVec3 {
        const HALF: f64 = 0.25;
        let room = |shift: DVec3| {
            let point = point + shift;
            self.room.at(point).min(self.crowd.at(point, self.lead))
        };
        let slope = |axis: DVec3| room(HALF * axis) - room(-HALF * axis);
        DVec3::new(slope(DVec3::X), slope(DVec3::Y), slope(DVec3::Z)).normalize_or_zero()
    }
}
