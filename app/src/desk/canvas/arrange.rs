//! How the views share the canvas, and the borders between them.
//!
//! ```text
//!   turned, or key | from above
//!   ---------------+--------------
//!   looking in     | from the side
//! ```
//!
//! Third-angle projection: neighbours share an axis. The free corner holds the
//! turned view, as a workshop drawing puts a pictorial view there.

use egui::{
    CursorIcon, EventFilter, Key, Pos2, Rect, Role, Sense, Stroke, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use glam::{DVec2, DVec3};

use super::MARGIN;
use super::camera::View;
use crate::desk::theme::Paper;

/// Where the views lie.
pub struct Arrangement {
    /// Each section shown, and its pane.
    pub views: Vec<(View, Rect)>,
    /// The free corner, where all three sections are shown.
    pub corner: Option<Rect>,
}

/// Gap between panes, points.
const GAP: f32 = 6.0;
/// Smallest room for three views, points.
const SMALL: Vec2 = vec2(520.0, 300.0);
/// Least share of the room that a border leaves on either side.
const LEAST: f32 = 0.18;

/// The shares of the left column and of the upper row at which all views show
/// the same at the largest scale.
pub fn shares(room: Rect, extent: [DVec3; 2]) -> Vec2 {
    let size = (extent[1] - extent[0]).max(DVec3::splat(1.0));
    let share = |first: f64, second: f64, margin: f64, whole: f32| {
        // Both get their margins; the rest is shared as the lengths are.
        let whole = f64::from(whole - GAP);
        let rest = (whole - 4.0 * margin).max(0.0);
        ((2.0 * margin + rest * first / (first + second)) / whole.max(1.0)) as f32
    };
    vec2(
        share(size.x, size.y, MARGIN.x, room.width()).clamp(0.25, 0.6),
        share(size.x, size.z, MARGIN.y, room.height()).clamp(0.25, 0.75),
    )
}

/// Divides the room.
///
/// * `shares`: of the left column and of the upper row
pub fn arrange(room: Rect, shares: Vec2, alone: Option<View>) -> Arrangement {
    // Too small for three: the one along the slide line says most.
    let small = room.height() < SMALL.y || room.width() < SMALL.x;
    if let Some(view) = alone.or(small.then_some(View::FromSide)) {
        return Arrangement {
            views: vec![(view, room)],
            corner: None,
        };
    }
    let middle = middle(room, shares);
    let half = 0.5 * GAP;
    let (left, right) = (middle.x - half, middle.x + half);
    let (top, bottom) = (middle.y - half, middle.y + half);
    let rect = |min: Pos2, max: Pos2| Rect::from_min_max(min, max);
    Arrangement {
        views: vec![
            (
                View::LookingIn,
                rect(pos2(room.left(), bottom), pos2(left, room.bottom())),
            ),
            (
                View::FromAbove,
                rect(pos2(right, room.top()), pos2(room.right(), top)),
            ),
            (View::FromSide, rect(pos2(right, bottom), room.max)),
        ],
        corner: Some(rect(room.min, pos2(left, top))),
    }
}

fn middle(room: Rect, shares: Vec2) -> Pos2 {
    room.min + shares * room.size()
}

/// Lets the borders be moved; the shares they are moved to.
pub fn borders_ui(ui: &Ui, room: Rect, shares: Vec2) -> Option<Shares> {
    let mut moved = None;
    let mut shares = shares;
    for upright in [true, false] {
        let middle = middle(room, shares);
        let strip = if upright {
            Rect::from_x_y_ranges(middle.x - GAP..=middle.x + GAP, room.y_range())
        } else {
            Rect::from_x_y_ranges(room.x_range(), middle.y - GAP..=middle.y + GAP)
        };
        let strip = strip.shrink(0.25 * GAP);
        let id = ui.scope_id().with(("border", upright));
        let response = ui.interact(strip, id, Sense::click_and_drag());
        let (name, cursor) = if upright {
            (
                "border between the left and the right views",
                CursorIcon::ResizeHorizontal,
            )
        } else {
            (
                "border between the upper and the lower views",
                CursorIcon::ResizeVertical,
            )
        };
        response.widget_info(|| WidgetInfo::labeled(Role::Splitter, true, name));
        let response = response.on_hover_and_drag_cursor(cursor);
        let mut by = Vec2::ZERO;
        if response.dragged() {
            by = response.drag_delta();
        }
        if response.clicked() {
            response.request_focus();
        }
        if response.has_focus() {
            by += keys(ui, id);
            if ui.input(|i| i.key_pressed(Key::Home)) {
                return Some(Shares::AsFits);
            }
        }
        if response.double_clicked() {
            return Some(Shares::AsFits);
        }
        let axis = usize::from(!upright);
        if by[axis] != 0.0 {
            let share = shares[axis] + by[axis] / room.size()[axis].max(1.0);
            shares[axis] = share.clamp(LEAST, 1.0 - LEAST);
            moved = Some(Shares::At(shares));
        }
        let on = response.hovered() || response.dragged() || response.has_focus();
        grip(ui, strip, upright, on);
    }
    moved
}

/// What the hand wants of the borders.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shares {
    /// Where the views show most.
    AsFits,
    /// Just there.
    At(Vec2),
}

fn keys(ui: &Ui, id: egui::Id) -> Vec2 {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let pressed = |less: Key, more: Key| {
        let count = |key| ui.input(|i| i.num_presses(key)) as f32;
        12.0 * (count(more) - count(less))
    };
    vec2(
        pressed(Key::ArrowLeft, Key::ArrowRight),
        pressed(Key::ArrowUp, Key::ArrowDown),
    )
}

/// Two short lines in the middle of a border.
fn grip(ui: &Ui, strip: Rect, upright: bool, on: bool) {
    let paper = Paper::current(ui.ctx());
    let pen = if on {
        Stroke::new(2.0, paper.lit)
    } else {
        Stroke::new(1.0, paper.faint)
    };
    let along = if upright {
        vec2(0.0, 11.0)
    } else {
        vec2(11.0, 0.0)
    };
    let across = vec2(along.y, along.x).normalized() * 1.6;
    // Beside the place where both borders cross.
    let at = if upright {
        pos2(strip.center().x, strip.top() + 0.25 * strip.height())
    } else {
        pos2(strip.left() + 0.25 * strip.width(), strip.center().y)
    };
    for side in [-1.0, 1.0] {
        let middle = at + across * side;
        ui.painter()
            .line_segment([middle - along, middle + along], pen);
    }
}

/// The largest rooms of the panes for fitting everything into them.
pub fn rooms(layout: &Arrangement, margin: DVec2) -> Vec<(View, DVec2)> {
    let size = |rect: Rect| DVec2::new(rect.width().into(), rect.height().into());
    layout
        .views
        .iter()
        .map(|&(view, rect)| (view, size(rect) - 2.0 * margin))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const EXTENT: [DVec3; 2] = [
        DVec3::new(-100.0, -25.0, -98.0),
        DVec3::new(100.0, 262.0, 55.0),
    ];

    #[test]
    fn neighbours_share_an_axis() {
        let room = Rect::from_min_size(pos2(300.0, 100.0), vec2(980.0, 560.0));
        let panes = arrange(room, shares(room, EXTENT), None);
        let of = |view: View| {
            let mut views = panes.views.iter();
            views.find(|(v, _)| *v == view).expect("all three").1
        };
        let (front, above, side) = (of(View::LookingIn), of(View::FromAbove), of(View::FromSide));
        assert_eq!(front.y_range(), side.y_range());
        assert_eq!(above.x_range(), side.x_range());
        let corner = panes.corner.expect("there is one");
        for (_, rect) in &panes.views {
            assert!(room.contains_rect(*rect));
            assert!(!corner.intersects(*rect));
        }
    }

    #[test]
    fn one_view_alone_takes_all() {
        let room = Rect::from_min_size(pos2(0.0, 0.0), vec2(980.0, 560.0));
        let panes = arrange(room, vec2(0.4, 0.5), Some(View::FromAbove));
        assert_eq!(panes.views, vec![(View::FromAbove, room)]);
        let small = Rect::from_min_size(pos2(0.0, 0.0), vec2(400.0, 560.0));
        assert_eq!(arrange(small, vec2(0.4, 0.5), None).views.len(), 1);
    }
}
