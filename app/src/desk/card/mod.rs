//! The job card: the steps of the work, one under the other, that tick themselves off.

mod cavity;
mod choices;
mod copies;
mod factory_plugs;
mod leads;
mod list;
mod looms;
mod modules;
mod mount;
mod new_lead;
pub mod obstacle;
mod part;
mod places;
mod route;
pub mod sockets;
mod stations;
mod tabs;
pub mod trim;
mod unit;
mod verdict;

pub use obstacle::new_obstacle;

use egui::{Label, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use profiles::Library;
use profiles::schema::JobFile;

use super::canvas::Attention;
use super::cutting::CuttingWork;
use super::edit::{Ask, Edit, Step, Target};
use super::fields;
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
    /// What was found on cuts.
    pub cutting: &'a CuttingWork,
    /// The rib on the bench (its id).
    pub rib: Option<&'a str>,
    /// The step that is open.
    pub open: Option<Step>,
    /// Whether the rows of the sockets are to be opened.
    pub open_sockets: bool,
    /// Whether the step or the choice has just changed, so that it is brought into sight.
    pub fresh: bool,
}

impl Card<'_> {
    /// Whether a target is the one chosen.
    fn is_chosen(&self, target: &Target) -> bool {
        self.attention.chosen == Some(target)
    }
}

/// Draws the head of the card: its name, and the two other ways of entering a job.
pub fn head_line(ui: &mut Ui, card: Card, quick: bool, guide: bool, asks: &mut Vec<Ask>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let word = if quick {
            "Close the quick answer"
        } else {
            "Quick answer"
        };
        let button = ui.add(egui::Button::new(word).selected(quick));
        if button.clicked() {
            asks.push(Ask::Quick(!quick));
        }
        let word = if guide {
            "Leave the questions"
        } else {
            "Ask me one by one"
        };
        let button = ui.add(egui::Button::new(word).selected(guide));
        if button.clicked() {
            asks.push(Ask::Guide(!guide));
        }
    });
    if guide {
        return;
    }
    let name = &card.job.name;
    if let Some(typed) = fields::words(ui, "job", "job", name, asks) {
        asks.push(Ask::Edit(Edit::Name(typed.value), Some(typed.gesture)));
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
    ui.add_space(4.0);
    if card.fresh && card.attention.chosen.is_none() {
        let top = ui.cursor().min;
        let line = egui::Rect::from_min_size(top, vec2(1.0, 1.0));
        ui.scroll_to_rect(line, Some(egui::Align::Min));
    }
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
    let font = egui::TextStyle::Body.resolve(ui.style());
    let small = egui::TextStyle::Small.resolve(ui.style());
    let text = format!("{number}  {}", step.word());
    let name = ui.painter().layout_no_wrap(text, font, paper.ink);
    let beside = 28.0 + name.size().x + 12.0;
    let room = (ui.available_width() - beside - 4.0).max(40.0);
    let lacks = lacks_galley(ui, state.in_short(), room, small, paper.faint);
    let height = (ui.spacing().interact_size.y + 1.0).max(lacks.size().y + 4.0);
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::click());
    let all = state.lacks.join("; ");
    let label = if state.is_done() {
        format!("{}: done", step.word())
    } else {
        format!("{}: {all}", step.word())
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
    let middle = rect.center().y;
    tick_box(
        &painter,
        pos2(rect.left() + 12.0, middle),
        state.is_done(),
        &paper,
    );
    let at = pos2(rect.left() + 28.0, middle - 0.5 * name.size().y);
    painter.galley(at, name, paper.ink);
    let at = pos2(rect.left() + beside, middle - 0.5 * lacks.size().y);
    painter.galley(at, lacks, paper.faint);
}

/// What is lacking on two lines at most; the open step says all of it.
fn lacks_galley(
    ui: &Ui,
    text: String,
    room: f32,
    font: egui::FontId,
    colour: egui::Color32,
) -> std::sync::Arc<egui::Galley> {
    let mut job = egui::text::LayoutJob::simple(text, font, colour, room);
    job.wrap.max_rows = 2;
    ui.painter().layout_job(job)
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
        Step::Trim => trim::trim_ui(ui, card, asks),
    }
}
