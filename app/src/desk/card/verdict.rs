//! Step 6: what comes of it, in full.

use egui::{Label, RichText, TextStyle, Ui};
use profiles::schema::BendRules;

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
        let left = &laid.of.routed.left_over;
        if !left.is_empty() {
            heading(ui, "Left over");
            for left in left {
                remark(ui, &words::routed::left_over(left, figures));
            }
        }
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
    let notes: Vec<&String> = fit.not_ready.iter().chain(&fit.remarks).collect();
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
        fields::typed(
            ui,
            "job: may stand proud",
            &written,
            "3",
            fields::FIELD_WIDTH,
            read,
            asks,
        )
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
