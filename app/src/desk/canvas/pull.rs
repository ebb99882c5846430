//! A point of the chosen lead, pulled to where the lead is to pass.

use egui::{Align2, Color32, CursorIcon, Key, PointerButton, Pos2, Rect, Response, Ui};
use glam::{DVec2, DVec3};

use super::camera::{Camera, View};
use super::ink::{self, Dash};
use super::paint::Pane;
use super::polygon;
use crate::desk::edit::{Ask, Edit, Target};
use crate::desk::model::{Model, Way};
use crate::desk::pin_edit::{PinEdit, written};

/// How near the hand must come to a point that is there, points.
const REACH: f64 = 9.0;
/// Half the side of the mark of a point, points.
const MARK: f32 = 4.5;

/// A pull under way.
#[derive(Clone, Debug)]
pub struct Pull {
    /// The lead, by its id.
    lead: String,
    /// The point's number; where it is a new one, the number it will have.
    number: usize,
    is_new: bool,
    /// The view it is pulled in.
    view: View,
    /// Where it is now, mm.
    at: DVec3,
}

/// What of the chosen lead lies under the hand.
fn grab(
    model: &Model,
    chosen: Option<&Target>,
    view: View,
    flat: DVec2,
    scale: f64,
) -> Option<Pull> {
    let Some(target @ Target::Lead(lead)) = chosen else {
        return None;
    };
    let reach = REACH / scale;
    let pins = model.pins.iter().filter(|pin| pin.target == *target);
    let near = pins
        .map(|pin| (view.flat(pin.at).distance(flat), pin))
        .filter(|(off, _)| *off <= reach)
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let pull = |number, is_new, at| Pull {
        lead: lead.clone(),
        number,
        is_new,
        view,
        at,
    };
    if let Some((_, pin)) = near {
        return Some(pull(pin.number, false, pin.at));
    }
    // A lead with several cables passes its points by the first of them.
    let way = model.laid.iter().flat_map(|laid| &laid.ways);
    let way = way.clone().find(|way| way.target == *target)?;
    let (off, along, at) = nearest(way, view, flat)?;
    let before = model.pins.iter().filter(|pin| pin.target == *target);
    let before = before.filter(|pin| along_of(way, pin.at) < along).count();
    (off <= (0.5 * way.od).max(reach)).then(|| pull(before, true, at))
}

/// The place of a way nearest to a flat point: how far off, how far along, where, mm.
fn nearest(way: &Way, view: View, flat: DVec2) -> Option<(f64, f64, DVec3)> {
    let mut along = 0.0;
    let mut best: Option<(f64, f64, DVec3)> = None;
    for pair in way.line.windows(2) {
        let [from, to] = [view.flat(pair[0]), view.flat(pair[1])];
        let run = to - from;
        let share = ((flat - from).dot(run) / run.length_squared().max(1e-9)).clamp(0.0, 1.0);
        let off = polygon::distance_to_segment(flat, from, to);
        if best.is_none_or(|(least, _, _)| off < least) {
            let length = pair[0].distance(pair[1]);
            best = Some((off, along + share * length, pair[0].lerp(pair[1], share)));
        }
        along += pair[0].distance(pair[1]);
    }
    best
}

/// How far along a way it is nearest to a point, mm.
fn along_of(way: &Way, point: DVec3) -> f64 {
    let mut along = 0.0;
    let mut best = (f64::INFINITY, 0.0);
    for pair in way.line.windows(2) {
        let off = pair[0].distance(point);
        if off < best.0 {
            best = (off, along);
        }
        along += pair[0].distance(pair[1]);
    }
    best.1
}

/// Takes a drag that begins on the chosen lead. Whether the hand is pulling.
///
/// * `middle`: the middle of the pane on screen
#[allow(clippy::too_many_arguments)] // what a hand needs on one pane
pub fn hand(
    ui: &Ui,
    response: &Response,
    view: View,
    camera: &Camera,
    middle: DVec2,
    (model, chosen): (&Model, Option<&Target>),
    pull: &mut Option<Pull>,
    asks: &mut Vec<Ask>,
) -> bool {
    let flat = |at: Pos2| camera.to_flat(view, middle, ink::vec(at));
    if response.drag_started_by(PointerButton::Primary) {
        let origin = ui.input(|i| i.pointer.press_origin());
        *pull = origin.and_then(|at| grab(model, chosen, view, flat(at), camera.scale));
    }
    let Some(under) = pull.as_mut().filter(|pull| pull.view == view) else {
        return false;
    };
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        *pull = None;
        return true;
    }
    if response.dragged() {
        let by = response.drag_delta();
        let by = DVec2::new(by.x.into(), by.y.into()) / camera.scale;
        under.at += view.unflat(by);
        ui.set_cursor_icon(CursorIcon::Grabbing);
    }
    if response.drag_stopped() {
        let point = written(under.at);
        let edit = if under.is_new {
            PinEdit::Add(under.number, point)
        } else {
            PinEdit::Move(under.number, point)
        };
        asks.push(Ask::Edit(Edit::Through(under.lead.clone(), edit), None));
        *pull = None;
    }
    true
}

/// Whether a point under the pointer can be pulled.
pub fn can_pull(
    model: &Model,
    chosen: Option<&Target>,
    view: View,
    flat: DVec2,
    scale: f64,
) -> bool {
    grab(model, chosen, view, flat, scale).is_some()
}

/// Draws the points that leads pass, and the one being pulled.
pub fn draw(pane: &Pane, model: &Model, pull: Option<&Pull>) {
    for pin in &model.pins {
        let on = pane.attention.is_on(&pin.target);
        let colour = if on { pane.paper.lit } else { pane.paper.ink };
        mark(pane, pin.at, colour);
        if on {
            let at = pane.pos(pane.view.flat(pin.at)) + egui::vec2(MARK + 3.0, -MARK);
            let number = (pin.number + 1).to_string();
            let painter = pane.painter;
            painter.text(
                at,
                Align2::LEFT_BOTTOM,
                number,
                ink::lettering(1.0),
                pane.paper.ink,
            );
        }
    }
    if let Some(pull) = pull {
        let target = Target::Lead(pull.lead.clone());
        let way = model.laid.iter().flat_map(|laid| &laid.ways);
        let way = way.clone().find(|way| way.target == target);
        if let Some((_, _, from)) =
            way.and_then(|way| nearest(way, pane.view, pane.view.flat(pull.at)))
        {
            let ends = [from, pull.at].map(|at| pane.pos(pane.view.flat(at)));
            ink::line(pane.painter, &ends, 1.2, pane.paper.lit, Dash::Hidden);
        }
        mark(pane, pull.at, pane.paper.lit);
    }
}

/// A small open square with a cross through it: a point that is kept.
fn mark(pane: &Pane, at: DVec3, colour: Color32) {
    let at = pane.pos(pane.view.flat(at));
    let square = Rect::from_center_size(at, egui::Vec2::splat(2.0 * MARK));
    pane.painter.rect(
        square,
        0.0,
        pane.paper.sheet,
        egui::Stroke::new(1.6, colour),
        egui::StrokeKind::Middle,
    );
    for [from, to] in [
        [square.left_top(), square.right_bottom()],
        [square.right_top(), square.left_bottom()],
    ] {
        pane.painter
            .line_segment([from, to], egui::Stroke::new(1.0, colour));
    }
}
