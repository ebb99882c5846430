//! Flat outlines.

use glam::DVec2;

/// A simple polygon, counter-clockwise, with its convex pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    corners: Vec<DVec2>,
    pieces: Vec<Vec<DVec2>>,
}

/// Why some corners do not make an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineFault {
    /// Fewer than three corners.
    TooFewCorners,
    /// Two sides cross or touch: the numbers of their first corners, from 0.
    Crosses(usize, usize),
    /// It encloses nothing.
    NoArea,
}

impl Outline {
    /// Its corners, counter-clockwise, mm.
    pub fn corners(&self) -> &[DVec2] {
        &self.corners
    }

    /// Convex pieces that make it up, each counter-clockwise, mm.
    pub fn pieces(&self) -> &[Vec<DVec2>] {
        &self.pieces
    }
}
