//! A section as lines and faces, in mm: what is cut, what is seen behind, what is hidden.
//!
//! Line conventions after ISO 128-2 and ISO 128-3: outlines of cut faces and
//! visible edges continuous, hidden edges dashed, what lies before the cutting
//! plane as long dashes with two dots.

use geometry::Side;
use glam::DVec2;

use super::camera::View;
use super::polygon;

/// A solid as one view sees it.
#[derive(Clone, Debug)]
pub struct Body {
    /// Outline of the whole solid, as drawn.
    pub silhouette: Vec<DVec2>,
    /// Faces the cutting plane makes, as drawn.
    pub slices: Vec<Vec<DVec2>>,
    /// Nearest and furthest from the eye, as [`View::away`] measures, mm.
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
    /// * `plane`: where it lies, as [`View::away`] measures, mm
    pub fn of(bodies: &[Body], plane: f64) -> Drawing {
        let standing: Vec<Standing> = bodies.iter().map(|body| stands(body, plane)).collect();
        let mut order: Vec<usize> = (0..bodies.len()).collect();
        order.sort_by(|&a, &b| bodies[b].away[0].total_cmp(&bodies[a].away[0]));

        let mut drawing = Drawing::default();
        for wanted in [Standing::Beyond, Standing::Cut, Standing::Before] {
            for &i in order.iter().filter(|&&i| standing[i] == wanted) {
                let outlines = match wanted {
                    Standing::Cut => bodies[i].slices.clone(),
                    _ => vec![bodies[i].silhouette.clone()],
                };
                drawing.faces.extend(outlines.into_iter().map(|corners| Face {
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
                    drawing.lines.push(closed(i, LineKind::Before, &body.silhouette));
                }
                Standing::Beyond => {
                    let covers: Vec<&[DVec2]> = bodies
                        .iter()
                        .enumerate()
                        .filter(|&(j, other)| j != i && other.away[0] < body.away[0])
                        .flat_map(|(j, other)| match standing[j] {
                            Standing::Cut => other.slices.iter().map(Vec::as_slice).collect(),
                            Standing::Beyond => vec![other.silhouette.as_slice()],
                            Standing::Before => Vec::new(),
                        })
                        .collect();
                    drawing.lines.extend(seen_and_hidden(i, &body.silhouette, &covers));
                }
            }
        }
        drawing
    }
}

fn stands(body: &Body, plane: f64) -> Standing {
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
            let kind = if covered { LineKind::Hidden } else { LineKind::Visible };
            match lines.last_mut() {
                Some(last) if last.kind == kind && last.points.last() == Some(&from) => {
                    last.points.push(to);
                }
                _ => lines.push(Line { body, kind, points: vec![from, to] }),
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
/// * `axis`: the line the unit slides along, as drawn; a point when looking in
pub fn wall_edges(walls: &[Vec<DVec2>], axis: [DVec2; 2]) -> Vec<[DVec2; 2]> {
    let faces: Vec<&[DVec2]> = walls.iter().map(Vec::as_slice).collect();
    let to_axis = |point: DVec2| {
        let along = axis[1] - axis[0];
        let length = along.length_squared();
        let t = if length > 0.0 {
            ((point - axis[0]).dot(along) / length).clamp(0.0, 1.0)
        } else {
            0.0
        };
        point.distance(axis[0] + t * along)
    };
    let mut result = Vec::new();
    for (i, wall) in walls.iter().enumerate() {
        let outward = if polygon::area(wall) > 0.0 { -1.0 } else { 1.0 };
        for (a, b) in polygon::edges(wall) {
            let square = (b - a).perp().normalize_or_zero() * outward;
            for pair in polygon::crossings(a, b, &faces).windows(2) {
                let [from, to] = [a.lerp(b, pair[0]), a.lerp(b, pair[1])];
                let outside = 0.5 * (from + to) + 0.02 * square;
                let shared = faces
                    .iter()
                    .enumerate()
                    .any(|(j, other)| j != i && polygon::contains(other, outside));
                let turns_away = to_axis(outside) > to_axis(outside - 0.02 * square) + 1e-9;
                let dash_face = from.x.abs() < 1e-6 && to.x.abs() < 1e-6 && axis[0] != axis[1];
                if !shared && (!turns_away || dash_face) && from.distance(to) > 1e-6 {
                    result.push([from, to]);
                }
            }
        }
    }
    result
}

/// The line the unit slides along, as a view draws it, down to a depth in mm.
pub fn slide_axis(view: View, depth: f64) -> [DVec2; 2] {
    match view {
        View::LookingIn => [DVec2::ZERO; 2],
        View::FromAbove | View::FromSide => [DVec2::ZERO, DVec2::new(depth, 0.0)],
    }
}

/// How a view draws the way out of one side; `None` when it points at the eye.
pub fn side_way(view: View, side: Side) -> Option<DVec2> {
    let way = view.flat(side.outward());
    (way != DVec2::ZERO).then_some(way)
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
            slices: if cut { vec![outline.clone()] } else { Vec::new() },
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
        let order: Vec<usize> = Drawing::of(&bodies, plane).faces.iter().map(|f| f.body).collect();
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
        let edges = wall_edges(&walls, slide_axis(View::FromAbove, 99.0));
        let total: f64 = edges.iter().map(|[a, b]| a.distance(*b)).sum();
        // Two sides of 100, the back of 40 between them, the dash face of 10 on each side.
        assert!((total - (200.0 + 40.0 + 20.0)).abs() < 1e-6, "{total}");
    }
}
