//! Exits, spaces, pockets and factory plugs of the cavity.

use egui::Ui;
use profiles::Length;
use profiles::schema::{BoxFile, ExitFile, PocketFile, SpaceFile};

use super::Card;
use super::list::{Line, form_buttons, form_frame, free_id, heading, line_ui, remark};
use super::obstacle::box_ui;
use crate::desk::canvas::hatch::Hatch;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::theme::Tone;

pub(super) const AXES: [&str; 3] = ["across", "depth", "up"];

fn line<'a>(target: &Target, name: &'a str, end: &str) -> Line<'a> {
    Line {
        target: target.clone(),
        name,
        end: end.to_owned(),
        swatch: None,
        in_the_way: false,
    }
}

/// Where leads leave the cavity.
pub fn exits_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Exits");
    let exits = &card.job.cavity.exits;
    for (at, exit) in exits.iter().enumerate() {
        let target = Target::Exit(exit.id.clone());
        if line_ui(ui, &card, &line(&target, &exit.name, "exit"), asks) {
            form_frame(ui, |ui| exit_ui(ui, at, exit, asks));
        }
    }
    if ui.small_button("Add an exit").clicked() {
        let new = new_exit(exits);
        let id = new.id.clone();
        asks.push(Ask::Edit(Edit::Exit(ListEdit::add(new)), None));
        asks.push(Ask::Choose(Target::Exit(id)));
    }
}

/// An exit to begin from: a round hole in the left wall.
pub fn new_exit(exits: &[ExitFile]) -> ExitFile {
    let id = free_id("exit", exits.iter().map(|exit| exit.id.as_str()));
    ExitFile {
        name: id.clone(),
        id,
        centre: [Length::mm(-90.0), Length::mm(200.0), Length::mm(0.0)],
        direction: [-1.0, 0.0, 0.0],
        diameter: Some(Length::mm(38.0)),
        width: None,
        height: None,
        corners: Vec::new(),
        run_beyond: None,
    }
}

fn exit_ui(ui: &mut Ui, at: usize, exit: &ExitFile, asks: &mut Vec<Ask>) {
    let of = exit.name.as_str();
    let mut next = exit.clone();
    let mut gesture: Option<Gesture> = None;
    if let Some(typed) = fields::words(ui, "exit", "name", &exit.name, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    for (axis, word) in AXES.into_iter().enumerate() {
        if let Some(typed) =
            fields::length(ui, of, &format!("centre {word}"), &exit.centre[axis], asks)
        {
            next.centre[axis] = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    type Place = fn(&mut ExitFile) -> &mut Option<Length>;
    let sizes: [(&str, Place); 4] = [
        ("diameter", |e| &mut e.diameter),
        ("or width", |e| &mut e.width),
        ("and height", |e| &mut e.height),
        ("run beyond", |e| &mut e.run_beyond),
    ];
    for (name, place) in sizes {
        let value = place(&mut next).clone();
        if let Some(typed) = fields::optional_length(ui, of, name, value.as_ref(), "", asks) {
            *place(&mut next) = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    let ways = [
        ([-1.0, 0.0, 0.0], "to the left"),
        ([1.0, 0.0, 0.0], "to the right"),
        ([0.0, 0.0, 1.0], "up"),
        ([0.0, 0.0, -1.0], "down"),
        ([0.0, 1.0, 0.0], "into the dash"),
    ];
    let mut all: Vec<([f64; 3], &str)> = ways.to_vec();
    if !all.iter().any(|(way, _)| *way == exit.direction) {
        all.push((exit.direction, "aslant, as written"));
    }
    if let Some(way) = fields::choice(ui, of, "leads pass", &exit.direction, &all) {
        next.direction = way;
        asks.push(Ask::Edit(Edit::Exit(ListEdit::set(at, next.clone())), None));
    }
    if let Some(gesture) = gesture {
        asks.push(Ask::Edit(
            Edit::Exit(ListEdit::set(at, next)),
            Some(gesture),
        ));
    }
    if ui.button("Show its loom").clicked() {
        asks.push(Ask::Loom(exit.id.clone()));
    }
    let target = Target::Exit(exit.id.clone());
    form_buttons(ui, &target, Some(Edit::Exit(ListEdit::Remove(at))), asks);
}

/// Rooms outside the cavity.
pub fn spaces_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Spaces outside");
    let spaces = &card.job.cavity.spaces;
    for (at, space) in spaces.iter().enumerate() {
        let target = Target::Space(space.id.clone());
        if line_ui(ui, &card, &line(&target, &space.name, "space"), asks) {
            form_frame(ui, |ui| space_ui(ui, card, at, space, asks));
        }
    }
    if let Some(exit) = card.job.cavity.exits.first()
        && ui.small_button("Add a space").clicked()
    {
        let id = free_id("space", spaces.iter().map(|space| space.id.as_str()));
        let new = SpaceFile {
            name: id.clone(),
            id: id.clone(),
            size: [Length::mm(100.0), Length::mm(60.0), Length::mm(40.0)],
            centre: None,
            exit: exit.id.clone(),
            run: Length::mm(300.0),
        };
        asks.push(Ask::Edit(Edit::Space(ListEdit::add(new)), None));
        asks.push(Ask::Choose(Target::Space(id)));
    }
}

fn space_ui(ui: &mut Ui, card: Card, at: usize, space: &SpaceFile, asks: &mut Vec<Ask>) {
    let of = space.name.as_str();
    let mut next = space.clone();
    let mut gesture: Option<Gesture> = None;
    if let Some(typed) = fields::words(ui, "space", "name", &space.name, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    for (axis, word) in AXES.into_iter().enumerate() {
        if let Some(typed) =
            fields::length(ui, of, &format!("free {word}"), &space.size[axis], asks)
        {
            next.size[axis] = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    if let Some(typed) = fields::length(ui, of, "lead run to it", &space.run, asks) {
        next.run = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(exit) = fields::choice_of(ui, of, "reached through", &space.exit, &card.exits()) {
        next.exit = exit;
        asks.push(Ask::Edit(
            Edit::Space(ListEdit::set(at, next.clone())),
            None,
        ));
    }
    if let Some(gesture) = gesture {
        asks.push(Ask::Edit(
            Edit::Space(ListEdit::set(at, next)),
            Some(gesture),
        ));
    }
    let target = Target::Space(space.id.clone());
    form_buttons(ui, &target, Some(Edit::Space(ListEdit::Remove(at))), asks);
}

/// Rooms inside the cavity where a module may sit.
pub fn pockets_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Pockets inside");
    let pockets = &card.job.cavity.pockets;
    for (at, pocket) in pockets.iter().enumerate() {
        let target = Target::Pocket(pocket.id.clone());
        if line_ui(ui, &card, &line(&target, &pocket.name, "pocket"), asks) {
            form_frame(ui, |ui| pocket_ui(ui, at, pocket, asks));
        }
    }
    if ui.small_button("Add a pocket").clicked() {
        let id = free_id("pocket", pockets.iter().map(|pocket| pocket.id.as_str()));
        let pair = |low: f64, high: f64| [Length::mm(low), Length::mm(high)];
        let new = PocketFile {
            name: id.clone(),
            id: id.clone(),
            block: BoxFile {
                across: pair(-95.0, -5.0),
                depth: pair(180.0, 230.0),
                up: pair(-90.0, -55.0),
                turned_deg: [0.0; 3],
            },
        };
        asks.push(Ask::Edit(Edit::Pocket(ListEdit::add(new)), None));
        asks.push(Ask::Choose(Target::Pocket(id)));
    }
}

fn pocket_ui(ui: &mut Ui, at: usize, pocket: &PocketFile, asks: &mut Vec<Ask>) {
    let of = pocket.name.as_str();
    let mut next = pocket.clone();
    let mut gesture: Option<Gesture> = None;
    if let Some(typed) = fields::words(ui, "pocket", "name", &pocket.name, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(typed) = box_ui(ui, of, &pocket.block, &mut next.block, asks) {
        gesture = Some(typed);
    }
    if let Some(gesture) = gesture {
        asks.push(Ask::Edit(
            Edit::Pocket(ListEdit::set(at, next)),
            Some(gesture),
        ));
    }
    let target = Target::Pocket(pocket.id.clone());
    form_buttons(ui, &target, Some(Edit::Pocket(ListEdit::Remove(at))), asks);
}

/// Plugs of the factory loom, as found.
pub fn factory_plugs_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let plugs = &card.job.cavity.factory_plugs;
    if plugs.is_empty() {
        return;
    }
    heading(ui, "Factory plugs");
    for plug in plugs {
        let target = Target::FactoryPlug(plug.id.clone());
        let mut line = line(&target, &plug.name, "factory plug");
        line.swatch = Some((Tone::Loom, Hatch::Net));
        if line_ui(ui, &card, &line, asks) {
            form_frame(ui, |ui| {
                let at: Vec<&str> = plug.at.iter().map(Length::as_written).collect();
                remark(
                    ui,
                    &format!(
                        "Mating face at across {}, depth {}, up {}.",
                        at[0], at[1], at[2]
                    ),
                );
                form_buttons(ui, &target, None, asks);
            });
        }
    }
}
