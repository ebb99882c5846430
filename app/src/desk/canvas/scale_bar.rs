//! The scale bar: a round length, drawn at the scale of the drawing.

use egui::{Align2, Painter, Pos2, Rect, Stroke, StrokeKind, pos2};

use super::ink;
use crate::desk::theme::Paper;
use crate::figures::Figures;

/// A bar of a round length, for the eye: its length in mm and in points.
///
/// * `scale`: points for one mm; `room`: the longest it may be, points
pub fn round_length(scale: f64, figures: Figures, room: f32) -> (f64, f32) {
    let unit = match figures {
        Figures::Millimetres => 1.0,
        Figures::Inches => 25.4 / 8.0,
    };
    let length = [200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0]
        .map(|length| length * unit)
        .into_iter()
        .find(|length| length * scale <= f64::from(room))
        .unwrap_or(unit);
    (length, (length * scale) as f32)
}

/// Height of the bar with its words, points.
pub const HEIGHT: f32 = 24.0;

/// Draws the bar with its length above it.
///
/// * `foot`: its lower left corner; `points`: its length
pub fn draw(painter: &Painter, foot: Pos2, points: f32, words: &str, paper: &Paper) {
    let (left, right) = (foot.x, foot.x + points);
    let half = 0.5 * (left + right);
    let bar = |to: f32| Rect::from_min_max(pos2(left, foot.y - 4.0), pos2(to, foot.y));
    painter.rect_filled(bar(half), 0.0, paper.ink);
    let edge = Stroke::new(1.0, paper.ink);
    painter.rect_stroke(bar(right), 0.0, edge, StrokeKind::Inside);
    painter.text(
        pos2(half, foot.y - 5.0),
        Align2::CENTER_BOTTOM,
        words,
        ink::lettering(0.95),
        paper.ink,
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_stay_round() {
        for scale in [0.2, 0.9, 1.3, 4.0, 30.0] {
            let (length, points) = round_length(scale, Figures::Millimetres, 120.0);
            assert!(points <= 120.0 && (f64::from(points) - length * scale).abs() < 1e-3);
        }
        assert_eq!(round_length(1.2, Figures::Millimetres, 130.0).0, 100.0);
    }
}
