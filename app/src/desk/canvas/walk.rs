//! A short walk of the drawing: a few lines with arrows, put away with Esc.

use std::sync::Arc;

use egui::{Align, Galley, Layout, Pos2, Rect, Ui, UiBuilder, Vec2, pos2, vec2};
use glam::DVec3;

use super::camera::{Camera, View};
use super::ink::{self, Dash};
use super::labels::Labels;
use super::paint::Pane;
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
        for remark in remarks(view, rect, &state.camera, state.cuts, shown.model) {
            Laid::of(ui, &remark, rect, &paper).draw(ui, rect, &paper);
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

/// Keeps the names of things off the remarks of a view and off their arrows.
///
/// * `cuts`: places of the cutting planes, mm
pub fn keep_free(ui: &Ui, pane: &Pane, cuts: [f64; 3], model: &Model, labels: &mut Labels) {
    for remark in remarks(pane.view, pane.rect, pane.camera, cuts, model) {
        let laid = Laid::of(ui, &remark, pane.rect, &pane.paper);
        labels.keep_free(laid.plate);
        if let Some(arrow) = laid.arrow {
            labels.keep_line(arrow);
        }
    }
}

/// What is said in one view: over the chassis, which is large and plain.
fn remarks(view: View, pane: Rect, camera: &Camera, cuts: [f64; 3], model: &Model) -> Vec<Remark> {
    let on = |place: DVec3| {
        let flat = view.flat(place);
        ink::pos(camera.to_screen(view, ink::vec(pane.center()), flat))
    };
    let chassis = plain_part(model, &on).unwrap_or(pane).intersect(pane);
    let at = |share: f32| pos2(chassis.center().x, chassis.top() + share * chassis.height());
    let clash = (model.clashes.first()).map(|clash| on(0.5 * (clash.room[0] + clash.room[1])));
    let thing = (model.things.iter())
        .filter(|thing| thing.part == Part::Plug)
        .map(|thing| on(thing.solid.bounds().middle()))
        .filter(|place| pane.shrink(20.0).contains(*place) && !chassis.contains(*place))
        .min_by(|a, b| a.distance(at(0.25)).total_cmp(&b.distance(at(0.25))));
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
                tip: pos2(at(0.85).x, pane.bottom() - 14.0),
            },
        ],
        View::FromAbove => {
            let line = on(DVec3::Y * cuts[View::LookingIn as usize]).x;
            vec![
                Remark {
                    says: "Point at a thing, and it lights up everywhere. Click it, and its form opens.",
                    words: at(0.25),
                    tip: thing.or(clash).unwrap_or(at(0.25)),
                },
                Remark {
                    says: "Take hold of a dash-dotted line: it moves the cut of the view with its letter.",
                    words: at(0.75),
                    tip: pos2(line, at(0.75).y),
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

/// A remark as it lies on the paper.
struct Laid {
    plate: Rect,
    words: Arc<Galley>,
    /// From the edge of the plate to what is pointed at, unless that lies under it.
    arrow: Option<[Pos2; 2]>,
}

/// Room around the words of a remark, points.
const ROUND: Vec2 = vec2(6.0, 4.0);

impl Laid {
    fn of(ui: &Ui, remark: &Remark, pane: Rect, paper: &Paper) -> Laid {
        let width = (0.40 * pane.width()).clamp(140.0, 210.0 * grow(ui));
        let font = ink::lettering(grow(ui));
        let words = (ui.painter()).layout(remark.says.to_owned(), font, paper.ink, width);
        let size = words.size();
        let inside = pane.shrink(8.0);
        let corner = (remark.words - 0.5 * size)
            .min(inside.max - size)
            .max(inside.min);
        let plate = Rect::from_min_size(corner, size).expand2(ROUND);
        let from = remark.tip.clamp(plate.min, plate.max);
        let arrow = (from != remark.tip).then_some([from, remark.tip]);
        Laid {
            plate,
            words,
            arrow,
        }
    }

    fn draw(self, ui: &Ui, pane: Rect, paper: &Paper) {
        let painter = ui.painter_at(pane);
        if let Some([from, tip]) = self.arrow {
            ink::line(&painter, &[from, tip], 2.0, paper.ink, Dash::Full);
            ink::arrow_head(&painter, tip, tip - from, paper.ink);
        }
        painter.rect_filled(self.plate, 2.0, paper.sheet);
        let edge = egui::Stroke::new(1.6, paper.ink);
        painter.rect_stroke(self.plate, 2.0, edge, egui::StrokeKind::Inside);
        painter.galley(self.plate.min + ROUND, self.words, paper.ink);
    }
}
