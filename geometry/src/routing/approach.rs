//! From an end of a lead onto the lattice: any place and any direction, to a
//! node and one of its headings, by two corners at most.

use glam::{DVec3, IVec3};

use super::lattice::{COST, HEADINGS, Lattice, SAMPLE, way_of};
use crate::path::Path;

/// An end as the lattice sees it: looking into the room.
#[derive(Clone, Copy, Debug)]
pub(super) struct End {
    /// Where the straight run ends, mm.
    pub at: DVec3,
    /// The way from there into the room, a unit vector.
    pub way: DVec3,
}

/// A way from an end to a node.
pub(super) struct Approach {
    /// The node.
    pub node: usize,
    /// The heading it is reached with, seen from the end.
    pub heading: usize,
    /// Its inner corners, from the end on, mm.
    pub corners: Vec<DVec3>,
    /// Points along it and how far they are from the end, mm.
    pub samples: Vec<(DVec3, f64)>,
    /// Length, mm.
    pub length: f64,
    /// Cost, in steps of 1 / [`COST`] mm.
    pub cost: u32,
}

/// Ways kept for each heading.
const EACH: usize = 4;

/// Turns to a heading further than this away are left to the lattice, cosine.
const FURTHEST: f64 = -0.35;

/// A way may be this much longer than the shortest to its heading, mm.
const LONGER: f64 = 30.0;

/// Legs are longer by this than they need be, mm: corners settle to rounding only.
const HAIR: f64 = 1e-3;

/// The clear ways from an end onto the lattice.
///
/// * `clear`: whether a lead may pass a point
pub(super) fn approaches(
    lattice: &Lattice,
    radius: f64,
    end: End,
    clear: impl Fn(DVec3) -> bool,
) -> Vec<Approach> {
    let mut found = Vec::new();
    for heading in 0..HEADINGS {
        let cos = end.way.dot(way_of(heading));
        if cos < FURTHEST {
            continue;
        }
        let mut links = links(lattice, radius, end, heading);
        links.sort_by(|one, other| one.length.total_cmp(&other.length));
        let longest = links.first().map_or(0.0, |link| link.length + LONGER);
        let mut kept = 0;
        for link in links {
            if link.length > longest || kept == EACH {
                break;
            }
            if !clear(lattice.point(link.place)) {
                continue;
            }
            if let Some(approach) = look(lattice, radius, end, heading, &link, &clear) {
                found.push(approach);
                kept += 1;
            }
        }
    }
    found
}

/// Two corners and the node they lead to.
struct Link {
    place: IVec3,
    corners: [DVec3; 2],
    length: f64,
}

/// Every way worth a look to nodes with one heading.
fn links(lattice: &Lattice, radius: f64, end: End, heading: usize) -> Vec<Link> {
    let way = way_of(heading);
    let cos = end.way.dot(way);
    let leg = radius * half_tangent(cos);
    let natural = end.at + leg * (end.way + way);
    // The smaller the turn, the more run a step aside needs.
    let (first, last) = if cos < 0.2 {
        (0, 3)
    } else if cos < 0.8 {
        (0, 4)
    } else {
        (1, 7)
    };
    let stride = super::lattice::steps_of(heading);
    let low = ((natural - lattice.origin) / lattice.step)
        .floor()
        .as_ivec3();
    let mut found = Vec::new();
    for corner in 0..8 {
        let corner = IVec3::new(corner & 1, corner >> 1 & 1, corner >> 2);
        for along in first..last {
            let place = low + corner + stride * along;
            if !lattice.holds(place) {
                continue;
            }
            if let Some((corners, length)) = link(end, lattice.point(place), way, radius) {
                found.push(Link {
                    place,
                    corners,
                    length,
                });
            }
        }
    }
    found
}

/// Tangent of half the angle with this cosine.
pub(super) fn half_tangent(cos: f64) -> f64 {
    ((1.0 - cos).max(0.0) / (1.0 + cos).max(1e-9)).sqrt()
}

/// The two corners by which an end leads to a point with a given way there,
/// and the length.
fn link(end: End, to: DVec3, way: DVec3, radius: f64) -> Option<([DVec3; 2], f64)> {
    let mut middle = (to - end.at).try_normalize()?;
    let mut legs = [0.0; 2];
    let mut corners = [end.at, to];
    for _ in 0..12 {
        let wanted = [
            radius * half_tangent(end.way.dot(middle)),
            radius * half_tangent(middle.dot(way)),
        ];
        let settled = (wanted[0] - legs[0]).abs() + (wanted[1] - legs[1]).abs() < 0.1 * HAIR;
        legs = wanted;
        corners = [
            end.at + (legs[0] + HAIR) * end.way,
            to - (legs[1] + HAIR) * way,
        ];
        middle = (corners[1] - corners[0]).try_normalize()?;
        if settled {
            break;
        }
    }
    let cosines = [end.way.dot(middle), middle.dot(way)];
    if cosines[0] < FURTHEST || cosines[1] < FURTHEST {
        return None;
    }
    let wanted = cosines.map(|cos| radius * half_tangent(cos));
    let run = corners[0].distance(corners[1]);
    let fits =
        wanted[0] < legs[0] + HAIR && wanted[1] < legs[1] + HAIR && wanted[0] + wanted[1] < run;
    let turn = cosines.map(|cos| cos.clamp(-1.0, 1.0).acos());
    let length = radius * (turn[0] + turn[1]) + run - wanted[0] - wanted[1];
    fits.then_some((corners, length))
}

/// A way point by point, if it is clear.
fn look(
    lattice: &Lattice,
    radius: f64,
    end: End,
    heading: usize,
    link: &Link,
    clear: &impl Fn(DVec3) -> bool,
) -> Option<Approach> {
    let to = lattice.point(link.place);
    let corners = [end.at, link.corners[0], link.corners[1], to];
    let corners = super::corners::tidied(&corners);
    let path = Path::through(&corners, radius).ok()?;
    let length = path.length();
    let count = (length / SAMPLE).ceil().max(1.0);
    let mut samples = Vec::with_capacity(count as usize);
    let mut before = 0.0;
    for piece in &path.pieces {
        let run = piece.length();
        while (samples.len() as f64 + 1.0) * length / count <= before + run + 1e-9 {
            let along = (samples.len() as f64 + 1.0) * length / count;
            let point = piece.point_at(along - before);
            if !clear(point) {
                return None;
            }
            samples.push((point, along));
        }
        before += run;
    }
    Some(Approach {
        node: lattice.node(link.place)?,
        heading,
        corners: corners[1..corners.len() - 1].to_vec(),
        samples,
        length,
        cost: (length * COST).round() as u32,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_end_leads_to_a_point_by_two_corners() {
        let end = End {
            at: DVec3::ZERO,
            way: DVec3::Y,
        };
        let to = DVec3::new(60.0, 45.0, 3.0);
        let (corners, length) = link(end, to, DVec3::X, 20.0).unwrap();
        let path = Path::through(&[end.at, corners[0], corners[1], to], 20.0).unwrap();
        assert_eq!(path.check(20.0), Ok(()));
        assert!((path.length() - length).abs() < 1e-2);
        assert!(path.start_direction().dot(DVec3::Y) > 1.0 - 1e-12);
        assert!(path.end_direction().dot(DVec3::X) > 1.0 - 1e-12);
        // A point beside the end cannot be reached by a quarter turn this wide.
        assert!(link(end, DVec3::new(5.0, 5.0, 0.0), DVec3::X, 20.0).is_none());
    }
}
