//! Flat outlines.

use glam::DVec2;

use super::convex_pieces::{convex_pieces, is_convex, signed_area};

/// Corners and sides closer than this touch, mm.
const TOUCHING: f64 = 1e-9;

/// A simple polygon, counter-clockwise, with its convex pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    corners: Vec<DVec2>,
    pieces: Vec<Vec<DVec2>>,
}

/// Why some corners do not make an outline. Corners are numbered from 0, as given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineFault {
    /// Fewer than three corners.
    TooFewCorners,
    /// This corner is not a number, or infinite.
    NotFinite(usize),
    /// This corner is in the same place as the next.
    Repeated(usize),
    /// Two sides cross or touch: the numbers of their first corners.
    Crosses(usize, usize),
    /// It encloses nothing.
    NoArea,
}

impl std::fmt::Display for OutlineFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            OutlineFault::TooFewCorners => write!(f, "it has fewer than three corners"),
            OutlineFault::NotFinite(corner) => {
                write!(f, "corner {} is not a finite number", corner + 1)
            }
            OutlineFault::Repeated(corner) => {
                write!(f, "corner {} is in the same place as the next", corner + 1)
            }
            OutlineFault::Crosses(one, other) => write!(
                f,
                "the side after corner {} crosses or touches the side after corner {}",
                one + 1,
                other + 1
            ),
            OutlineFault::NoArea => write!(f, "it encloses no area"),
        }
    }
}

impl std::error::Error for OutlineFault {}

impl Outline {
    /// An outline from its corners in order, either way round, mm.
    ///
    /// Sides may not cross, nor touch except where one ends and the next
    /// begins (closer than 1e-9 mm counts as touching).
    pub fn new(mut corners: Vec<DVec2>) -> Result<Outline, OutlineFault> {
        check(&corners)?;
        if signed_area(&corners) < 0.0 {
            corners.reverse();
        }
        let pieces = convex_pieces(&corners);
        Ok(Outline { corners, pieces })
    }

    /// An outline known to be convex and counter-clockwise.
    pub(super) fn convex(corners: Vec<DVec2>) -> Outline {
        Outline {
            pieces: vec![corners.clone()],
            corners,
        }
    }

    /// Its corners, counter-clockwise, mm.
    pub fn corners(&self) -> &[DVec2] {
        &self.corners
    }

    /// Convex pieces that make it up, each counter-clockwise, mm. Their
    /// corners are corners of the outline; they touch and do not overlap.
    pub fn pieces(&self) -> &[Vec<DVec2>] {
        &self.pieces
    }

    /// Whether it has no re-entrant corner.
    pub fn is_convex(&self) -> bool {
        is_convex(&self.corners)
    }

    /// What it encloses, mm².
    pub fn area(&self) -> f64 {
        signed_area(&self.corners)
    }

    /// Lower left and upper right of the rectangle around it, mm.
    pub fn bounds(&self) -> [DVec2; 2] {
        let first = self.corners[0];
        (self.corners.iter()).fold([first, first], |[low, high], c| [low.min(*c), high.max(*c)])
    }

    /// The middle of the rectangle around it, mm.
    pub fn middle(&self) -> DVec2 {
        let [low, high] = self.bounds();
        0.5 * (low + high)
    }
}

/// The first fault of some corners.
fn check(corners: &[DVec2]) -> Result<(), OutlineFault> {
    let count = corners.len();
    if count < 3 {
        return Err(OutlineFault::TooFewCorners);
    }
    if let Some(bad) = corners.iter().position(|c| !c.is_finite()) {
        return Err(OutlineFault::NotFinite(bad));
    }
    let side = |i: usize| (corners[i], corners[(i + 1) % count]);
    let repeats = |i: &usize| side(*i).0.distance(side(*i).1) <= TOUCHING;
    if let Some(bad) = (0..count).find(repeats) {
        return Err(OutlineFault::Repeated(bad));
    }
    if all_in_line(corners) {
        return Err(OutlineFault::NoArea);
    }
    for i in 0..count {
        for j in i + 1..count {
            let touches = if j == i + 1 {
                folds_back(side(i).0, side(j).0, side(j).1)
            } else if (j + 1) % count == i {
                folds_back(side(j).0, side(i).0, side(i).1)
            } else {
                meet(side(i), side(j))
            };
            if touches {
                return Err(OutlineFault::Crosses(i, j));
            }
        }
    }
    if signed_area(corners).abs() <= TOUCHING {
        return Err(OutlineFault::NoArea);
    }
    Ok(())
}

/// Whether all corners lie on one line.
fn all_in_line(corners: &[DVec2]) -> bool {
    let first = corners[0];
    let by_distance = |a: &&DVec2, b: &&DVec2| {
        (first.distance_squared(**a)).total_cmp(&first.distance_squared(**b))
    };
    let Some(&far) = corners.iter().max_by(by_distance) else {
        return true;
    };
    let along = (far - first).normalize_or_zero();
    (corners.iter()).all(|c| along.perp_dot(*c - first).abs() <= TOUCHING)
}

/// Whether two sides that share the corner `at` run back over each other.
fn folds_back(before: DVec2, at: DVec2, after: DVec2) -> bool {
    to_side(before, (at, after)) <= TOUCHING || to_side(after, (before, at)) <= TOUCHING
}

/// Whether two sides without a common corner cross or touch.
fn meet(one: (DVec2, DVec2), other: (DVec2, DVec2)) -> bool {
    // Sides in one line but apart: which side of each other they lie on is chance.
    let low = |(a, b): (DVec2, DVec2)| a.min(b) - TOUCHING;
    let high = |(a, b): (DVec2, DVec2)| a.max(b) + TOUCHING;
    let apart = |a, b| low(a).cmpgt(high(b)).any();
    if apart(one, other) || apart(other, one) {
        return false;
    }
    let turns = |(a, b): (DVec2, DVec2), p: DVec2| (b - a).perp_dot(p - a) > 0.0;
    let crosses =
        turns(one, other.0) != turns(one, other.1) && turns(other, one.0) != turns(other, one.1);
    crosses
        || to_side(one.0, other) <= TOUCHING
        || to_side(one.1, other) <= TOUCHING
        || to_side(other.0, one) <= TOUCHING
        || to_side(other.1, one) <= TOUCHING
}

/// Distance from a point to a side, mm.
fn to_side(point: DVec2, (from, to): (DVec2, DVec2)) -> f64 {
    let along = to - from;
    let share = ((point - from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    point.distance(from + along * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outline(corners: &[(f64, f64)]) -> Result<Outline, OutlineFault> {
        Outline::new(corners.iter().map(|&c| DVec2::from(c)).collect())
    }

    #[test]
    fn corners_come_out_counter_clockwise() {
        let square = outline(&[(0., 0.), (0., 2.), (2., 2.), (2., 0.)]).unwrap();
        assert_eq!(square.area(), 4.0);
        assert_eq!(square.corners()[0], DVec2::new(2., 0.));
        assert!(square.is_convex());
        assert_eq!(square.pieces().len(), 1);
        assert_eq!(square.middle(), DVec2::ONE);
    }

    #[test]
    fn what_is_no_outline_is_refused_with_its_reason() {
        use OutlineFault::*;
        let refused = |corners: &[(f64, f64)]| outline(corners).unwrap_err();
        assert_eq!(refused(&[(0., 0.), (1., 0.)]), TooFewCorners);
        assert_eq!(refused(&[(0., 0.), (1., f64::NAN), (0., 1.)]), NotFinite(1));
        assert_eq!(
            refused(&[(0., 0.), (1., 0.), (1., 0.), (0., 1.)]),
            Repeated(1)
        );
        assert_eq!(refused(&[(0., 0.), (1., 1.), (2., 2.)]), NoArea);
        // A bow tie, whose areas cancel.
        assert_eq!(
            refused(&[(0., 0.), (2., 2.), (2., 0.), (0., 2.)]),
            Crosses(0, 2)
        );
        // A corner that touches a side without crossing it.
        let touching = [(0., 0.), (4., 0.), (4., 4.), (2., 0.), (0., 4.)];
        assert_eq!(refused(&touching), Crosses(0, 2));
        // A side that runs back over the one before.
        let spike = [(0., 0.), (4., 0.), (4., 4.), (4., 2.), (0., 2.)];
        assert_eq!(refused(&spike), Crosses(1, 2));
        // A first side that runs back over the last.
        let first = [(0., 0.), (3., 0.), (3., 3.), (-2., 3.), (-2., 0.), (1., 0.)];
        assert!(matches!(refused(&first), Crosses(0, _)));
    }

    #[test]
    fn sides_in_one_sloping_line_do_not_cross() {
        // Stretches of a sloping edge between notches, at all kinds of slopes.
        for step in 1..200 {
            let along = DVec2::new(1.0, 0.000_7 * f64::from(step)).normalize();
            let point = |far: f64, deep: f64| along * far + along.perp() * deep;
            let mut corners = vec![DVec2::ZERO];
            for foot in [8.7, 31.3, 52.24] {
                corners.extend([
                    point(foot, 0.0),
                    point(foot, 0.75),
                    point(foot + 3.1, 0.75),
                    point(foot + 3.1, 0.0),
                ]);
            }
            corners.extend([point(93.687, 0.0), point(93.687, 15.0), point(0.0, 15.0)]);
            assert_eq!(Outline::new(corners).err(), None, "slope {step}");
        }
    }

    #[test]
    fn a_fault_says_which_corner_counting_from_one() {
        let text = OutlineFault::Crosses(0, 2).to_string();
        assert_eq!(
            text,
            "the side after corner 1 crosses or touches the side after corner 3"
        );
    }
}
