//! The cavity by depth: cross-sections, walls, volume.
//!
//! Between two blended stations every wall is flat: four corners in one plane
//! make one flat wall, four that are not make two triangles that meet along
//! the line from the far corner's start to the near corner's end. The cavity
//! between two stations is therefore a polyhedron with all its corners in two
//! parallel planes, a prismatoid.

use glam::{DVec2, DVec3};

use crate::job::{Cavity, Opening, Run, Section, Station};
use crate::layout::Wall;
use crate::measure::{Harm, Reading};
use crate::solids::Solid;

/// How far the wall of a four-sided section reaches outward, mm. Only its
/// inner surface is ever met; the rest makes overlaps measurable.
const SIDE_WALL: f64 = 40.0;

/// The same for a section drawn as an outline, whose walls may face each other
/// across a thin partition, mm.
const OUTLINE_WALL: f64 = 3.0;

/// Four corners further out of one plane than this make two triangles, mm.
const FLAT: f64 = 1e-9;

/// One cross-section in plain numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Depth, mm.
    pub depth: f64,
    /// Corners (across, up), counter-clockwise seen looking in, mm.
    pub corners: Vec<DVec2>,
    /// Whether it was given as four distances.
    pub four_sided: bool,
    /// How the walls run to the next one.
    pub to_next: Run,
}

/// The cavity's cross-sections in plain numbers, by rising depth.
pub fn rings(cavity: &Cavity, reading: Reading) -> Vec<Ring> {
    cavity
        .stations
        .iter()
        .map(|station| ring(station, reading))
        .collect()
}

fn ring(station: &Station, reading: Reading) -> Ring {
    let (corners, four_sided) = match &station.section {
        Section::Sides {
            left,
            right,
            up,
            down,
        } => {
            let [left, right, up, down] =
                [left, right, up, down].map(|side| side.at(reading, Harm::Smaller));
            let corners = vec![
                DVec2::new(-left, -down),
                DVec2::new(right, -down),
                DVec2::new(right, up),
                DVec2::new(-left, up),
            ];
            (corners, true)
        }
        Section::Outline(corners) => (corners.clone(), false),
    };
    Ring {
        depth: station.at.at(reading, Harm::Smaller),
        corners,
        four_sided,
        to_next: station.to_next,
    }
}

/// Half the opening's width and height at a reading, mm.
pub fn opening_half(opening: &Opening, reading: Reading) -> DVec2 {
    0.5 * DVec2::new(
        opening.width.at(reading, Harm::Smaller),
        opening.height.at(reading, Harm::Smaller),
    )
}

/// The free cross-section at a depth, counter-clockwise, mm; `None` before the
/// first station and behind the last.
///
/// At a step the section in front of it is given.
pub fn section_at(rings: &[Ring], depth: f64) -> Option<Vec<DVec2>> {
    let cell = rings
        .windows(2)
        .find(|cell| cell[0].depth <= depth && depth <= cell[1].depth)?;
    Some(cell_section(&cell[0], &cell[1], depth))
}

fn cell_section(near: &Ring, far: &Ring, depth: f64) -> Vec<DVec2> {
    let length = far.depth - near.depth;
    if near.to_next == Run::Stepped || length <= 0.0 {
        return near.corners.clone();
    }
    let t = (depth - near.depth) / length;
    let count = near.corners.len();
    let mut section = Vec::with_capacity(2 * count);
    for i in 0..count {
        let next = (i + 1) % count;
        section.push(near.corners[i].lerp(far.corners[i], t));
        if !is_flat(near, far, i) {
            section.push(near.corners[next].lerp(far.corners[i], t));
        }
    }
    section
}

/// Whether the four corners of side `i` lie in one plane.
fn is_flat(near: &Ring, far: &Ring, i: usize) -> bool {
    let [a, b, c, d] = side_corners(near, far, i);
    let normal = (b - a).cross(d - a);
    let length = normal.length();
    length == 0.0 || ((c - a).dot(normal) / length).abs() <= FLAT
}

/// Corners of side `i`: near start, near end, far end, far start.
fn side_corners(near: &Ring, far: &Ring, i: usize) -> [DVec3; 4] {
    let next = (i + 1) % near.corners.len();
    let at = |corner: DVec2, depth: f64| DVec3::new(corner.x, depth, corner.y);
    [
        at(near.corners[i], near.depth),
        at(near.corners[next], near.depth),
        at(far.corners[next], far.depth),
        at(far.corners[i], far.depth),
    ]
}

/// The section behind `near`, as its walls run to `far`.
fn far_ring(near: &Ring, far: &Ring) -> Ring {
    match near.to_next {
        Run::Blended => far.clone(),
        Run::Stepped => Ring {
            depth: far.depth,
            ..near.clone()
        },
    }
}

/// The cavity's walls as solids, from the face inward.
pub fn walls(rings: &[Ring], closed: bool) -> Vec<Wall> {
    let mut walls = Vec::new();
    for cell in rings.windows(2) {
        let far = far_ring(&cell[0], &cell[1]);
        for i in 0..cell[0].corners.len() {
            side_walls(&cell[0], &far, i, &mut walls);
        }
    }
    if let (true, Some(last)) = (closed, rings.last()) {
        walls.push(back_wall(last));
    }
    walls
}

fn side_walls(near: &Ring, far: &Ring, i: usize, walls: &mut Vec<Wall>) {
    let name = format!(
        "{}, depth {:.0} to {:.0}",
        side_name(near, i),
        near.depth,
        far.depth
    );
    let mut push = |corners: Vec<DVec3>| {
        walls.push(Wall {
            name: name.clone(),
            back: false,
            solid: Solid::hull(corners),
        });
    };
    if near.four_sided && far.four_sided {
        push(four_sided_wall(near, far, i));
        return;
    }
    let quad = side_corners(near, far, i);
    let [a, b, c, d] = quad;
    let along = (b - a) + (c - d);
    let outward = DVec3::new(along.z, 0.0, -along.x).normalize_or_zero() * OUTLINE_WALL;
    let thicken = |inner: &[DVec3]| {
        inner
            .iter()
            .copied()
            .chain(inner.iter().map(|corner| *corner + outward))
            .collect()
    };
    if is_flat(near, far, i) {
        push(thicken(&quad));
    } else {
        push(thicken(&[a, b, d]));
        push(thicken(&[b, c, d]));
    }
}

/// A wall of a four-sided section: its inner surface, and an outer one far
/// enough out that walls overlap behind every corner.
fn four_sided_wall(near: &Ring, far: &Ring, i: usize) -> Vec<DVec3> {
    let upright = i % 2 == 1; // right and left; 0 is the floor, 2 the roof
    let mut corners = Vec::with_capacity(8);
    let outer = |near: f64, far: f64, sign: f64| {
        if sign > 0.0 {
            near.max(far) + SIDE_WALL
        } else {
            near.min(far) - SIDE_WALL
        }
    };
    let [a, b, c, d] = side_corners(near, far, i);
    if upright {
        let sign = if i == 1 { 1.0 } else { -1.0 };
        let out = outer(a.x, d.x, sign);
        for (start, end) in [(a, b), (d, c)] {
            let (low, high) = (
                start.z.min(end.z) - SIDE_WALL,
                start.z.max(end.z) + SIDE_WALL,
            );
            for across in [start.x, out] {
                corners.push(DVec3::new(across, start.y, low));
                corners.push(DVec3::new(across, start.y, high));
            }
        }
    } else {
        let sign = if i == 2 { 1.0 } else { -1.0 };
        let out = outer(a.z, d.z, sign);
        for (start, end) in [(a, b), (d, c)] {
            for up in [start.z, out] {
                corners.push(DVec3::new(start.x, start.y, up));
                corners.push(DVec3::new(end.x, end.y, up));
            }
        }
    }
    corners
}

fn side_name(ring: &Ring, i: usize) -> String {
    if ring.four_sided {
        ["floor", "right wall", "roof", "left wall"][i % 4].to_owned()
    } else {
        format!("wall {}", i + 1)
    }
}

fn back_wall(last: &Ring) -> Wall {
    let low = last
        .corners
        .iter()
        .copied()
        .reduce(DVec2::min)
        .unwrap_or_default();
    let high = last
        .corners
        .iter()
        .copied()
        .reduce(DVec2::max)
        .unwrap_or_default();
    Wall {
        name: "back wall".to_owned(),
        back: true,
        solid: Solid::block(
            DVec3::new(low.x - SIDE_WALL, last.depth, low.y - SIDE_WALL),
            DVec3::new(
                high.x + SIDE_WALL,
                last.depth + SIDE_WALL,
                high.y + SIDE_WALL,
            ),
        ),
    }
}

/// Volume of the cavity between its first and last station, mm3, from the
/// corners of its walls (divergence theorem).
pub fn volume(rings: &[Ring]) -> f64 {
    rings
        .windows(2)
        .map(|cell| cell_volume(&cell[0], &far_ring(&cell[0], &cell[1])))
        .sum()
}

fn cell_volume(near: &Ring, far: &Ring) -> f64 {
    let origin = DVec3::new(near.corners[0].x, near.depth, near.corners[0].y);
    let cone =
        |a: DVec3, b: DVec3, c: DVec3| (a - origin).dot((b - origin).cross(c - origin)) / 6.0;
    let mut six = 0.0;
    for i in 0..near.corners.len() {
        let [a, b, c, d] = side_corners(near, far, i);
        six += cone(a, b, d) + cone(b, c, d);
    }
    let at = |corner: DVec2| DVec3::new(corner.x, far.depth, corner.y);
    for pair in far.corners[1..].windows(2) {
        six += cone(at(far.corners[0]), at(pair[0]), at(pair[1]));
    }
    six.abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn ring(depth: f64, corners: &[(f64, f64)]) -> Ring {
        Ring {
            depth,
            corners: corners.iter().map(|&(x, z)| DVec2::new(x, z)).collect(),
            four_sided: corners.len() == 4,
            to_next: Run::Blended,
        }
    }

    fn area(corners: &[DVec2]) -> f64 {
        let n = corners.len();
        0.5 * (0..n)
            .map(|i| corners[i].perp_dot(corners[(i + 1) % n]))
            .sum::<f64>()
    }

    /// Prismatoid formula (common mensuration, e.g. Kern and Bland, Solid
    /// Mensuration, from memory): V = h/6 (A1 + 4 Am + A2).
    fn prismatoid(near: &Ring, far: &Ring) -> f64 {
        let middle = cell_section(near, far, 0.5 * (near.depth + far.depth));
        (far.depth - near.depth) / 6.0
            * (area(&near.corners) + 4.0 * area(&middle) + area(&far.corners))
    }

    #[test]
    fn a_blended_four_sided_cell_has_the_prismatoids_volume() {
        let near = ring(
            0.0,
            &[(-92.0, -53.0), (92.0, -53.0), (92.0, 53.0), (-92.0, 53.0)],
        );
        let far = ring(
            40.0,
            &[(-96.0, -56.0), (96.0, -56.0), (96.0, 54.0), (-96.0, 54.0)],
        );
        let exact = volume(&[near.clone(), far.clone()]);
        assert_relative_eq!(exact, prismatoid(&near, &far), max_relative = 1e-12);
        // By hand: middle section 188 x 108.
        let by_hand = 40.0 / 6.0 * (184.0 * 106.0 + 4.0 * 188.0 * 108.0 + 192.0 * 110.0);
        assert_relative_eq!(exact, by_hand, max_relative = 1e-12);
    }

    #[test]
    fn twisted_outlines_keep_to_the_prismatoids_volume() {
        let near = ring(
            10.0,
            &[
                (-50.0, -40.0),
                (60.0, -40.0),
                (70.0, 10.0),
                (20.0, 45.0),
                (-55.0, 30.0),
            ],
        );
        let far = ring(
            70.0,
            &[
                (-40.0, -52.0),
                (66.0, -31.0),
                (58.0, 22.0),
                (9.0, 38.0),
                (-61.0, 12.0),
            ],
        );
        let exact = volume(&[near.clone(), far.clone()]);
        assert_relative_eq!(exact, prismatoid(&near, &far), max_relative = 1e-12);
    }

    #[test]
    fn a_step_holds_its_section() {
        let mut near = ring(
            0.0,
            &[(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)],
        );
        near.to_next = Run::Stepped;
        let far = ring(5.0, &[(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]);
        assert_relative_eq!(volume(&[near.clone(), far.clone()]), 20.0 * 20.0 * 5.0);
        assert_eq!(section_at(&[near.clone(), far], 4.0), Some(near.corners));
    }

    #[test]
    fn walls_lie_outside_the_free_section() {
        let near = ring(
            0.0,
            &[(-92.0, -53.0), (92.0, -53.0), (92.0, 53.0), (-92.0, 53.0)],
        );
        let far = ring(
            40.0,
            &[(-96.0, -56.0), (96.0, -56.0), (96.0, 54.0), (-96.0, 54.0)],
        );
        let walls = walls(&[near, far], true);
        assert_eq!(walls.len(), 5);
        let floor = walls[0].solid.bounds();
        assert_eq!(walls[0].name, "floor, depth 0 to 40");
        assert_eq!((floor.max.z, floor.min.z), (-53.0, -96.0));
        let left = walls[3].solid.bounds();
        assert_eq!((left.max.x, left.min.z), (-92.0, -96.0));
        assert_eq!(walls[4].solid.bounds().min.y, 40.0);
    }
}
