//! A lead as it is drawn: its middle as points, its skin as flat facets.

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};

use super::facets::{Facet, facet};
use crate::path::{Path, Piece};

/// The middle of a path as points, the first and the last included. Arcs
/// become chords with their ends on the arc, off it by at most `chord` mm.
pub fn centreline(path: &Path, chord: f64) -> Vec<DVec3> {
    stations(path, chord)
        .into_iter()
        .map(|(at, _)| at)
        .collect()
}

/// The skin of a round lead as flat facets: rings square to its middle, joined,
/// with a flat end on either side.
///
/// * `od`: outside diameter, mm; the rings have their corners on it
/// * `sides`: corners of a ring, at least 3
/// * `chord`: most that the middle strays from the path, mm
pub fn tube(path: &Path, od: f64, sides: usize, chord: f64) -> Vec<Facet> {
    let sides = sides.max(3);
    let stations = stations(path, chord);
    let Some(&(_, first)) = stations.first() else {
        return Vec::new();
    };
    let ring: Vec<DVec2> = (0..sides)
        .map(|i| DVec2::from_angle(TAU * i as f64 / sides as f64) * 0.5 * od)
        .collect();
    let mut across = first.any_orthonormal_vector();
    let rings: Vec<Vec<DVec3>> = stations
        .iter()
        .map(|&(at, ahead)| {
            // Carried along without twist, so that the facets run straight.
            across = across
                .reject_from_normalized(ahead)
                .normalize_or(ahead.any_orthonormal_vector());
            let beside = ahead.cross(across);
            let place = |corner: &DVec2| at + corner.x * across + corner.y * beside;
            ring.iter().map(place).collect()
        })
        .collect();
    let mut facets = Vec::new();
    for pair in rings.windows(2) {
        for i in 0..sides {
            let next = (i + 1) % sides;
            facets.extend(facet(vec![
                pair[0][i],
                pair[0][next],
                pair[1][next],
                pair[1][i],
            ]));
        }
    }
    if let (Some(front), Some(back)) = (rings.first(), rings.last()) {
        facets.extend(facet(front.iter().rev().copied().collect()));
        facets.extend(facet(back.clone()));
    }
    facets
}

/// Points of a path and the way it goes there.
fn stations(path: &Path, chord: f64) -> Vec<(DVec3, DVec3)> {
    let start = path
        .pieces
        .first()
        .map(|_| (path.start(), path.start_direction()));
    let mut stations: Vec<(DVec3, DVec3)> = start.into_iter().collect();
    for piece in &path.pieces {
        let length = piece.length();
        let parts = match *piece {
            Piece::Line { .. } => usize::from(length > 0.0),
            Piece::Arc { radius, angle, .. } => {
                let step = 2.0 * (1.0 - (chord / radius).min(1.0)).acos();
                (angle / step.max(1e-2)).ceil().max(1.0) as usize
            }
        };
        stations.extend((1..=parts).map(|i| {
            let along = length * i as f64 / parts as f64;
            (piece.point_at(along), piece.direction_at(along))
        }));
    }
    stations
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use std::f64::consts::PI;

    fn bent() -> Path {
        let corners = [
            DVec3::ZERO,
            DVec3::new(0., 60., 0.),
            DVec3::new(70., 60., 0.),
            DVec3::new(70., 60., -50.),
        ];
        Path::through(&corners, 20.0).unwrap()
    }

    #[test]
    fn a_tube_is_closed_and_as_thick_as_its_lead() {
        let path = bent();
        let facets = tube(&path, 8.0, 48, 0.005);
        let mut skin = DVec3::ZERO;
        let mut volume = 0.0;
        for facet in &facets {
            let first = facet.corners[0];
            for pair in facet.corners[1..].windows(2) {
                let area = 0.5 * (pair[0] - first).cross(pair[1] - first);
                skin += area;
                volume += first.dot(area) / 3.0;
            }
        }
        assert_abs_diff_eq!(skin, DVec3::ZERO, epsilon = 1e-9);
        // Pappus: the disc's area times the length of its middle.
        let wanted = PI * 16.0 * path.length();
        assert_abs_diff_eq!(volume, wanted, epsilon = 5e-3 * wanted);
    }

    #[test]
    fn the_middle_keeps_to_the_path() {
        let path = bent();
        let points = centreline(&path, 0.05);
        assert_eq!(points.first(), Some(&path.start()));
        assert_abs_diff_eq!(*points.last().unwrap(), path.end(), epsilon = 1e-9);
        let length: f64 = points
            .windows(2)
            .map(|pair| pair[0].distance(pair[1]))
            .sum();
        assert!(length <= path.length() && length > 0.998 * path.length());
    }

    #[test]
    fn nothing_gives_nothing() {
        let none = Path { pieces: Vec::new() };
        assert!(tube(&none, 5.0, 12, 0.1).is_empty() && centreline(&none, 0.1).is_empty());
    }
}
