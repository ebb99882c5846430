//! The line of commands above everything, and the lines that ask something.

use std::path::PathBuf;

use egui::{Key, KeyboardShortcut, Label, Modifiers, RichText, TextEdit, Ui};

use super::document::Document;
use super::edit::{Ask, PaperChoice, TurnedShown};
use super::files::{Asking, Purpose};
use super::settings::Settings;
use super::theme::Paper;
use crate::figures::Figures;

/// Draws the commands.
pub fn commands_ui(
    ui: &mut Ui,
    document: &Document,
    settings: &Settings,
    embedded: &[&str],
    asks: &mut Vec<Ask>,
) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for (word, shortcut, ask) in [
            ("Open", OPEN, Ask::Open),
            ("Save", SAVE, Ask::Save),
            ("Save as", SAVE_AS, Ask::SaveAs),
        ] {
            let help = ui.ctx().format_shortcut(&shortcut);
            if ui.button(word).on_hover_text(help).clicked() {
                asks.push(ask);
            }
        }
        ui.menu_button("Begin from", |ui| {
            let help = ui.ctx().format_shortcut(&NEW);
            if ui.button("an empty job").on_hover_text(help).clicked() {
                asks.push(Ask::BeginEmpty);
                ui.close();
            }
            for name in embedded {
                if ui.button(*name).clicked() {
                    asks.push(Ask::Begin((*name).to_owned()));
                    ui.close();
                }
            }
        });
        let undo = ui.add_enabled(document.can_undo(), egui::Button::new("Undo"));
        if undo
            .on_hover_text(ui.ctx().format_shortcut(&UNDO))
            .clicked()
        {
            asks.push(Ask::Undo);
        }
        let redo = ui.add_enabled(document.can_redo(), egui::Button::new("Redo"));
        if redo
            .on_hover_text(ui.ctx().format_shortcut(&REDO))
            .clicked()
        {
            asks.push(Ask::Redo);
        }
        let changed = if document.is_changed() {
            "changed, not saved"
        } else {
            "as saved"
        };
        let place = document.place().words();
        let name = format!("{} ({place}; {changed})", document.job().name);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            settings_ui(ui, settings, asks);
            ui.add_space(6.0);
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(Label::new(RichText::new(name).weak()).truncate());
            });
        });
    });
}

/// From right to left: large, paper, units.
fn settings_ui(ui: &mut Ui, settings: &Settings, asks: &mut Vec<Ask>) {
    ui.spacing_mut().item_spacing.x = 4.0;
    if ui.selectable_label(settings.large, "Large").clicked() {
        asks.push(Ask::Large(!settings.large));
    }
    ui.add_space(6.0);
    for (choice, word) in [
        (PaperChoice::FollowSystem, "As system"),
        (PaperChoice::Dark, "Dark"),
        (PaperChoice::Light, "Light"),
    ] {
        if ui
            .selectable_label(settings.paper == choice, word)
            .clicked()
        {
            asks.push(Ask::Paper(choice));
        }
    }
    ui.add_space(6.0);
    for (figures, word) in [(Figures::Inches, "inch"), (Figures::Millimetres, "mm")] {
        if ui
            .selectable_label(settings.figures == figures, word)
            .clicked()
        {
            asks.push(Ask::Show(figures));
        }
    }
}

const NEW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::N);
const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
const SAVE_AS: KeyboardShortcut =
    KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut =
    KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);

/// Shows the turned view alone.
pub const TURNED: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::D);

/// What the keyboard asks for, wherever the focus is.
pub fn shortcuts(ctx: &egui::Context, asks: &mut Vec<Ask>) {
    // The ones with more keys come first, or the shorter would swallow them.
    for (shortcut, ask) in [
        (SAVE_AS, Ask::SaveAs),
        (SAVE, Ask::Save),
        (NEW, Ask::BeginEmpty),
        (OPEN, Ask::Open),
        (REDO, Ask::Redo),
        (REDO_TOO, Ask::Redo),
        (UNDO, Ask::Undo),
        (TURNED, Ask::Turned(TurnedShown::Alone)),
    ] {
        if ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
            asks.push(ask);
        }
    }
}

/// What stands between a job with changes and what was asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum After {
    /// Reading another file.
    Open,
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
        After::Open => "opens another",
        After::Begin(_) | After::BeginEmpty => "begins another",
        After::Close => "closes",
    };
    let mut answer = None;
    sheet(ui, |ui| {
        ui.label(format!(
            "This job has changes that are not saved. Save them before it {what}?"
        ));
        for (word, each) in [
            ("Save", Answer::Save),
            ("Go on without saving", Answer::GoOn),
            ("Stay here", Answer::Stay),
        ] {
            if ui.button(word).clicked() {
                answer = Some(each);
            }
        }
    });
    answer
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

/// A strip of paper within the window.
fn sheet(ui: &mut Ui, content: impl FnOnce(&mut Ui)) {
    let paper = Paper::current(ui.ctx());
    egui::Frame::new()
        .fill(paper.sheet)
        .stroke(egui::Stroke::new(1.5, paper.ink))
        .inner_margin(egui::Margin::symmetric(8, 5))
        .show(ui, |ui| {
            ui.horizontal_wrapped(content);
        });
}
