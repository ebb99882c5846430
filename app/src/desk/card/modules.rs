//! Step 5: interface modules and their places.

use egui::Ui;
use geometry::ModuleSeat;
use profiles::Length;
use profiles::schema::{BoxFile, ModuleFile, ModulePart, PartUse};

use super::list::{
    InList, Line, form_frame, free_id, heading, line_ui, list_buttons, neighbours, remark,
};
use super::obstacle::box_ui;
use super::part::{PartFields, id_of};
use super::{Card, copies, list};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::theme::Tone;
use crate::words;

/// Draws the step.
pub fn modules_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Modules");
    if card.job.modules.is_empty() {
        remark(ui, "No interface module in this job.");
    }
    for (at, module) in card.job.modules.iter().enumerate() {
        let target = Target::Module(module.id.clone());
        let line = Line {
            in_the_way: card.model.clashes_with(&target),
            target,
            name: &module.name,
            end: if module.pinned.is_some() {
                "stays"
            } else {
                "may move"
            }
            .to_owned(),
            swatch: Some((Tone::Module, Hatch::FallingClose)),
        };
        if line_ui(ui, &card, &line, asks) {
            form_frame(ui, |ui| module_ui(ui, card, at, module, asks));
        }
    }
    add(ui, card, asks);
}

fn module_ui(ui: &mut Ui, card: Card, at: usize, module: &ModuleFile, asks: &mut Vec<Ask>) {
    let of = module.name.as_str();
    let mut next = module.clone();
    let mut gesture: Option<Gesture> = None;
    let mut chosen = false;
    if let Some(typed) = fields::words(ui, "module", "name", &module.name, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(id) = fields::choice_of(
        ui,
        of,
        "part",
        id_of(&module.part),
        &card.module_parts(&module.part),
    ) {
        next.part = PartUse::Named(id);
        chosen = true;
    }
    if let Some(stays) = fields::tick(ui, of, "stays where it is", module.pinned.is_some()) {
        next.pinned = stays.then(|| place(card, module));
        // What stays has nowhere to go.
        next.may_go_to.clear();
        chosen = true;
    }
    match (&module.pinned, &mut next.pinned) {
        (Some(block), Some(next_block)) => {
            if let Some(typed) = box_ui(ui, of, block, next_block, asks) {
                gesture = Some(typed);
            }
        }
        _ => {
            let base = module
                .part
                .base()
                .and_then(|id| card.library.get::<ModulePart>(id));
            let part = PartFields {
                of,
                used: &module.part,
                base,
            };
            for (axis, (name, key)) in [("size", "size.0"), ("by", "size.1"), ("by ", "size.2")]
                .into_iter()
                .enumerate()
            {
                if let Some(typed) = part.length(ui, name, key, |m| Some(&mut m.size[axis]), asks) {
                    next.part = typed.value;
                    gesture = Some(typed.gesture);
                }
            }
            ui.weak("may go to (anywhere when none is ticked):");
            for (id, name) in card.rooms() {
                let may = module.may_go_to.contains(&id);
                if let Some(may) = fields::tick(ui, of, &name, may) {
                    next.may_go_to.retain(|other| *other != id);
                    if may {
                        next.may_go_to.push(id);
                    }
                    chosen = true;
                }
            }
        }
    }
    if let Some(typed) = fields::optional_length(
        ui,
        of,
        "its lead",
        module.lead_length.as_ref(),
        "not known",
        asks,
    ) {
        next.lead_length = typed.value;
        gesture = Some(typed.gesture);
    }
    if chosen || gesture.is_some() {
        asks.push(Ask::Edit(
            Edit::Module(ListEdit::set(at, next)),
            if chosen { None } else { gesture },
        ));
    }
    let room = card
        .model
        .fit
        .as_ref()
        .and_then(|fit| fit.modules.iter().find(|room| room.module == module.id));
    let laid = card.model.laid_now();
    let placed = laid.and_then(|laid| {
        let mut modules = laid.of.routed.modules.iter();
        modules.find(|it| it.module == module.id && module.pinned.is_none())
    });
    match (placed, room) {
        (Some(placed), _) => {
            let seat = words::placed::seat(placed, card.figures);
            remark(ui, &format!("{}: {seat}.", module.name));
        }
        (None, Some(room)) => remark(ui, &words::module_line(room, card.figures)),
        (None, None) => {}
    }
    keep_ui(ui, card, at, module, asks);
    let target = Target::Module(module.id.clone());
    list_buttons(
        ui,
        &target,
        InList {
            at,
            neighbours: neighbours(at, card.job.modules.len()),
            name: of,
            edit: &Edit::Module,
            copy: copies::module(&card.job.modules, at),
        },
        asks,
    );
}

/// A button that keeps a module where the search has put it.
fn keep_ui(ui: &mut Ui, card: Card, at: usize, module: &ModuleFile, asks: &mut Vec<Ask>) {
    let laid = card.model.laid.as_ref().filter(|_| module.pinned.is_none());
    let seat = laid.and_then(|laid| {
        let mut modules = laid.of.routed.modules.iter();
        modules.find(|it| it.module == module.id)
    });
    let mut next = module.clone();
    match seat.map(|it| &it.place) {
        Some(ModuleSeat::Cavity { centre, size }) => {
            let button = ui.button("Keep it here");
            if !button
                .accessible_name(format!("{}: keep it here", module.name))
                .clicked()
            {
                return;
            }
            let (low, high) = (*centre - 0.5 * *size, *centre + 0.5 * *size);
            let pair = |axis: usize| [low, high].map(|corner| Length::mm(tidied(corner[axis])));
            next.may_go_to.clear();
            next.pinned = Some(BoxFile {
                across: pair(0),
                depth: pair(1),
                up: pair(2),
                turned_deg: [0.0; 3],
            });
        }
        Some(ModuleSeat::Space(space)) if module.may_go_to != [space.clone()] => {
            let rooms = card.rooms();
            let name = rooms.iter().find(|(id, _)| id == space);
            let name = name.map_or(space.as_str(), |(_, name)| name);
            if !ui.button(format!("Keep it in the {name}")).clicked() {
                return;
            }
            next.may_go_to = vec![space.clone()];
        }
        _ => return,
    }
    asks.push(Ask::Edit(Edit::Module(ListEdit::set(at, next)), None));
}

/// A figure without what rounding has left behind, mm: to a thousandth, far
/// less than any room asked for.
fn tidied(mm: f64) -> f64 {
    (mm * 1000.0).round() / 1000.0
}

/// Where a module is put when it is first said to stay: behind the unit, low, at its own size.
fn place(card: Card, module: &ModuleFile) -> BoxFile {
    let size = card
        .model
        .job
        .as_ref()
        .and_then(|job| job.modules.iter().find(|other| other.id == module.id))
        .map_or([90.0, 25.0, 60.0], |module| {
            module.size.map(|size| size.value())
        });
    let pair = |low: f64, size: f64| [Length::mm(low), Length::mm(low + size)];
    BoxFile {
        across: pair(-90.0, size[0]),
        depth: pair(200.0, size[1]),
        up: pair(-80.0, size[2]),
        turned_deg: [0.0; 3],
    }
}

fn add(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let Some(part) = card.library.ids::<ModulePart>().next() else {
        return;
    };
    if list::small_button(ui, "Add a module").clicked() {
        let id = free_id(
            "module",
            card.job.modules.iter().map(|module| module.id.as_str()),
        );
        let new = ModuleFile {
            name: id.clone(),
            id: id.clone(),
            part: PartUse::Named(part.to_owned()),
            pinned: None,
            may_go_to: Vec::new(),
            lead_length: None,
            notes: String::new(),
        };
        asks.push(Ask::Edit(Edit::Module(ListEdit::add(new)), None));
        asks.push(Ask::Choose(Target::Module(id)));
    }
}
