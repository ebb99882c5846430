//! Solids with room all round, and where a straight line across meets them.
//!
//! Everything within a reach of a convex piece is met by a line in one
//! stretch. Its ends lie over a flat side, where they are those of the side
//! pushed outward, or round an edge, where they are those of a round bar.

use glam::{DVec2, DVec3};

use crate::distance::{Convex, Core};
use crate::solids::Bounds;

use super::bar::Bar;

/// What is this near is met, mm: rounding, on the side of taking more.
pub(super) const ROUNDING: f64 = 1e-9;

/// A convex piece with room all round, ready to be met by many lines.
pub(super) struct Rounded {
    sides: Vec<Side>,
    edges: Vec<Edge>,
    /// A round bar with flat ends has no sides and edges but this.
    bar: Option<Bar>,
    reach: f64,
    /// The box around it with its room, mm.
    pub bounds: Bounds,
}

/// A flat side pushed outward.
struct Side {
    normal: DVec3,
    /// How far out it lies, the reach counted, mm.
    offset: f64,
    /// Unit vectors into the side, square to its rim, and where the rim lies along them.
    rim: Vec<(DVec3, f64)>,
}

/// A straight edge, the middle of a round bar with round ends.
struct Edge {
    from: DVec3,
    along: DVec3,
    length: f64,
}

/// A line across: everything at this depth and height, mm.
#[derive(Clone, Copy)]
pub(super) struct Line {
    pub depth: f64,
    pub up: f64,
}

impl Line {
    pub fn at(self, across: f64) -> DVec3 {
        DVec3::new(across, self.depth, self.up)
    }
}

impl Rounded {
    /// A piece with everything within `reach` of it, mm.
    pub fn new(piece: &Convex, bounds: &Bounds, reach: f64) -> Rounded {
        let mut rounded = Rounded {
            sides: Vec::new(),
            edges: Vec::new(),
            bar: None,
            reach: reach + piece.round,
            bounds: bounds.grown(reach),
        };
        match piece.core {
            Core::Segment { half_length } => {
                let half = DVec3::new(0.0, 0.0, half_length);
                rounded.add_edge(in_place(piece, -half), in_place(piece, half));
            }
            Core::Block { half } => {
                let corner = half.truncate();
                let corners = [
                    -corner,
                    DVec2::new(corner.x, -corner.y),
                    corner,
                    DVec2::new(-corner.x, corner.y),
                ];
                rounded.add_prism(piece, &corners, half.z);
            }
            Core::Prism {
                corners,
                half_length,
            } => rounded.add_prism(piece, corners, half_length),
            Core::Hull(hull) => {
                let corners: Vec<DVec3> = (hull.corners().iter())
                    .map(|corner| in_place(piece, *corner))
                    .collect();
                for face in hull.faces() {
                    let rim: Vec<DVec3> = face.corners.iter().map(|&i| corners[i]).collect();
                    rounded.add_side(piece.axes * face.normal, &rim);
                }
                if hull.faces().is_empty() {
                    rounded.add_edge(corners[0], corners[corners.len() - 1]);
                }
            }
            Core::Cylinder {
                radius,
                half_length,
            } => {
                rounded.bar = Some(Bar {
                    at: piece.at,
                    along: piece.axes.z_axis,
                    radius,
                    half_length,
                });
            }
        }
        rounded
    }

    /// An outline pushed along its third axis, counter-clockwise corners.
    fn add_prism(&mut self, piece: &Convex, corners: &[DVec2], half_length: f64) {
        let at = |corner: DVec2, third: f64| in_place(piece, corner.extend(third));
        let lower: Vec<DVec3> = corners.iter().rev().map(|c| at(*c, -half_length)).collect();
        let upper: Vec<DVec3> = corners.iter().map(|c| at(*c, half_length)).collect();
        self.add_side(-piece.axes.z_axis, &lower);
        self.add_side(piece.axes.z_axis, &upper);
        for (i, &from) in corners.iter().enumerate() {
            let to = corners[(i + 1) % corners.len()];
            self.add_edge(at(from, -half_length), at(from, half_length));
            if let Some(side) = (to - from).try_normalize() {
                let rim = [
                    at(from, -half_length),
                    at(to, -half_length),
                    at(to, half_length),
                    at(from, half_length),
                ];
                self.add_side(piece.axes * DVec3::new(side.y, -side.x, 0.0), &rim);
            }
        }
    }

    /// A flat side, its rim counter-clockwise seen from outside, and the edges round it.
    fn add_side(&mut self, normal: DVec3, rim: &[DVec3]) {
        let Some(&corner) = rim.first() else { return };
        let next = |i: usize| rim[(i + 1) % rim.len()];
        let inward = rim.iter().enumerate().filter_map(|(i, from)| {
            let inward = normal.cross(next(i) - from).try_normalize()?;
            Some((inward, inward.dot(*from) - ROUNDING))
        });
        self.sides.push(Side {
            normal,
            offset: normal.dot(corner) + self.reach,
            rim: inward.collect(),
        });
        for (i, from) in rim.iter().enumerate() {
            self.add_edge(*from, next(i));
        }
    }

    /// An edge, unless it is known.
    fn add_edge(&mut self, from: DVec3, to: DVec3) {
        let length = from.distance(to);
        let known = |edge: &Edge| {
            let end = edge.from + edge.length * edge.along;
            let same = |a: DVec3, b: DVec3| a.distance_squared(b) < 1e-18;
            same(edge.from, from) && same(end, to) || same(edge.from, to) && same(end, from)
        };
        if !self.edges.iter().any(known) {
            self.edges.push(Edge {
                from,
                along: (to - from).normalize_or_zero(),
                length,
            });
        }
    }

    /// Where a line across is within reach, from and to, mm; `None` where it is not.
    pub fn stretch(&self, line: Line) -> Option<[f64; 2]> {
        if let Some(bar) = &self.bar {
            return bar.stretch(line, self.reach, &self.bounds);
        }
        let mut low = (f64::NEG_INFINITY, None);
        let mut high = (f64::INFINITY, None);
        for side in &self.sides {
            let beyond = side.normal.dot(line.at(0.0)) - side.offset;
            let crossing = -beyond / side.normal.x;
            if side.normal.x.abs() < 1e-12 {
                if beyond > ROUNDING {
                    return None;
                }
            } else if side.normal.x < 0.0 && crossing > low.0 {
                low = (crossing, Some(side));
            } else if side.normal.x > 0.0 && crossing < high.0 {
                high = (crossing, Some(side));
            }
        }
        if low.0 > high.0 + ROUNDING {
            return None;
        }
        let over = |(across, side): (f64, Option<&Side>)| {
            side.is_some_and(|side| side.holds(line.at(across)))
        };
        let (low_over, high_over) = (over(low), over(high));
        if low_over && high_over {
            return Some([low.0, high.0]);
        }
        let edges = self.edges.iter();
        let round = edges.filter_map(|edge| edge.stretch(line, self.reach));
        let round = round.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]);
        match round {
            Some(round) => Some([
                if low_over { low.0 } else { round[0] },
                if high_over { high.0 } else { round[1] },
            ]),
            // Over a side at one end and, to rounding, over its rim at the other.
            None => (low_over || high_over).then_some([low.0, high.0]),
        }
    }
}

fn in_place(piece: &Convex, point: DVec3) -> DVec3 {
    piece.at + piece.axes * point
}

impl Side {
    /// Whether a point lies straight above the side.
    fn holds(&self, point: DVec3) -> bool {
        self.rim
            .iter()
            .all(|(inward, rim)| inward.dot(point) >= *rim)
    }
}

impl Edge {
    /// Where a line is within reach of the edge.
    fn stretch(&self, line: Line, reach: f64) -> Option<[f64; 2]> {
        let start = line.at(0.0) - self.from;
        let mut met: Option<[f64; 2]> = None;
        let mut add = |across: f64| {
            let [low, high] = met.unwrap_or([across; 2]);
            met = Some([low.min(across), high.max(across)]);
        };
        // Round the side of the bar: |start + across x|² less its part along the edge.
        let (slope, along) = (self.along.x, self.along.dot(start));
        let square = 1.0 - slope * slope;
        let half = start.x - along * slope;
        let rest = start.length_squared() - along * along - reach * reach;
        let inside = half * half - square * rest;
        if square > 1e-12 && inside >= 0.0 {
            for sign in [-1.0, 1.0] {
                let across = (-half + sign * inside.sqrt()) / square;
                let place = along + across * slope;
                if (0.0..=self.length).contains(&place) {
                    add(across);
                }
            }
        }
        // Round its ends.
        for end in [DVec3::ZERO, self.length * self.along] {
            let from = start - end;
            let aside = from.y * from.y + from.z * from.z;
            if aside <= reach * reach {
                let half = (reach * reach - aside).sqrt();
                add(-from.x - half);
                add(-from.x + half);
            }
        }
        met
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solids::Solid;
    use approx::assert_abs_diff_eq;

    fn stretch(solid: &Solid, reach: f64, depth: f64, up: f64) -> Option<[f64; 2]> {
        let rounded = Rounded::new(&Convex::piece(solid, 0), &solid.bounds(), reach);
        rounded.stretch(Line { depth, up })
    }

    #[test]
    fn a_block_is_met_over_its_sides_round_its_edges_and_round_its_corners() {
        let block = Solid::block(DVec3::splat(-10.0), DVec3::splat(10.0));
        for (depth, up, end) in [
            (0.0, 0.0, Some(15.0)),
            (10.0, 10.0, Some(15.0)),
            (13.0, 0.0, Some(14.0)),
            (13.0, -12.0, Some(10.0 + 12f64.sqrt())),
            (-14.0, 13.0, Some(10.0)),
            (-14.0, 13.1, None),
            (0.0, 15.1, None),
        ] {
            let met = stretch(&block, 5.0, depth, up);
            assert_eq!(met.is_some(), end.is_some(), "{depth}, {up}");
            if let (Some([low, high]), Some(end)) = (met, end) {
                assert_abs_diff_eq!(high, end, epsilon = 1e-9);
                assert_abs_diff_eq!(low, -end, epsilon = 1e-9);
            }
        }
    }

    #[test]
    fn round_bars_are_met_round_their_rims_and_ends() {
        let (from, to) = (DVec3::new(-7.0, 0.0, 0.0), DVec3::new(7.0, 0.0, 0.0));
        let cable = stretch(&Solid::capsule(from, to, 6.0), 2.0, 3.0, 0.0).unwrap();
        assert_abs_diff_eq!(cable[1], 11.0, epsilon = 1e-9);
        let post = Solid::cylinder(from, to, 6.0);
        // 4 beside the rim's 3: a corner of 3, 4, 5.
        let beside = stretch(&post, 5.0, 7.0, 0.0).unwrap();
        assert_abs_diff_eq!(beside[0], -10.0, epsilon = 1e-8);
        assert_abs_diff_eq!(beside[1], 10.0, epsilon = 1e-8);
        assert_eq!(stretch(&post, 5.0, 8.1, 0.0), None);
    }
}
