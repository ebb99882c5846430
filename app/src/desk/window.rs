//! One frame of the window: take what has arrived, draw, carry out what was asked.

mod answering;
mod asked;
mod filing;
mod laid;
mod upkeep;

use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui, ViewportCommand};
use profiles::Library;

use super::actions::{self, Now};
use super::bench::{Bench, bench_ui};
use super::canvas::{Attention, CanvasState, Shown, canvas_ui};
use super::card::{Card, head_line, open_step_ui, steps_ui};
use super::chain_bar::chain_bar_ui;
use super::cutting::CuttingWork;
use super::document::Document;
use super::edit::{Ask, Step, Target};
use super::fields;
use super::files::{Asking, FileDialogs};
use super::focus;
use super::guide::{Asked, GuideState, Guided, guide_ui};
use super::laying::Laying;
use super::loom::{LoomState, loom_ui};
use super::menus::FindState;
use super::model::{LaidUp, Model};
use super::quick::{QuickState, quick_ui};
use super::settings::Settings;
use super::start::Start;
use super::theme::{self, Paper};
use super::top::{self, After, Answer};
use super::verdict::verdict_ui;
use answering::model_of;
use upkeep::Upkeep;

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
    /// Since when the hand that left alternatives behind is still, s.
    rests_from: Option<f64>,
    laying: Laying,
    cutting: CuttingWork,
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
    upkeep: Upkeep,
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
    guide: GuideState,
    /// Whether the rows of the sockets are to be opened.
    open_sockets: bool,
    loom: LoomState,
    /// The rib on the bench (its id).
    rib: Option<String>,
    find: FindState,
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
        let notices = start.own.said.clone();
        let upkeep = Upkeep::begin(ctx, start.own, start.document.place());
        Desk {
            document: start.document,
            library: start.library,
            model,
            laid_up,
            behind_shown: false,
            rests_from: None,
            laying: Laying::default(),
            cutting: CuttingWork::default(),
            epoch: 0,
            view,
            settings: start.settings,
            dialogs: start.dialogs,
            asking: None,
            guard: None,
            then: None,
            notices,
            closing: false,
            title: String::new(),
            upkeep,
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

    /// The length that the guided entry asks for.
    pub fn asked(&self) -> Option<&Asked> {
        self.view.guide.asked.as_ref()
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
        fields::show_in(ui.ctx(), self.settings.figures);
        let paper = Paper::current(ui.ctx());
        let board = Frame::new()
            .fill(paper.board)
            .inner_margin(Margin::symmetric(10, 5));
        Panel::top("commands and verdict")
            .frame(board)
            .show(ui, |ui| {
                let embedded = profiles::embedded_jobs();
                let names: Vec<&str> = embedded.iter().map(|(name, _)| *name).collect();
                let bar = top::Bar {
                    now: Now {
                        document: &self.document,
                        settings: &self.settings,
                        doing: self.doing(),
                    },
                    embedded: &names,
                    recent: &self.upkeep.preferences.recent,
                };
                top::commands_ui(ui, bar, &mut self.view.find, asks);
                self.strips(ui, asks);
                ui.add_space(4.0);
                let doing = self.doing();
                verdict_ui(ui, &self.model, doing, self.settings.figures, asks);
            });
        Panel::bottom("depth chain")
            .frame(board)
            .resizable(true)
            .default_size(if ui.available_height() > 620.0 {
                142.0
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
        // Each size of words has a width of its own, kept as a hand has left it.
        let (card, width) = if self.settings.large {
            ("job card in large words", 440.0)
        } else {
            ("job card", 350.0)
        };
        Panel::left(card)
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
                    asked: self.view.guide.asked.as_ref(),
                };
                if self.view.step == Some(Step::Looms) && !self.view.is_led() {
                    loom_ui(ui, &self.view.loom, shown, asks);
                } else if self.view.step == Some(Step::Trim) && !self.view.is_led() {
                    let bench = Bench {
                        shown,
                        job: self.document.job(),
                        work: &self.cutting,
                        rib: self.view.rib.as_deref(),
                    };
                    bench_ui(ui, bench, asks);
                } else {
                    canvas_ui(ui, &mut self.view.canvas, shown, asks);
                }
            });
        self.view.fresh = false;
        self.view.open_sockets = false;
    }

    /// The job card: the quick answer or the guided entry, the steps, and what is
    /// open of them.
    fn card(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let led = self.view.is_led();
        let ViewState {
            pointed,
            chosen,
            step,
            fresh,
            quick,
            guide,
            open_sockets,
            loom,
            rib,
            ..
        } = &mut self.view;
        let card = Card {
            job: self.document.job(),
            model: &self.model,
            library: &self.library,
            figures: self.settings.figures,
            attention: attention(pointed, chosen),
            loom,
            cutting: &self.cutting,
            rib: rib.as_deref(),
            open: if led { None } else { *step },
            open_sockets: *open_sockets,
            fresh: *fresh,
        };
        let row = ui.spacing().interact_size.y;
        let (quick_open, guide_open) = (quick.open, guide.open);
        let head = |ui: &mut Ui, asks: &mut Vec<Ask>| {
            head_line(ui, card, quick_open, guide_open, asks);
            if !led {
                steps_ui(ui, card, asks);
            }
        };
        // The steps stay in sight where there is room for them and for a form.
        let roomy = ui.available_height() > ROOMY * row;
        if roomy {
            head(ui, asks);
        }
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| {
                if !roomy {
                    head(ui, asks);
                }
                if guide.open {
                    let guided = Guided {
                        job: card.job,
                        model: card.model,
                    };
                    guide_ui(ui, guide, guided, asks);
                } else if quick.open {
                    quick_ui(ui, quick, card.job, card.library, card.figures, asks);
                    // What comes later is in sight, and not in the way.
                    steps_ui(ui, card, asks);
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
                Some(top::Path::Take(path)) => self.take_path(ui.ctx(), path, true),
                Some(top::Path::Leave) => {
                    self.asking = None;
                    self.then = None;
                }
                None => {}
            }
        }
        self.upkeep_lines(ui);
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
    /// Whether the quick answer or the guided entry stands in place of the steps.
    fn is_led(&self) -> bool {
        self.quick.open || self.guide.open
    }

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
        self.attend_to_cutting(&ctx);
        self.catch_up(&ctx);
        self.close_request(&ctx);
        self.look_around(&ctx);
        let mut asks = Vec::new();
        self.dropped(&ctx, &mut asks);
        let pressed = actions::from_keyboard(&ctx);
        self.draw(ui, &mut asks);
        self.carry_out(&ctx, asks);
        self.carry_out_keys(&ctx, &pressed);
        self.name_window(&ctx);
        self.keep(&ctx);
        focus::ring(&ctx);
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
