//! Draws a lead tight: its corners move while it gets shorter, or while room
//! is missing somewhere, with exact distances to every solid and every other
//! lead.

use glam::DVec3;

use super::strain::{Cost, Strain};

/// Steps by which corners move, mm.
const STEPS: [f64; 5] = [6.0, 3.0, 1.5, 0.7, 0.3];

/// Rounds at each step.
const ROUNDS: usize = 4;

/// Gaining less than this is not worth a move, mm.
const GAIN: f64 = 0.01;

/// Corners added where room is missing.
const ADDED: usize = 3;

/// A lead being drawn tight.
pub(super) struct Draw<'a> {
    pub strain: Strain<'a>,
    /// First and last are the ends; the second lies ahead of the first, the
    /// last but one behind the last.
    pub corners: Vec<DVec3>,
    costs: Vec<Cost>,
    turns: Vec<f64>,
}

impl<'a> Draw<'a> {
    /// `None` when the corners do not leave room for their turns.
    pub fn new(strain: Strain<'a>, corners: Vec<DVec3>) -> Option<Draw<'a>> {
        let mut draw = Draw {
            strain,
            corners,
            costs: Vec::new(),
            turns: Vec::new(),
        };
        draw.measure().then_some(draw)
    }

    /// Draws it tight. Whether all room it needs is there, but for what is asked
    /// for beyond: where its straight runs end there may be no more to have.
    /// Asks for more room from now on.
    pub fn widen(&mut self) {
        self.strain.margin *= 5.0;
        self.measure();
    }

    pub fn tighten(&mut self) -> bool {
        self.straighten();
        self.descend();
        self.straighten();
        for _ in 0..ADDED {
            if self.missing() <= 0.0 || !self.add_corner() {
                break;
            }
            self.descend();
        }
        let worst = self.costs.iter().map(|cost| cost.by).fold(0.0, f64::max);
        worst <= self.strain.margin
    }

    /// The price of all room that is missing; 0 when none is.
    pub fn missing(&self) -> f64 {
        self.costs.iter().map(|cost| cost.missing).sum()
    }

    /// How much room is missing where most is, mm, and where.
    pub fn worst(&self) -> (f64, DVec3) {
        let costs = self.costs.iter();
        let worst = costs.max_by(|a, b| a.by.total_cmp(&b.by));
        worst.map_or((0.0, DVec3::ZERO), |cost| (cost.by, cost.worst))
    }

    /// Inner corners.
    fn inner(&self) -> usize {
        self.corners.len() - 2
    }

    /// All it costs: its length, and what it pays for.
    pub fn total(&self) -> f64 {
        self.costs.iter().map(Cost::sum).sum()
    }

    /// Measures everything anew. Whether the turns fit.
    fn measure(&mut self) -> bool {
        let last = self.corners.len() - 1;
        let Some(turns) = self.strain.turns_of(&self.corners) else {
            return false;
        };
        let mut costs = Vec::with_capacity(last);
        let mut along = 0.0;
        for leg in 0..last {
            let cost = (self.strain).cost(&self.corners, &turns, leg, along, f64::INFINITY);
            along += cost.length;
            costs.push(cost);
        }
        (self.costs, self.turns) = (costs, turns);
        true
    }

    /// Leaves out corners that only cost.
    fn straighten(&mut self) {
        let mut corner = 2;
        while corner < self.inner() {
            let (corners, costs, turns) =
                (self.corners.clone(), self.costs.clone(), self.turns.clone());
            let before = self.total();
            self.corners.remove(corner);
            if self.measure() && self.total() < before {
                corner = 2;
            } else {
                (self.corners, self.costs, self.turns) = (corners, costs, turns);
                corner += 1;
            }
        }
    }

    /// Moves corners as long as it pays.
    fn descend(&mut self) {
        for step in STEPS {
            for _ in 0..ROUNDS {
                let mut better = false;
                for corner in 1..=self.inner() {
                    better |= self.improve(corner, step);
                }
                if !better {
                    break;
                }
            }
        }
    }

    /// Moves one corner by one step, if it pays.
    fn improve(&mut self, corner: usize, step: f64) -> bool {
        let mut better = false;
        for way in self.ways(corner) {
            if way == DVec3::ZERO {
                continue;
            }
            let mut step = step;
            while self.try_move(corner, self.corners[corner] + step * way) {
                better = true;
                step *= 2.0;
            }
        }
        better
    }

    /// The ways a corner may go.
    fn ways(&self, corner: usize) -> [DVec3; 8] {
        let mut ways = [DVec3::ZERO; 8];
        let [first, last] = [corner == 1, corner == self.inner()];
        if first && last {
            return ways;
        }
        if first || last {
            let way = if first {
                self.strain.task.from_way
            } else {
                self.strain.task.to_way
            };
            [ways[0], ways[1]] = [way, -way];
            return ways;
        }
        let before = (self.corners[corner] - self.corners[corner - 1]).normalize();
        let after = (self.corners[corner + 1] - self.corners[corner]).normalize();
        let square = before.cross(after).normalize_or_zero();
        let pull = (after - before).normalize_or_zero();
        [
            self.push(corner),
            pull,
            before,
            -before,
            after,
            -after,
            square,
            -square,
        ]
    }

    /// Away from what is nearest at the worst place beside a corner.
    fn push(&self, corner: usize) -> DVec3 {
        let near = [corner - 1, corner].map(|leg| self.costs[leg]);
        let worst = if near[0].by >= near[1].by {
            near[0]
        } else {
            near[1]
        };
        if worst.by <= 0.0 {
            return DVec3::ZERO;
        }
        self.strain.away(worst.worst)
    }

    /// Moves a corner there if that pays.
    fn try_move(&mut self, corner: usize, to: DVec3) -> bool {
        let kept = std::mem::replace(&mut self.corners[corner], to);
        if let Some(change) = self.changed(corner) {
            change.enter(self);
            return true;
        }
        self.corners[corner] = kept;
        false
    }

    /// What changes with a corner that was moved, if it pays.
    fn changed(&self, corner: usize) -> Option<Change> {
        let last = self.corners.len() - 1;
        let mut turns = [0.0; 5];
        let low = corner.saturating_sub(2);
        let high = (corner + 2).min(last);
        for near in low..=high {
            turns[near - low] =
                if near + 1 < corner || near > corner + 1 || near == 0 || near == last {
                    self.turns[near]
                } else {
                    self.strain.turn(&self.corners, near)?
                };
        }
        for leg in low..high {
            let run = self.corners[leg].distance(self.corners[leg + 1]);
            if turns[leg - low] + turns[leg + 1 - low] > run + 1e-10 {
                return None;
            }
        }
        let lumps = !self.strain.task.lumps.is_empty();
        let (from, to) = if lumps { (0, last) } else { (low, high) };
        let mut all = self.turns.clone();
        all[low..=high].copy_from_slice(&turns[..=high - low]);
        let before: f64 = self.costs[from..to].iter().map(Cost::sum).sum();
        // Most moves only make it longer, which is told without looking at any room.
        let legs = from..to;
        let lengths = legs.map(|leg| self.strain.length(&self.corners, &all, leg));
        let mut worth = before - GAIN - lengths.sum::<f64>();
        let mut costs = Vec::with_capacity(to - from);
        let mut along = 0.0;
        for leg in from..to {
            if worth < 0.0 {
                return None;
            }
            let cost = self.strain.cost(&self.corners, &all, leg, along, worth);
            along += cost.length;
            worth -= cost.missing + cost.apart;
            costs.push(cost);
        }
        if worth < 0.0 {
            return None;
        }
        Some(Change {
            turns: all,
            from,
            costs,
        })
    }

    /// Adds a corner where most room is missing, pushed out of the way.
    fn add_corner(&mut self) -> bool {
        let legs = self.costs.iter().enumerate();
        let Some((leg, &cost)) = legs.max_by(|a, b| a.1.by.total_cmp(&b.1.by)) else {
            return false;
        };
        let (from, to) = (self.corners[leg], self.corners[leg + 1]);
        let run = to - from;
        let place = ((cost.worst - from).dot(run) / run.length_squared()).clamp(0.3, 0.7);
        if leg == 0 || leg + 1 == self.costs.len() {
            return false;
        }
        let corners = self.corners.clone();
        let foot = from + place * run;
        self.corners.insert(
            leg + 1,
            foot + self.strain.away(cost.worst) * (cost.by + 0.1),
        );
        if self.measure() {
            return true;
        }
        self.corners = corners;
        false
    }
}

/// A corner's move that pays.
struct Change {
    turns: Vec<f64>,
    from: usize,
    costs: Vec<Cost>,
}

impl Change {
    fn enter(self, draw: &mut Draw) {
        draw.turns = self.turns;
        draw.costs[self.from..self.from + self.costs.len()].copy_from_slice(&self.costs);
    }
}
