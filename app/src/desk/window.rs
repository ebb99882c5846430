//! One frame of the window: take what has arrived, draw, carry out what was asked.

mod answering;
mod asked;
mod filing;
mod laid;

use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui, ViewportCommand};
use profiles::Library;

use super::canvas::{Attention, CanvasState, Shown, canvas_ui};
use super::card::{Card, open_step_ui, steps_ui};
use super::chain_bar::chain_bar_ui;
use super::document::Document;
use super::edit::{Ask, Step, Target};
use super::files::{Asking, FileDialogs};
use super::laying::Laying;
use super::loom::{LoomState, loom_ui};
use super::model::{LaidUp, Model};
use super::quick::{QuickState, quick_line, quick_ui};
use super::settings::Settings;
use super::start::Start;
use super::theme::{self, Paper};
use super::top::{self, After, Answer};
use super::verdict::verdict_ui;
use answering::model_of;

/// Rows of height from which the steps stay in sight above the open one.
const ROOMY: f32 = 15.0;

/// The window.
pub struct Desk {
    document: Document,
    library: Library,
    model: Model,
    laid_up: LaidUp,
    /// Whether what is behind has been shown to be so.
    behind_shown: bool,
    laying: Laying,
    /// Revisions of all documents opened so far; keeps what is drawn apart.
    epoch: u64,
    view: ViewState,
    settings: Settings,
    dialogs: Box<dyn FileDialogs>,
    asking: Option<Asking>,
    guard: Option<After>,
    /// What is done once the job has been saved.
    then: Option<After>,
    notices: Vec<String>,
    closing: bool,
    title: String,
}

/// Where the eye and the hand are.
#[derive(Default)]
struct ViewState {
    canvas: CanvasState,
    pointed: Option<Target>,
    chosen: Option<Target>,
    step: Option<Step>,
    fresh: bool,
    quick: QuickState,
    loom: LoomState,
}

impl Desk {
    /// A window on what it starts from.
    pub fn new(ctx: &egui::Context, start: Start) -> Desk {
        start.settings.apply(ctx);
        let mut laid_up = LaidUp::default();
        let model =
            model_of(&start.document, 0, &start.library, &start.settings).lay_up(&mut laid_up);
        let mut view = ViewState {
            step: Some(Step::Cavity),
            ..ViewState::default()
        };
        view.canvas.begin(&model);
        Desk {
            document: start.document,
            library: start.library,
            model,
            laid_up,
            behind_shown: false,
            laying: Laying::default(),
            epoch: 0,
            view,
            settings: start.settings,
            dialogs: start.dialogs,
            asking: None,
            guard: None,
            then: None,
            notices: Vec::new(),
            closing: false,
            title: String::new(),
        }
    }

    /// The job being worked on.
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// What it comes to.
    pub fn model(&self) -> &Model {
        &self.model
    }

    /// What is chosen.
    pub fn chosen(&self) -> Option<&Target> {
        self.view.chosen.as_ref()
    }

    /// What is pointed at.
    pub fn pointed(&self) -> Option<&Target> {
        self.view.pointed.as_ref()
    }

    /// Where the eye is.
    pub fn canvas(&self) -> &CanvasState {
        &self.view.canvas
    }

    /// Carries out one thing, as if a hand had asked for it.
    pub fn ask(&mut self, ctx: &egui::Context, ask: Ask) {
        self.carry_out(ctx, vec![ask]);
    }

    fn draw(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let paper = Paper::current(ui.ctx());
        let board = Frame::new()
            .fill(paper.board)
            .inner_margin(Margin::symmetric(10, 5));
        Panel::top("commands and verdict")
            .frame(board)
            .show(ui, |ui| {
                let embedded = profiles::embedded_jobs();
                let names: Vec<&str> = embedded.iter().map(|(name, _)| *name).collect();
                top::commands_ui(ui, &self.document, &self.settings, &names, asks);
                self.strips(ui, asks);
                ui.add_space(4.0);
                let doing = self.doing();
                verdict_ui(ui, &self.model, doing, self.settings.figures, asks);
            });
        Panel::bottom("depth chain")
            .frame(board)
            .resizable(true)
            .default_size(if ui.available_height() > 620.0 {
                138.0
            } else {
                92.0
            })
            .size_range(60.0..=420.0)
            .show(ui, |ui| {
                chain_bar_ui(
                    ui,
                    &self.model,
                    self.settings.figures,
                    self.view.attention(),
                    asks,
                );
            });
        let width = if self.settings.large { 440.0 } else { 350.0 };
        Panel::left("job card")
            .frame(board)
            .resizable(true)
            .default_size(width)
            .size_range(240.0..=560.0)
            .show(ui, |ui| self.card(ui, asks));
        CentralPanel::default()
            .frame(Frame::new().fill(paper.board).inner_margin(Margin::same(6)))
            .show(ui, |ui| {
                let shown = Shown {
                    model: &self.model,
                    job: self.document.job(),
                    library: &self.library,
                    figures: self.settings.figures,
                    attention: attention(&self.view.pointed, &self.view.chosen),
                };
                if self.view.step == Some(Step::Looms) && !self.view.quick.open {
                    loom_ui(ui, &self.view.loom, shown, asks);
                } else {
                    canvas_ui(ui, &mut self.view.canvas, shown, asks);
                }
            });
        self.view.fresh = false;
    }

    /// The job card: the quick answer, the steps, and what is open of them.
    fn card(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let ViewState {
            pointed,
            chosen,
            step,
            fresh,
            quick,
            loom,
            ..
        } = &mut self.view;
        let card = Card {
            job: self.document.job(),
            model: &self.model,
            library: &self.library,
            figures: self.settings.figures,
            attention: attention(pointed, chosen),
            loom,
            open: if quick.open { None } else { *step },
            fresh: *fresh,
        };
        let row = ui.spacing().interact_size.y;
        let head = |ui: &mut Ui, open: bool, asks: &mut Vec<Ask>| {
            quick_line(ui, open, asks);
            steps_ui(ui, card, asks);
        };
        // The steps stay in sight where there is room for them and for a form.
        let roomy = ui.available_height() > ROOMY * row;
        if roomy {
            head(ui, quick.open, asks);
        }
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| {
                if !roomy {
                    head(ui, quick.open, asks);
                }
                if quick.open {
                    quick_ui(ui, quick, &self.library, self.settings.figures, asks);
                } else {
                    open_step_ui(ui, card, asks);
                }
            });
    }

    /// Lines that ask or tell something, between the commands and the verdict.
    fn strips(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        if let Some(after) = &self.guard
            && let Some(answer) = top::guard_ui(ui, after)
        {
            let after = self.guard.take();
            match answer {
                Answer::Save => {
                    self.then = after;
                    asks.push(Ask::Save);
                }
                Answer::GoOn => self.go_on(ui.ctx(), after),
                Answer::Stay => {}
            }
        }
        if let Some(asking) = &mut self.asking {
            match top::path_ui(ui, asking) {
                Some(top::Path::Take(path)) => self.take_path(ui.ctx(), path),
                Some(top::Path::Leave) => {
                    self.asking = None;
                    self.then = None;
                }
                None => {}
            }
        }
        if !self.notices.is_empty() && top::notice_ui(ui, &self.notices) {
            self.notices.clear();
        }
    }

    /// The job's name stands on the window, with a star while changes are not saved.
    fn name_window(&mut self, ctx: &egui::Context) {
        let star = if self.document.is_changed() { "* " } else { "" };
        let title = format!("{star}{} - Seatwell", self.document.job().name);
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }
}

impl ViewState {
    fn attention(&self) -> Attention<'_> {
        attention(&self.pointed, &self.chosen)
    }
}

fn attention<'a>(pointed: &'a Option<Target>, chosen: &'a Option<Target>) -> Attention<'a> {
    Attention {
        pointed: pointed.as_ref(),
        chosen: chosen.as_ref(),
    }
}

impl eframe::App for Desk {
    fn ui(&mut self, ui: &mut Ui, _: &mut eframe::Frame) {
        let ctx = ui.ctx().clone();
        self.take_answers(&ctx);
        self.attend_to_laying(&ctx);
        self.catch_up(&ctx);
        self.close_request(&ctx);
        let mut asks = Vec::new();
        top::shortcuts(&ctx, &mut asks);
        self.draw(ui, &mut asks);
        self.carry_out(&ctx, asks);
        self.name_window(&ctx);
    }

    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        let paper = if visuals.dark_mode {
            theme::Paper::DARK
        } else {
            theme::Paper::LIGHT
        };
        paper.board.to_normalized_gamma_f32()
    }
}
