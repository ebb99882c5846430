//! Step 6: the looms. Lay leads in, take them out, tape them, wrap the whole.

use std::collections::BTreeSet;

use egui::{Align, Layout, Role, Ui, WidgetInfo, vec2};
use geometry::looms::Loom;
use geometry::{Exit, Job};
use profiles::schema::{JobFile, PartUse, WrapPart};

use super::list::{heading, remark};
use super::new_lead::{free_sockets, new_lead};
use super::part::id_of;
use super::places::new_exit;
use super::{Card, list};
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::loom_edit::LoomEdit;
use crate::desk::theme::{Paper, mix};
use crate::words::looms::{Member, members};

/// Draws the step.
pub fn looms_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let Some(job) = &card.model.job else {
        for problem in &card.model.problems {
            remark(ui, &problem.to_string());
        }
        return;
    };
    let Some(exit) = card.loom.exit_in(job, card.model) else {
        if ui.button("Make an exit").clicked() {
            let exit = new_exit(&card.job.cavity.exits);
            let id = exit.id.clone();
            asks.push(Ask::Edit(Edit::Exit(ListEdit::add(exit)), None));
            asks.push(Ask::Loom(id));
        }
        return;
    };
    lay_in_ui(ui, &card, exit, asks);
    if let Some(loom) = card.model.loom(&exit.id) {
        heading(ui, &format!("In the loom through {}", exit.name));
        for member in members(loom) {
            member_ui(ui, &card, loom, &member, asks);
        }
        taping_ui(ui, &card, loom, asks);
        wrap_ui(ui, &card, exit, asks);
    }
    bring_ui(ui, &card, job, exit, asks);
    ui.add_space(6.0);
    if ui.button("Place and size of this exit").clicked() {
        asks.push(Ask::Choose(Target::Exit(exit.id.clone())));
    }
}

/// Every free socket, one click each.
fn lay_in_ui(ui: &mut Ui, card: &Card, exit: &Exit, asks: &mut Vec<Ask>) {
    heading(ui, "Lay in a lead");
    let free = free_sockets(card);
    if free.is_empty() {
        remark(ui, "Every socket of the unit has its lead.");
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(5.0, 4.0);
        for socket in free {
            let button = ui.button(&socket.name);
            let button = button.accessible_name(format!("lay in {}", socket.name));
            if button.clicked()
                && let Some(lead) = new_lead(card, socket, Some(&exit.id))
            {
                asks.push(Ask::Edit(Edit::Lead(ListEdit::add(lead)), None));
            }
        }
    });
}

/// One lead of the loom: a click marks it; it can be taken out.
fn member_ui(ui: &mut Ui, card: &Card, loom: &Loom, member: &Member, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    let target = Target::Lead(member.lead.to_owned());
    let lit = card.attention.pointed == Some(&target);
    let frame = egui::Frame::new().fill(if lit {
        mix(paper.board, paper.lit, 0.16)
    } else {
        paper.board
    });
    frame.show(ui, |ui| {
        let size = vec2(ui.available_width(), ui.spacing().interact_size.y);
        let from_right = Layout::right_to_left(Align::Center);
        ui.allocate_ui_with_layout(size, from_right, |ui| {
            let out = list::small_button(ui, "Take out");
            let out = out.accessible_name(format!("take out {}", member.name));
            if out.hovered() || out.has_focus() {
                asks.push(Ask::Point(target.clone()));
            }
            if out.clicked()
                && let Some(at) = place_of(card.job, member.lead)
            {
                asks.push(Ask::Edit(Edit::Lead(ListEdit::Remove(at)), None));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                mark_ui(ui, card, loom, member, asks);
            });
        });
    });
}

/// Its name, and the tick that marks it.
fn mark_ui(ui: &mut Ui, card: &Card, loom: &Loom, member: &Member, asks: &mut Vec<Ask>) {
    let marked = card.loom.marked().contains(member.lead);
    let tape = (member.tape.and_then(|at| loom.tapes.get(at)))
        .map_or(String::new(), |tape| format!(", {}", tape.name));
    let text = format!("{}  {}{tape}", member.name, member.size(card.figures));
    let mut tick = marked;
    ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Truncate);
    let response = ui.add(egui::Checkbox::new(&mut tick, text));
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, marked, member.name));
    if response.hovered() || response.has_focus() {
        asks.push(Ask::Point(Target::Lead(member.lead.to_owned())));
    }
    if response.changed() {
        asks.push(Ask::Mark(member.lead.to_owned()));
    }
}

/// Where a lead stands in the list of the job.
fn place_of(job: &JobFile, lead: &str) -> Option<usize> {
    job.leads.iter().position(|other| other.id == lead)
}

/// What is usually taped with.
const USUAL_TAPE: &str = "pvc_tape";

/// What can be done with the leads that are marked.
fn taping_ui(ui: &mut Ui, card: &Card, loom: &Loom, asks: &mut Vec<Ask>) {
    let marked = card.loom.marked();
    if marked.is_empty() {
        remark(
            ui,
            "Mark two leads or more to tape them together, one to see its form.",
        );
        return;
    }
    let tapes: BTreeSet<usize> = (loom.strands.iter())
        .filter(|strand| marked.contains(&strand.lead))
        .filter_map(|strand| strand.tape)
        .collect();
    ui.horizontal_wrapped(|ui| {
        let can = can_be_taped(card.job, &loom.exit, marked);
        if ui
            .add_enabled(can, egui::Button::new("Tape together"))
            .clicked()
        {
            let tape = card.library.get::<WrapPart>(USUAL_TAPE);
            let wrap = tape.map(|_| PartUse::Named(USUAL_TAPE.to_owned()));
            let leads = (card.job.leads.iter())
                .map(|lead| lead.id.clone())
                .filter(|id| marked.contains(id))
                .collect();
            change(&loom.exit, LoomEdit::Tape(leads, wrap), marked, asks);
        }
        if !tapes.is_empty() && ui.button("Take the tape off").clicked() {
            for tape in tapes.into_iter().filter_map(|at| loom.tapes.get(at)) {
                if let Some(lead) = tape.leads.first() {
                    change(&loom.exit, LoomEdit::Untape(lead.clone()), marked, asks);
                }
            }
        }
        if let (1, Some(lead)) = (marked.len(), marked.first())
            && ui.button("Form of this lead").clicked()
        {
            asks.push(Ask::Choose(Target::Lead(lead.clone())));
        }
    });
}

/// Two leads or more, all of which end at the exit itself.
fn can_be_taped(job: &JobFile, exit: &str, marked: &BTreeSet<String>) -> bool {
    let ends_here = |id: &String| {
        (job.leads.iter()).any(|lead| lead.id == *id && lead.end.exit.as_deref() == Some(exit))
    };
    marked.len() > 1 && marked.iter().all(ends_here)
}

/// Asks for a change of the loom, and for the marks to be taken away.
fn change(exit: &str, edit: LoomEdit, marked: &BTreeSet<String>, asks: &mut Vec<Ask>) {
    asks.push(Ask::Edit(Edit::Loom(exit.to_owned(), edit), None));
    asks.extend(marked.iter().cloned().map(Ask::Mark));
}

/// What goes round the whole.
fn wrap_ui(ui: &mut Ui, card: &Card, exit: &Exit, asks: &mut Vec<Ask>) {
    let used = (card.job.looms.iter())
        .find(|loom| loom.exit == exit.id)
        .and_then(|loom| loom.wrap.as_ref());
    let id = used.map_or("", id_of);
    let mut all = vec![(String::new(), "nothing".to_owned())];
    if let Some(PartUse::Inline(own)) = used {
        all[0].1 = format!("{} (described in the job)", own.name);
    }
    all.extend(card.wraps());
    if let Some(chosen) = fields::choice_of(ui, "loom", "round the whole", id, &all) {
        let wrap = (!chosen.is_empty()).then_some(PartUse::Named(chosen));
        let edit = Edit::Loom(exit.id.clone(), LoomEdit::Wrap(wrap));
        asks.push(Ask::Edit(edit, None));
    }
}

/// Leads that now leave by another exit, one click each.
fn bring_ui(ui: &mut Ui, card: &Card, job: &Job, exit: &Exit, asks: &mut Vec<Ask>) {
    let elsewhere: Vec<(usize, &str)> = (card.job.leads.iter().enumerate())
        .filter_map(|(at, lead)| {
            let end = lead.end.exit.as_ref().filter(|end| **end != exit.id)?;
            let exit = job.cavity.exits.iter().find(|exit| exit.id == *end);
            Some((at, exit.map_or(end.as_str(), |exit| &exit.name)))
        })
        .collect();
    if elsewhere.is_empty() {
        return;
    }
    heading(ui, "Bring here");
    remark(ui, "Leads that now leave by another exit:");
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(5.0, 4.0);
        for (at, from) in elsewhere {
            let lead = &card.job.leads[at];
            let button = ui.button(format!("{}, by the {from}", lead.name));
            let button = button.accessible_name(format!("bring here {}", lead.name));
            if button.hovered() || button.has_focus() {
                asks.push(Ask::Point(Target::Lead(lead.id.clone())));
            }
            if button.clicked() {
                let mut next = lead.clone();
                next.end.exit = Some(exit.id.clone());
                asks.push(Ask::Edit(Edit::Lead(ListEdit::set(at, next)), None));
            }
        }
    });
}
