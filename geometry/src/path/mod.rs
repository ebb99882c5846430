//! The centreline of a cable: straight lines and arcs that follow each other
//! without a kink.
//!
//! A cable lies where its centreline is not nearer to a solid than half the
//! cable's diameter and the room the solid asks for, and not nearer to another
//! centreline than half of both diameters. [`path_to_solid`] and
//! [`path_to_path`] tell how near it comes, certified to [`TOLERANCE`];
//! [`closer_than`] and [`paths_closer_than`] ask only whether it comes too near.
//!
//! Places along a path are given by arc length from its start, mm.
//!
//! ```
//! use geometry::{Path, Solid, closer_than, path_to_solid};
//! use glam::DVec3;
//! // 50 mm back, then square to the side, turning at 30 mm.
//! let corners = [DVec3::ZERO, DVec3::new(0., 50., 0.), DVec3::new(80., 50., 0.)];
//! let lead = Path::through(&corners, 30.0)?;
//! let rib = Solid::block(DVec3::new(-9., 58., -5.), DVec3::new(9., 60., 5.));
//! let near = path_to_solid(&lead, &rib).unwrap();
//! // Centre (30, 20) of the turn to the rib's corner (9, 58), less the radius.
//! assert!((near.distance - (21f64.hypot(38.0) - 30.0)).abs() < 1e-6);
//! // A 5 mm cable that keeps 3 mm from the rib passes; one that keeps 12 does not.
//! assert!(closer_than(&lead, &rib, 2.5 + 3.0).is_none());
//! assert!(closer_than(&lead, &rib, 2.5 + 12.0).is_some());
//! # Ok::<(), geometry::PathFault>(())
//! ```

use glam::DVec3;

use crate::solids::Bounds;

mod check;
mod corners;
mod course;
mod fault;
mod near;
mod near_axis;
mod near_curve;
mod near_solid;
mod piece;

pub use fault::PathFault;
pub use near::{Near, TOLERANCE, closer_than, path_to_path, path_to_solid, paths_closer_than};
pub use piece::Piece;

/// A centreline of lines and arcs, each beginning where the one before ends.
///
/// Whoever builds one from pieces of their own asks [`Path::check`].
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// The pieces in order, at least one.
    pub pieces: Vec<Piece>,
}

impl Path {
    /// Length of the centreline, mm.
    pub fn length(&self) -> f64 {
        self.pieces.iter().map(Piece::length).sum()
    }

    /// The tightest radius of its arcs, mm; `None` when it is straight.
    pub fn least_radius(&self) -> Option<f64> {
        let radii = self.pieces.iter().filter_map(Piece::radius);
        radii.reduce(f64::min)
    }

    /// All it turns, rad.
    pub fn turn(&self) -> f64 {
        self.pieces.iter().map(Piece::turn).sum()
    }

    /// Where it begins, mm; the origin when it has no piece.
    pub fn start(&self) -> DVec3 {
        self.pieces.first().map_or(DVec3::ZERO, Piece::start)
    }

    /// Where it ends, mm; the origin when it has no piece.
    pub fn end(&self) -> DVec3 {
        self.pieces.last().map_or(DVec3::ZERO, Piece::end)
    }

    /// The way it begins, a unit vector; zero when it has no piece.
    pub fn start_direction(&self) -> DVec3 {
        let first = self.pieces.first();
        first.map_or(DVec3::ZERO, |piece| piece.direction_at(0.0))
    }

    /// The way it ends, a unit vector; zero when it has no piece.
    pub fn end_direction(&self) -> DVec3 {
        let last = self.pieces.last();
        last.map_or(DVec3::ZERO, |piece| piece.direction_at(piece.length()))
    }

    /// The point `along` mm from its start; an end beyond it.
    pub fn point_at(&self, along: f64) -> DVec3 {
        let found = self.piece_at(along);
        found.map_or(DVec3::ZERO, |(piece, along)| piece.point_at(along))
    }

    /// The way it goes `along` mm from its start, a unit vector.
    pub fn direction_at(&self, along: f64) -> DVec3 {
        let found = self.piece_at(along);
        found.map_or(DVec3::ZERO, |(piece, along)| piece.direction_at(along))
    }

    /// The smallest upright box around it, mm; `None` when it has no piece.
    pub fn bounds(&self) -> Option<Bounds> {
        let boxes = self.pieces.iter().map(Piece::bounds);
        boxes.reduce(|all, piece| all.joined(&piece))
    }

    /// What lies between two places along it, mm from its start.
    pub fn part(&self, from: f64, to: f64) -> Path {
        let mut pieces = Vec::new();
        let mut before = 0.0;
        for piece in &self.pieces {
            let (low, high) = ((from - before).max(0.0), (to - before).min(piece.length()));
            if high - low > 1e-9 {
                pieces.push(piece.part(low, high));
            }
            before += piece.length();
        }
        Path { pieces }
    }

    /// The same centreline from its end to its start.
    pub fn reversed(&self) -> Path {
        Path {
            pieces: self.pieces.iter().rev().map(Piece::reversed).collect(),
        }
    }

    /// This path and then another, which must go on from its end.
    ///
    /// # Errors
    /// [`PathFault::Gap`] or [`PathFault::Kink`] where they do not meet.
    pub fn join(&self, next: &Path) -> Result<Path, PathFault> {
        let mut pieces = self.pieces.clone();
        pieces.extend_from_slice(&next.pieces);
        if let (Some(last), Some(first)) = (self.pieces.last(), next.pieces.first()) {
            check::meets(last, first, self.pieces.len())?;
        }
        Ok(Path { pieces })
    }

    /// The piece at a place and how far along that piece it is.
    fn piece_at(&self, along: f64) -> Option<(&Piece, f64)> {
        let mut left = along.max(0.0);
        let last = self.pieces.len().checked_sub(1)?;
        for piece in &self.pieces[..last] {
            let length = piece.length();
            if left <= length {
                return Some((piece, left));
            }
            left -= length;
        }
        let piece = &self.pieces[last];
        Some((piece, left.min(piece.length())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use std::f64::consts::PI;

    fn square_turn() -> Path {
        let corners = [
            DVec3::ZERO,
            DVec3::new(0., 50., 0.),
            DVec3::new(40., 50., 0.),
        ];
        Path::through(&corners, 30.0).unwrap()
    }

    #[test]
    fn a_square_turn_is_line_arc_line() {
        let path = square_turn();
        assert_eq!(path.pieces.len(), 3);
        assert_abs_diff_eq!(path.length(), 20.0 + 15.0 * PI + 10.0, epsilon = 1e-12);
        assert_abs_diff_eq!(path.turn(), 0.5 * PI, epsilon = 1e-12);
        assert_eq!(path.least_radius(), Some(30.0));
        let halfway = path.point_at(20.0 + 7.5 * PI);
        let square = 30.0 * (1.0 - 0.5f64.sqrt());
        let expected = DVec3::new(square, 50.0 - square, 0.);
        assert_abs_diff_eq!(halfway, expected, epsilon = 1e-12);
        let ahead = path.direction_at(20.0 + 7.5 * PI);
        assert_abs_diff_eq!(ahead, DVec3::new(1., 1., 0.).normalize(), epsilon = 1e-12);
        assert_eq!(path.check(30.0), Ok(()));
        let bounds = path.bounds().unwrap();
        assert_abs_diff_eq!(bounds.max, DVec3::new(40., 50., 0.), epsilon = 1e-12);
    }

    #[test]
    fn reversed_it_runs_the_other_way() {
        let path = square_turn();
        let back = path.reversed();
        assert_eq!(back.check(30.0), Ok(()));
        assert_eq!(back.start(), path.end());
        assert_eq!(back.end(), path.start());
        assert_abs_diff_eq!(back.end_direction(), -DVec3::Y, epsilon = 1e-12);
        for along in [-5.0, 0.0, 7.0, 30.0, 60.0, 500.0] {
            let there = path.point_at(along);
            let same = back.point_at(path.length() - along);
            assert_abs_diff_eq!(there, same, epsilon = 1e-12);
        }
    }

    #[test]
    fn paths_join_only_without_a_kink() {
        let path = square_turn();
        let on = |to| Path {
            pieces: vec![Piece::Line {
                from: path.end(),
                to,
            }],
        };
        let joined = path.join(&on(DVec3::new(90., 50., 0.))).unwrap();
        assert_abs_diff_eq!(joined.length(), path.length() + 50.0, epsilon = 1e-12);
        let kink = path.join(&on(DVec3::new(40., 90., 0.)));
        assert!(matches!(kink, Err(PathFault::Kink { piece: 3, .. })));
        let gap = path.join(&path);
        assert!(matches!(gap, Err(PathFault::Gap { piece: 3, .. })));
    }
}
