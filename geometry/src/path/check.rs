//! Whether a path is one: no gap, no kink, no arc tighter than its rule.

use std::f64::consts::TAU;

use glam::DVec3;

use super::{Path, PathFault, Piece};

/// A gap up to here is rounding, mm.
const GAP: f64 = 1e-6;

/// A kink up to here is rounding, rad.
const KINK: f64 = 1e-6;

/// An arc may be this much tighter than the rule, mm: rounding.
const TIGHTER: f64 = 1e-9;

impl Path {
    /// Whether it is a centreline a cable of this bend rule can follow.
    ///
    /// * `radius`: the least radius allowed at the centreline, mm
    ///
    /// # Errors
    /// The first piece that leaves a gap of more than 1e-6 mm or a kink of
    /// more than 1e-6 rad, whose figures contradict each other, or that turns
    /// tighter than `radius`.
    pub fn check(&self, radius: f64) -> Result<(), PathFault> {
        if self.pieces.is_empty() {
            return Err(PathFault::Empty);
        }
        for (number, piece) in self.pieces.iter().enumerate() {
            sound(piece, number)?;
            if let Piece::Arc { radius: own, .. } = *piece
                && own < radius - TIGHTER
            {
                return Err(PathFault::TooTight {
                    piece: number,
                    radius: own,
                    least: radius,
                });
            }
        }
        let pairs = self.pieces.iter().zip(&self.pieces[1..]);
        for (number, (before, after)) in pairs.enumerate() {
            meets(before, after, number + 1)?;
        }
        Ok(())
    }
}

/// Whether a piece goes on from the one before; `piece` is its number.
pub(super) fn meets(before: &Piece, after: &Piece, piece: usize) -> Result<(), PathFault> {
    let by = before.end().distance(after.start());
    if by > GAP {
        return Err(PathFault::Gap { piece, by });
    }
    let by = between(
        before.direction_at(before.length()),
        after.direction_at(0.0),
    );
    if by > KINK {
        return Err(PathFault::Kink { piece, by });
    }
    Ok(())
}

/// The angle between two unit vectors, rad, exact for small ones.
pub(super) fn between(one: DVec3, other: DVec3) -> f64 {
    one.cross(other).length().atan2(one.dot(other))
}

/// Whether the figures of a piece are numbers and agree with each other.
fn sound(piece: &Piece, number: usize) -> Result<(), PathFault> {
    let fits = |by: f64| {
        if by <= GAP {
            Ok(())
        } else {
            Err(PathFault::Inconsistent { piece: number, by })
        }
    };
    let not_a_number = PathFault::NotANumber { at: number };
    match *piece {
        Piece::Line { from, to } => {
            let length = from.distance(to);
            if length.is_finite() && length > 0.0 {
                Ok(())
            } else {
                Err(not_a_number)
            }
        }
        Piece::Arc {
            from,
            to,
            centre,
            normal,
            radius,
            angle,
        } => {
            let finite = from.is_finite() && to.is_finite() && centre.is_finite();
            let turns = angle > 0.0 && angle < TAU;
            if !finite || !turns || !radius.is_finite() || radius <= 0.0 {
                return Err(not_a_number);
            }
            fits((from.distance(centre) - radius).abs())?;
            fits((normal.length() - 1.0).abs() * radius)?;
            fits(normal.dot(from - centre).abs())?;
            fits(piece.point_at(piece.length()).distance(to))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turn(radius: f64, angle: f64) -> Piece {
        Piece::arc(DVec3::ZERO, DVec3::X, DVec3::Y, radius, angle)
    }

    fn check(pieces: &[Piece], radius: f64) -> Result<(), PathFault> {
        let pieces = pieces.to_vec();
        Path { pieces }.check(radius)
    }

    #[test]
    fn a_path_that_is_not_one_is_refused() {
        assert_eq!(check(&[], 30.0), Err(PathFault::Empty));
        assert_eq!(check(&[turn(30.0, 1.0)], 30.0), Ok(()));
        let tight = PathFault::TooTight {
            piece: 0,
            radius: 29.9,
            least: 30.0,
        };
        assert_eq!(check(&[turn(29.9, 1.0)], 30.0), Err(tight));
        let none = PathFault::NotANumber { at: 0 };
        assert_eq!(check(&[turn(30.0, 0.0)], 30.0), Err(none));
        assert_eq!(check(&[turn(f64::NAN, 1.0)], 30.0), Err(none));
        let still = Piece::Line {
            from: DVec3::X,
            to: DVec3::X,
        };
        assert_eq!(check(&[still], 30.0), Err(none));
    }

    #[test]
    fn an_arc_whose_figures_disagree_is_refused() {
        let arc = turn(30.0, 1.0);
        let Piece::Arc {
            from,
            to,
            centre,
            normal,
            radius,
            ..
        } = arc
        else {
            unreachable!("built as an arc");
        };
        for wrong in [
            Piece::Arc {
                from,
                to,
                centre,
                normal,
                radius,
                angle: 1.1,
            },
            Piece::Arc {
                from,
                to,
                centre,
                normal: -normal,
                radius,
                angle: 1.0,
            },
            Piece::Arc {
                from,
                to,
                centre,
                normal,
                radius: 31.0,
                angle: 1.0,
            },
            Piece::Arc {
                from,
                to,
                centre: centre + DVec3::Z,
                normal,
                radius,
                angle: 1.0,
            },
        ] {
            let found = check(&[wrong], 30.0);
            assert!(matches!(
                found,
                Err(PathFault::Inconsistent { piece: 0, .. })
            ));
        }
    }
}
