//! One pane: its frame, its title, and the hand on it.

use egui::{
    Align, CursorIcon, EventFilter, Key, Layout, PointerButton, Rect, Role, Sense, Ui, WidgetInfo,
    pos2, vec2,
};
use glam::{DVec2, DVec3};

use super::camera::View;
use super::labels::Labels;
use super::paint::Pane;
use super::{CanvasState, MARGIN, Shown, beside, dims, ink, notes, pick, planes, pull};
use crate::desk::edit::{Ask, Target};
use crate::desk::model::lead_note;
use crate::desk::theme::{Paper, is_large};

/// Where the panes and the key lie.
pub struct Arrangement {
    /// Each view shown, and its pane.
    pub views: Vec<(View, Rect)>,
    /// The corner for the key.
    pub key: Rect,
}

/// Gap between panes, points.
pub(super) const GAP: f32 = 6.0;
/// Smallest room for three views, points.
const SMALL: egui::Vec2 = vec2(600.0, 330.0);
/// Narrowest key, points.
pub(super) const KEY_WIDTH: f32 = 236.0;

/// The whole room for the key.
pub fn key_alone(room: Rect) -> Arrangement {
    Arrangement {
        views: Vec::new(),
        key: room,
    }
}

/// Divides the room in third-angle projection, so that neighbours share an axis.
pub fn arrange(room: Rect, extent: [DVec3; 2], alone: Option<View>) -> Arrangement {
    // Too small for three: the one along the slide line says most.
    let small = room.height() < SMALL.y || room.width() < SMALL.x;
    let alone = alone.or(small.then_some(View::FromSide));
    if let Some(view) = alone {
        let key = Rect::from_min_max(room.min, pos2(room.left() + KEY_WIDTH, room.bottom()));
        let rest = Rect::from_min_max(pos2(key.right() + GAP, room.top()), room.max);
        return Arrangement {
            views: vec![(view, rest)],
            key,
        };
    }
    let size = (extent[1] - extent[0]).max(DVec3::splat(1.0));
    let share = |first: f64, second: f64, margin: f64, whole: f32| {
        // Both get their margins; the rest is shared as the lengths are.
        let whole = f64::from(whole - GAP);
        let rest = (whole - 4.0 * margin).max(0.0);
        (2.0 * margin + rest * first / (first + second)) as f32
    };
    let left = share(size.x, size.y, MARGIN.x, room.width()).clamp(KEY_WIDTH, room.width() * 0.6);
    let top = share(size.x, size.z, MARGIN.y, room.height());
    let middle = pos2(room.left() + left, room.top() + top);
    let corner = |min_x: f32, min_y: f32, max_x: f32, max_y: f32| {
        Rect::from_min_max(pos2(min_x, min_y), pos2(max_x, max_y))
    };
    Arrangement {
        views: vec![
            (
                View::LookingIn,
                corner(room.left(), middle.y + GAP, middle.x, room.bottom()),
            ),
            (
                View::FromAbove,
                corner(middle.x + GAP, room.top(), room.right(), middle.y),
            ),
            (
                View::FromSide,
                corner(middle.x + GAP, middle.y + GAP, room.right(), room.bottom()),
            ),
        ],
        key: corner(room.left(), room.top(), middle.x, middle.y),
    }
}

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
    let camera = state.camera;
    let middle = ink::vec(rect.center());
    let pulling = pull::hand(
        ui,
        &response,
        view,
        &camera,
        middle,
        (shown.model, chosen),
        &mut state.pull,
        asks,
    );
    hand(ui, &response, view, rect, pulling, state);

    let painter = ui.painter_at(rect.shrink(1.0));
    let cuts = state.cuts;
    let section = state.outlines.section(shown.model, view, at);
    let mut told: Option<(egui::Pos2, Vec<String>)> = None;
    if let Some(pointer) = response
        .hover_pos()
        .filter(|_| response.hovered() && !pulling)
    {
        let flat = camera.to_flat(view, middle, ink::vec(pointer));
        let reach = 4.0 / camera.scale;
        if let Some(target) = pick::under(shown.model, section, view, flat, reach) {
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
    let pane = Pane {
        painter: &painter,
        view,
        camera: &camera,
        rect,
        paper,
        attention: shown.attention,
    };
    pane.section(shown.model, section, at);
    let mut labels = Labels::new(rect);
    let title = title_rect(ui, rect);
    labels.keep_free(title);
    if let Some(asked) = shown.asked {
        super::asked::asked(&pane, asked, &mut labels);
    }
    planes::planes(ui, &pane, cuts, shown.figures, &mut labels, asks);
    dims::depth_ruler(&pane, &mut labels, shown.figures);
    dims::dims(&pane, &shown.model.dims, &mut labels, shown.figures);
    notes::names(&pane, shown.model, section, shown.figures, &mut labels);
    ways(&pane, &mut labels);
    pull::draw(&pane, shown.model, state.pull.as_ref());
    if let Some((pointer, lines)) = told {
        beside::note(&painter, rect, &paper, pointer, &lines);
    }
    title_ui(ui, view, title, state, shown, asks);
    if response.has_focus() {
        let stroke = egui::Stroke::new(2.0, paper.lit);
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

fn title_rect(ui: &Ui, rect: Rect) -> Rect {
    let line = ui.text_style_height(&egui::TextStyle::Body);
    let height = if is_large(ui) {
        ui.spacing().interact_size.y
    } else {
        26.0_f32.max(line + 8.0)
    };
    let size = vec2((rect.width() - 8.0).min(15.5 * line), height);
    Rect::from_min_size(rect.min + vec2(4.0, 3.0), size)
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
    ui.painter()
        .rect_filled(rect, 2.0, paper.sheet.gamma_multiply(0.9));
    let builder = egui::UiBuilder::new()
        .max_rect(rect)
        .layout(Layout::left_to_right(Align::Center))
        .id_salt(("title", view as u8));
    let mut ui = ui.new_child(builder);
    ui.spacing_mut().item_spacing.x = 5.0;
    if !is_large(&ui) {
        ui.spacing_mut().interact_size.y = 22.0;
        ui.spacing_mut().button_padding.y = 2.0;
    }
    ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Extend);
    let alone = state.alone == Some(view);
    let name = format!("{}  {}", view.letter(), view.title());
    if ui.selectable_label(alone, name).clicked() {
        asks.push(Ask::Alone((!alone).then_some(view)));
    }
    ui.weak(format!("at {}", view.axis_word()));
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
    ui.weak(figures.word());
}

/// * `pulling`: whether a drag moves a point of a lead, not the paper
fn hand(
    ui: &Ui,
    response: &egui::Response,
    view: View,
    rect: Rect,
    pulling: bool,
    state: &mut CanvasState,
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
    if response.dragged() && !pulling {
        let by = response.drag_delta();
        state.camera.pan(view, DVec2::new(by.x.into(), by.y.into()));
        state.moved_by_hand = true;
        ui.set_cursor_icon(CursorIcon::Grabbing);
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        keys(ui, response, view, middle, state);
    }
}

fn keys(ui: &Ui, response: &egui::Response, view: View, middle: DVec2, state: &mut CanvasState) {
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
    for (key, by) in [
        (Key::ArrowLeft, DVec2::new(24.0, 0.0)),
        (Key::ArrowRight, DVec2::new(-24.0, 0.0)),
        (Key::ArrowUp, DVec2::new(0.0, 24.0)),
        (Key::ArrowDown, DVec2::new(0.0, -24.0)),
    ] {
        if pressed(key) {
            state.camera.pan(view, by);
            state.moved_by_hand = true;
        }
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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_share_an_axis() {
        let room = Rect::from_min_size(pos2(300.0, 100.0), vec2(980.0, 560.0));
        let extent = [
            DVec3::new(-100.0, -25.0, -98.0),
            DVec3::new(100.0, 262.0, 55.0),
        ];
        let panes = arrange(room, extent, None);
        let of = |view: View| {
            panes
                .views
                .iter()
                .find(|(v, _)| *v == view)
                .expect("all three")
                .1
        };
        let (front, above, side) = (of(View::LookingIn), of(View::FromAbove), of(View::FromSide));
        assert_eq!(front.y_range(), side.y_range());
        assert_eq!(above.x_range(), side.x_range());
        for (_, rect) in &panes.views {
            assert!(room.contains_rect(*rect));
            assert!(!panes.key.intersects(*rect));
        }
    }

    #[test]
    fn one_view_alone_takes_all_but_the_key() {
        let room = Rect::from_min_size(pos2(0.0, 0.0), vec2(980.0, 560.0));
        let panes = arrange(room, [DVec3::ZERO, DVec3::ONE], Some(View::FromSide));
        assert_eq!(panes.views.len(), 1);
        assert!(panes.views[0].1.width() > 700.0);
    }
}
