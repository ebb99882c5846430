//! Arc, straight, arc from pose to pose in space.
//!
//! The straight lies on the line from P, t ahead of the start, to Q, s before
//! the end. An arc of radius R that turns by φ takes R tan(φ/2) of both its
//! legs, so t = R tan(φ/2) at P and s likewise at Q; with the longer way round
//! the circle, 2π - φ, both are negative. Two equations for t and s, solved by
//! Newton's method.

use std::f64::consts::TAU;

use glam::{DMat2, DVec2, DVec3};

use crate::path::{Path, Piece};

/// Steps of Newton's method before a guess is given up.
const MOST_STEPS: usize = 25;

/// A step this small ends it, in radii.
const SETTLED: f64 = 1e-13;

/// A straight may be this much too short, and a piece this short is left out, mm.
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

/// Which way round a turn goes: the short one or the long one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    Short,
    Long,
}

impl Way {
    fn sign(self) -> f64 {
        match self {
            Way::Short => 1.0,
            Way::Long => -1.0,
        }
    }
}

/// Arc, straight, arc.
#[derive(Clone, Copy, Debug)]
pub(super) struct Csc {
    /// The way the straight goes, a unit vector.
    along: DVec3,
    /// How far each arc turns, rad.
    angles: [f64; 2],
    ways: [Way; 2],
    /// Length of it all, mm.
    pub length: f64,
}

/// The line from P to Q and the turns at its ends.
struct Line {
    along: DVec3,
    length: f64,
    /// Cosines of the turns.
    cos: [f64; 2],
    /// Tangents of half the turns.
    tan_half: [f64; 2],
}

impl Poses {
    fn line(&self, legs: DVec2) -> Option<Line> {
        let from = self.start + self.ahead * legs.x;
        let between = self.end - self.onward * legs.y - from;
        let length = between.length();
        let along = between.try_normalize()?;
        let cos = [self.ahead.dot(along), self.onward.dot(along)];
        let sin = [self.ahead, self.onward].map(|way| way.cross(along).length());
        Some(Line {
            along,
            length,
            cos,
            tan_half: [sin[0] / (1.0 + cos[0]), sin[1] / (1.0 + cos[1])],
        })
    }

    /// The path found from a guess of both legs; `None` when Newton's method
    /// does not settle or the arcs overrun each other.
    ///
    /// * `guess`: t and s, mm
    pub fn csc(&self, ways: [Way; 2], guess: DVec2) -> Option<Csc> {
        let signs = DVec2::new(ways[0].sign(), ways[1].sign()) * self.radius;
        let mut legs = guess;
        for _ in 0..MOST_STEPS {
            let line = self.line(legs)?;
            let step = self.step(&line, legs, signs)?;
            legs -= step;
            if step.length() <= SETTLED * (self.radius + legs.length()) {
                return self.found(ways, legs, signs);
            }
        }
        None
    }

    /// A step of Newton's method for legs - signs · tan_half = 0.
    fn step(&self, line: &Line, legs: DVec2, signs: DVec2) -> Option<DVec2> {
        let [one, two] = line.tan_half;
        let miss = legs - signs * DVec2::new(one, two);
        // How a half tangent changes with the other end's leg.
        let twist = self.ahead.dot(self.onward) - line.cos[0] * line.cos[1];
        let other = |end: usize| {
            let slope = line.tan_half[end] * (1.0 + line.cos[end]).powi(2);
            if slope > 1e-12 { twist / slope } else { 0.0 }
        };
        let (own, across) = (DVec2::new(one, two), DVec2::new(other(0), other(1)));
        let diagonal = DVec2::ONE - signs * own / line.length;
        let aside = -signs * across / line.length;
        let slopes = DMat2::from_cols(
            DVec2::new(diagonal.x, aside.y),
            DVec2::new(aside.x, diagonal.y),
        );
        let step = slopes.inverse() * miss;
        step.is_finite().then_some(step)
    }

    fn found(&self, ways: [Way; 2], legs: DVec2, signs: DVec2) -> Option<Csc> {
        let line = self.line(legs)?;
        let miss = legs - signs * DVec2::from_array(line.tan_half);
        let straight = line.length - legs.x - legs.y;
        let settled = miss.length() <= NOTHING;
        if !settled || straight < -NOTHING {
            return None;
        }
        let angle = |end: usize| {
            let short = 2.0 * line.tan_half[end].atan();
            match ways[end] {
                Way::Short => short,
                Way::Long => TAU - short,
            }
        };
        let angles = [angle(0), angle(1)];
        Some(Csc {
            along: line.along,
            angles,
            ways,
            length: self.radius * (angles[0] + angles[1]) + straight.max(0.0),
        })
    }

    /// The path itself.
    pub fn path(&self, csc: &Csc) -> Path {
        // The last arc is built from its end backward.
        let first = self.arc(self.start, self.ahead, csc.along, csc, 0);
        let last = self.arc(self.end, -self.onward, -csc.along, csc, 1);
        let from = first.as_ref().map_or(self.start, Piece::end);
        let to = last.as_ref().map_or(self.end, Piece::end);
        let straight = (from.distance(to) > NOTHING).then_some(Piece::Line { from, to });
        let last = last.map(|arc| arc.reversed());
        Path {
            pieces: [first, straight, last].into_iter().flatten().collect(),
        }
    }

    /// The arc at one end from `ahead` to `along`, unless it turns by nothing.
    fn arc(&self, at: DVec3, ahead: DVec3, along: DVec3, csc: &Csc, end: usize) -> Option<Piece> {
        let across = along.reject_from(ahead).try_normalize()?;
        let angle = csc.angles[end];
        let inward = across * csc.ways[end].sign();
        (self.radius * angle > NOTHING).then(|| Piece::arc(at, ahead, inward, self.radius, angle))
    }
}
