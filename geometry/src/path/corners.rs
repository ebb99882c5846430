//! A path through corners, each rounded by an arc.

use glam::DVec3;

use super::check::between;
use super::{Path, PathFault, Piece};

/// A leg may be this much too short, and a line this short is left out, mm: rounding.
const ROUNDING: f64 = 1e-9;

/// A turn smaller than this is none, rad.
const STRAIGHT: f64 = 1e-9;

/// A corner and the turn in it.
#[derive(Clone, Copy)]
struct Turn {
    /// The way to the corner and on from it.
    before: DVec3,
    after: DVec3,
    radius: f64,
    angle: f64,
    /// From the corner to where the arc begins and ends, mm.
    leg: f64,
}

impl Path {
    /// The polyline through `corners` with an arc of the same radius in every
    /// inner corner.
    ///
    /// * `corners`: first and last are the ends, mm
    /// * `radius`: at the centreline, mm
    ///
    /// # Errors
    /// See [`Path::through_with`].
    pub fn through(corners: &[DVec3], radius: f64) -> Result<Path, PathFault> {
        Path::through_with(corners, &vec![radius; corners.len().saturating_sub(2)])
    }

    /// The polyline through `corners` with an arc of its own radius in every
    /// inner corner.
    ///
    /// An arc of radius R that turns by φ takes R tan(φ/2) of both legs of its
    /// corner. A corner where the way goes straight on gets no arc.
    ///
    /// * `corners`: first and last are the ends, mm
    /// * `radii`: one for each inner corner, mm
    ///
    /// # Errors
    /// [`PathFault::LegTooShort`] names the corner whose turn does not fit its
    /// legs and what is missing; [`PathFault::TurnsBack`],
    /// [`PathFault::SameCorner`], [`PathFault::Radii`],
    /// [`PathFault::NotANumber`] and [`PathFault::Empty`] say what they say.
    pub fn through_with(corners: &[DVec3], radii: &[f64]) -> Result<Path, PathFault> {
        let turns = turns(corners, radii)?;
        legs_are_long_enough(corners, &turns)?;
        let mut pieces = Vec::with_capacity(2 * turns.len() + 1);
        let mut from = corners[0];
        for (turn, &corner) in turns.iter().zip(&corners[1..]) {
            if turn.angle > STRAIGHT {
                add_line(&mut pieces, from, corner - turn.leg * turn.before);
                let (arc, end) = fillet(corner, turn);
                pieces.push(arc);
                from = end;
            }
        }
        add_line(&mut pieces, from, corners[corners.len() - 1]);
        Ok(Path { pieces })
    }
}

/// The turn in every inner corner.
fn turns(corners: &[DVec3], radii: &[f64]) -> Result<Vec<Turn>, PathFault> {
    if corners.len() < 2 {
        return Err(PathFault::Empty);
    }
    let wanted = corners.len() - 2;
    if radii.len() != wanted {
        let given = radii.len();
        return Err(PathFault::Radii { given, wanted });
    }
    if let Some(at) = corners.iter().position(|corner| !corner.is_finite()) {
        return Err(PathFault::NotANumber { at });
    }
    let ways = corners.windows(2).enumerate().map(|(number, leg)| {
        let way = (leg[1] - leg[0]).try_normalize();
        way.ok_or(PathFault::SameCorner { corner: number + 1 })
    });
    let ways: Vec<DVec3> = ways.collect::<Result<_, _>>()?;
    let turn = |(number, (way, &radius)): (usize, (&[DVec3], &f64))| {
        let corner = number + 1;
        if !radius.is_finite() || radius <= 0.0 {
            return Err(PathFault::NotANumber { at: corner });
        }
        let (before, after) = (way[0], way[1]);
        let angle = between(before, after);
        if angle > std::f64::consts::PI - STRAIGHT {
            return Err(PathFault::TurnsBack { corner });
        }
        let leg = if angle > STRAIGHT {
            radius * (0.5 * angle).tan()
        } else {
            0.0
        };
        Ok(Turn {
            before,
            after,
            radius,
            angle,
            leg,
        })
    };
    ways.windows(2).zip(radii).enumerate().map(turn).collect()
}

/// Whether the turns at both ends of every leg fit on it.
fn legs_are_long_enough(corners: &[DVec3], turns: &[Turn]) -> Result<(), PathFault> {
    // Takes nothing of the leg at the two ends.
    let taken = |corner: usize| match corner.checked_sub(1).and_then(|it| turns.get(it)) {
        Some(turn) => turn.leg,
        None => 0.0,
    };
    for (number, leg) in corners.windows(2).enumerate() {
        let (one, other) = (taken(number), taken(number + 1));
        let by = one + other - leg[0].distance(leg[1]);
        if by > ROUNDING {
            let corner = if one > other { number } else { number + 1 };
            return Err(PathFault::LegTooShort { corner, by });
        }
    }
    Ok(())
}

/// The arc in a corner and where it ends.
fn fillet(corner: DVec3, turn: &Turn) -> (Piece, DVec3) {
    let from = corner - turn.leg * turn.before;
    let to = corner + turn.leg * turn.after;
    let normal = turn.before.cross(turn.after).normalize();
    let inward = normal.cross(turn.before);
    let arc = Piece::Arc {
        from,
        to,
        centre: from + turn.radius * inward,
        normal,
        radius: turn.radius,
        angle: turn.angle,
    };
    (arc, to)
}

/// Adds a line, unless it is none.
fn add_line(pieces: &mut Vec<Piece>, from: DVec3, to: DVec3) {
    if from.distance(to) > ROUNDING {
        pieces.push(Piece::Line { from, to });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    const STEP: [DVec3; 4] = [
        DVec3::new(0., 0., 0.),
        DVec3::new(0., 50., 0.),
        DVec3::new(55., 50., 0.),
        DVec3::new(55., 50., 40.),
    ];

    #[test]
    fn the_fault_names_the_corner_and_what_is_missing() {
        for (radii, wanted, missing) in [
            ([30.0, 30.0], 2, 5.0),
            ([52.0, 3.0], 1, 2.0),
            ([10.0, 44.0], 2, 4.0),
        ] {
            let Err(PathFault::LegTooShort { corner, by }) = Path::through_with(&STEP, &radii)
            else {
                panic!("{radii:?} does not fit");
            };
            assert_eq!(corner, wanted);
            assert_abs_diff_eq!(by, missing, epsilon = 1e-12);
        }
        let back = [DVec3::ZERO, DVec3::X, DVec3::ZERO];
        let fault = PathFault::TurnsBack { corner: 1 };
        assert_eq!(Path::through(&back, 0.1), Err(fault));
        let twice = [DVec3::ZERO, DVec3::X, DVec3::X];
        let fault = PathFault::SameCorner { corner: 2 };
        assert_eq!(Path::through(&twice, 0.1), Err(fault));
        assert_eq!(Path::through(&STEP[..1], 1.0), Err(PathFault::Empty));
        let fault = PathFault::NotANumber { at: 2 };
        assert_eq!(Path::through_with(&STEP, &[1.0, 0.0]), Err(fault));
    }

    #[test]
    fn turns_that_use_up_a_leg_meet() {
        let path = Path::through_with(&STEP, &[30.0, 25.0]).unwrap();
        assert_eq!(path.pieces.len(), 4);
        assert_eq!(path.check(25.0), Ok(()));
        assert_abs_diff_eq!(path.end(), STEP[3]);
        let straight = [STEP[0], 0.5 * STEP[1], STEP[1]];
        assert_eq!(Path::through(&straight, 30.0).unwrap().pieces.len(), 1);
    }
}
