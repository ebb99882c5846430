//! How near a centreline comes to a solid or to another centreline.
//!
//! Every figure here is certified: no point of the centreline is nearer by
//! more than [`TOLERANCE`] than the point that is named. Boxes around pieces
//! say which pieces need a look; two of those are compared in closed form or
//! by halving until nothing nearer can be left.

use glam::DVec3;

use super::course::Course;
use super::near_curve::courses;
use super::near_solid::course_to_convex;
use super::{Path, Piece};
use crate::distance::Convex;
use crate::solids::{Bounds, Solid};

/// No point is nearer than the one found by more than this, mm.
pub const TOLERANCE: f64 = 1e-6;

/// Nearer by less than this is not looked for, mm; the other half of the
/// tolerance is between a limit asked for and what counts as closer.
pub(super) const FINE: f64 = 0.5 * TOLERANCE;

/// Where a centreline is nearest to something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// From the centreline, mm; to a solid negative inside it: how far the
    /// point is from the solid's surface. A solid in several convex pieces
    /// counts piece by piece.
    pub distance: f64,
    /// Where along the centreline, mm from its start.
    pub at: f64,
    /// The point of the centreline there, mm.
    pub point: DVec3,
    /// The nearest point of the other's surface or centreline, mm.
    pub on_other: DVec3,
    /// Where along the other centreline, mm from its start; `None` on a solid.
    pub at_other: Option<f64>,
}

/// The nearest places found so far on two numbered pieces.
#[derive(Clone, Copy)]
struct Found {
    piece: usize,
    place: f64,
    other: usize,
    other_place: f64,
}

/// Least distance from the centreline to a solid, certified to [`TOLERANCE`].
///
/// Where several places are equally near, one of them. `None` only for a path
/// without pieces, or with figures that are not numbers.
pub fn path_to_solid(path: &Path, solid: &Solid) -> Option<Near> {
    nearest_on_solid(path, solid, f64::INFINITY)
}

/// Where the centreline is nearest to a solid, if that is closer than `least`.
///
/// A path at `least` to within [`TOLERANCE`] passes: `Some` says that it is
/// closer, `None` that no point is closer by more than [`TOLERANCE`]. Most
/// paths that pass need no look at any piece.
///
/// * `least`: mm from the centreline; half the cable's diameter and the room
///   the solid asks for
pub fn closer_than(path: &Path, solid: &Solid, least: f64) -> Option<Near> {
    nearest_on_solid(path, solid, least - FINE)
}

/// Least distance between two centrelines, certified to [`TOLERANCE`].
///
/// Where several places are equally near, one of them. `None` only for a path
/// without pieces, or with figures that are not numbers.
pub fn path_to_path(path: &Path, other: &Path) -> Option<Near> {
    nearest_on_path(path, other, f64::INFINITY)
}

/// Where two centrelines are nearest, if that is closer than `least`, as
/// [`closer_than`].
///
/// * `least`: mm between centrelines; half of both cables' diameters
pub fn paths_closer_than(path: &Path, other: &Path, least: f64) -> Option<Near> {
    nearest_on_path(path, other, least - FINE)
}

/// What is nearer than `ceiling`, to within [`FINE`].
fn nearest_on_solid(path: &Path, solid: &Solid, ceiling: f64) -> Option<Near> {
    if !is_finite(path) {
        return None;
    }
    let around = solid.bounds();
    let mut best = ceiling;
    let mut found: Option<(usize, f64)> = None;
    let gaps = path.pieces.iter().map(|piece| piece.bounds().gap(&around));
    let gaps: Vec<f64> = gaps.collect();
    each_nearest_first(gaps.iter().copied(), |number, gap| {
        if gap > 0.0 && gap >= best {
            return;
        }
        let course = Course::new(&path.pieces[number]);
        for convex in Convex::pieces(solid) {
            if let Some((distance, place)) = course_to_convex(&course, &convex, best) {
                (best, found) = (distance, Some((number, place)));
            }
        }
    });
    let (number, place) = found?;
    let course = Course::new(&path.pieces[number]);
    let point = course.point(place);
    Some(Near {
        distance: best,
        at: before(&path.pieces, number) + place * course.rate(),
        point,
        on_other: surface_point(solid, point),
        at_other: None,
    })
}

/// The point of a solid's surface nearest to a point.
fn surface_point(solid: &Solid, point: DVec3) -> DVec3 {
    let ball = Solid::capsule(point, point, 0.0);
    crate::distance::nearest(&ball, solid).on_b
}

/// What is nearer than `ceiling`, to within [`FINE`].
fn nearest_on_path(path: &Path, other: &Path, ceiling: f64) -> Option<Near> {
    if !is_finite(path) || !is_finite(other) {
        return None;
    }
    if path.bounds()?.gap(&other.bounds()?) >= ceiling {
        return None;
    }
    let boxes = |path: &Path| {
        path.pieces
            .iter()
            .map(Piece::bounds)
            .collect::<Vec<Bounds>>()
    };
    let (boxes, others) = (boxes(path), boxes(other));
    let mut best = ceiling;
    let mut found: Option<Found> = None;
    let count = others.len();
    let gaps = boxes
        .iter()
        .flat_map(|one| others.iter().map(|two| one.gap(two)));
    each_nearest_first(gaps, |number, gap| {
        if gap >= best {
            return;
        }
        let (piece, other_piece) = (number / count, number % count);
        let one = Course::new(&path.pieces[piece]);
        let two = Course::new(&other.pieces[other_piece]);
        if let Some((distance, place, other_place)) = courses(&one, &two, best) {
            best = distance;
            found = Some(Found {
                piece,
                place,
                other: other_piece,
                other_place,
            });
        }
    });
    let found = found?;
    let one = Course::new(&path.pieces[found.piece]);
    let two = Course::new(&other.pieces[found.other]);
    let at_other = before(&other.pieces, found.other) + found.other_place * two.rate();
    Some(Near {
        distance: best,
        at: before(&path.pieces, found.piece) + found.place * one.rate(),
        point: one.point(found.place),
        on_other: two.point(found.other_place),
        at_other: Some(at_other),
    })
}

fn is_finite(path: &Path) -> bool {
    path.pieces.iter().all(Piece::is_finite)
}

/// Length of the pieces before one of them, mm.
fn before(pieces: &[Piece], number: usize) -> f64 {
    pieces[..number].iter().map(Piece::length).sum()
}

/// Visits everything by its number: first the one with the smallest gap, so
/// that most others need no look, then the others in order.
fn each_nearest_first(gaps: impl Iterator<Item = f64> + Clone, mut visit: impl FnMut(usize, f64)) {
    let smallest = gaps.clone().enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
    let Some((first, gap)) = smallest else {
        return;
    };
    visit(first, gap);
    for (number, gap) in gaps.enumerate() {
        if number != first {
            visit(number, gap);
        }
    }
}
