//! Step 4: the leads, and what plugs in where.

use egui::Ui;
use geometry::ChainLink;
use profiles::Length;
use profiles::schema::{CablePart, LeadEndFile, LeadFile, PartUse, PlugPart};

use super::list::{InList, Line, form_frame, heading, line_ui, list_buttons, neighbours, remark};
use super::new_lead::{free_sockets, new_lead};
use super::part::{PartFields, id_of};
use super::route::route_ui;
use super::{Card, copies, list};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::chain_bar::depth_left;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::theme::Tone;

/// Draws the step.
pub fn leads_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Leads");
    for (at, lead) in card.job.leads.iter().enumerate() {
        let target = Target::Lead(lead.id.clone());
        let link = card.link(&lead.id);
        let line = Line {
            end: link.map_or(String::new(), |link| margin(link, card)),
            in_the_way: card
                .model
                .clashes
                .iter()
                .any(|clash| clash.piece.as_ref() == Some(&target)),
            target,
            name: &lead.name,
            swatch: Some((Tone::Lead, Hatch::Upright)),
        };
        if line_ui(ui, &card, &line, asks) {
            form_frame(ui, |ui| lead_ui(ui, card, at, lead, asks));
        }
    }
    add(ui, card, asks);
}

fn margin(link: &ChainLink, card: Card) -> String {
    match link.margin {
        Some(margin) => depth_left(margin, card.figures),
        None => "free".to_owned(),
    }
}

fn lead_ui(ui: &mut Ui, card: Card, at: usize, lead: &LeadFile, asks: &mut Vec<Ask>) {
    let of = lead.name.as_str();
    let mut next = lead.clone();
    let mut gesture: Option<Gesture> = None;
    let mut chosen = false;
    if let Some(typed) = fields::words(ui, "lead", "name", &lead.name, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(socket) = &lead.socket
        && let Some(id) = fields::choice_of(ui, of, "socket", socket, &card.sockets())
    {
        next.socket = Some(id);
        chosen = true;
    }
    if let Some(id) = fields::choice_of(ui, of, "plug", id_of(&lead.plug), &card.plugs(lead)) {
        next.plug = PartUse::Named(id);
        chosen = true;
    }
    if let Some((plug, typed)) = plug_lengths(ui, card, of, &lead.plug, asks) {
        next.plug = plug;
        gesture = Some(typed);
    }
    if let Some(id) = fields::choice_of(
        ui,
        of,
        "cable",
        id_of(&lead.cable),
        &card.cables(&lead.cable),
    ) {
        next.cable = PartUse::Named(id);
        chosen = true;
    }
    let cable = PartFields {
        of,
        used: &lead.cable,
        base: lead
            .cable
            .base()
            .and_then(|id| card.library.get::<CablePart>(id)),
    };
    if let Some(typed) = cable.length(ui, "cable diameter", "od", |c| Some(&mut c.od), asks) {
        next.cable = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(typed) =
        fields::optional_length(ui, of, "length", lead.length.as_ref(), "not known", asks)
    {
        next.length = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(end) = fields::choice_of(ui, of, "ends at", &end_key(&lead.end), &card.ends()) {
        next.end = end_of(&end);
        chosen = true;
    }
    if chosen || gesture.is_some() {
        asks.push(Ask::Edit(
            Edit::Lead(ListEdit::set(at, next)),
            if chosen { None } else { gesture },
        ));
    }
    route_ui(ui, card, lead, asks);
    if let Some(link) = card.link(&lead.id) {
        chain(ui, card, link);
    }
    let target = Target::Lead(lead.id.clone());
    list_buttons(
        ui,
        &target,
        InList {
            at,
            neighbours: neighbours(at, card.job.leads.len()),
            name: of,
            edit: &Edit::Lead,
            copy: copies::lead(&card, at),
        },
        asks,
    );
}

/// What a plug needs behind the chassis.
fn plug_lengths(
    ui: &mut Ui,
    card: Card,
    of: &str,
    used: &PartUse<PlugPart>,
    asks: &mut Vec<Ask>,
) -> Option<(PartUse<PlugPart>, Gesture)> {
    let fields = PartFields {
        of,
        used,
        base: used.base().and_then(|id| card.library.get::<PlugPart>(id)),
    };
    type Place = fn(&mut PlugPart) -> Option<&mut Length>;
    let lengths: [(&str, &str, Place); 5] = [
        ("plug length", "straight.body", |p| {
            p.straight.as_mut().map(|s| &mut s.body)
        }),
        ("strain relief", "straight.relief", |p| {
            p.straight.as_mut().and_then(|s| s.relief.as_mut())
        }),
        ("stands out", "right_angle.stands", |p| {
            p.right_angle.as_mut().map(|r| &mut r.stands)
        }),
        ("plug width", "width", |p| Some(&mut p.width)),
        ("plug height", "height", |p| Some(&mut p.height)),
    ];
    let mut result = None;
    for (name, key, place) in lengths {
        if let Some(typed) = fields.length(ui, name, key, place, asks) {
            result = Some((typed.value, typed.gesture));
        }
    }
    result
}

/// The depth chain as a sum, line by line.
fn chain(ui: &mut Ui, card: Card, link: &ChainLink) {
    heading(ui, "Depth chain");
    let fine = |mm: f64| card.figures.fine(mm);
    let rows = [
        ("setback", link.setback),
        ("chassis", link.chassis),
        ("plug", link.plug),
        ("turn of the cable", link.turn),
    ];
    egui::Grid::new("sum")
        .num_columns(2)
        .spacing([12.0, 1.0])
        .show(ui, |ui| {
            let mut line = |name: &str, value: String| {
                ui.label(egui::RichText::new(name).small());
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    ui.label(egui::RichText::new(value).small());
                });
                ui.end_row();
            };
            for (name, mm) in rows {
                line(name, fine(mm));
            }
            line("needed", fine(link.needed));
            if let (Some(available), Some(against)) = (link.available, &link.against_name) {
                line(&format!("there is, before the {against}"), fine(available));
            }
            if let Some(margin) = link.margin {
                let word = if margin < 0.0 { "short" } else { "to spare" };
                line(
                    word,
                    format!(
                        "{} ± {}",
                        fine(margin.abs()),
                        card.figures.bare(link.margin_plus_minus)
                    ),
                );
            }
        });
}

/// How a choice names an end: `exit left`, `module m1`, `plug p1`.
fn end_key(end: &LeadEndFile) -> String {
    match (&end.exit, &end.module, &end.factory_plug) {
        (Some(id), _, _) => format!("exit {id}"),
        (_, Some(id), _) => format!("module {id}"),
        (_, _, Some(id)) => format!("plug {id}"),
        _ => String::new(),
    }
}

fn end_of(key: &str) -> LeadEndFile {
    let mut end = LeadEndFile::default();
    if let Some((kind, id)) = key.split_once(' ') {
        let id = Some(id.to_owned());
        match kind {
            "exit" => end.exit = id,
            "module" => end.module = id,
            _ => end.factory_plug = id,
        }
    }
    end
}

fn add(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    if card.model.job.is_none() {
        return;
    }
    let free = free_sockets(&card);
    if free.is_empty() {
        remark(ui, "Every socket of the unit has its lead.");
        return;
    }
    let exit = (card.job.cavity.exits.first()).map(|exit| exit.id.as_str());
    ui.horizontal_wrapped(|ui| {
        ui.weak("Plug in:");
        for socket in free {
            if !list::small_button(ui, &socket.name).clicked() {
                continue;
            }
            let Some(new) = new_lead(&card, socket, exit) else {
                continue;
            };
            let target = Target::Lead(new.id.clone());
            asks.push(Ask::Edit(Edit::Lead(ListEdit::add(new)), None));
            asks.push(Ask::Choose(target));
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_survive_being_named() {
        for key in ["exit left", "module data switch", "plug 3", ""] {
            assert_eq!(end_key(&end_of(key)), key);
        }
    }
}
