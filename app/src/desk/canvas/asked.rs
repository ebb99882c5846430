//! The length that is asked for, lit up where it is to be measured.

use egui::{Rect, pos2, vec2};

use super::ink::{self, Dash};
use super::labels::Labels;
use super::paint::Pane;
use crate::desk::guide::Asked;

/// Draws it in one pane, where it does not lie along the line of sight.
pub fn asked(pane: &Pane, asked: &Asked, labels: &mut Labels) {
    let [a, b] = asked.ends.map(|end| pane.pos(pane.view.flat(end)));
    let colour = pane.paper.lit;
    let length = a.distance(b);
    if length < 4.0 {
        let ring = egui::Stroke::new(3.0, colour);
        pane.painter.circle_stroke(a, 9.0, ring);
        labels.keep_free(Rect::from_center_size(a, vec2(20.0, 20.0)));
        return;
    }
    let way = (b - a) / length;
    let across = vec2(-way.y, way.x);
    ink::line(pane.painter, &[a, b], 4.0, colour, Dash::Full);
    for end in [a, b] {
        let stop = [end - across * 11.0, end + across * 11.0];
        ink::line(pane.painter, &stop, 3.0, colour, Dash::Full);
    }
    ink::arrow_head(pane.painter, a, -way * 2.0, colour);
    ink::arrow_head(pane.painter, b, way * 2.0, colour);
    let words = format!("{}?", asked.word);
    let galley = pane
        .painter
        .layout_no_wrap(words, ink::lettering(1.15), pane.paper.ink);
    let size = galley.size();
    let middle = a + (b - a) * 0.5;
    let places = [
        middle + vec2(-0.5 * size.x, -size.y - 8.0),
        middle + vec2(-0.5 * size.x, 8.0),
        middle + vec2(10.0, -0.5 * size.y),
        middle + vec2(-size.x - 10.0, -0.5 * size.y),
        pos2(b.x + 12.0, b.y + 6.0),
        pos2(a.x + 12.0, a.y + 6.0),
    ];
    let Some(rect) = labels.first_free(size, places) else {
        return;
    };
    let plate = rect.expand2(vec2(4.0, 2.0));
    pane.painter.rect_filled(plate, 1.0, pane.paper.sheet);
    let edge = egui::Stroke::new(2.0, colour);
    pane.painter
        .rect_stroke(plate, 1.0, edge, egui::StrokeKind::Outside);
    pane.painter.galley(rect.left_top(), galley, pane.paper.ink);
}
