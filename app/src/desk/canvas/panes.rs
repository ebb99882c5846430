//! One pane: its frame, its title, and the hand on it.

use egui::{
    Align, CursorIcon, EventFilter, Key, Layout, PointerButton, Rect, Role, Sense, Stroke, Ui,
    WidgetInfo, pos2, vec2,
};
use glam::DVec2;

use super::camera::View;
use super::handles::hand as handles;
use super::labels::Labels;
use super::layers::Layer;
use super::measure;
use super::paint::Pane;
use super::{
    CanvasState, Shown, asked, beside, clears, dims, ink, left_out, notes, pick, planes, pull, walk,
};
use crate::desk::edit::{Ask, Target};
use crate::desk::model::lead_note;
use crate::desk::theme::{Paper, is_large};

/// Draws one pane and answers the hand on it.
pub fn pane_ui(
    ui: &mut Ui,
    view: View,
    rect: Rect,
    paper: Paper,
    state: &mut CanvasState,
    shown: Shown,
    asks: &mut Vec<Ask>,
) {
    let response = ui.interact(
        rect,
        ui.scope_id().with(("pane", view as u8)),
        Sense::click_and_drag(),
    );
    let at = state.cuts[view as usize];
    let label = format!(
        "{}, cut at {} {}",
        view.title(),
        view.axis_word(),
        shown.figures.length(at)
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
    let chosen = shown.attention.chosen;
    let middle = ink::vec(rect.center());
    let pulling = !state.measuring.on
        && pull::hand(
            ui,
            &response,
            view,
            &state.camera,
            middle,
            (shown.model, chosen),
            &mut state.pull,
            asks,
        );
    hand(ui, &response, view, rect, state, shown, asks);

    let painter = ui.painter_at(rect.shrink(1.0));
    let camera = state.camera;
    let cuts = state.cuts;
    let layers = state.layers;
    let section = state.outlines.section(shown.model, view, at, layers);
    let pane = Pane {
        painter: &painter,
        view,
        camera: &camera,
        rect,
        paper,
        attention: shown.attention,
        layers,
    };
    let mut told: Option<(egui::Pos2, Vec<String>)> = None;
    if !state.measuring.on && !pulling {
        let under = |place: egui::Pos2| {
            let flat = camera.to_flat(view, ink::vec(rect.center()), ink::vec(place));
            pick::under(shown.model, section, layers, view, flat, 4.0 / camera.scale)
        };
        if response.drag_started_by(PointerButton::Primary)
            && let Some(pressed) = ui.input(|i| i.pointer.press_origin())
        {
            let target = under(pressed);
            if state
                .hand
                .take_whole(&pane, shown, pressed, target.as_ref())
            {
                state.moved_by_hand = true;
            }
        }
        let pointer = response.hover_pos().filter(|_| response.hovered());
        if let Some((pointer, target)) = pointer.and_then(|at| Some((at, under(at)?))) {
            let flat = camera.to_flat(view, middle, ink::vec(pointer));
            let mut lines = lead_note(shown.model, &target, shown.figures);
            if pull::can_pull(shown.model, chosen, view, flat, camera.scale) {
                ui.set_cursor_icon(CursorIcon::Grab);
                if !lines.is_empty() {
                    lines.push("Pull it where it is to pass.".to_owned());
                }
            } else {
                ui.set_cursor_icon(CursorIcon::PointingHand);
            }
            told = (!lines.is_empty()).then_some((pointer, lines));
            if response.clicked_by(PointerButton::Primary) {
                asks.push(match &target {
                    Target::Exit(exit) => Ask::Loom(exit.clone()),
                    _ => Ask::Choose(target.clone()),
                });
            }
            asks.push(Ask::Point(target));
        }
    }
    pane.section(shown.model, section, at);
    if layers.has(Layer::Clears) {
        clears::clears(&pane, shown.model, section);
    }
    let mut labels = Labels::new(rect);
    let title = title_rect(ui, view, rect, at, shown);
    labels.keep_free(title.expand(2.0));
    labels.keep_free(left_out::place(ui, &pane));
    if state.walk {
        walk::keep_free(ui, &pane, cuts, shown.model, &mut labels);
    }
    if let Some(asked) = shown.asked {
        asked::asked(&pane, asked, &mut labels);
    }
    planes::planes(ui, &pane, title, cuts, shown.figures, &mut labels, asks);
    let plate = if state.measuring.on {
        None
    } else {
        handles::hand_ui(ui, &pane, &mut state.hand, shown, at, &mut labels, asks)
    };
    state.moved_by_hand |= state.hand.is_holding();
    measure::lines_ui(
        ui,
        &pane,
        &state.measuring.lines,
        shown.figures,
        &mut labels,
        asks,
    );
    dims::depth_ruler(&pane, &mut labels, shown.figures);
    if layers.has(Layer::Dims) {
        dims::dims(&pane, &shown.model.dims, &mut labels, shown.figures);
    }
    ways(&pane, &mut labels);
    let all = layers.has(Layer::Names);
    notes::names(&pane, shown.model, section, shown.figures, all, &mut labels);
    pull::draw(&pane, shown.model, state.pull.as_ref());
    let sheet = measure::Sheet {
        model: shown.model,
        section,
        figures: shown.figures,
    };
    measure::hand_ui(ui, &pane, &response, &mut state.measuring, sheet);
    if let Some(plate) = plate {
        plate.draw(&pane, shown.figures);
    } else if let Some((pointer, lines)) = told {
        beside::note(&painter, rect, &paper, pointer, &lines);
    }
    left_out::tag_ui(ui, &pane, &labels);
    title_ui(ui, view, title, state, shown, asks);
    if response.has_focus() {
        let stroke = Stroke::new(2.0, paper.lit);
        ui.painter()
            .rect_stroke(rect, 0.0, stroke, egui::StrokeKind::Inside);
    }
}

/// Words at the edges of a pane that say which way is which.
fn ways(pane: &Pane, labels: &mut Labels) {
    let rect = pane.rect;
    let (top, bottom, right) = match pane.view {
        View::LookingIn => ("", "", "right"),
        View::FromAbove => ("left", "right", "into the dash"),
        View::FromSide => ("", "", "into the dash"),
    };
    let colour = pane.paper.faint;
    let mut write = |text: &str, corner: fn(Rect, egui::Vec2) -> egui::Pos2| {
        if text.is_empty() {
            return;
        }
        let galley = pane
            .painter
            .layout_no_wrap(text.to_owned(), ink::lettering(0.95), colour);
        if let Some(place) = labels.first_free(galley.size(), [corner(rect, galley.size())]) {
            pane.painter.rect_filled(
                place.expand2(vec2(2.0, 0.0)),
                1.0,
                pane.paper.sheet.gamma_multiply(0.85),
            );
            pane.painter.galley(place.left_top(), galley, colour);
        }
    };
    write(right, |rect, size| {
        pos2(rect.right() - size.x - 8.0, rect.bottom() - size.y - 26.0)
    });
    write(top, |rect, size| {
        pos2(rect.right() - size.x - 8.0, rect.top() + 8.0)
    });
    write(bottom, |rect, size| {
        pos2(
            rect.right() - size.x - 8.0,
            rect.bottom() - 2.0 * size.y - 30.0,
        )
    });
}

/// Gap between the pieces of a title, points.
const PIECES: f32 = 5.0;

fn name_of(view: View) -> String {
    format!("{}  {}", view.letter(), view.title())
}

/// Height of the title of a pane, points.
pub(super) fn title_height(ui: &Ui) -> f32 {
    if is_large(ui) {
        return ui.spacing().interact_size.y;
    }
    26.0_f32.max(ui.text_style_height(&egui::TextStyle::Body) + 8.0)
}

/// Where the title goes: just as wide as what stands in it.
fn title_rect(ui: &Ui, view: View, rect: Rect, at: f64, shown: Shown) -> Rect {
    let body = egui::TextStyle::Body.resolve(ui.style());
    let width = |text: String| {
        let colour = egui::Color32::BLACK;
        let galley = ui.painter().layout_no_wrap(text, body.clone(), colour);
        galley.size().x
    };
    let padding = 2.0 * ui.spacing().button_padding.x;
    let name = width(name_of(view)) + padding;
    let value = (width(shown.figures.bare(at)) + padding).max(ui.spacing().interact_size.x);
    let mut whole = name + PIECES + value;
    let words = width(format!("at {}", view.axis_word())) + width(shown.figures.word().to_owned());
    if whole + words + 2.0 * PIECES + 16.0 <= rect.width() {
        whole += words + 2.0 * PIECES;
    }
    let size = vec2((rect.width() - 8.0).min(whole + 6.0), title_height(ui));
    Rect::from_min_size(rect.min + vec2(3.0, 2.0), size)
}

fn title_ui(
    ui: &mut Ui,
    view: View,
    rect: Rect,
    state: &CanvasState,
    shown: Shown,
    asks: &mut Vec<Ask>,
) {
    let paper = Paper::current(ui.ctx());
    ui.painter().rect_filled(rect, 0.0, paper.sheet);
    let builder = egui::UiBuilder::new()
        .max_rect(rect)
        .layout(Layout::left_to_right(Align::Center))
        .id_salt(("title", view as u8));
    let mut ui = ui.new_child(builder);
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    ui.spacing_mut().item_spacing.x = PIECES;
    if !is_large(&ui) {
        ui.spacing_mut().interact_size.y = 22.0;
        ui.spacing_mut().button_padding.y = 2.0;
    }
    ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Extend);
    let alone = state.alone == Some(view);
    let name = name_of(view);
    let body = egui::TextStyle::Body.resolve(ui.style());
    let name_width = ui
        .painter()
        .layout_no_wrap(name.clone(), body, paper.ink)
        .size()
        .x;
    // Where the words find no room, the number stands alone.
    let wordy = rect.width() > name_width + 120.0;
    if ui.selectable_label(alone, name).clicked() {
        asks.push(Ask::Alone((!alone).then_some(view)));
    }
    if wordy {
        ui.weak(format!("at {}", view.axis_word()));
    }
    let mut at = state.cuts[view as usize];
    let figures = shown.figures;
    let drag = egui::DragValue::new(&mut at)
        .speed(0.5)
        .custom_formatter(move |mm, _| figures.bare(mm))
        .custom_parser(|text| {
            profiles::Length::parse(text)
                .ok()?
                .measure()
                .map(|measure| measure.value())
        });
    let response =
        ui.add(drag)
            .accessible_name(format!("cut {} at {}", view.title(), view.axis_word()));
    if response.changed() {
        asks.push(Ask::CutAt(view, at));
    }
    if wordy {
        ui.weak(figures.word());
    }
}

fn hand(
    ui: &Ui,
    response: &egui::Response,
    view: View,
    rect: Rect,
    state: &mut CanvasState,
    shown: Shown,
    asks: &mut Vec<Ask>,
) {
    let middle = ink::vec(rect.center());
    if let Some(pointer) = response.hover_pos() {
        let (scroll, zoom) = ui.input(|i| (i.smooth_scroll_delta().y, i.zoom_delta()));
        let factor = f64::from(zoom) * (f64::from(scroll) / 240.0).exp();
        if factor != 1.0 {
            state
                .camera
                .zoom_at(view, middle, ink::vec(pointer), factor);
            state.moved_by_hand = true;
        }
    }
    if response.dragged() && state.pull.is_none() && !state.hand.is_holding() {
        let by = response.drag_delta();
        state.camera.pan(view, DVec2::new(by.x.into(), by.y.into()));
        state.moved_by_hand = true;
        ui.set_cursor_icon(CursorIcon::Grabbing);
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        keys(ui, response, view, middle, state, shown, asks);
    }
}

/// Arrows move what is chosen, or else the paper; with the command key always
/// the paper. While measuring they move the point.
fn keys(
    ui: &Ui,
    response: &egui::Response,
    view: View,
    middle: DVec2,
    state: &mut CanvasState,
    shown: Shown,
    asks: &mut Vec<Ask>,
) {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    let stride = if ui.input(|i| i.modifiers.shift) {
        10.0
    } else {
        1.0
    };
    let whole = handles::whole_of(&mut state.hand, shown, view);
    let pans = |key| {
        let held = handles::presses(ui, key);
        !state.measuring.on && held.iter().any(|held| held.command || whole.is_none())
    };
    let panned = handles::ARROWS
        .into_iter()
        .filter(|(key, _)| pans(*key))
        .map(|(_, way)| -24.0 * way)
        .fold(DVec2::ZERO, |sum, by| sum + by);
    if panned != DVec2::ZERO {
        state.camera.pan(view, panned);
        state.moved_by_hand = true;
    }
    if let Some(whole) = whole.filter(|_| !state.measuring.on)
        && let Some(by) = handles::arrows(ui, view, shown.figures)
    {
        handles::nudge(&whole, by, shown, asks);
        state.moved_by_hand = true;
    }
    for (key, factor) in [(Key::Plus, 1.25), (Key::Equals, 1.25), (Key::Minus, 0.8)] {
        if pressed(key) {
            state.camera.zoom_at(view, middle, middle, factor);
            state.moved_by_hand = true;
        }
    }
    for (key, by) in [(Key::PageDown, 1.0), (Key::PageUp, -1.0)] {
        if pressed(key) {
            state.cuts[view as usize] += by * stride;
        }
    }
    if pressed(Key::Home) {
        state.moved_by_hand = false;
    }
    if pressed(Key::F) {
        let alone = state.alone == Some(view);
        asks.push(Ask::Alone((!alone).then_some(view)));
    }
}
