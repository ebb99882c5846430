//! The tag with how many names found no room in a pane.

use std::sync::Arc;

use egui::{Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use super::camera::View;
use super::ink;
use super::labels::Labels;
use super::paint::Pane;
use crate::desk::theme::is_large;

/// A place is kept for a tag with so many names.
const MOST_LEFT_OUT: usize = 88;

/// The room kept for the tag, whatever will be left out.
pub fn place(ui: &Ui, pane: &Pane) -> Rect {
    tag_rect(ui, pane, MOST_LEFT_OUT).0
}

/// Where the tag with what was left out goes, and its words.
fn tag_rect(ui: &Ui, pane: &Pane, count: usize) -> (Rect, Arc<egui::Galley>) {
    let words = format!("+ {count} {}", if count == 1 { "name" } else { "names" });
    let galley = pane
        .painter
        .layout_no_wrap(words, ink::lettering(0.95), pane.paper.ink);
    let mut size = galley.size() + vec2(8.0, 2.0);
    if is_large(ui) {
        size = size.max(egui::Vec2::splat(ui.spacing().interact_size.y));
    }
    let above_ruler = if pane.view == View::LookingIn {
        4.0
    } else {
        26.0
    };
    let corner = pos2(
        pane.rect.left() + 5.0,
        pane.rect.bottom() - size.y - above_ruler,
    );
    (Rect::from_min_size(corner, size), galley)
}

/// What there was no room for: a tag with how many, which lists them when it is
/// pointed at, pressed, or has the focus.
pub fn tag_ui(ui: &Ui, pane: &Pane, labels: &Labels) {
    let left_out = labels.left_out();
    if left_out.is_empty() {
        return;
    }
    let colour = pane.paper.ink;
    let (place, galley) = tag_rect(ui, pane, left_out.len());
    let id = ui.scope_id().with(("left out", pane.view as u8));
    let response = ui.interact(place, id, Sense::click());
    let label = format!(
        "not named in {}: {}",
        pane.view.title(),
        left_out.join(", ")
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if response.clicked() {
        response.request_focus();
    }
    let on = response.hovered() || response.has_focus();
    let rim = Stroke::new(1.0, if on { pane.paper.lit } else { pane.paper.faint });
    let inside = egui::StrokeKind::Inside;
    pane.painter.rect(place, 1.0, pane.paper.sheet, rim, inside);
    pane.painter
        .galley(place.center() - 0.5 * galley.size(), galley, colour);
    if on {
        let galley = pane.painter.layout(
            left_out.join("\n"),
            ink::lettering(1.0),
            colour,
            pane.rect.width() - 24.0,
        );
        let size = galley.size() + vec2(12.0, 8.0);
        let top = (place.top() - size.y - 3.0).max(pane.rect.top() + 2.0);
        let list = Rect::from_min_size(pos2(place.left(), top), size);
        pane.painter.rect(list, 2.0, pane.paper.sheet, rim, inside);
        pane.painter
            .galley(list.min + vec2(6.0, 4.0), galley, colour);
    }
}
