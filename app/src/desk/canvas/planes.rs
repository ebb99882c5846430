//! Cutting planes as the other views show them: lines one can take hold of.

use egui::{Align2, CursorIcon, Pos2, Rect, Sense, Ui, WidgetInfo, pos2, vec2};

use super::camera::View;
use super::ink::{self, Dash};
use super::labels::Labels;
use super::paint::Pane;
use crate::desk::edit::Ask;
use crate::desk::theme::is_large;
use crate::figures::Figures;

/// Draws the cutting planes of the other two views, and lets them be moved.
///
/// * `title`: the pane's title, which they keep off
pub fn planes(
    ui: &Ui,
    pane: &Pane,
    title: Rect,
    cuts: [f64; 3],
    figures: Figures,
    labels: &mut Labels,
    asks: &mut Vec<Ask>,
) {
    for other in View::ALL {
        if let Some(upright) = pane.view.shows_upright(other) {
            plane(
                ui,
                pane,
                title,
                other,
                upright,
                cuts[other as usize],
                figures,
                labels,
                asks,
            );
        }
    }
}

/// How close the pointer must come to take hold of a line, points.
const REACH: f32 = 4.0;

/// The same where targets are large, points.
const LARGE_REACH: f32 = 22.0;

#[allow(clippy::too_many_arguments)] // one line with everything it takes to draw and move it
fn plane(
    ui: &Ui,
    pane: &Pane,
    title: Rect,
    other: View,
    upright: bool,
    at: f64,
    figures: Figures,
    labels: &mut Labels,
    asks: &mut Vec<Ask>,
) {
    let on_line = pane.pos(pane.view.flat(point_at(other, at)));
    let rect = pane.rect;
    let inside = if upright {
        rect.x_range().contains(on_line.x)
    } else {
        rect.y_range().contains(on_line.y)
    };
    if !inside {
        return;
    }
    let ends = if upright {
        [
            pos2(
                on_line.x,
                if on_line.x < title.right() + 10.0 {
                    title.bottom() + 3.0
                } else {
                    rect.top() + 4.0
                },
            ),
            pos2(on_line.x, rect.bottom() - 26.0),
        ]
    } else {
        [
            pos2(rect.left() + 4.0, on_line.y),
            pos2(rect.right() - 4.0, on_line.y),
        ]
    };
    let reach = if is_large(ui) { LARGE_REACH } else { REACH };
    let grab = Rect::from_two_pos(ends[0], ends[1]).expand(reach);
    let id = ui
        .scope_id()
        .with(("cutting plane", pane.view as u8, other as u8));
    let response = ui.interact(grab, id, Sense::click_and_drag());
    let words = format!(
        "cutting plane {} in {}, {} {}",
        other.letter(),
        pane.view.title(),
        other.axis_word(),
        figures.length(at)
    );
    response.widget_info(|| WidgetInfo::slider(true, at, &words));
    let cursor = if upright {
        CursorIcon::ResizeHorizontal
    } else {
        CursorIcon::ResizeVertical
    };
    let response = response.on_hover_and_drag_cursor(cursor);
    if response.dragged()
        && let Some(pointer) = ui.input(|i| i.pointer.latest_pos())
    {
        let flat = pane
            .camera
            .to_flat(pane.view, ink::vec(rect.center()), ink::vec(pointer));
        asks.push(Ask::CutAt(other, along_axis(pane.view, other, flat)));
    }
    if response.has_focus() {
        let step = nudge(ui, id, upright);
        if step != 0.0 {
            asks.push(Ask::CutAt(other, at + step * axis_sign(pane.view, other)));
        }
    }
    let lit = response.hovered() || response.dragged() || response.has_focus();
    draw(pane, ends, other, lit, labels);
}

/// A point on the cutting plane of a view.
fn point_at(view: View, at: f64) -> glam::DVec3 {
    match view {
        View::LookingIn => glam::DVec3::new(0.0, at, 0.0),
        View::FromAbove => glam::DVec3::new(0.0, 0.0, at),
        View::FromSide => glam::DVec3::new(at, 0.0, 0.0),
    }
}

/// Where along the axis of `other` a flat point of `view` lies, mm.
fn along_axis(view: View, other: View, flat: glam::DVec2) -> f64 {
    let unit = view.flat(point_at(other, 1.0));
    flat.dot(unit) / unit.length_squared()
}

/// Whether the axis of `other` runs right or down on screen (1) or left or up (-1).
fn axis_sign(view: View, other: View) -> f64 {
    let unit = view.flat(point_at(other, 1.0));
    if unit.x + unit.y >= 0.0 { 1.0 } else { -1.0 }
}

/// What the arrow keys ask of a line that has the focus: 1 mm, or 10 with shift.
fn nudge(ui: &Ui, id: egui::Id, upright: bool) -> f64 {
    let filter = egui::EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let (less, more) = if upright {
        (egui::Key::ArrowLeft, egui::Key::ArrowRight)
    } else {
        (egui::Key::ArrowUp, egui::Key::ArrowDown)
    };
    ui.input(|i| {
        let step = if i.modifiers.shift { 10.0 } else { 1.0 };
        let pressed = |key| if i.key_pressed(key) { step } else { 0.0 };
        pressed(more) - pressed(less)
    })
}

fn draw(pane: &Pane, ends: [Pos2; 2], other: View, lit: bool, labels: &mut Labels) {
    let colour = if lit {
        pane.paper.lit
    } else {
        pane.paper.faint
    };
    let way = (ends[1] - ends[0]).normalized();
    ink::line(
        pane.painter,
        &ends,
        if lit { 1.6 } else { 0.9 },
        colour,
        Dash::Chain,
    );
    // Thick ends, as ISO 128-3 draws a cutting plane.
    for (end, inward) in [(ends[0], way), (ends[1], -way)] {
        ink::line(
            pane.painter,
            &[end, end + inward * 12.0],
            2.4,
            colour,
            Dash::Full,
        );
    }
    let font = ink::lettering(1.1);
    let plate = Rect::from_center_size(ends[0] + way * 22.0, vec2(16.0, 16.0));
    labels.keep_free(plate);
    pane.painter.rect_filled(plate, 8.0, pane.paper.sheet);
    pane.painter.text(
        plate.center(),
        Align2::CENTER_CENTER,
        other.letter(),
        font,
        colour,
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dragging_finds_the_axis_again() {
        for view in View::ALL {
            for other in View::ALL {
                if view.shows_upright(other).is_none() {
                    continue;
                }
                let flat = view.flat(point_at(other, 37.5));
                assert!(
                    (along_axis(view, other, flat) - 37.5).abs() < 1e-12,
                    "{view:?} {other:?}"
                );
                let upright = view.shows_upright(other) == Some(true);
                assert_eq!(upright, flat.x != 0.0);
            }
        }
    }
}
