//! A section as lines and faces, in mm: what is cut, what is seen behind, what is hidden.
//!
//! Line conventions after ISO 128-2 and ISO 128-3: outlines of cut faces and
//! visible edges continuous, hidden edges dashed, what lies before the cutting
//! plane as long dashes with two dots.

use glam::DVec2;

use super::polygon;

/// A solid as one view sees it.
#[derive(Clone, Debug)]
pub struct Body {
    /// Outline of the whole solid, as drawn.
    pub silhouette: Vec<DVec2>,
    /// Faces the cutting plane makes, as drawn.
    pub slices: Vec<Vec<DVec2>>,
    /// Nearest and furthest from the eye, as [`View::away`](super::camera::View::away) measures, mm.
    pub away: [f64; 2],
}

/// How a solid stands to the cutting plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The plane goes through it.
    Cut,
    /// It lies behind the plane and is seen.
    Beyond,
    /// It lies before the plane and would be taken away.
    Before,
}

/// What a line of the drawing stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// Outline of a cut face.
    CutEdge,
    /// Visible edge behind the plane.
    Visible,
    /// Edge behind something else.
    Hidden,
    /// Edge of what lies before the plane.
    Before,
}

/// A face to fill.
#[derive(Clone, Debug)]
pub struct Face {
    /// Which body it belongs to.
    pub body: usize,
    /// How that stands.
    pub standing: Standing,
    /// Its corners.
    pub corners: Vec<DVec2>,
}

/// A line to draw.
#[derive(Clone, Debug)]
pub struct Line {
    /// Which body it belongs to.
    pub body: usize,
    /// What it stands for.
    pub kind: LineKind,
    /// Its points, in order.
    pub points: Vec<DVec2>,
}

/// One section, ready to draw at any scale.
#[derive(Clone, Debug, Default)]
pub struct Drawing {
    /// Faces, the furthest first.
    pub faces: Vec<Face>,
    /// Lines, in the order of the bodies.
    pub lines: Vec<Line>,
}

impl Drawing {
    /// Draws bodies as cut by a plane.
    ///
    /// * `plane`: where it lies, as [`View::away`](super::camera::View::away) measures, mm
    pub fn of(bodies: &[Body], plane: f64) -> Drawing {
        let standing: Vec<Standing> = bodies.iter().map(|body| stands(body, plane)).collect();
        let mut order: Vec<usize> = (0..bodies.len()).collect();
        order.sort_by(|&a, &b| bodies[b].away[0].total_cmp(&bodies[a].away[0]));

        let boxes: Vec<Option<[DVec2; 2]>> = bodies
            .iter()
            .map(|body| polygon::bounds(&body.silhouette))
            .collect();
        // What lies elsewhere on the sheet covers nothing.
        let may_cover = |i: usize, j: usize| match (boxes[i], boxes[j]) {
            (Some(one), Some(other)) => polygon::boxes_meet(one, other),
            _ => false,
        };
        let mut drawing = Drawing::default();
        for wanted in [Standing::Beyond, Standing::Cut, Standing::Before] {
            for &i in order.iter().filter(|&&i| standing[i] == wanted) {
                let outlines = match wanted {
                    Standing::Cut => bodies[i].slices.clone(),
                    _ => vec![bodies[i].silhouette.clone()],
                };
                let outlines = outlines.into_iter().filter(|corners| corners.len() > 2);
                drawing.faces.extend(outlines.map(|corners| Face {
                    body: i,
                    standing: wanted,
                    corners,
                }));
            }
        }
        for (i, body) in bodies.iter().enumerate() {
            match standing[i] {
                Standing::Cut => {
                    for slice in &body.slices {
                        drawing.lines.push(closed(i, LineKind::CutEdge, slice));
                    }
                }
                Standing::Before => {
                    drawing
                        .lines
                        .push(closed(i, LineKind::Before, &body.silhouette));
                }
                Standing::Beyond => {
                    let covers: Vec<&[DVec2]> = bodies
                        .iter()
                        .enumerate()
                        .filter(|&(j, other)| j != i && other.away[0] < body.away[0])
                        .filter(|&(j, _)| may_cover(i, j))
                        .flat_map(|(j, other)| match standing[j] {
                            Standing::Cut => other.slices.iter().map(Vec::as_slice).collect(),
                            Standing::Beyond => vec![other.silhouette.as_slice()],
                            Standing::Before => Vec::new(),
                        })
                        .collect();
                    drawing
                        .lines
                        .extend(seen_and_hidden(i, &body.silhouette, &covers));
                }
            }
        }
        drawing
    }
}

/// How a body stands to the cutting plane.
pub fn stands(body: &Body, plane: f64) -> Standing {
    if !body.slices.is_empty() {
        Standing::Cut
    } else if body.away[0] >= plane - 1e-9 {
        Standing::Beyond
    } else {
        Standing::Before
    }
}

fn closed(body: usize, kind: LineKind, outline: &[DVec2]) -> Line {
    let mut points = outline.to_vec();
    points.extend(outline.first());
    Line { body, kind, points }
}

/// Splits an outline into runs that are seen and runs that something covers.
fn seen_and_hidden(body: usize, outline: &[DVec2], covers: &[&[DVec2]]) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for (a, b) in polygon::edges(outline) {
        for pair in polygon::crossings(a, b, covers).windows(2) {
            let [from, to] = [a.lerp(b, pair[0]), a.lerp(b, pair[1])];
            let middle = 0.5 * (from + to);
            let covered = covers.iter().any(|cover| {
                polygon::contains(cover, middle) && polygon::distance_to_edge(cover, middle) > 1e-6
            });
            let kind = if covered {
                LineKind::Hidden
            } else {
                LineKind::Visible
            };
            match lines.last_mut() {
                Some(last) if last.kind == kind && last.points.last() == Some(&from) => {
                    last.points.push(to);
                }
                _ => lines.push(Line {
                    body,
                    kind,
                    points: vec![from, to],
                }),
            }
        }
    }
    lines
}

/// The edges of cut walls that bound the cavity or the dash face.
///
/// Neighbouring pieces of wall share edges that are no edges of the part, and
/// where a wall ends outward nobody has measured; both stay undrawn.
///
/// * `walls`: cut faces of the walls, as drawn
/// * `is_free`: whether a place is in the cavity or before the dash face
pub fn wall_edges(walls: &[Vec<DVec2>], is_free: impl Fn(DVec2) -> bool) -> Vec<[DVec2; 2]> {
    const BESIDE: f64 = 0.02;
    let faces: Vec<&[DVec2]> = walls.iter().map(Vec::as_slice).collect();
    let mut result = Vec::new();
    let boxes: Vec<[DVec2; 2]> = walls
        .iter()
        .map(|wall| polygon::bounds(wall).unwrap_or_default())
        .collect();
    for (i, wall) in walls.iter().enumerate() {
        let near = |j: &usize| {
            let [low, high] = boxes[*j];
            let by = DVec2::splat(2.0 * BESIDE);
            polygon::boxes_meet(boxes[i], [low - by, high + by])
        };
        let near: Vec<usize> = (0..walls.len()).filter(near).collect();
        let around: Vec<&[DVec2]> = near.iter().map(|&j| faces[j]).collect();
        let outward = if polygon::area(wall) > 0.0 { -1.0 } else { 1.0 };
        for (a, b) in polygon::edges(wall) {
            let square = (b - a).perp().normalize_or_zero() * outward;
            for pair in polygon::crossings(a, b, &around).windows(2) {
                let [from, to] = [a.lerp(b, pair[0]), a.lerp(b, pair[1])];
                let beside = 0.5 * (from + to) + BESIDE * square;
                let shared = near
                    .iter()
                    .any(|&j| j != i && polygon::contains(faces[j], beside));
                if !shared && is_free(beside) && from.distance(to) > 1e-6 {
                    result.push([from, to]);
                }
            }
        }
    }
    result
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> Vec<DVec2> {
        vec![
            DVec2::new(left, top),
            DVec2::new(right, top),
            DVec2::new(right, bottom),
            DVec2::new(left, bottom),
        ]
    }

    fn body(outline: Vec<DVec2>, away: [f64; 2], plane: f64) -> Body {
        let cut = away[0] < plane && plane < away[1];
        Body {
            slices: if cut {
                vec![outline.clone()]
            } else {
                Vec::new()
            },
            silhouette: outline,
            away,
        }
    }

    fn length(drawing: &Drawing, body: usize, kind: LineKind) -> f64 {
        drawing
            .lines
            .iter()
            .filter(|line| line.body == body && line.kind == kind)
            .flat_map(|line| line.points.windows(2))
            .map(|pair| pair[0].distance(pair[1]))
            .sum()
    }

    #[test]
    fn what_a_cut_face_covers_is_hidden() {
        let plane = 50.0;
        let bodies = [
            body(rectangle(0.0, 0.0, 40.0, 20.0), [60.0, 80.0], plane),
            body(rectangle(30.0, -10.0, 70.0, 40.0), [40.0, 55.0], plane),
            body(rectangle(0.0, 0.0, 5.0, 5.0), [0.0, 10.0], plane),
        ];
        let drawing = Drawing::of(&bodies, plane);
        // 10 mm of its top, 10 of its bottom and its right end of 20 are covered.
        assert!((length(&drawing, 0, LineKind::Hidden) - 40.0).abs() < 1e-9);
        assert!((length(&drawing, 0, LineKind::Visible) - 80.0).abs() < 1e-9);
        assert!((length(&drawing, 1, LineKind::CutEdge) - 180.0).abs() < 1e-9);
        assert!((length(&drawing, 2, LineKind::Before) - 20.0).abs() < 1e-9);
    }

    #[test]
    fn the_furthest_is_filled_first() {
        let plane = 0.0;
        let bodies = [
            body(rectangle(0.0, 0.0, 1.0, 1.0), [10.0, 20.0], plane),
            body(rectangle(0.0, 0.0, 1.0, 1.0), [30.0, 40.0], plane),
            body(rectangle(0.0, 0.0, 1.0, 1.0), [-1.0, 1.0], plane),
        ];
        let order: Vec<usize> = Drawing::of(&bodies, plane)
            .faces
            .iter()
            .map(|f| f.body)
            .collect();
        assert_eq!(order, [1, 0, 2]);
    }

    #[test]
    fn only_the_cavity_side_of_a_wall_is_an_edge() {
        // Seen from above: left wall in two pieces, right wall, back wall.
        let walls = vec![
            rectangle(0.0, -30.0, 50.0, -20.0),
            rectangle(50.0, -30.0, 100.0, -20.0),
            rectangle(0.0, 20.0, 100.0, 30.0),
            rectangle(100.0, -30.0, 110.0, 30.0),
        ];
        let is_free = |point: DVec2| point.x < 0.0 || (point.x < 100.0 && point.y.abs() < 20.0);
        let edges = wall_edges(&walls, is_free);
        let total: f64 = edges.iter().map(|[a, b]| a.distance(*b)).sum();
        // Two sides of 100, the back of 40 between them, the dash face of 10 on each side.
        assert!((total - (200.0 + 40.0 + 20.0)).abs() < 1e-6, "{total}");
    }
}
