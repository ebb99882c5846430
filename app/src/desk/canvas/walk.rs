//! A short walk of the drawing: a few lines with arrows, put away with Esc.

use egui::{Align, Layout, Pos2, Rect, Ui, UiBuilder, pos2, vec2};
use glam::DVec3;

use super::camera::View;
use super::ink::{self, Dash};
use super::{CanvasState, Shown};
use crate::desk::edit::Ask;
use crate::desk::model::{Model, Part};
use crate::desk::theme::{Paper, grow};

/// One remark: what it says, where its words lie, and what its arrow points at.
struct Remark {
    says: &'static str,
    /// The middle of its words.
    words: Pos2,
    tip: Pos2,
}

/// Draws the remarks over the views; Esc or the button puts them away.
///
/// * `key`: the corner where the button goes
pub fn walk_ui(
    ui: &mut Ui,
    state: &CanvasState,
    views: &[(View, Rect)],
    key: Rect,
    shown: Shown,
    asks: &mut Vec<Ask>,
) {
    let paper = Paper::current(ui.ctx());
    for &(view, rect) in views {
        let on = |place: DVec3| {
            let flat = view.flat(place);
            ink::pos(state.camera.to_screen(view, ink::vec(rect.center()), flat))
        };
        for remark in remarks(view, rect, state, shown.model, &on) {
            draw(ui, &remark, rect, &paper);
        }
    }
    let size = vec2(200.0 * grow(ui), ui.spacing().interact_size.y);
    let place = Rect::from_min_size(key.left_bottom() + vec2(8.0, -size.y - 8.0), size);
    let builder = UiBuilder::new()
        .max_rect(place)
        .layout(Layout::left_to_right(Align::Center))
        .id_salt("walk of the drawing");
    let close = ui.new_child(builder).button("End the walk (Esc)");
    if close.clicked() || ui.input(|input| input.key_pressed(egui::Key::Escape)) {
        asks.push(Ask::Walk(false));
    }
}

/// What is said in one view: over the chassis, which is large and plain.
fn remarks(
    view: View,
    pane: Rect,
    state: &CanvasState,
    model: &Model,
    on: &dyn Fn(DVec3) -> Pos2,
) -> Vec<Remark> {
    let chassis = plain_part(model, on).unwrap_or(pane).intersect(pane);
    let at = |share: f32| pos2(chassis.center().x, chassis.top() + share * chassis.height());
    let clash = (model.clashes.first()).map(|clash| on(0.5 * (clash.room[0] + clash.room[1])));
    let thing = (model.things.iter())
        .filter(|thing| thing.part != Part::Unit)
        .map(|thing| on(thing.solid.bounds().middle()))
        .find(|place| pane.shrink(20.0).contains(*place) && !chassis.contains(*place));
    match view {
        View::FromSide => vec![
            Remark {
                says: "What is in the way is crossed out in the strong tone. Nothing else has it.",
                words: at(0.2),
                tip: clash.unwrap_or(at(0.2)),
            },
            Remark {
                says: "The unit slides in from the left. The ruler counts from the dash face.",
                words: at(0.85),
                tip: pos2(on(DVec3::Y * 50.0).x, pane.bottom() - 14.0),
            },
        ],
        View::FromAbove => {
            let line = on(DVec3::Y * state.cuts[View::LookingIn as usize]).x;
            vec![
                Remark {
                    says: "Point at a thing, and it lights up everywhere. Click it, and its form opens.",
                    words: at(0.25),
                    tip: thing.or(clash).unwrap_or(at(0.25)),
                },
                Remark {
                    says: "Take hold of a dash-dotted line: it moves the cut of the view with its letter.",
                    words: at(0.75),
                    tip: pos2(line, pane.bottom() - 40.0),
                },
            ]
        }
        View::LookingIn => vec![
            Remark {
                says: "Click a view's name to see it alone.",
                words: at(0.15),
                tip: pane.left_top() + vec2(40.0, 24.0),
            },
            Remark {
                says: "Wheel: larger, smaller. Drag: shift. Show all brings everything back.",
                words: at(0.85),
                tip: at(0.85),
            },
        ],
    }
}

/// Where the chassis lies on screen.
fn plain_part(model: &Model, on: &dyn Fn(DVec3) -> Pos2) -> Option<Rect> {
    let chassis = model.things.iter().find(|thing| thing.part == Part::Unit)?;
    let bounds = chassis.solid.bounds();
    Some(Rect::from_two_pos(on(bounds.min), on(bounds.max)))
}

fn draw(ui: &Ui, remark: &Remark, pane: Rect, paper: &Paper) {
    let painter = ui.painter_at(pane);
    let width = (0.40 * pane.width()).clamp(140.0, 210.0 * grow(ui));
    let font = ink::lettering(grow(ui));
    let galley = painter.layout(remark.says.to_owned(), font, paper.ink, width);
    let size = galley.size();
    let inside = pane.shrink(8.0);
    let corner = (remark.words - 0.5 * size)
        .min(inside.max - size)
        .max(inside.min);
    let plate = Rect::from_min_size(corner, size).expand2(vec2(6.0, 4.0));
    if !plate.contains(remark.tip) {
        let start = plate.center();
        ink::line(&painter, &[start, remark.tip], 2.0, paper.ink, Dash::Full);
        ink::arrow_head(&painter, remark.tip, remark.tip - start, paper.ink);
    }
    painter.rect_filled(plate, 2.0, paper.sheet);
    let edge = egui::Stroke::new(1.6, paper.ink);
    painter.rect_stroke(plate, 2.0, edge, egui::StrokeKind::Inside);
    painter.galley(corner, galley, paper.ink);
}
