//! A rib as one strip: its lower and its upper edge, and lines across it.

use glam::DVec2;

use super::rib::round;
use super::{Edge, Notch, RibFault};
use crate::Outline;

/// Places along a rib nearer than this are one, mm.
pub(super) const SAME: f64 = 1e-7;

/// The lower and the upper edge of a rib, each from left to right. Its two
/// ends are the straight lines between their ends.
#[derive(Clone, Debug)]
pub(super) struct Chains {
    lower: Vec<DVec2>,
    upper: Vec<DVec2>,
}

impl Chains {
    /// Splits an outline at its two ends.
    pub fn new(outline: &[DVec2]) -> Result<Chains, RibFault> {
        let outline = Outline::new(outline.to_vec()).map_err(RibFault::Outline)?;
        let corners = outline.corners();
        let count = corners.len();
        let x = |i: &usize| corners[*i].x;
        let far = |sign: f64| (0..count).min_by(|a, b| (sign * x(a)).total_cmp(&(sign * x(b))));
        // Counter-clockwise, the left end runs down and the right end up.
        let end = |at: usize, sign: f64| {
            let run = |from: usize| corners[(from + 1) % count] - corners[from];
            let sides = [(at + count - 1) % count, at];
            let steep = |from: &usize| sign * run(*from).y / run(*from).length();
            let side = sides
                .into_iter()
                .max_by(|a, b| steep(a).total_cmp(&steep(b)))?;
            (steep(&side) > std::f64::consts::FRAC_1_SQRT_2).then_some(side)
        };
        let left = far(1.0).and_then(|at| end(at, -1.0));
        let right = far(-1.0).and_then(|at| end(at, 1.0));
        let (Some(left), Some(right)) = (left, right) else {
            return Err(RibFault::NotAStrip);
        };
        let chain = |from: usize, to: usize| {
            let steps = (to + count - from) % count;
            (0..=steps).map(|i| corners[(from + i) % count]).collect()
        };
        let lower: Vec<DVec2> = chain((left + 1) % count, right);
        let mut upper: Vec<DVec2> = chain((right + 1) % count, left);
        upper.reverse();
        let runs = |edge: &[DVec2]| {
            edge.len() > 1 && edge.windows(2).all(|two| two[1].x > two[0].x + SAME)
        };
        if !runs(&lower) || !runs(&upper) {
            return Err(RibFault::NotAStrip);
        }
        Ok(Chains { lower, upper })
    }

    /// Corners of one edge, left to right, mm.
    pub fn edge(&self, edge: Edge) -> &[DVec2] {
        match edge {
            Edge::Lower => &self.lower,
            Edge::Upper => &self.upper,
        }
    }

    /// The x of both ends of an edge, mm.
    pub fn ends(&self, edge: Edge) -> [f64; 2] {
        let edge = self.edge(edge);
        [edge[0].x, edge[edge.len() - 1].x]
    }

    /// The point of an edge at an x, the nearest end's beyond its ends, mm.
    pub fn point(&self, edge: Edge, x: f64) -> DVec2 {
        let edge = self.edge(edge);
        let next = (edge.iter().position(|c| c.x >= x)).unwrap_or(edge.len() - 1);
        if next == 0 || edge[next].x < x {
            return edge[next];
        }
        let (before, after) = (edge[next - 1], edge[next]);
        let share = (x - before.x) / (after.x - before.x);
        // Exactly the corner's own height at a corner, whatever the rounding.
        DVec2::new(x, before.y * (1.0 - share) + after.y * share)
    }

    /// The height of the rib square to its length at an x, mm.
    pub fn height(&self, x: f64) -> f64 {
        self.point(Edge::Upper, x).y - self.point(Edge::Lower, x).y
    }

    /// The x of the middle of the rib, mm.
    pub fn middle(&self) -> f64 {
        let [from, to] = self.span();
        0.5 * (from + to)
    }

    /// The x of the middles of both ends, mm.
    pub fn span(&self) -> [f64; 2] {
        let (lower, upper) = (self.ends(Edge::Lower), self.ends(Edge::Upper));
        [0.5 * (lower[0] + upper[0]), 0.5 * (lower[1] + upper[1])]
    }

    /// How far along an edge an x lies, 0 to 1.
    pub fn share(&self, edge: Edge, x: f64) -> f64 {
        let [from, to] = self.ends(edge);
        (x - from) / (to - from)
    }

    /// The point so far along the rib and up from its lower edge, shares of 1, mm.
    pub fn place(&self, along: f64, up: f64) -> DVec2 {
        let foot = |edge| {
            let [from, to] = self.ends(edge);
            self.point(edge, from + (to - from) * along)
        };
        let (low, high) = (foot(Edge::Lower), foot(Edge::Upper));
        // A line square to the rib stays so, whatever the rounding.
        low + (high - low) * up
    }
}

/// The way a notch is cut: where it starts on its edge and two directions.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wall {
    /// Foot of its left side, mm.
    pub foot: DVec2,
    /// Unit vector from the left foot to the right.
    pub along: DVec2,
    /// Unit vector into the rib.
    pub inward: DVec2,
    /// mm.
    pub width: f64,
    /// mm.
    pub depth: f64,
    /// Of its inner corners, as there is room for, mm.
    pub radius: f64,
}

impl Wall {
    pub fn new(chains: &Chains, notch: &Notch) -> Wall {
        let [foot, other] = notch.along.map(|x| chains.point(notch.edge, x));
        let along = (other - foot).normalize_or_zero();
        let width = foot.distance(other);
        Wall {
            foot,
            along,
            inward: if notch.edge == Edge::Lower {
                along.perp()
            } else {
                -along.perp()
            },
            width,
            depth: notch.depth,
            radius: round(notch.radius, width, notch.depth),
        }
    }

    /// A point by how far it lies along the edge and how deep, mm.
    pub fn point(&self, along: f64, deep: f64) -> DVec2 {
        self.foot + self.along * along + self.inward * deep
    }

    /// How far a point lies along the edge and how deep, mm.
    pub fn local(&self, point: DVec2) -> DVec2 {
        let from = point - self.foot;
        DVec2::new(from.dot(self.along), from.dot(self.inward))
    }

    /// A point of the left corner's arc, from 0 where the side ends to 1 where
    /// the bottom begins; of the right corner's if mirrored.
    pub fn arc(&self, share: f64, mirrored: bool) -> DVec2 {
        let (sin, cos) = (std::f64::consts::FRAC_PI_2 * share).sin_cos();
        let along = self.radius * (1.0 - cos);
        let deep = self.depth - self.radius * (1.0 - sin);
        self.point(if mirrored { self.width - along } else { along }, deep)
    }
}
