//! Step 6: what comes of it, in full.

use egui::{Label, RichText, TextStyle, Ui};
use profiles::schema::{BendRules, MetFile};

use super::Card;
use super::list::{heading, remark};
use crate::desk::edit::{Ask, Edit};
use crate::desk::fields;
use crate::desk::verdict::mark;
use crate::words;

/// Draws the step.
pub fn verdict_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    limits(ui, card, asks);
    let Some(fit) = &card.model.fit else {
        remark(ui, "No answer yet: the steps above say what is lacking.");
        return;
    };
    let figures = card.figures;
    if !fit.stopped_by.is_empty() {
        heading(ui, "What stops it");
        for stop in &fit.stopped_by {
            remark(
                ui,
                &format!(
                    "{}: {} short",
                    words::meets(stop),
                    figures.length(stop.short)
                ),
            );
        }
    }
    if let Some(laid) = card.model.laid_now() {
        let lines = words::slide_in::lines(&laid.of.routed, figures);
        if !lines.is_empty() {
            heading(ui, "How it goes in");
        }
        for line in lines {
            remark(ui, &line);
        }
        let left = &laid.of.routed.left_over;
        if !left.is_empty() {
            heading(ui, "Left over");
            for left in left {
                remark(ui, &words::routed::left_over(left, figures));
            }
        }
    }
    for met in gives(card) {
        remark(ui, super::sockets::advice(met));
    }
    if !card.model.alternatives.is_empty() {
        heading(ui, "Instead");
        for alternative in &card.model.alternatives {
            ui.horizontal_top(|ui| {
                let size = ui.text_style_height(&TextStyle::Body);
                mark(ui, alternative.verdict, size);
                let text = format!("{}: {}", alternative.name, alternative.says);
                ui.add(Label::new(RichText::new(text).small()).wrap());
            });
        }
    }
    if !fit.rooms.is_empty() {
        heading(ui, "Room beside the unit");
        for room in &fit.rooms {
            remark(
                ui,
                &format!(
                    "{}: {} to the {}",
                    room.side.word(),
                    figures.length(room.free),
                    room.against_name
                ),
            );
        }
    }
    if !fit.modules.is_empty() {
        heading(ui, "Modules");
        for room in &fit.modules {
            remark(ui, &words::module_line(room, figures));
        }
    }
    let held_out = card.model.laid_now().map_or(Vec::new(), |laid| {
        laid.of.routed.half_way_short(&laid.of.job)
    });
    let held_out = held_out.iter().map(|(_, said)| said);
    let own = fit.not_ready.iter().chain(&fit.remarks);
    let notes: Vec<&String> = own.chain(held_out).collect();
    if !notes.is_empty() {
        heading(ui, "To heed");
        for note in notes {
            remark(ui, note);
        }
    }
    if !card.model.cautions.is_empty() {
        heading(ui, "Cautions");
        for caution in &card.model.cautions {
            ui.label(&caution.title);
            remark(ui, &caution.text);
        }
    }
}

/// What gives among that which stops the unit.
fn gives(card: Card) -> Vec<MetFile> {
    let stops = card.model.fit.iter().flat_map(|fit| &fit.stopped_by);
    let mut met: Vec<MetFile> = stops
        .filter_map(|stop| {
            let mut obstacles = card.job.cavity.obstacles.iter();
            obstacles
                .find(|obstacle| obstacle.id == stop.against_id)?
                .met
        })
        .filter(|met| matches!(met, MetFile::Soft | MetFile::Moves))
        .collect();
    met.dedup();
    met
}

/// What counts as flush enough, and how tightly cables may bend.
fn limits(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let written = card
        .job
        .proud_limit_mm
        .map_or(String::new(), |limit| format!("{limit}"));
    let read = |text: &str| {
        if text.trim().is_empty() {
            return Ok(None);
        }
        let measure = profiles::Length::parse(text)?
            .measure()
            .map(|measure| measure.value());
        match measure {
            Some(limit) if limit >= 0.0 => Ok(Some(limit)),
            _ => Err("allowed: a length, 0 or more".to_owned()),
        }
    };
    let typed = fields::row(ui, "may stand proud", |ui| {
        let width = fields::field_width(ui);
        let typed = fields::typed(ui, "job: may stand proud", &written, "3", width, read, asks);
        if let Some(job) = &card.model.job {
            fields::unit_ui(ui, &profiles::Length::mm(job.proud_limit));
        }
        typed
    });
    if let Some(typed) = typed {
        asks.push(Ask::Edit(
            Edit::ProudLimit(typed.value),
            Some(typed.gesture),
        ));
    }
    let rules = [
        (BendRules::Published, "as published"),
        (BendRules::Shop, "as fitters do"),
    ];
    if let Some(rules) = fields::choice(ui, "job", "cables bend", &card.job.bend_rules, &rules) {
        asks.push(Ask::Edit(Edit::BendRules(rules), None));
    }
}
