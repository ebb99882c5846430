//! What a notch takes out of a rib.

use std::f64::consts::FRAC_PI_4;

use glam::DVec2;

use super::chains::{Chains, Wall};
use super::cut::wall;
use super::holes::holes;
use super::{Edge, Notch, RibFault};

/// What one notch takes out of a whole rib.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// Foot, bottom, bottom, foot, left to right, as if its inner corners were
    /// square, mm.
    pub corners: [DVec2; 4],
    /// Corners of the rib's own edge between the feet, left to right, mm.
    pub edge: Vec<DVec2>,
    /// Its area, the round corners left standing, mm².
    pub area: f64,
    /// Radius of its inner corners, as there is room for, mm.
    pub radius: f64,
}

/// A rib's two edges between its ends, each left to right, mm.
#[derive(Clone, Debug)]
pub struct Edges(Chains);

impl Edges {
    /// The edges of a whole rib.
    ///
    /// # Errors
    /// [`RibFault::Outline`] and [`RibFault::NotAStrip`].
    pub fn new(outline: &[DVec2]) -> Result<Edges, RibFault> {
        Chains::new(outline).map(Edges)
    }

    /// Corners of one edge, left to right, mm.
    pub fn edge(&self, edge: Edge) -> &[DVec2] {
        self.0.edge(edge)
    }

    /// The straight left and right end, each from the lower edge to the upper, mm.
    pub fn ends(&self) -> [[DVec2; 2]; 2] {
        let [lower, upper] = [Edge::Lower, Edge::Upper].map(|it| self.edge(it));
        let last = |edge: &[DVec2]| edge[edge.len() - 1];
        [[lower[0], upper[0]], [last(lower), last(upper)]]
    }

    /// The wall of one notch from foot to foot, left to right, its round
    /// corners as chords that stand off by at most `chord`, mm.
    ///
    /// # Errors
    /// Where there is no such notch.
    pub fn wall(&self, notch: &Notch, chord: f64) -> Result<Vec<DVec2>, RibFault> {
        holes(&self.0, std::slice::from_ref(notch))?;
        Ok(wall(&Wall::new(&self.0, notch), chord))
    }

    /// What one notch takes out.
    ///
    /// # Errors
    /// Where there is no such notch: it leaves its edge, or nothing of the rib.
    pub fn taken(&self, notch: &Notch) -> Result<Taken, RibFault> {
        holes(&self.0, std::slice::from_ref(notch))?;
        let cut = Wall::new(&self.0, notch);
        let corners = [
            cut.point(0.0, 0.0),
            cut.point(0.0, cut.depth),
            cut.point(cut.width, cut.depth),
            cut.point(cut.width, 0.0),
        ];
        let [from, to] = notch.along;
        let between = |corner: &&DVec2| corner.x > from && corner.x < to;
        let edge: Vec<DVec2> = (self.edge(notch.edge).iter())
            .filter(between)
            .copied()
            .collect();
        let round: Vec<DVec2> = corners.iter().chain(edge.iter().rev()).copied().collect();
        let next = round.iter().cycle().skip(1);
        let twice: f64 = round.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum();
        // What a square corner has more than a round one.
        let corner = cut.radius * cut.radius * (1.0 - FRAC_PI_4);
        Ok(Taken {
            corners,
            edge,
            area: 0.5 * twice.abs() - 2.0 * corner,
            radius: cut.radius,
        })
    }
}
