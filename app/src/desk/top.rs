//! The line of commands above everything, and the lines that ask something.

use std::path::PathBuf;

use egui::{Key, KeyboardShortcut, Label, RichText, TextEdit, Ui};

use super::actions::{self, Name, Now};
use super::edit::Ask;
use super::fields::select_all;
use super::files::{Asking, Purpose};
use super::lines::{is_wanted, question_ui, sheet};
use super::menus::{self, FindState};
use crate::figures::Figures;

/// What the bar shows beside the actions.
#[derive(Clone, Copy)]
pub struct Bar<'a> {
    /// The job, the settings, what is going on.
    pub now: Now<'a>,
    /// Jobs that come with the program.
    pub embedded: &'a [&'a str],
    /// Jobs last worked on, the last first.
    pub recent: &'a [PathBuf],
}

/// Width of the bar from which everything stands in one row, points.
const ONE_ROW: f32 = 900.0;

/// Draws the commands.
pub fn commands_ui(ui: &mut Ui, bar: Bar, find: &mut FindState, asks: &mut Vec<Ask>) {
    let grown = ui.text_style_height(&egui::TextStyle::Body) / 18.0;
    let in_one_row = ui.available_width() > ONE_ROW * grown.max(1.0);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        actions_ui(ui, bar, find, asks);
        if in_one_row {
            end_ui(ui, bar, asks);
        }
    });
    if !in_one_row {
        ui.horizontal(|ui| end_ui(ui, bar, asks));
    }
}

/// From the left: what one does with the job.
fn actions_ui(ui: &mut Ui, bar: Bar, find: &mut FindState, asks: &mut Vec<Ask>) {
    let now = &bar.now;
    menus::button(ui, Name::Open, now, asks);
    menus::recent_ui(ui, bar.recent, asks);
    menus::button(ui, Name::Save, now, asks);
    menus::button(ui, Name::SaveAs, now, asks);
    ui.menu_button("Begin from", |ui| {
        let empty = actions::of(Name::BeginEmpty);
        let button = ui.button(empty.word).on_hover_text(empty.tip(ui.ctx()));
        if button.clicked() {
            asks.push(Ask::BeginEmpty);
            ui.close();
        }
        for name in bar.embedded {
            if ui.button(*name).clicked() {
                asks.push(Ask::Begin((*name).to_owned()));
                ui.close();
            }
        }
    });
    menus::button(ui, Name::Undo, now, asks);
    menus::button(ui, Name::Redo, now, asks);
    menus::done_ui(ui, find, now, asks);
    menus::all_ui(ui, find, now, bar.embedded, asks);
}

/// From the right: how the window looks, the units, and in what is left the job's name.
fn end_ui(ui: &mut Ui, bar: Bar, asks: &mut Vec<Ask>) {
    let document = bar.now.document;
    let changed = if document.is_changed() {
        "changed, not saved"
    } else {
        "as saved"
    };
    let place = document.place().words();
    let name = format!("{} ({changed}; {place})", document.job().name);
    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
        menus::look_ui(ui, &bar.now, asks);
        ui.spacing_mut().item_spacing.x = 4.0;
        let figures = bar.now.settings.figures;
        for (name, each) in [
            (Name::Inches, Figures::Inches),
            (Name::Millimetres, Figures::Millimetres),
        ] {
            let action = actions::of(name);
            let keys = actions::of(Name::OtherUnits).keys_shown(ui.ctx());
            let label = ui.selectable_label(figures == each, action.word);
            if label
                .on_hover_text(format!("{} ({keys})", action.words))
                .clicked()
            {
                asks.push(Ask::Show(each));
            }
        }
        ui.add_space(6.0);
        ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
            let label = Label::new(RichText::new(&name).weak()).truncate();
            ui.add(label).on_hover_text(&name);
        });
    });
}

/// Shows the turned view alone.
pub const TURNED: KeyboardShortcut = actions::TURNED;

/// What stands between a job with changes and what was asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum After {
    /// Reading another file.
    Open,
    /// Reading this file.
    OpenPath(PathBuf),
    /// Taking up a job that was left behind.
    TakeUp,
    /// Beginning from an embedded job.
    Begin(String),
    /// Beginning from nothing.
    BeginEmpty,
    /// Closing the window.
    Close,
}

/// What a person says to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Save first.
    Save,
    /// Go on without saving.
    GoOn,
    /// Stay.
    Stay,
}

/// The line that guards changes that are not saved.
pub fn guard_ui(ui: &mut Ui, after: &After) -> Option<Answer> {
    let what = match after {
        After::Open | After::OpenPath(_) => "opens another",
        After::TakeUp => "takes up the other",
        After::Begin(_) | After::BeginEmpty => "begins another",
        After::Close => "closes",
    };
    let text =
        format!("This job has changes that are not saved. Save them before the window {what}?");
    let answers = [
        ("Save", Answer::Save),
        ("Go on without saving", Answer::GoOn),
        ("Stay here", Answer::Stay),
    ];
    question_ui(ui, &text, &answers)
}

/// What a person does with the line that asks for a path.
pub enum Path {
    /// This one.
    Take(PathBuf),
    /// None.
    Leave,
}

/// The line in which a path can be typed.
pub fn path_ui(ui: &mut Ui, asking: &mut Asking) -> Option<Path> {
    let (word, button) = match asking.purpose {
        Purpose::Open => ("A job to open:", "Open this path"),
        Purpose::SaveAs => ("Save the job as:", "Save to this path"),
    };
    let mut result = None;
    sheet(ui, |ui| {
        ui.label(word);
        let edit = TextEdit::singleline(&mut asking.typed)
            .hint_text("or type a path here")
            .desired_width(360.0);
        let response = ui.add(edit).accessible_name("path of the job file");
        if is_wanted(ui.ctx()) {
            response.request_focus();
            select_all(ui, response.id, &asking.typed);
        }
        let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let ready = !asking.typed.trim().is_empty();
        if (ui.add_enabled(ready, egui::Button::new(button)).clicked() || entered) && ready {
            result = Some(Path::Take(PathBuf::from(asking.typed.trim())));
        }
        if ui.button("Leave it").clicked() {
            result = Some(Path::Leave);
        }
    });
    result
}

/// Something to know, with a way to put it aside; true when put aside.
pub fn notice_ui(ui: &mut Ui, notices: &[String]) -> bool {
    let mut aside = false;
    sheet(ui, |ui| {
        ui.vertical(|ui| {
            for notice in notices {
                ui.add(Label::new(notice).wrap());
            }
        });
        aside = ui.button("Put aside").clicked();
    });
    aside
}
