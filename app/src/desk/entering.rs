//! The way of the Enter key through the fields: on in measuring order, and back
//! with Shift.
//!
//! Fields are met in the order they are drawn in, which is the order one
//! measures in.

use egui::{Context, Event, Id, Key, Ui};

/// Which way Enter leads from a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To the next.
    On,
    /// To the one before.
    Back,
}

/// What is remembered from field to field of one frame, and to the next frame.
#[derive(Clone, Default)]
struct Trail {
    frame: u64,
    /// The field met last in this frame.
    last: Option<Id>,
    /// Whether the next field met takes the focus.
    on: bool,
    /// Where Enter was pressed in this frame.
    pressed: Option<Way>,
    /// A field (its label) that takes the focus as soon as it is met.
    wanted: Option<String>,
    /// A field that has been given the focus and has not noticed yet.
    given: Option<Id>,
}

fn with<R>(ctx: &Context, change: impl FnOnce(&mut Trail) -> R) -> R {
    let frame = ctx.cumulative_frame_nr();
    ctx.data_mut(|data| {
        let trail: &mut Trail = data.get_temp_mut_or_default(Id::unique("way of the Enter key"));
        if trail.frame != frame {
            (trail.last, trail.on, trail.pressed) = (None, false, None);
            trail.frame = frame;
        }
        change(trail)
    })
}

/// A field that takes the focus as soon as it is drawn, by its label.
pub fn focus_on(ctx: &Context, label: &str) {
    with(ctx, |trail| trail.wanted = Some(label.to_owned()));
    ctx.request_repaint();
}

/// Notes that a field has been drawn; gives it the focus when it is its turn.
/// True when it has just been given.
pub fn meet(ui: &Ui, id: Id, label: &str) -> bool {
    let (take, given) = with(ui.ctx(), |trail| {
        let named = trail.wanted.as_deref() == Some(label);
        if named {
            trail.wanted = None;
        }
        let take = named || trail.on;
        trail.on &= !take;
        let given = trail.given == Some(id);
        if given {
            trail.given = None;
        }
        (take, given)
    });
    if take {
        ui.memory_mut(|memory| memory.request_focus(id));
        ui.ctx().request_repaint();
    }
    take || given
}

/// Notes where a field's turn ends: what is met from here on comes after it.
pub fn pass(ui: &Ui, id: Id) {
    with(ui.ctx(), |trail| trail.last = Some(id));
}

/// Enter was pressed in a field: the next one, or with Shift the one before, takes the focus.
pub fn go(ui: &Ui) {
    let back = ui.input(|input| input.events.iter().any(is_enter_with_shift));
    let before = with(ui.ctx(), |trail| {
        trail.pressed = Some(if back { Way::Back } else { Way::On });
        trail.on = !back;
        if back {
            trail.given = trail.last;
        }
        trail.last.filter(|_| back)
    });
    if let Some(before) = before {
        ui.memory_mut(|memory| memory.request_focus(before));
    }
    ui.ctx().request_repaint();
}

/// Told by the press itself: in a slow frame Shift may be up again already.
fn is_enter_with_shift(event: &Event) -> bool {
    matches!(event, Event::Key { key: Key::Enter, pressed: true, modifiers, .. } if modifiers.shift)
}

/// Whether Enter was pressed in a field of this frame, for one who leads the way otherwise.
pub fn take(ui: &Ui) -> Option<Way> {
    with(ui.ctx(), |trail| {
        trail.on = false;
        trail.pressed.take()
    })
}

/// Whether Enter is what took the focus away just now.
pub fn is_pressed(ui: &Ui) -> bool {
    ui.input(|input| input.key_pressed(Key::Enter))
}
