//! The job card: the steps of the work, one under the other, that tick themselves off.

mod cavity;
mod choices;
mod leads;
mod list;
mod looms;
mod modules;
mod mount;
mod new_lead;
mod obstacle;
mod part;
mod places;
mod stations;
mod unit;
mod verdict;

pub use obstacle::new_obstacle;

use egui::{Label, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use profiles::Library;
use profiles::schema::JobFile;

use super::canvas::Attention;
use super::edit::{Ask, Step, Target};
use super::loom::LoomState;
use super::model::{Model, StepState};
use super::theme::{Paper, mix};
use crate::figures::Figures;

/// What the card shows.
#[derive(Clone, Copy)]
pub struct Card<'a> {
    /// The job as written.
    pub job: &'a JobFile,
    /// What comes of it.
    pub model: &'a Model,
    /// Parts one can choose.
    pub library: &'a Library,
    /// How lengths are shown.
    pub figures: Figures,
    /// What is lit.
    pub attention: Attention<'a>,
    /// Which loom is shown, and what is marked in it.
    pub loom: &'a LoomState,
    /// The step that is open.
    pub open: Option<Step>,
    /// Whether the step or the choice has just changed, so that it is brought into sight.
    pub fresh: bool,
}

impl Card<'_> {
    /// Whether a target is the one chosen.
    fn is_chosen(&self, target: &Target) -> bool {
        self.attention.chosen == Some(target)
    }
}

/// Draws the steps, each as a line.
pub fn steps_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (number, step) in Step::ALL.into_iter().enumerate() {
            let open = card.open == Some(step);
            step_line(ui, number + 1, step, card.model.step(step), open, asks);
        }
    });
    let paper = Paper::current(ui.ctx());
    let line = ui.available_rect_before_wrap();
    let rule = egui::Stroke::new(1.0, paper.rule);
    ui.painter().hline(line.x_range(), line.top() + 2.0, rule);
    ui.add_space(4.0);
}

/// Draws the step that is open: what it lacks, then its forms.
pub fn open_step_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let Some(step) = card.open else {
        ui.weak("Choose a step to open it.");
        return;
    };
    ui.spacing_mut().item_spacing.y = 4.0;
    // The drawing of a loom says itself what it lacks, and what is laid in must
    // not make the list jump under the hand.
    if step != Step::Looms {
        for lack in &card.model.step(step).lacks {
            ui.add(Label::new(lack).wrap());
        }
    }
    step_body(ui, step, card, asks);
    ui.add_space(40.0);
}

/// One step as a line: its box, its name, what it still lacks.
fn step_line(
    ui: &mut Ui,
    number: usize,
    step: Step,
    state: &StepState,
    open: bool,
    asks: &mut Vec<Ask>,
) {
    let paper = Paper::current(ui.ctx());
    let height = ui.spacing().interact_size.y + 1.0;
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::click());
    let lacks = state.lacks.join("; ");
    let label = if state.is_done() {
        format!("{}: done", step.word())
    } else {
        format!("{}: {lacks}", step.word())
    };
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, open, &label));
    if response.clicked() {
        asks.push(Ask::Step((!open).then_some(step)));
    }
    let painter = ui.painter_at(rect);
    if open || response.hovered() || response.has_focus() {
        let share = if open { 0.12 } else { 0.05 };
        painter.rect_filled(rect, 2.0, mix(paper.board, paper.ink, share));
    }
    tick_box(
        &painter,
        pos2(rect.left() + 12.0, rect.center().y),
        state.is_done(),
        &paper,
    );
    let font = egui::TextStyle::Body.resolve(ui.style());
    let at = pos2(rect.left() + 28.0, rect.center().y);
    let text = format!("{number}  {}", step.word());
    let name = painter.text(at, egui::Align2::LEFT_CENTER, text, font, paper.ink);
    if !state.is_done() {
        let small = egui::TextStyle::Small.resolve(ui.style());
        let at = pos2(name.right() + 12.0, rect.center().y);
        painter.text(at, egui::Align2::LEFT_CENTER, lacks, small, paper.faint);
    }
}

/// A box as on a printed card, ticked by pencil.
fn tick_box(painter: &egui::Painter, centre: egui::Pos2, ticked: bool, paper: &Paper) {
    let square = egui::Rect::from_center_size(centre, vec2(13.0, 13.0));
    let line = egui::Stroke::new(1.2, paper.ink);
    painter.rect(square, 0.0, paper.field, line, egui::StrokeKind::Inside);
    if ticked {
        let pencil = egui::Stroke::new(2.4, paper.ink);
        let points = [vec2(-4.5, -0.5), vec2(-1.2, 3.6), vec2(6.5, -7.0)].map(|by| centre + by);
        painter.line(points.to_vec(), pencil);
    }
}

fn step_body(ui: &mut Ui, step: Step, card: Card, asks: &mut Vec<Ask>) {
    match step {
        Step::Cavity => cavity::cavity_ui(ui, card, asks),
        Step::Unit => unit::unit_ui(ui, card, asks),
        Step::Mount => mount::mount_ui(ui, card, asks),
        Step::Leads => leads::leads_ui(ui, card, asks),
        Step::Modules => modules::modules_ui(ui, card, asks),
        Step::Looms => looms::looms_ui(ui, card, asks),
        Step::Verdict => verdict::verdict_ui(ui, card, asks),
    }
}
