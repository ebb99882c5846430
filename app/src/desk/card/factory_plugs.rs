//! Plugs of the factory loom, as found behind the old unit.

use egui::Ui;
use profiles::Length;
use profiles::schema::FactoryPlugFile;

use super::list::{
    InList, form_frame, free_id, heading, line_ui, list_buttons, neighbours, small_button,
};
use super::places::{AXES, line};
use super::{Card, copies};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::theme::Tone;

/// Draws the list.
pub fn factory_plugs_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Factory plugs");
    let plugs = &card.job.cavity.factory_plugs;
    for (at, plug) in plugs.iter().enumerate() {
        let target = Target::FactoryPlug(plug.id.clone());
        let mut line = line(&target, &plug.name, "factory plug");
        line.swatch = Some((Tone::Loom, Hatch::Net));
        if line_ui(ui, &card, &line, asks) {
            form_frame(ui, |ui| plug_ui(ui, at, plugs, asks));
        }
    }
    if small_button(ui, "Add a factory plug").clicked() {
        let id = free_id("plug", plugs.iter().map(|plug| plug.id.as_str()));
        let target = Target::FactoryPlug(id.clone());
        asks.push(Ask::Edit(
            Edit::FactoryPlug(ListEdit::add(new_plug(id))),
            None,
        ));
        asks.push(Ask::Choose(target));
    }
}

/// A plug to begin from: of the usual size, hanging below the unit, its mating
/// face toward the opening. Common practice, no source.
fn new_plug(id: String) -> FactoryPlugFile {
    FactoryPlugFile {
        name: format!("factory {id}"),
        id,
        at: [0.0, 150.0, -70.0].map(Length::mm),
        direction: [0.0, -1.0, 0.0],
        size: [45.0, 15.0, 30.0].map(Length::mm),
        tail: None,
        pulls_out: None,
        clear: None,
    }
}

fn plug_ui(ui: &mut Ui, at: usize, all: &[FactoryPlugFile], asks: &mut Vec<Ask>) {
    let plug = &all[at];
    let of = plug.name.as_str();
    let mut next = plug.clone();
    let mut gesture: Option<Gesture> = None;
    if let Some(typed) = fields::words(ui, "factory plug", "name", of, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    for (axis, word) in AXES.into_iter().enumerate() {
        let name = format!("face {word}");
        if let Some(typed) = fields::length(ui, of, &name, &plug.at[axis], asks) {
            next.at[axis] = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    for (axis, name) in ["width", "height", "length"].into_iter().enumerate() {
        if let Some(typed) = fields::length(ui, of, name, &plug.size[axis], asks) {
            next.size[axis] = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    type Place = fn(&mut FactoryPlugFile) -> &mut Option<Length>;
    let lengths: [(&str, &str, Place); 3] = [
        ("its tail", "0", |plug| &mut plug.tail),
        ("pulls out by", "0", |plug| &mut plug.pulls_out),
        ("keep clear", "2", |plug| &mut plug.clear),
    ];
    for (name, usual, place) in lengths {
        let value = place(&mut next).clone();
        if let Some(typed) = fields::optional_length(ui, of, name, value.as_ref(), usual, asks) {
            *place(&mut next) = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    let mut ways = vec![
        ([0.0, -1.0, 0.0], "out of the dash"),
        ([0.0, 1.0, 0.0], "into the dash"),
        ([-1.0, 0.0, 0.0], "to the left"),
        ([1.0, 0.0, 0.0], "to the right"),
        ([0.0, 0.0, 1.0], "up"),
        ([0.0, 0.0, -1.0], "down"),
    ];
    if !ways.iter().any(|(way, _)| *way == plug.direction) {
        ways.push((plug.direction, "aslant, as written"));
    }
    if let Some(way) = fields::choice(ui, of, "its face looks", &plug.direction, &ways) {
        next.direction = way;
        let edit = Edit::FactoryPlug(ListEdit::set(at, next.clone()));
        asks.push(Ask::Edit(edit, None));
    }
    if let Some(gesture) = gesture {
        let edit = Edit::FactoryPlug(ListEdit::set(at, next));
        asks.push(Ask::Edit(edit, Some(gesture)));
    }
    list_buttons(
        ui,
        &Target::FactoryPlug(plug.id.clone()),
        InList {
            at,
            neighbours: neighbours(at, all.len()),
            name: of,
            edit: &Edit::FactoryPlug,
            copy: copies::factory_plug(all, at),
        },
        asks,
    );
}
