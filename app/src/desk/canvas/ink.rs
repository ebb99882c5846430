//! Pens: the lines of a technical drawing on an egui painter.
//!
//! Line types after ISO 128-2, table 1: continuous (01), dashed (02), long
//! dashed dotted (04), long dashed double-dotted (05), dotted (07).

use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};
use glam::DVec2;

use crate::desk::theme::LETTERING;

/// How a line is broken: lengths drawn and left out by turns, points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dash {
    /// Continuous.
    Full,
    /// Hidden edges.
    Hidden,
    /// Estimated places: dashes longer than those of hidden edges.
    Estimated,
    /// Not measured.
    Dotted,
    /// Centre lines and cutting planes: long dash, dot.
    Chain,
    /// What would be taken away or moves: long dash, two dots.
    DoubleDot,
}

impl Dash {
    fn lengths(self) -> &'static [f32] {
        match self {
            Dash::Full => &[],
            Dash::Hidden => &[4.0, 3.0],
            Dash::Estimated => &[11.0, 3.0],
            Dash::Dotted => &[1.6, 3.2],
            Dash::Chain => &[12.0, 3.0, 1.5, 3.0],
            Dash::DoubleDot => &[12.0, 3.0, 1.5, 3.0, 1.5, 3.0],
        }
    }
}

/// A point on screen.
pub fn pos(point: DVec2) -> Pos2 {
    pos2(point.x as f32, point.y as f32)
}

/// A place on screen as the camera counts.
pub fn vec(point: Pos2) -> DVec2 {
    DVec2::new(f64::from(point.x), f64::from(point.y))
}

/// Draws a line through points.
pub fn line(painter: &Painter, points: &[Pos2], weight: f32, colour: Color32, dash: Dash) {
    if points.len() < 2 {
        return;
    }
    let stroke = Stroke::new(weight, colour);
    let lengths = dash.lengths();
    if lengths.is_empty() {
        if points.len() > 3 && points.first() == points.last() {
            painter.add(Shape::closed_line(
                points[..points.len() - 1].to_vec(),
                stroke,
            ));
        } else {
            painter.line(points.to_vec(), stroke);
        }
        return;
    }
    let clip = painter.clip_rect().expand(20.0);
    let (mut at, mut left) = (0, lengths[0]);
    for pair in points.windows(2) {
        let Some([from, to]) = within(pair[0], pair[1], clip) else {
            continue;
        };
        let length = from.distance(to);
        let way = (to - from) / length.max(1e-6);
        let mut done = 0.0;
        while done < length {
            let step = left.min(length - done);
            if at % 2 == 0 {
                painter.line_segment([from + way * done, from + way * (done + step)], stroke);
            }
            done += step;
            left -= step;
            if left <= 1e-4 {
                at = (at + 1) % lengths.len();
                left = lengths[at];
            }
        }
    }
}

/// The part of a segment within a rectangle (Liang and Barsky 1984).
fn within(from: Pos2, to: Pos2, clip: Rect) -> Option<[Pos2; 2]> {
    let way = to - from;
    let (mut enter, mut leave) = (0.0_f32, 1.0_f32);
    for (step, room_before, room_after) in [
        (way.x, from.x - clip.left(), clip.right() - from.x),
        (way.y, from.y - clip.top(), clip.bottom() - from.y),
    ] {
        if step.abs() < 1e-6 {
            if room_before < 0.0 || room_after < 0.0 {
                return None;
            }
            continue;
        }
        let (a, b) = (-room_before / step, room_after / step);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    (enter < leave).then(|| [from + way * enter, from + way * leave])
}

/// Fills a simple outline of any shape.
pub fn fill(painter: &Painter, outline: &[DVec2], colour: Color32) {
    let points: Vec<Pos2> = outline.iter().copied().map(pos).collect();
    let mut mesh = egui::Mesh::default();
    for point in &points {
        mesh.colored_vertex(*point, colour);
    }
    for [a, b, c] in super::polygon::triangles(outline) {
        mesh.add_triangle(a as u32, b as u32, c as u32);
    }
    painter.add(Shape::mesh(mesh));
}

/// Draws hatch lines.
pub fn hatch(painter: &Painter, lines: &[[DVec2; 2]], weight: f32, colour: Color32) {
    let clip = painter.clip_rect();
    for &[a, b] in lines {
        if let Some(ends) = within(pos(a), pos(b), clip) {
            painter.line_segment(ends, Stroke::new(weight, colour));
        }
    }
}

/// A slim filled arrow head with its tip at `tip`, pointing along `way` (ISO 129-1, figure 4).
pub fn arrow_head(painter: &Painter, tip: Pos2, way: Vec2, colour: Color32) {
    let way = way.normalized();
    let back = tip - way * 8.0;
    let side = vec2(-way.y, way.x) * 1.9;
    painter.add(Shape::convex_polygon(
        vec![tip, back + side, back - side],
        colour,
        Stroke::NONE,
    ));
}

/// The lettering of the drawing.
pub fn lettering(grow: f32) -> FontId {
    FontId::proportional(LETTERING * grow)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn segments_are_cut_to_the_pane() {
        let clip = Rect::from_min_max(pos2(0.0, 0.0), pos2(10.0, 10.0));
        let cut = within(pos2(-5.0, 5.0), pos2(15.0, 5.0), clip).expect("it crosses");
        assert_eq!(cut, [pos2(0.0, 5.0), pos2(10.0, 5.0)]);
        assert!(within(pos2(-5.0, 11.0), pos2(15.0, 11.0), clip).is_none());
        assert!(within(pos2(-5.0, -1.0), pos2(-1.0, 5.0), clip).is_none());
    }
}
