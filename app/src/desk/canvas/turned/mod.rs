//! The turned view: everything in three dimensions, seen from any side.
//!
//! What hides what is worked out cell by cell ([`geometry::sight`]) and put on
//! the paper as one picture; edges and names are drawn over it with the same
//! pens as the sections. A picture is kept until something in it changes.

mod hand;
mod names;
mod shapes;
mod show;

use std::time::Duration;

use egui::{Align, Layout, Rect, Role, Sense, Ui, WidgetInfo, vec2};
use geometry::sight::Eye;
use glam::{DVec2, DVec3};

use super::panes::title_height;
use super::{Shown, beside, ink};
use crate::desk::edit::{Ask, Kinds, Target, TurnedShown};
use crate::desk::model::lead_note;
use crate::desk::theme::{Paper, is_large};
use shapes::Shapes;
use show::Picture;

/// The picture is drawn in full once the hand has been still this long, s.
const STILL: f64 = 0.15;
/// Room kept around everything when it is fitted, points.
const MARGIN: f64 = 26.0;

/// What the turned view remembers between frames.
pub struct Turned {
    /// Where it is shown; `None` = as the room allows.
    pub shown: Option<TurnedShown>,
    /// Where the eye stands; its scale counts points.
    pub eye: Eye,
    /// Whether a hand has moved the eye; until then it keeps everything in sight.
    pub moved_by_hand: bool,
    /// Whether a hand moves the eye in this frame.
    moves: bool,
    /// When a hand last moved it, s.
    moved_at: Option<f64>,
    /// Whether one sees through the unit and its mount.
    pub through_unit: bool,
    /// Whether one sees through obstacles.
    pub through_obstacles: bool,
    shapes: Shapes,
    picture: Picture,
}

/// From the right, above and behind the installer's shoulder.
const FIRST_EYE: Eye = Eye {
    turn: 0.65,
    tilt: 0.5,
    scale: 1.0,
    focus: DVec3::ZERO,
};

impl Default for Turned {
    fn default() -> Turned {
        Turned {
            shown: None,
            eye: FIRST_EYE,
            moved_by_hand: false,
            moves: false,
            moved_at: None,
            through_unit: true,
            through_obstacles: false,
            shapes: Shapes::default(),
            picture: Picture::default(),
        }
    }
}

impl Turned {
    /// Forgets the job drawn before.
    pub fn begin(&mut self) {
        self.shapes = Shapes::default();
        self.moved_by_hand = false;
    }

    /// Turns to the right, as a hand does, rad.
    pub fn turn_by(&mut self, turn: f64) {
        self.eye = self.eye.turned(turn, 0.0);
        self.moves = true;
    }

    /// Whether a hand is at it: then a coarser picture is drawn, soon enough to
    /// follow the hand.
    fn is_moving(&mut self, ctx: &egui::Context) -> bool {
        let now = ctx.input(|input| input.time);
        if std::mem::take(&mut self.moves) {
            self.moved_at = Some(now);
        }
        let left = self.moved_at.map_or(0.0, |at| at + STILL - now);
        if left > 0.0 {
            ctx.request_repaint_after(Duration::from_secs_f64(left));
        }
        left > 0.0
    }

    /// Whether it has the whole room.
    pub fn is_alone(&self) -> bool {
        self.shown == Some(TurnedShown::Alone)
    }

    /// Makes things of a kind solid or see-through.
    pub fn see_through(&mut self, kinds: Kinds, through: bool) {
        match kinds {
            Kinds::Unit => self.through_unit = through,
            Kinds::Obstacles => self.through_obstacles = through,
        }
    }

    /// How many pictures were worked out so far.
    pub fn pictures(&self) -> u64 {
        self.picture.made()
    }

    /// Edges of the last picture: how many runs of them show.
    pub fn edges(&self) -> usize {
        self.picture.shown_runs().count()
    }
}

/// Draws the turned view and answers the hand on it.
pub fn turned_ui(ui: &mut Ui, rect: Rect, state: &mut Turned, shown: Shown, asks: &mut Vec<Ask>) {
    let response = ui.interact(
        rect,
        ui.scope_id().with("turned view"),
        Sense::click_and_drag(),
    );
    let label = format!("Turned view, {}", words(&state.eye));
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
    hand::hand(ui, &response, rect, state);
    if !state.moved_by_hand {
        let aside = f64::from(names::aside(rect));
        let size = DVec2::new(rect.width().into(), rect.height().into())
            - 2.0 * DVec2::new(aside + MARGIN, MARGIN);
        state.eye = state
            .eye
            .fitted(shown.model.heart(), size.max(DVec2::splat(20.0)));
    }
    let paper = Paper::current(ui.ctx());
    state.shapes.take(shown.model);
    let through = [state.through_unit, state.through_obstacles];
    let moving = state.is_moving(ui.ctx());
    state.picture.look(
        ui.ctx(),
        rect,
        moving,
        &state.eye,
        &state.shapes,
        through,
        shown.attention,
        &paper,
    );
    let mut told = None;
    if let Some(pointer) = response
        .hover_pos()
        .filter(|_| response.hovered() && !response.dragged())
        && let Some(target) = state.picture.under(&state.shapes, pointer)
    {
        ui.set_cursor_icon(egui::CursorIcon::PointingHand);
        if response.clicked() {
            asks.push(choose(&target));
        }
        told = Some((pointer, lead_note(shown.model, &target, shown.figures)));
        asks.push(Ask::Point(target));
    }
    let painter = ui.painter_at(rect.shrink(1.0));
    state
        .picture
        .draw(&painter, &state.shapes, through, shown.attention, &paper);
    let title = title_rect(ui, rect);
    names::names(
        &painter,
        [rect, title],
        &state.picture,
        &state.shapes,
        shown,
        &paper,
    );
    if let Some((pointer, lines)) = told.filter(|(_, lines)| !lines.is_empty()) {
        beside::note(&painter, rect, &paper, pointer, &lines);
    }
    title_ui(ui, title, state, asks);
    if response.has_focus() {
        let stroke = egui::Stroke::new(2.0, paper.lit);
        ui.painter()
            .rect_stroke(rect, 0.0, stroke, egui::StrokeKind::Inside);
    }
}

fn choose(target: &Target) -> Ask {
    match target {
        Target::Exit(exit) => Ask::Loom(exit.clone()),
        _ => Ask::Choose(target.clone()),
    }
}

/// Where the eye stands, in words.
fn words(eye: &Eye) -> String {
    let turn = eye.turn.to_degrees().rem_euclid(360.0);
    let (degrees, side) = if turn <= 180.0 {
        (turn, "right")
    } else {
        (360.0 - turn, "left")
    };
    let tilt = eye.tilt.to_degrees();
    let height = if tilt < 0.0 { "below" } else { "above" };
    format!(
        "from {degrees:.0}° to the {side}, {:.0}° {height}",
        tilt.abs()
    )
}

/// Where the title may go; its plate is as wide as what then stands in it.
fn title_rect(ui: &Ui, rect: Rect) -> Rect {
    let size = vec2(rect.width() - 8.0, title_height(ui));
    Rect::from_min_size(rect.min + vec2(4.0, 3.0), size)
}

fn title_ui(ui: &mut Ui, rect: Rect, state: &Turned, asks: &mut Vec<Ask>) {
    let builder = egui::UiBuilder::new()
        .max_rect(rect)
        .layout(Layout::left_to_right(Align::Center))
        .id_salt("title of the turned view");
    let mut ui = ui.new_child(builder);
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    let plate = ui.painter().add(egui::Shape::Noop);
    ui.spacing_mut().item_spacing.x = 5.0;
    if !is_large(&ui) {
        ui.spacing_mut().interact_size.y = 22.0;
        ui.spacing_mut().button_padding.y = 2.0;
    }
    ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Extend);
    let alone = state.is_alone();
    if ui.selectable_label(alone, "D  Turned").clicked() {
        asks.push(Ask::Turned(TurnedShown::Alone));
    }
    ui.weak("see through");
    for (kinds, through, word) in [
        (Kinds::Unit, state.through_unit, "unit"),
        (Kinds::Obstacles, state.through_obstacles, "obstacles"),
    ] {
        let name = format!("see through the {word}");
        let label = ui.selectable_label(through, word).accessible_name(name);
        if label.clicked() {
            asks.push(Ask::SeeThrough(kinds, !through));
        }
    }
    let words = rect.with_max_x(ui.min_rect().right());
    let fill = Paper::current(ui.ctx()).sheet.gamma_multiply(0.9);
    ui.painter()
        .set(plate, egui::Shape::rect_filled(words, 2.0, fill));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_eye_is_said_in_degrees() {
        let eye = Eye {
            turn: -0.5,
            tilt: 0.25,
            ..FIRST_EYE
        };
        assert_eq!(words(&eye), "from 29° to the left, 14° above");
    }
}
