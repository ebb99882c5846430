//! The guided entry: one measurement at a time, in an order one can take them in
//! a dash, each lit up on the drawing.

mod questions;

use egui::{Label, RichText, TextStyle, Ui, vec2};
use glam::DVec3;
use profiles::behind::HowMeasured;
use profiles::schema::{JobFile, KindFile, MetFile};

use super::canvas::camera::View;
use super::card::obstacle::new_obstacle;
use super::card::sockets::{MET, advice};
use super::edit::{Ask, Edit, ListEdit};
use super::entering::{self, Way};
use super::fields::{self, Look};
use super::model::{Model, kind_of};
use super::theme::{Paper, grow};
use questions::{Entry, Part, Question, questions};

/// What the drawing lights up: the length that is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Its two ends, mm.
    pub ends: [DVec3; 2],
    /// What it is, in a word or two.
    pub word: String,
}

/// How far the guided entry has got.
pub struct GuideState {
    /// Whether it is open.
    pub open: bool,
    /// What is lit up, while it is open.
    pub asked: Option<Asked>,
    /// The question asked now, by its key.
    at: String,
    /// Whether all questions have been asked.
    ended: bool,
    /// The question that the hand has been put into and the planes cut through.
    shown: String,
    /// Depths of the cross-sections asked for, mm.
    depths: Vec<f64>,
    /// How the last depth behind a socket was measured.
    how: HowMeasured,
}

impl Default for GuideState {
    fn default() -> GuideState {
        GuideState {
            open: false,
            asked: None,
            at: String::new(),
            ended: false,
            shown: String::new(),
            depths: Vec::new(),
            how: HowMeasured::Felt,
        }
    }
}

impl GuideState {
    /// Opens it where it was left, or shuts it.
    pub fn show(&mut self, open: bool, job: &JobFile) {
        self.open = open;
        self.asked = None;
        self.shown.clear();
        if open {
            self.depths = questions::depths(job);
            self.ended = false;
        }
    }

    /// Forgets how far it got, as with another job.
    pub fn forget(&mut self) {
        *self = GuideState::default();
    }
}

/// What the guided entry works on.
#[derive(Clone, Copy)]
pub struct Guided<'a> {
    /// The job as written.
    pub job: &'a JobFile,
    /// What comes of it.
    pub model: &'a Model,
}

/// Draws the question that is asked now.
pub fn guide_ui(ui: &mut Ui, state: &mut GuideState, guided: Guided, asks: &mut Vec<Ask>) {
    let all = questions(guided.job, guided.model.job.as_ref(), &state.depths);
    let at = all.iter().position(|it| it.key == state.at).unwrap_or(0);
    let Some(question) = all.get(at).filter(|_| !state.ended) else {
        end_ui(ui, state, guided, asks);
        return;
    };
    head_ui(ui, question.part, at, all.len());
    ui.add_space(6.0);
    let large = RichText::new(&question.what).size(20.0 * grow(ui));
    ui.add(Label::new(large).wrap());
    ui.add(Label::new(question.how).wrap());
    ui.add_space(4.0);
    light_up(state, question, guided.model, asks);
    field_ui(ui, state, question, guided, asks);
    if let Some(way) = entering::take(ui) {
        go(state, &all, at, way);
    }
    ui.add_space(4.0);
    buttons_ui(ui, state, &all, at, guided, asks);
    if let Entry::Behind(socket) = &question.entry {
        ui.add_space(4.0);
        behind_ui(ui, state, socket, question, guided, asks);
    }
    ui.add_space(8.0);
    let small = RichText::new("What you have entered stays in the job, wherever you leave.");
    ui.add(Label::new(small.small().weak()).wrap());
}

/// How far one has got, and in which part.
fn head_ui(ui: &mut Ui, part: Part, at: usize, count: usize) {
    let paper = Paper::current(ui.ctx());
    ui.horizontal(|ui| {
        ui.label(RichText::new(part.word()).strong());
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.label(format!("{} of {count}", at + 1));
        });
    });
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 5.0), egui::Sense::hover());
    ui.painter().rect_filled(rect, 0.0, paper.rule);
    let mut done = rect;
    done.set_width(rect.width() * (at as f32 + 1.0) / count.max(1) as f32);
    ui.painter().rect_filled(done, 0.0, paper.ink);
}

/// Lights up what is asked for, and cuts the views through it when it is new.
fn light_up(state: &mut GuideState, question: &Question, model: &Model, asks: &mut Vec<Ask>) {
    let lit = question.targets.iter();
    if let Some(target) = lit.into_iter().find(|it| model.is_drawn(it)) {
        asks.push(Ask::Point(target.clone()));
    }
    state.asked = Some(Asked {
        ends: question.ends,
        word: question.word.clone(),
    });
    if state.shown != question.key {
        let middle = 0.5 * (question.ends[0] + question.ends[1]);
        // A view shows the length that lies in its plane.
        for view in View::ALL {
            asks.push(Ask::CutAt(view, view.axis_of(middle)));
        }
    }
}

fn field_ui(
    ui: &mut Ui,
    state: &mut GuideState,
    question: &Question,
    guided: Guided,
    asks: &mut Vec<Ask>,
) {
    let label = format!("asked: {}", question.what);
    if state.shown != question.key {
        entering::focus_on(ui.ctx(), &label);
        state.shown.clone_from(&question.key);
    }
    let how = state.how;
    let read = |text: &str| question.edit(text, guided.job, guided.model.job.as_ref(), how);
    let width = (ui.available_width() - 12.0).min(260.0 * grow(ui));
    let look = Look {
        label: &label,
        written: &question.written,
        usual: question.usual,
        width,
        style: TextStyle::Heading,
    };
    if let Some(typed) = fields::typed_as(ui, look, read, asks) {
        asks.push(Ask::Edit(typed.value, Some(typed.gesture)));
    }
    fields::refusals_ui(ui);
}

/// How a depth behind a socket was measured, and what was met there.
fn behind_ui(
    ui: &mut Ui,
    state: &mut GuideState,
    socket: &str,
    question: &Question,
    guided: Guided,
    asks: &mut Vec<Ask>,
) {
    let found = profiles::behind::behind(guided.job, socket);
    let how = found.as_ref().and_then(|found| found.how());
    let mut edits = Vec::new();
    ui.weak("How do you know it?");
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for each in HowMeasured::ALL {
            let on = how.unwrap_or(state.how) == each;
            let text = format!("{}, ± {}", each.word(), each.plus_minus());
            if ui.add(egui::Button::new(text).selected(on)).clicked() {
                state.how = each;
                edits.extend(question.measured_as(guided, each));
            }
        }
    });
    let met = found.as_ref().map(|found| found.met);
    ui.weak("What did it meet?");
    ui.add_enabled_ui(found.is_some(), |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            for (each, word) in MET {
                let button = egui::Button::new(word).selected(met == Some(each));
                if ui.add(button).clicked() {
                    edits.extend(question.met(guided, each));
                }
            }
        });
    });
    if let Some(met @ (MetFile::Soft | MetFile::Moves)) = met {
        ui.add(Label::new(RichText::new(advice(met)).small()).wrap());
    }
    for edit in edits {
        asks.push(Ask::Edit(edit, None));
    }
}

fn buttons_ui(
    ui: &mut Ui,
    state: &mut GuideState,
    all: &[Question],
    at: usize,
    guided: Guided,
    asks: &mut Vec<Ask>,
) {
    let question = &all[at];
    ui.horizontal_wrapped(|ui| {
        if ui.button("Could not measure").clicked() {
            let edit = question.edit(
                &question.unmeasured(),
                guided.job,
                guided.model.job.as_ref(),
                state.how,
            );
            if let Ok(edit) = edit {
                asks.push(Ask::Edit(edit, None));
            }
            fields::forget_drafts(ui.ctx());
            go(state, all, at, Way::On);
        }
        if ui.button("Skip").clicked() {
            fields::forget_drafts(ui.ctx());
            go(state, all, at, Way::On);
        }
        let next_part = all[at..].iter().position(|it| it.part != question.part);
        if ui.button("Skip this part").clicked() {
            fields::forget_drafts(ui.ctx());
            match next_part {
                Some(by) => state.at.clone_from(&all[at + by].key),
                None => state.ended = true,
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        if ui
            .add_enabled(at > 0, egui::Button::new("One back"))
            .clicked()
        {
            go(state, all, at, Way::Back);
        }
        if ui.button("Leave it here").clicked() {
            asks.push(Ask::Guide(false));
        }
    });
}

/// On to the next question, or back to the one before.
fn go(state: &mut GuideState, all: &[Question], at: usize, way: Way) {
    match way {
        Way::On if at + 1 < all.len() => state.at.clone_from(&all[at + 1].key),
        Way::On => state.ended = true,
        Way::Back => state.at.clone_from(&all[at.saturating_sub(1)].key),
    }
}

/// After the last question.
fn end_ui(ui: &mut Ui, state: &mut GuideState, guided: Guided, asks: &mut Vec<Ask>) {
    state.asked = None;
    ui.label(RichText::new("That was all.").size(20.0 * grow(ui)));
    ui.add(
        Label::new("Is there anything else in there? Add it, and its faces are asked for.").wrap(),
    );
    let obstacles = &guided.job.cavity.obstacles;
    ui.horizontal_wrapped(|ui| {
        for kind in [
            KindFile::Rib,
            KindFile::Beam,
            KindFile::Duct,
            KindFile::Bracket,
            KindFile::Loom,
            KindFile::Unknown,
        ] {
            let word = kind_of(kind).word();
            let button = ui.button(word).on_hover_text(format!("Add a {word}"));
            if button.accessible_name(format!("add a {word}")).clicked() {
                let new = new_obstacle(kind, obstacles);
                state.at = questions::first_of_thing(&new);
                state.ended = false;
                asks.push(Ask::Edit(Edit::Obstacle(ListEdit::add(new)), None));
            }
        }
    });
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        if ui.button("From the beginning").clicked() {
            state.at.clear();
            state.ended = false;
        }
        if ui.button("Back to the job card").clicked() {
            asks.push(Ask::Guide(false));
        }
    });
}

impl Question {
    /// The same depth, known in another way.
    fn measured_as(&self, guided: Guided, how: HowMeasured) -> Option<Edit> {
        let Entry::Behind(socket) = &self.entry else {
            return None;
        };
        let found = profiles::behind::behind(guided.job, socket)?;
        let text = found.depth_alone().to_owned();
        self.edit(&text, guided.job, guided.model.job.as_ref(), how)
            .ok()
    }

    /// The same depth, with what was met there.
    fn met(&self, guided: Guided, met: MetFile) -> Option<Edit> {
        let Entry::Behind(socket) = &self.entry else {
            return None;
        };
        let found = profiles::behind::behind(guided.job, socket)?;
        let sockets = profiles::behind::RearSocket::all(guided.model.job.as_ref()?);
        let found = profiles::behind::Behind { met, ..found };
        let obstacles = profiles::behind::with_behind(guided.job, &sockets, socket, Some(found));
        Some(Edit::Obstacles(obstacles))
    }
}
