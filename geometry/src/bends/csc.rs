//! Arc, straight, arc from pose to pose in space.
//!
//! From a pose to a point the arc and the straight lie in one plane and are a
//! closed form: with the point x ahead of the arc's centre and y beside it, on
//! the side it turns to, the straight is l = √(x² + y² - R²) and the turn φ
//! such that (x, y) = l (cos φ, sin φ) + R (sin φ, -cos φ). Such a path from the start leads to where the last arc begins, one from
//! the end, walked backward, to where the first arc ends. So a guess of where
//! the last arc begins leads round to a figure for the same point, and Newton's
//! method finds the point that leads to itself.

use std::f64::consts::TAU;

use glam::{DMat3, DVec3};

use crate::path::{Path, Piece};

/// Steps of Newton's method before a choice of sides is given up.
const MOST_STEPS: usize = 14;

/// The longest step, in radii.
const LONGEST: f64 = 2.0;

/// How far a point is moved to see what that does, in radii.
const NUDGE: f64 = 1e-6;

/// The point leads to itself when it is out by less than this, in radii.
const SETTLED: f64 = 1e-11;

/// A piece this short is left out, mm.
const NOTHING: f64 = 1e-9;

/// Where to begin and end, and how tightly to turn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Poses {
    pub start: DVec3,
    pub ahead: DVec3,
    pub end: DVec3,
    pub onward: DVec3,
    pub radius: f64,
}

/// What to begin with as the place where the last arc begins.
#[derive(Clone, Copy, Debug)]
pub(super) enum Guess {
    /// Where it would be if both arcs lay in one plane.
    Touching,
    /// Where one round from the end leads.
    Round,
    /// Where one round from the start leads.
    RoundBack,
}

/// A pose with the arc that leaves it.
#[derive(Clone, Copy, Debug)]
struct Leaving {
    at: DVec3,
    ahead: DVec3,
    /// Unit vector to the arc's centre.
    inward: DVec3,
    /// Of how far it turns.
    cos: f64,
    sin: f64,
    /// Where it ends, mm.
    tip: DVec3,
}

/// Arc, straight, arc.
#[derive(Clone, Copy, Debug)]
pub(super) struct Csc {
    first: Leaving,
    /// Walked backward from the end.
    last: Leaving,
    /// Length of it all, mm.
    pub length: f64,
}

/// A guess of where the last arc begins, and what follows from it.
#[derive(Clone, Copy)]
struct Round {
    point: DVec3,
    first: Leaving,
    last: Leaving,
    /// From the guess to where the last arc then begins, mm.
    miss: DVec3,
    /// Whether the arcs leave room for a straight.
    free: bool,
}

impl Leaving {
    /// * `side`: whether it turns to the side on which `toward` lies, 1, or away, -1
    fn new(at: DVec3, ahead: DVec3, toward: DVec3, side: f64) -> Leaving {
        let across = (toward - at).reject_from(ahead);
        let inward = if across.length() > NOTHING {
            across.normalize()
        } else {
            ahead.any_orthonormal_vector()
        };
        Leaving {
            at,
            ahead,
            inward: inward * side,
            cos: 1.0,
            sin: 0.0,
            tip: at,
        }
    }

    /// Turned so that the straight from its tip leads to a point, to the side
    /// it turned to before, and whether there is such a straight.
    fn aimed(&self, point: DVec3, radius: f64) -> (Leaving, bool) {
        let way = point - self.at;
        let x = way.dot(self.ahead);
        let across = way - self.ahead * x;
        let y = across.length().copysign(across.dot(self.inward));
        let inward = if y.abs() > NOTHING {
            across / y
        } else {
            self.inward
        };
        let aside = y - radius;
        let apart = x * x + aside * aside;
        let square = apart - radius * radius;
        let straight = square.max(0.0).sqrt();
        // A point within the circle is aimed at as if it lay on it.
        let scale = (straight * straight + radius * radius).recip();
        let scale = if square < 0.0 {
            1.0 / (apart.sqrt() * radius)
        } else {
            scale
        };
        let cos = (x * straight - aside * radius) * scale;
        let sin = (aside * straight + x * radius) * scale;
        let aimed = Leaving {
            inward,
            cos,
            sin,
            tip: self.at + radius * (sin * self.ahead + (1.0 - cos) * inward),
            ..*self
        };
        (aimed, square >= 0.0)
    }

    /// Its arc, unless it turns by nothing.
    fn arc(&self, radius: f64) -> Option<Piece> {
        let angle = self.sin.atan2(self.cos).rem_euclid(TAU);
        // A turn that rounding keeps from being none is not a whole one.
        let turns = radius * angle > NOTHING && radius * (TAU - angle) > NOTHING;
        turns.then(|| Piece::arc(self.at, self.ahead, self.inward, radius, angle))
    }
}

impl Poses {
    /// The path found with both arcs on given sides of their poses; `None`
    /// when it does not settle or the arcs overrun each other.
    ///
    /// * `sides`: for each arc whether it turns toward the other pose, 1, or
    ///   away, -1, to begin with
    /// * `guess`: of where the last arc begins
    pub fn csc(&self, sides: [f64; 2], guess: Guess) -> Option<Csc> {
        let first = Leaving::new(self.start, self.ahead, self.end, sides[0]);
        let last = Leaving::new(self.end, -self.onward, self.start, sides[1]);
        let point = match guess {
            Guess::Touching => self.touching(&first, &last),
            Guess::Round => self.round(&first, &last, self.end).last.tip,
            Guess::RoundBack => last.aimed(self.start, self.radius).0.tip,
        };
        let mut round = self.round(&first, &last, point);
        for _ in 0..MOST_STEPS {
            if round.miss.length() <= SETTLED * self.radius {
                return round.free.then_some(self.found(&round));
            }
            let point = round.point + self.step(&round)?;
            round = self.round(&round.first, &round.last, point);
        }
        None
    }

    /// Where the last arc would begin if both circles lay in one plane: where
    /// the line that touches both meets the last circle.
    fn touching(&self, first: &Leaving, last: &Leaving) -> DVec3 {
        let centres = [first, last].map(|it| it.at + it.inward * self.radius);
        let axis = first.ahead.cross(first.inward);
        let last_axis = last.inward.cross(last.ahead);
        let between = centres[1] - centres[0];
        let way = between.normalize_or(self.ahead);
        let along = if axis.dot(last_axis) >= 0.0 {
            way
        } else {
            let sin = (2.0 * self.radius / between.length()).min(1.0);
            way * (1.0 - sin * sin).sqrt() + axis.cross(way) * sin
        };
        centres[1] + along.cross(last_axis).normalize_or_zero() * self.radius
    }

    /// From a guess of where the last arc begins, round to what follows from it.
    fn round(&self, first: &Leaving, last: &Leaving, point: DVec3) -> Round {
        let (first, ahead) = first.aimed(point, self.radius);
        let (last, back) = last.aimed(first.tip, self.radius);
        Round {
            point,
            first,
            last,
            miss: last.tip - point,
            free: ahead && back,
        }
    }

    /// A step of Newton's method.
    fn step(&self, round: &Round) -> Option<DVec3> {
        let nudge = NUDGE * self.radius;
        let slope = |axis: DVec3| {
            let moved = self.round(&round.first, &round.last, round.point + axis * nudge);
            (moved.miss - round.miss) / nudge
        };
        let slopes = DMat3::from_cols(slope(DVec3::X), slope(DVec3::Y), slope(DVec3::Z));
        let step = slopes.inverse() * -round.miss;
        let finite = step.is_finite();
        finite.then(|| step.clamp_length_max(LONGEST * self.radius))
    }

    fn found(&self, round: &Round) -> Csc {
        let turn = |it: &Leaving| it.arc(self.radius).map_or(0.0, |arc| arc.length());
        let (first, last) = (round.first, round.last);
        Csc {
            first,
            last,
            length: turn(&first) + turn(&last) + first.tip.distance(last.tip),
        }
    }

    /// The path itself.
    pub fn path(&self, csc: &Csc) -> Path {
        let first = csc.first.arc(self.radius);
        let last = csc.last.arc(self.radius);
        let from = first.as_ref().map_or(self.start, Piece::end);
        let to = last.as_ref().map_or(self.end, Piece::end);
        let straight = (from.distance(to) > NOTHING).then_some(Piece::Line { from, to });
        let last = last.map(|arc| arc.reversed());
        Path {
            pieces: [first, straight, last].into_iter().flatten().collect(),
        }
    }
}
