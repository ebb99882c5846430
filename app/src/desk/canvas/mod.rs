//! The drawing: three linked sections on paper, one camera.

mod asked;
pub mod bands;
mod beside;
pub mod camera;
mod dims;
pub mod drawing;
pub mod hatch;
pub mod ink;
mod key;
mod labels;
mod leads;
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

use egui::{Rect, Ui};
use glam::DVec2;

use camera::{Camera, View};
use turned::{Turned, turned_ui};

use super::edit::{Ask, Target, TurnedShown};
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
    /// Whether the short walk of the drawing lies over it.
    pub walk: bool,
    outlines: Outlines,
    /// A point of a lead that is being pulled.
    pull: Option<pull::Pull>,
}

impl CanvasState {
    /// Forgets the job drawn before, and shows all of the next.
    pub fn begin(&mut self, model: &Model) {
        self.outlines.clear();
        self.pull = None;
        self.moved_by_hand = false;
        self.turned.begin();
        self.cut_where_it_matters(model);
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
    /// How lengths are written.
    pub figures: Figures,
    /// What is lit.
    pub attention: Attention<'a>,
    /// The length that is asked for.
    pub asked: Option<&'a Asked>,
}

/// Room kept around everything when it is fitted into a pane, points.
const MARGIN: DVec2 = DVec2::new(36.0, 30.0);

/// Draws everything and says what the hand asks for.
pub fn canvas_ui(ui: &mut Ui, state: &mut CanvasState, shown: Shown, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    let room = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(room);
    let (room, beside) = turned::beside(room, state.turned.shown);
    if let Some(rect) = beside {
        sheet(ui, rect, &paper);
        turned_ui(ui, rect, &mut state.turned, shown, asks);
    }
    let layout = if state.turned.is_alone() {
        panes::key_alone(room)
    } else {
        panes::arrange(room, shown.model.extent, state.alone)
    };
    // Large titles stand over more of the drawing.
    let margin = MARGIN + DVec2::Y * if is_large(ui) { 22.0 } else { 0.0 };
    if !state.moved_by_hand && !layout.views.is_empty() {
        let [low, high] = shown.model.extent;
        let sizes: Vec<(View, DVec2)> = layout
            .views
            .iter()
            .map(|&(view, rect)| {
                (
                    view,
                    DVec2::new(rect.width().into(), rect.height().into()) - 2.0 * margin,
                )
            })
            .collect();
        state.camera = Camera::fit(low, high, &sizes);
    }
    for &(view, rect) in &layout.views {
        sheet(ui, rect, &paper);
        panes::pane_ui(ui, view, rect, paper, state, shown, asks);
    }
    key_in(ui, layout.key, state, shown, asks);
    if state.walk {
        walk::walk_ui(ui, state, &layout.views, layout.key, shown, asks);
    }
}

/// A clean sheet to draw a view on.
fn sheet(ui: &Ui, rect: Rect, paper: &Paper) {
    let edge = egui::Stroke::new(1.0, paper.rule);
    ui.painter()
        .rect(rect, 0.0, paper.sheet, edge, egui::StrokeKind::Inside);
}

fn key_in(ui: &mut Ui, rect: Rect, state: &CanvasState, shown: Shown, asks: &mut Vec<Ask>) {
    let builder = egui::UiBuilder::new()
        .max_rect(rect.shrink2(egui::vec2(8.0, 4.0)))
        .id_salt("key");
    let mut child = ui.new_child(builder);
    child.set_clip_rect(rect);
    key::key_ui(&mut child, state, shown, asks);
}
