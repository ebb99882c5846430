//! What opens below the bar: what was done, all actions with their keys, and
//! how the window looks.

use std::path::PathBuf;

use egui::{Button, Id, Key, Label, Popup, PopupCloseBehavior, RichText, ScrollArea, TextEdit, Ui};

use super::actions::{self, Action, Name, Now};
use super::edit::{Ask, Menu, PaperChoice};
use super::history::Step;

/// What is typed to find an action, and whether the list was open before.
#[derive(Default)]
pub struct FindState {
    typed: String,
    /// Frames for which the list has been open.
    frames: u32,
    done_was_open: bool,
}

/// A button of the bar for an action.
pub fn button(ui: &mut Ui, name: Name, now: &Now, asks: &mut Vec<Ask>) {
    let action = actions::of(name);
    let asked = action.asks(now);
    let button = ui.add_enabled(!asked.is_empty(), Button::new(action.word));
    if button.on_hover_text(action.tip(ui.ctx())).clicked() {
        asks.extend(asked);
    }
}

/// What a menu is known by.
fn id(menu: Menu) -> Id {
    Id::unique(("menu", menu))
}

/// Opens a menu.
pub fn open(ctx: &egui::Context, menu: Menu) {
    Popup::open_id(ctx, id(menu));
    ctx.request_repaint();
}

/// A button with a menu below it, which stays until one presses beside it.
fn menu_ui(ui: &mut Ui, menu: Menu, word: &str, tip: &str, content: impl FnOnce(&mut Ui)) -> bool {
    let button = ui.button(word).on_hover_text(tip);
    Popup::menu(&button)
        .id(id(menu))
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .show(content)
        .is_some()
}

/// The room a list below the bar may take, points.
fn room(ui: &Ui) -> egui::Vec2 {
    let window = ui.ctx().content_rect().size();
    egui::vec2(
        (0.8 * window.x).min(17.5 * ui.spacing().interact_size.y),
        (0.72 * window.y).min(620.0),
    )
}

/// Jobs last worked on; a press opens one.
pub fn recent_ui(ui: &mut Ui, recent: &[PathBuf], asks: &mut Vec<Ask>) {
    ui.menu_button("Recent", |ui| {
        if recent.is_empty() {
            ui.weak("Jobs you open or save will stand here.");
        }
        for path in recent {
            let name = path.file_name().unwrap_or(path.as_os_str());
            let button = ui.button(name.to_string_lossy());
            if button.on_hover_text(path.display().to_string()).clicked() {
                asks.push(Ask::OpenPath(path.clone()));
                ui.close();
            }
        }
    });
}

/// What was done, step by step; a press goes there.
pub fn done_ui(ui: &mut Ui, state: &mut FindState, now: &Now, asks: &mut Vec<Ask>) {
    let action = actions::of(Name::WhatWasDone);
    let tip = action.tip(ui.ctx());
    let fresh = !state.done_was_open;
    let document = now.document;
    state.done_was_open = menu_ui(ui, Menu::WhatWasDone, action.word, &tip, |ui| {
        let room = room(ui);
        ui.set_width(room.x);
        let count = document.steps().len();
        if count == 0 {
            ui.add(Label::new("Nothing was done yet. Every change of the job will stand here, and can be undone.").wrap());
            return;
        }
        ui.weak("Press a line to go there; nothing is lost on the way.");
        let row = ui.spacing().interact_size.y;
        let steps: Vec<&Step> = document.steps().collect();
        let mut list = ScrollArea::vertical().max_height(room.y);
        if fresh {
            let at = (document.done() as f32 - 4.0).max(0.0);
            list = list.vertical_scroll_offset(at * (row + ui.spacing().item_spacing.y));
        }
        list.show_rows(ui, row, count + 1, |ui, rows| {
            ui.set_min_width(room.x);
            for at in rows {
                let text = match at.checked_sub(1) {
                    None => "0   As it was opened".to_owned(),
                    Some(step) => format!("{at}   {}", steps[step].words()),
                };
                let is_here = at == document.done();
                let is_ahead = at > document.done();
                let words = RichText::new(&text);
                let words = if is_ahead { words.weak() } else { words };
                let line = Button::selectable(is_here, words)
                    .truncate()
                    .min_size(egui::vec2(ui.available_width(), row));
                let line = ui.add(line).accessible_name(&text);
                if line.on_hover_text(&text).clicked() {
                    asks.push(Ask::GoTo(at));
                }
            }
        });
    });
}

/// All actions with their keys, and a field that finds one.
pub fn all_ui(ui: &mut Ui, state: &mut FindState, now: &Now, begin: &[&str], asks: &mut Vec<Ask>) {
    let action = actions::of(Name::AllActions);
    let tip = action.tip(ui.ctx());
    let mut shut = false;
    let FindState { typed, frames, .. } = state;
    let fresh = *frames == 0;
    let is_open = menu_ui(ui, Menu::AllActions, action.word, &tip, |ui| {
        let room = room(ui);
        ui.set_width(room.x);
        if fresh {
            typed.clear();
        }
        let field = TextEdit::singleline(typed)
            .hint_text("a word of what you want to do")
            .margin(egui::vec2(
                4.0,
                0.5 * (ui.spacing().interact_size.y - ui.text_style_height(&egui::TextStyle::Body)),
            ))
            .desired_width(room.x - 12.0);
        let field = ui.add(field).accessible_name("find an action");
        // The press that opened the list takes the keyboard away once more.
        if *frames < 2 {
            field.request_focus();
            ui.ctx().request_repaint();
        }
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let down = field.has_focus() && ui.input(|i| i.key_pressed(Key::ArrowDown));
        let rows = rows(ui.ctx(), typed, now, begin);
        if rows.is_empty() {
            ui.add(
                Label::new("Nothing the window does is called that. A shorter word finds more.")
                    .wrap(),
            );
        }
        ScrollArea::vertical().max_height(room.y).show(ui, |ui| {
            ui.set_min_width(room.x - 12.0);
            let mut group = "";
            let mut first = true;
            for row in rows {
                if row.group != group {
                    group = row.group;
                    ui.weak(group);
                }
                let can = !row.asks.is_empty();
                let line = Button::new(&row.words)
                    .shortcut_text(&row.keys)
                    .frame_when_inactive(false)
                    .min_size(egui::vec2(0.0, ui.spacing().interact_size.y));
                let line = ui.add_enabled(can, line).accessible_name(&row.words);
                if can && first {
                    if down {
                        line.request_focus();
                    }
                    first = false;
                    if entered {
                        asks.extend(row.asks);
                        shut = true;
                        continue;
                    }
                }
                if line.clicked() {
                    asks.extend(row.asks);
                    shut = true;
                }
            }
        });
    });
    *frames = if is_open { frames.saturating_add(1) } else { 0 };
    if shut {
        Popup::close_id(ui.ctx(), id(Menu::AllActions));
    }
}

/// One line of the list.
struct Row {
    group: &'static str,
    words: String,
    keys: String,
    asks: Vec<Ask>,
}

fn rows(ctx: &egui::Context, typed: &str, now: &Now, begin: &[&str]) -> Vec<Row> {
    let row = |action: Action| Row {
        group: action.group,
        words: action.words.to_owned(),
        keys: action.keys_shown(ctx),
        asks: action.asks(now),
    };
    let mut rows: Vec<Row> = actions::found(typed, ctx).into_iter().map(row).collect();
    let typed = typed.to_lowercase();
    let of_begin = begin.iter().map(|name| Row {
        group: "Jobs that come with the program",
        words: format!("Begin from {name}"),
        keys: String::new(),
        asks: vec![Ask::Begin((*name).to_owned())],
    });
    rows.extend(of_begin.filter(|row| {
        let all = row.words.to_lowercase();
        typed.split_whitespace().all(|word| all.contains(word))
    }));
    rows
}

/// Paper, scale, size of targets.
pub fn look_ui(ui: &mut Ui, now: &Now, asks: &mut Vec<Ask>) {
    let settings = now.settings;
    menu_ui(
        ui,
        Menu::Look,
        "Look",
        "Paper, scale, large targets",
        |ui| {
            for paper in [
                PaperChoice::Light,
                PaperChoice::Dark,
                PaperChoice::FollowSystem,
            ] {
                let action = actions::of(Name::Paper(paper));
                if ui
                    .selectable_label(settings.paper == paper, action.words)
                    .clicked()
                {
                    asks.push(Ask::Paper(paper));
                }
            }
            ui.separator();
            ui.horizontal(|ui| {
                for (name, heard) in [(Name::ScaleDown, "scale down"), (Name::ScaleUp, "scale up")]
                {
                    let action = actions::of(name);
                    let asked = action.asks(now);
                    let button = Button::new(action.word)
                        .min_size(egui::vec2(ui.spacing().interact_size.y, 0.0));
                    let button = ui.add_enabled(!asked.is_empty(), button);
                    let button = button.on_hover_text(action.tip(ui.ctx()));
                    if button.accessible_name(heard).clicked() {
                        asks.extend(asked);
                    }
                    if name == Name::ScaleDown {
                        ui.label(format!("Scale {} %", settings.scale));
                    }
                }
            });
            ui.separator();
            let action = actions::of(Name::LargeOn);
            if ui.selectable_label(settings.large, action.words).clicked() {
                asks.push(Ask::Large(!settings.large));
            }
        },
    );
}
