//! The drawing: three linked sections on paper, one camera.

mod arrange;
mod asked;
pub mod bands;
mod beside;
pub mod camera;
mod clears;
mod dims;
pub mod drawing;
pub mod handles;
pub mod hatch;
pub mod ink;
mod key;
pub mod labels;
pub mod layers;
mod leads;
mod left_out;
pub mod measure;
mod notes;
mod paint;
mod panes;
mod pick;
mod planes;
pub mod polygon;
mod pull;
pub mod scale_bar;
pub mod turned;
mod walk;

use std::sync::Arc;

use egui::{Rect, Ui, Vec2, pos2};
use glam::DVec2;
use profiles::Library;
use profiles::schema::JobFile;

use camera::{Camera, View};
use handles::Hand;
use layers::Layers;
use measure::Measuring;
use turned::{Turned, turned_ui};

use super::edit::{Ask, DrawingAsk, Target, TurnedShown};
use super::guide::Asked;
use super::model::{Model, Outlines};
use super::theme::{Paper, is_large};
use crate::figures::Figures;

pub use paint::Attention;

/// What the drawing remembers between frames: where the eye is.
#[derive(Default)]
pub struct CanvasState {
    /// The camera all sections share.
    pub camera: Camera,
    /// Places of the cutting planes, in the order of [`View::ALL`], mm.
    pub cuts: [f64; 3],
    /// The one view shown, when it is shown alone.
    pub alone: Option<View>,
    /// Whether the camera keeps everything in sight until a hand moves it.
    pub moved_by_hand: bool,
    /// The view from any side.
    pub turned: Turned,
    /// What of the drawing is shown.
    pub layers: Layers,
    /// Measuring lines.
    pub measuring: Measuring,
    /// Shares of the left column and the upper row; as it fits until a hand
    /// moves the borders.
    pub shares: Vec2,
    shares_by_hand: bool,
    /// Whether the key of hatches is shown; as the room allows until asked for.
    key: Option<bool>,
    /// Whether the turned view lies beside the sections in this frame.
    turned_beside: bool,
    hand: Hand,
    /// Whether the short walk of the drawing lies over it.
    pub walk: bool,
    /// A point of a lead that is being pulled.
    pull: Option<pull::Pull>,
    outlines: Outlines,
}

impl CanvasState {
    /// Forgets the job drawn before, and shows all of the next.
    pub fn begin(&mut self, model: &Model) {
        self.outlines.clear();
        self.hand.begin();
        self.pull = None;
        self.measuring = Measuring::default();
        self.moved_by_hand = false;
        self.turned.begin();
        self.cut_where_it_matters(model);
    }

    /// Carries out what was asked of the drawing.
    pub fn carry_out(&mut self, ask: DrawingAsk) {
        match ask {
            DrawingAsk::Layer(layer, shown) => self.layers.show(layer, shown),
            DrawingAsk::Key(shown) => self.key = Some(shown),
            DrawingAsk::Measure(on) => self.measuring.set(on),
            DrawingAsk::RemoveLine(number) => self.measuring.remove(number),
            DrawingAsk::RemoveLines => self.measuring.lines.clear(),
        }
    }

    /// Brings everything back into sight.
    pub fn show_all(&mut self) {
        self.moved_by_hand = false;
        self.turned.moved_by_hand = false;
    }

    /// Shows one section alone, or all three.
    pub fn show_alone(&mut self, view: Option<View>) {
        self.alone = view;
        self.moved_by_hand = false;
        if self.turned.shown == Some(TurnedShown::Alone) {
            self.turned.shown = None;
        }
    }

    /// Shows the turned view alone (or no longer so), beside the sections, or not at all.
    pub fn show_turned(&mut self, shown: TurnedShown) {
        // Asked for once more, what is alone goes back to its place.
        let again = shown == TurnedShown::Alone && self.turned.is_alone();
        self.turned.shown = if again { None } else { Some(shown) };
        self.turned.moved_by_hand = false;
        self.moved_by_hand = false;
    }

    /// Puts the cutting planes where something is in the way, or else behind the unit.
    pub fn cut_where_it_matters(&mut self, model: &Model) {
        if let Some(clash) = model.clashes.first() {
            let [near, far] = clash.room;
            // Looking in, the cut is just behind where they meet.
            let middle = (0.5 * (near + far)).with_y((near.y + JUST_BEHIND).min(far.y));
            self.cuts = View::ALL.map(|view| view.axis_of(middle));
        } else {
            let middle = model
                .strands
                .first()
                .map_or(0.5 * (model.extent[0] + model.extent[1]), |strand| {
                    0.5 * (strand.room[0] + strand.room[1])
                });
            self.cuts = View::ALL.map(|view| view.axis_of(middle));
        }
    }

    /// Puts the cutting planes through the middle of a target.
    pub fn cut_through(&mut self, model: &Model, target: &Target) {
        if let Some(middle) = model.middle(target) {
            self.cuts = View::ALL.map(|view| view.axis_of(middle));
        }
    }
}

/// How far behind the place where two things meet the view looking in is cut, mm.
const JUST_BEHIND: f64 = 5.0;

/// What the drawing shows.
#[derive(Clone, Copy)]
pub struct Shown<'a> {
    /// The model.
    pub model: &'a Model,
    /// The job as written.
    pub job: &'a Arc<JobFile>,
    /// Parts it names.
    pub library: &'a Library,
    /// How lengths are written.
    pub figures: Figures,
    /// What is lit.
    pub attention: Attention<'a>,
    /// The length that is asked for.
    pub asked: Option<&'a Asked>,
}

impl<'a> Shown<'a> {
    /// What handles are made from.
    fn source(&self) -> handles::Source<'a> {
        handles::Source {
            job: self.job,
            library: self.library,
            model: self.model,
        }
    }
}

/// Room kept around everything when it is fitted into a pane, points.
const MARGIN: DVec2 = DVec2::new(36.0, 25.0);
/// The key is shown by itself from this height of the canvas on, points.
const ROOM_FOR_KEY: f32 = 560.0;
/// Smallest corner that the turned view takes by itself, points.
const CORNER: Vec2 = Vec2::new(230.0, 140.0);
/// Share of the room that one section keeps beside the turned view.
const BESIDE: f32 = 0.58;
/// Gap between the drawing and what stands above and below it, points.
const GAP: f32 = 4.0;

/// Draws everything and says what the hand asks for.
pub fn canvas_ui(ui: &mut Ui, state: &mut CanvasState, shown: Shown, asks: &mut Vec<Ask>) {
    let room = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(room);
    measure::escape(ui, &mut state.measuring);
    let (room, foot) = around_drawing(ui, room, state, shown, asks);
    views_ui(ui, room, state, shown, asks);
    key::note_ui(ui, foot, state, shown);
}

/// Draws the views that are shown.
fn views_ui(ui: &mut Ui, room: Rect, state: &mut CanvasState, shown: Shown, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    if !state.shares_by_hand && !state.moved_by_hand {
        state.shares = arrange::shares(room, shown.model.extent);
    }
    let mut layout = arrange::arrange(room, state.shares, state.alone);
    let mut corner = layout.corner;
    if corner.is_none() && state.turned.shown == Some(TurnedShown::Beside) {
        let middle = room.left() + room.width() * BESIDE;
        let left = Rect::from_min_max(room.min, pos2(middle - GAP, room.bottom()));
        layout = arrange::arrange(left, state.shares, state.alone.or(Some(View::FromSide)));
        corner = Some(Rect::from_min_max(pos2(middle, room.top()), room.max));
    }
    let has_borders = layout.corner.is_some();
    let wanted = state.turned.shown.unwrap_or_else(|| {
        let fits = |rect: Rect| rect.width() >= CORNER.x && rect.height() >= CORNER.y;
        if corner.is_some_and(fits) {
            TurnedShown::Beside
        } else {
            TurnedShown::Away
        }
    });
    state.turned_beside = wanted == TurnedShown::Beside;
    let turned = match wanted {
        TurnedShown::Away => None,
        TurnedShown::Alone => Some(room),
        TurnedShown::Beside => corner,
    };
    if let Some(rect) = turned {
        sheet(ui, rect, &paper);
        turned_ui(ui, rect, &mut state.turned, shown, asks);
    }
    if wanted == TurnedShown::Alone {
        return;
    }
    // Large titles stand over more of the drawing.
    let margin = MARGIN + DVec2::Y * if is_large(ui) { 22.0 } else { 0.0 };
    if !state.moved_by_hand && !layout.views.is_empty() {
        let [low, high] = shown.model.extent;
        state.camera = Camera::fit(low, high, &arrange::rooms(&layout, margin));
    }
    for &(view, rect) in &layout.views {
        sheet(ui, rect, &paper);
        panes::pane_ui(ui, view, rect, paper, state, shown, asks);
    }
    if has_borders {
        match arrange::borders_ui(ui, room, state.shares) {
            Some(arrange::Shares::At(shares)) => {
                state.shares = shares;
                state.shares_by_hand = true;
            }
            Some(arrange::Shares::AsFits) => {
                state.shares_by_hand = false;
                state.moved_by_hand = false;
            }
            None => {}
        }
    }
    if state.walk {
        walk::walk_ui(ui, state, &layout.views, room, shown, asks);
    }
}

/// Draws what stands above the drawing; the room left for it, and for the note below.
fn around_drawing(
    ui: &mut Ui,
    room: Rect,
    state: &CanvasState,
    shown: Shown,
    asks: &mut Vec<Ask>,
) -> (Rect, Rect) {
    let builder = egui::UiBuilder::new().max_rect(room).id_salt("strip");
    let mut child = ui.new_child(builder);
    child.set_clip_rect(room.expand(2.0).intersect(ui.clip_rect()));
    child.spacing_mut().item_spacing.y = 2.0;
    let key = state.key.unwrap_or(room.height() >= ROOM_FOR_KEY);
    key::strip_ui(&mut child, state, shown, key, asks);
    let top = child.min_rect().bottom() + GAP;
    let note = key::note_height(ui, room.height());
    let foot = Rect::from_min_max(pos2(room.left(), room.bottom() - note), room.max);
    let drawing = Rect::from_min_max(
        pos2(room.left(), top),
        pos2(room.right(), (foot.top() - GAP).max(top + 40.0)),
    );
    (drawing, foot)
}

/// A clean sheet to draw a view on.
fn sheet(ui: &Ui, rect: Rect, paper: &Paper) {
    let edge = egui::Stroke::new(1.0, paper.rule);
    ui.painter()
        .rect(rect, 0.0, paper.sheet, edge, egui::StrokeKind::Inside);
}
