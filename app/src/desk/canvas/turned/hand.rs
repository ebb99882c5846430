//! The hand on the turned view: drag turns, the wheel goes nearer, arrows do the same.

use egui::{CursorIcon, EventFilter, Key, PointerButton, Rect, Response, Ui};
use glam::DVec2;

use super::{Turned, ink};

/// Turn for a drag of one point, rad.
const PER_POINT: f64 = 0.008;
/// Turn for one press of an arrow, rad.
const PER_PRESS: f64 = 0.0873;
/// Steps aside for one press of an arrow with shift, points.
const ASIDE: f64 = 24.0;
/// Smallest and largest scale, points for one mm.
const SCALES: [f64; 2] = [0.15, 60.0];

/// Answers the pointer and the keys.
pub fn hand(ui: &Ui, response: &Response, rect: Rect, state: &mut Turned) {
    let middle = ink::vec(rect.center());
    if let Some(pointer) = response.hover_pos() {
        let (scroll, zoom) = ui.input(|i| (i.smooth_scroll_delta().y, i.zoom_delta()));
        nearer(
            state,
            ink::vec(pointer) - middle,
            f64::from(zoom) * (f64::from(scroll) / 240.0).exp(),
        );
    }
    if response.dragged() {
        let by = response.drag_delta();
        let by = DVec2::new(by.x.into(), by.y.into());
        let shift = ui.input(|i| i.modifiers.shift);
        if shift || !response.dragged_by(PointerButton::Primary) {
            aside(state, by);
        } else {
            // The near side goes with the hand.
            turn(state, DVec2::new(-by.x, by.y) * PER_POINT);
        }
        ui.set_cursor_icon(CursorIcon::Grabbing);
    }
    if response.double_clicked() {
        state.moved_by_hand = false;
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        keys(ui, response, state);
    }
}

fn turn(state: &mut Turned, by: DVec2) {
    state.eye = state.eye.turned(by.x, by.y);
    state.moved_by_hand |= by != DVec2::ZERO;
    state.moves |= by != DVec2::ZERO;
}

fn nearer(state: &mut Turned, place: DVec2, factor: f64) {
    let scale = (state.eye.scale * factor).clamp(SCALES[0], SCALES[1]);
    let factor = scale / state.eye.scale;
    if factor != 1.0 {
        state.eye = state.eye.nearer_at(place, factor);
        state.moved_by_hand = true;
        state.moves = true;
    }
}

fn aside(state: &mut Turned, by: DVec2) {
    state.eye.focus -= state.eye.step(by);
    state.moved_by_hand = true;
    state.moves = true;
}

fn keys(ui: &Ui, response: &Response, state: &mut Turned) {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    let shift = ui.input(|i| i.modifiers.shift);
    for (key, way) in [
        (Key::ArrowLeft, DVec2::new(-1.0, 0.0)),
        (Key::ArrowRight, DVec2::new(1.0, 0.0)),
        (Key::ArrowUp, DVec2::new(0.0, 1.0)),
        (Key::ArrowDown, DVec2::new(0.0, -1.0)),
    ] {
        match (pressed(key), shift) {
            (true, false) => turn(state, way * PER_PRESS),
            (true, true) => aside(state, DVec2::new(-way.x, way.y) * ASIDE),
            _ => {}
        }
    }
    for (key, factor) in [(Key::Plus, 1.25), (Key::Equals, 1.25), (Key::Minus, 0.8)] {
        if pressed(key) {
            nearer(state, DVec2::ZERO, factor);
        }
    }
    if pressed(Key::Home) {
        state.moved_by_hand = false;
    }
}
