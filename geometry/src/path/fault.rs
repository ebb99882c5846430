//! What can be wrong with a centreline.

use std::fmt;

/// Why a centreline cannot be built, or is not one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PathFault {
    /// Fewer than two corners, or no piece.
    Empty,
    /// The radii given are not one for each inner corner.
    Radii {
        /// Radii given.
        given: usize,
        /// Inner corners.
        wanted: usize,
    },
    /// A coordinate or radius is not a finite number, or a radius not above 0.
    NotANumber {
        /// Number of the corner or piece, from 0.
        at: usize,
    },
    /// Two corners in a row are the same point.
    SameCorner {
        /// Number of the second of them, from 0.
        corner: usize,
    },
    /// The legs at a corner are too short for the turn there.
    LegTooShort {
        /// Number of the corner, from 0; of the two at a leg the one that asks more.
        corner: usize,
        /// How much is missing on the leg, mm.
        by: f64,
    },
    /// The way leads straight back at a corner.
    TurnsBack {
        /// Number of the corner, from 0.
        corner: usize,
    },
    /// A piece does not begin where the one before ends.
    Gap {
        /// Number of the second piece, from 0.
        piece: usize,
        /// How far apart, mm.
        by: f64,
    },
    /// A piece does not go on the way the one before ends.
    Kink {
        /// Number of the second piece, from 0.
        piece: usize,
        /// The angle between them, rad.
        by: f64,
    },
    /// An arc is tighter than the rule.
    TooTight {
        /// Number of the piece, from 0.
        piece: usize,
        /// Its radius, mm.
        radius: f64,
        /// The least radius allowed, mm.
        least: f64,
    },
    /// The figures of a piece contradict each other.
    Inconsistent {
        /// Number of the piece, from 0.
        piece: usize,
        /// By how much, mm.
        by: f64,
    },
}

impl fmt::Display for PathFault {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match *self {
            PathFault::Empty => write!(f, "a path needs at least two corners"),
            PathFault::Radii { given, wanted } => {
                write!(f, "{given} radii given for {wanted} inner corners")
            }
            PathFault::NotANumber { at } => {
                write!(f, "at {at}: not a usable coordinate or radius")
            }
            PathFault::SameCorner { corner } => {
                write!(f, "corner {corner} is the same point as the one before")
            }
            PathFault::LegTooShort { corner, by } => write!(
                f,
                "corner {corner}: its legs are {by:.2} mm too short for the turn"
            ),
            PathFault::TurnsBack { corner } => {
                write!(f, "corner {corner}: the way leads straight back")
            }
            PathFault::Gap { piece, by } => {
                write!(f, "piece {piece} begins {by:.6} mm from the end before it")
            }
            PathFault::Kink { piece, by } => {
                write!(f, "piece {piece} begins with a kink of {by:.6} rad")
            }
            PathFault::TooTight {
                piece,
                radius,
                least,
            } => write!(
                f,
                "piece {piece} turns at {radius:.2} mm, the rule is {least:.2} mm"
            ),
            PathFault::Inconsistent { piece, by } => {
                write!(f, "the figures of piece {piece} contradict by {by:.6} mm")
            }
        }
    }
}

impl std::error::Error for PathFault {}
