//! A short walk of the drawing: a few lines with arrows, put away with Esc.

use egui::{Align, Color32, Layout, Pos2, Rect, Ui, UiBuilder, pos2, vec2};

use super::camera::View;
use super::ink::{self, Dash};
use crate::desk::edit::Ask;
use crate::desk::theme::{Paper, grow};

/// One remark: the view it stands on, what it says, and where in the pane its
/// words and its arrow are, as shares of width and height.
struct Remark {
    view: View,
    says: &'static str,
    words: [f32; 2],
    tip: [f32; 2],
}

const REMARKS: [Remark; 6] = [
    Remark {
        view: View::FromSide,
        says: "The unit slides in from the left; the ruler counts from the dash face.",
        words: [0.30, 0.80],
        tip: [0.30, 0.97],
    },
    Remark {
        view: View::FromSide,
        says: "What stops it is crossed out in the strong tone. Nothing else has it.",
        words: [0.62, 0.22],
        tip: [0.80, 0.42],
    },
    Remark {
        view: View::FromAbove,
        says: "Point at a thing: it lights up everywhere. Click it: its form opens at the left.",
        words: [0.34, 0.22],
        tip: [0.45, 0.45],
    },
    Remark {
        view: View::FromAbove,
        says: "Take hold of a dash-dotted line: it moves the cut of the view with that letter.",
        words: [0.62, 0.74],
        tip: [0.86, 0.60],
    },
    Remark {
        view: View::LookingIn,
        says: "Wheel: larger or smaller. Drag: shift. Show all: back again.",
        words: [0.5, 0.80],
        tip: [0.5, 0.62],
    },
    Remark {
        view: View::LookingIn,
        says: "Click a letter to see its view alone.",
        words: [0.45, 0.24],
        tip: [0.07, 0.06],
    },
];

/// Draws the remarks over the views; Esc or the button puts them away.
pub fn walk_ui(ui: &mut Ui, views: &[(View, Rect)], asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    for remark in &REMARKS {
        let pane = views.iter().find(|(view, _)| *view == remark.view);
        if let Some((_, rect)) = pane {
            draw(ui, remark, *rect, &paper);
        }
    }
    let Some((_, last)) = views.last() else {
        asks.push(Ask::Walk(false));
        return;
    };
    let size = vec2(190.0 * grow(ui), ui.spacing().interact_size.y + 6.0);
    let place = Rect::from_min_size(last.right_top() + vec2(-size.x - 8.0, 34.0), size);
    let builder = UiBuilder::new()
        .max_rect(place)
        .layout(Layout::right_to_left(Align::Center))
        .id_salt("walk of the drawing");
    let close = ui.new_child(builder).button("Enough of this (Esc)");
    if close.clicked() || ui.input(|input| input.key_pressed(egui::Key::Escape)) {
        asks.push(Ask::Walk(false));
    }
}

fn draw(ui: &Ui, remark: &Remark, pane: Rect, paper: &Paper) {
    let painter = ui.painter_at(pane);
    let at = |[x, y]: [f32; 2]| -> Pos2 {
        pos2(
            pane.left() + x * pane.width(),
            pane.top() + y * pane.height(),
        )
    };
    let width = (0.46 * pane.width()).clamp(130.0, 250.0 * grow(ui));
    let font = ink::lettering(1.1 * grow(ui));
    let galley = painter.layout(remark.says.to_owned(), font, paper.ink, width);
    let size = galley.size();
    let inside = pane.shrink(8.0);
    let corner = (at(remark.words) - 0.5 * size)
        .max(inside.min)
        .min(inside.max - size);
    let plate = Rect::from_min_size(corner, size).expand2(vec2(7.0, 5.0));
    let tip = at(remark.tip);
    arrow(&painter, plate, tip, paper.ink);
    painter.rect_filled(plate, 2.0, paper.sheet);
    let edge = egui::Stroke::new(1.6, paper.ink);
    painter.rect_stroke(plate, 2.0, edge, egui::StrokeKind::Inside);
    painter.galley(corner, galley, paper.ink);
}

/// From the words to what they speak of.
fn arrow(painter: &egui::Painter, from: Rect, tip: Pos2, ink_colour: Color32) {
    let start = from.center();
    if from.contains(tip) {
        return;
    }
    ink::line(painter, &[start, tip], 1.6, ink_colour, Dash::Full);
    ink::arrow_head(painter, tip, (tip - start) * 1.0, ink_colour);
}
