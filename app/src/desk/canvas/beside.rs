//! The note beside the pointer: what a lead's way comes to, in a few lines.

use egui::{Painter, Pos2, Rect, vec2};

use super::ink;
use crate::desk::theme::Paper;

/// From the pointer to the note, points.
const OFF: f32 = 16.0;

/// Writes lines beside the pointer, inside the pane.
///
/// * `pane`: the pane on screen
pub fn note(painter: &Painter, pane: Rect, paper: &Paper, pointer: Pos2, lines: &[String]) {
    let text = lines.join("\n");
    let galley = painter.layout(text, ink::lettering(1.0), paper.ink, 320.0);
    let size = galley.size() + vec2(12.0, 8.0);
    let room = pane.shrink(4.0);
    let mut corner = pointer + vec2(OFF, OFF);
    if corner.x + size.x > room.right() {
        corner.x = pointer.x - OFF - size.x;
    }
    if corner.y + size.y > room.bottom() {
        corner.y = pointer.y - OFF - size.y;
    }
    let corner = corner.max(room.min);
    let plate = Rect::from_min_size(corner, size);
    let edge = egui::Stroke::new(1.0, paper.ink);
    painter.rect(plate, 2.0, paper.sheet, edge, egui::StrokeKind::Inside);
    painter.galley(corner + vec2(6.0, 4.0), galley, paper.ink);
}
