//! The hand on handles: taking hold, dragging, letting go, nudging by keys.

use std::sync::Arc;

use egui::{
    CursorIcon, EventFilter, Id, Key, Modifiers, PointerButton, Pos2, Rect, Role, Sense, Ui,
    WidgetInfo,
};
use glam::{DVec2, DVec3};
use profiles::inline_alone;
use profiles::schema::JobFile;

use super::draw::{Mark, Plate, extent, mark_of};
use super::snap::{self, Stop};
use super::{AXES, Handle, Held, Reading, Source, axes_of};
use crate::desk::canvas::camera::View;
use crate::desk::canvas::labels::Labels;
use crate::desk::canvas::paint::Pane;
use crate::desk::canvas::{Shown, ink};
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Target};
use crate::figures::Figures;

/// How near a stop must be to be taken, points.
const SNAP: f64 = 7.0;

/// Gestures of the hand are told from those of fields by this.
const HAND: u64 = 0x6861_6e64 << 32;

/// What the hand is doing, and what it could take hold of.
#[derive(Default)]
pub struct Hand {
    drag: Option<Drag>,
    drags: u64,
    /// Why the last press of an arrow moved nothing, and which handle it was for.
    refused: Option<(String, String)>,
    /// The handles of what was last chosen, by revision.
    kept: Option<(u64, Target, Vec<Handle>)>,
}

/// Something held.
struct Drag {
    view: View,
    handle: Handle,
    /// The job as it was when the hand took hold.
    job: Arc<JobFile>,
    /// Where it took hold, on screen: the drawing may shift while words above
    /// it change, and must not drag the thing along.
    from: Pos2,
    by: DVec3,
    stops: Vec<Stop>,
    reached: Vec<Stop>,
    readings: Vec<Reading>,
    /// Why it goes no further.
    refused: Option<String>,
    changed: bool,
    gesture: Gesture,
}

impl Hand {
    /// Whether something is being dragged.
    pub fn is_holding(&self) -> bool {
        self.drag.is_some()
    }

    /// Forgets the job drawn before.
    pub fn begin(&mut self) {
        self.drag = None;
        self.refused = None;
        self.kept = None;
    }

    /// The handles of what is chosen.
    pub fn handles(&mut self, source: Source, chosen: Option<&Target>) -> &[Handle] {
        let Some(chosen) = chosen else {
            return &[];
        };
        let revision = source.model.revision;
        let fresh = matches!(&self.kept, Some((at, of, _)) if *at == revision && of == chosen);
        if !fresh {
            self.kept = Some((revision, chosen.clone(), super::of(source, chosen)));
        }
        self.kept.as_ref().map_or(&[], |(_, _, handles)| handles)
    }

    /// Takes hold of something.
    fn take(&mut self, shown: Shown, view: View, handle: Handle, from: Pos2) {
        self.drags += 1;
        self.drag = Some(Drag {
            view,
            stops: snap::stops(shown.model, &handle),
            handle,
            job: shown.job.clone(),
            from,
            by: DVec3::ZERO,
            reached: Vec::new(),
            readings: Vec::new(),
            refused: None,
            changed: false,
            gesture: Gesture(HAND | self.drags),
        });
    }

    /// Takes hold of the whole of what is chosen, where the pointer was pressed on it.
    ///
    /// * `under`: what lies under the pointer
    pub fn take_whole(
        &mut self,
        pane: &Pane,
        shown: Shown,
        pressed: Pos2,
        under: Option<&Target>,
    ) -> bool {
        let chosen = shown.attention.chosen;
        if chosen.is_none() || chosen != under {
            return false;
        }
        let whole = self
            .handles(shown.source(), chosen)
            .iter()
            .find(|handle| is_whole(handle))
            .cloned();
        let Some(whole) = whole else {
            return false;
        };
        self.take(shown, pane.view, whole, pressed);
        true
    }
}

/// Whether a handle moves all of what it belongs to.
fn is_whole(handle: &Handle) -> bool {
    matches!(
        &handle.held,
        Held::Obstacle(_, super::Piece::Whole)
            | Held::Pocket(_, super::Piece::Whole)
            | Held::Module(_)
            | Held::Exit(_)
    )
}

/// Draws the handles of one pane and answers the hand on them.
///
/// Returns the dimension that is changing, to be written over everything else.
pub fn hand_ui(
    ui: &Ui,
    pane: &Pane,
    hand: &mut Hand,
    shown: Shown,
    cut: f64,
    labels: &mut Labels,
    asks: &mut Vec<Ask>,
) -> Option<Plate> {
    let handles = hand.handles(shown.source(), shown.attention.chosen);
    let handles: Vec<Handle> = in_view(handles, pane.view, cut);
    let mut told = None;
    let mut taken = None;
    for handle in &handles {
        let Some(mark) = mark_of(ui, pane, handle) else {
            continue;
        };
        let id = ui
            .scope_id()
            .with(("handle", pane.view as u8, handle.name.as_str()));
        let response = ui.interact(mark.hit, id, Sense::click_and_drag());
        let mut label = label(handle, pane.view, shown.figures);
        let refused = hand.refused.as_ref().filter(|(of, _)| *of == handle.name);
        if let Some((_, why)) = refused {
            label = format!("{label}; {why}");
        }
        response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, &label));
        let cursor = cursor(handle, pane.view);
        let response = response.on_hover_and_drag_cursor(cursor);
        if response.drag_started_by(PointerButton::Primary)
            && let Some(pressed) = ui.input(|i| i.pointer.press_origin())
        {
            taken = Some((handle.clone(), pressed));
        }
        if response.clicked() {
            response.request_focus();
        }
        if response.hovered() {
            asks.push(Ask::Point(shown.attention.chosen?.clone()));
        }
        if response.lost_focus() {
            hand.refused = None;
            asks.push(Ask::Settle);
        }
        let focused = response.has_focus();
        if focused {
            if let Some(by) = arrows_of(ui, id, pane.view, shown.figures) {
                let why = nudge(handle, by, shown, asks);
                hand.refused = why.map(|why| (handle.name.clone(), why));
            }
            let refused = hand.refused.as_ref();
            let refused = refused.filter(|(of, _)| *of == handle.name);
            let refused = refused.map(|(_, why)| why.clone());
            told = Some(Plate::of(handle, &handle.readings, refused, &[], mark.at));
        }
        labels.keep_free(Rect::from_center_size(mark.at, egui::Vec2::splat(12.0)));
        let held = hand.drag.as_ref().map(|drag| &drag.handle.held) == Some(&handle.held);
        mark.draw(pane, focused || response.hovered() || held, focused);
    }
    if let Some((handle, pressed)) = taken {
        hand.take(shown, pane.view, handle, pressed);
    }
    let mut plate = follow(ui, pane, hand, shown, asks).or(told)?;
    let things = shown.model.things.iter();
    let held = things.filter(|thing| Some(&thing.target) == shown.attention.chosen);
    let thing = held
        .map(|thing| {
            let bounds = thing.solid.bounds();
            extent(pane, [bounds.min, bounds.max])
        })
        .reduce(Rect::union);
    plate.reserve(pane, labels, shown.figures, thing);
    Some(plate)
}

/// The handles that can be moved in a view. Of the cross-sections seen from
/// the front, only the one at the cut: they all lie behind each other.
fn in_view(handles: &[Handle], view: View, cut: f64) -> Vec<Handle> {
    let depth = |handle: &Handle| handle.room[0].y;
    let nearest = handles
        .iter()
        .filter(|handle| matches!(handle.held, Held::Station(..)))
        .map(|handle| (depth(handle) - cut).abs())
        .fold(f64::INFINITY, f64::min);
    let wanted = |handle: &&Handle| {
        let behind = view == View::LookingIn
            && matches!(handle.held, Held::Station(..))
            && (depth(handle) - cut).abs() > nearest + 1e-9;
        handle.shows_in(view) && !behind
    };
    // What covers more comes first, so that smaller ones lie on top.
    let mut shown: Vec<Handle> = handles.iter().filter(wanted).cloned().collect();
    shown.sort_by_key(|handle| match handle.held {
        Held::Station(_, super::Wall::Depth) => 0,
        _ if is_whole(handle) => 2,
        _ => 1,
    });
    shown
}

fn label(handle: &Handle, view: View, figures: Figures) -> String {
    let on_sheet = axes_of(view);
    let mut values: Vec<String> = Vec::new();
    let free = |axis: usize| handle.free[axis] && on_sheet.contains(&axis);
    let mut seen = [false; 3];
    for reading in handle.readings.iter().filter(|it| free(it.axis)) {
        if !std::mem::replace(&mut seen[reading.axis], true) {
            values.push(value(reading, figures));
        }
    }
    format!(
        "{}, {}, in {}",
        handle.name,
        values.join(" by "),
        view.title()
    )
}

/// A reading's length as it is shown.
pub fn value(reading: &Reading, figures: Figures) -> String {
    reading
        .length
        .measure()
        .map_or_else(String::new, |measure| {
            figures.with_plus_minus(measure.value(), measure.plus_minus())
        })
}

fn cursor(handle: &Handle, view: View) -> CursorIcon {
    let across = |axis: usize| handle.free[axis] && view.flat(super::unit(axis)).x != 0.0;
    let down = |axis: usize| handle.free[axis] && view.flat(super::unit(axis)).y != 0.0;
    match ((0..3).any(across), (0..3).any(down)) {
        (true, false) => CursorIcon::ResizeHorizontal,
        (false, true) => CursorIcon::ResizeVertical,
        _ => CursorIcon::Move,
    }
}

/// Moves what is held after the pointer, and lets it go.
fn follow(
    ui: &Ui,
    pane: &Pane,
    hand: &mut Hand,
    shown: Shown,
    asks: &mut Vec<Ask>,
) -> Option<Plate> {
    let drag = hand.drag.as_mut().filter(|drag| drag.view == pane.view)?;
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        if drag.changed {
            asks.push(Ask::Undo);
        }
        hand.drag = None;
        return None;
    }
    let pointer = ui.input(|i| i.pointer.latest_pos());
    if let Some(pointer) = pointer {
        let free_hand = ui.input(|i| i.modifiers.alt);
        let moved = (ink::vec(pointer) - ink::vec(drag.from)) / pane.camera.scale;
        drag.go(pane, shown, moved, free_hand, asks);
    }
    let at = pointer.unwrap_or(pane.rect.center());
    let plate = Plate::of(
        &drag.handle,
        &drag.readings,
        drag.refused.clone(),
        &drag.reached,
        at,
    )
    .moved(drag.by);
    if ui.input(|i| !i.pointer.primary_down()) {
        asks.push(Ask::Settle);
        hand.drag = None;
    }
    Some(plate)
}

impl Drag {
    /// Brings it to a displacement on the sheet, mm.
    fn go(
        &mut self,
        pane: &Pane,
        shown: Shown,
        moved: DVec2,
        free_hand: bool,
        asks: &mut Vec<Ask>,
    ) {
        let scale = pane.camera.scale;
        let step = shown.figures.step(1.0 / scale);
        let asked = self.handle.allowed(pane.view.unflat(moved));
        let mut by = (asked / step).round() * step;
        let mut reached = Vec::new();
        if !free_hand {
            for axis in axes_of(pane.view) {
                if !self.handle.free[axis] {
                    continue;
                }
                let reach = SNAP / scale;
                let near = snap::nearest(&self.stops, &self.handle, axis, asked[axis], reach);
                if let Some((further, stop)) = near {
                    by[axis] = asked[axis] + further;
                    reached.push(stop.clone());
                }
            }
        }
        // Adding nought turns -0 into 0.
        by += DVec3::ZERO;
        self.reached = reached;
        if by == self.by {
            return;
        }
        let Some(moved) = self.handle.held.moved(&self.job, shown.library, by) else {
            return;
        };
        match refusal(&self.job, &moved.edit, shown) {
            Some(why) => self.refused = Some(why),
            None => {
                self.by = by;
                self.refused = None;
                self.changed = true;
                let changes = |reading: &Reading| by[reading.axis] != 0.0;
                self.readings = moved.readings.into_iter().filter(changes).collect();
                asks.push(Ask::Edit(moved.edit, Some(self.gesture)));
            }
        }
    }
}

/// Why a job cannot be so, when it cannot.
fn refusal(job: &JobFile, edit: &crate::desk::edit::Edit, shown: Shown) -> Option<String> {
    let mut next = job.clone();
    edit.clone().apply(&mut next);
    let faults = inline_alone(&next, shown.library).err()?;
    let first = faults.first()?;
    Some(format!("goes no further: wants {}", first.allowed))
}

/// The displacement that arrows ask of a handle that has the focus, mm.
fn arrows_of(ui: &Ui, id: Id, view: View, figures: Figures) -> Option<DVec3> {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    arrows(ui, view, figures)
}

/// The arrow keys, and the ways they point on the sheet.
pub const ARROWS: [(Key, DVec2); 4] = [
    (Key::ArrowLeft, DVec2::NEG_X),
    (Key::ArrowRight, DVec2::X),
    (Key::ArrowUp, DVec2::NEG_Y),
    (Key::ArrowDown, DVec2::Y),
];

/// What was held down at each press of a key in this frame. A slow frame may
/// bring several, and their modifiers may be up again by its end.
pub fn presses(ui: &Ui, key: Key) -> Vec<Modifiers> {
    let of_key = |event: &egui::Event| match event {
        egui::Event::Key {
            key: pressed_key,
            pressed: true,
            modifiers,
            ..
        } if *pressed_key == key => Some(*modifiers),
        _ => None,
    };
    ui.input(|i| i.events.iter().filter_map(of_key).collect())
}

/// The displacement that the arrow keys ask for in a view, mm: one step for
/// each press, with shift a fine one.
pub fn arrows(ui: &Ui, view: View, figures: Figures) -> Option<DVec3> {
    let mut flat = DVec2::ZERO;
    for (key, way) in ARROWS {
        for held in presses(ui, key) {
            if !held.command && !held.alt {
                flat += way * figures.nudge(held.shift);
            }
        }
    }
    (flat != DVec2::ZERO).then(|| view.unflat(flat))
}

/// Moves a handle by keys; all nudges in a row are one step of the history.
/// Why it would not go, when it would not.
pub fn nudge(handle: &Handle, by: DVec3, shown: Shown, asks: &mut Vec<Ask>) -> Option<String> {
    let by = handle.allowed(by);
    if by == DVec3::ZERO {
        return None;
    }
    let moved = handle.held.moved(shown.job, shown.library, by)?;
    let why = refusal(shown.job, &moved.edit, shown);
    if why.is_none() {
        let gesture = Gesture(Id::unique(("nudge", &handle.name)).value());
        asks.push(Ask::Edit(moved.edit, Some(gesture)));
    }
    why
}

/// The handle that arrows on a pane move: the whole of what is chosen.
pub fn whole_of(hand: &mut Hand, shown: Shown, view: View) -> Option<Handle> {
    hand.handles(shown.source(), shown.attention.chosen)
        .iter()
        .find(|handle| is_whole(handle) && handle.shows_in(view))
        .cloned()
}

/// What the axes of a displacement are called, with how far it goes.
pub fn displaced(by: DVec3, figures: Figures) -> String {
    let words: Vec<String> = (0..3)
        .filter(|&axis| by[axis] != 0.0)
        .map(|axis| {
            let sign = if by[axis] > 0.0 { "+" } else { "-" };
            format!("{} {sign}{}", AXES[axis], figures.bare(by[axis].abs()))
        })
        .collect();
    words.join(", ")
}

/// Where a mark is hit, and where its words belong.
pub struct Hit {
    /// The handle's mark.
    pub mark: Mark,
    /// Where a pointer takes hold of it.
    pub hit: Rect,
    /// Its middle.
    pub at: egui::Pos2,
}
