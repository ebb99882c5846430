//! What there is to know of a loom, in words beside its drawing.

use egui::{Label, RichText, ScrollArea, Ui};
use geometry::looms::{Loom, Passes};
use geometry::{Exit, Job};

use crate::desk::theme::{Paper, mix, second};
use crate::figures::Figures;
use crate::words::looms as words;

/// Room for the name of a fact, points.
const NAME: f32 = 78.0;

/// Draws the facts, whether it passes first.
pub fn facts_ui(ui: &mut Ui, job: &Job, exit: &Exit, loom: Option<&Loom>, figures: Figures) {
    let Some(loom) = loom else {
        fact_ui(ui, "exit", &words::exit_size(exit, figures));
        return;
    };
    ScrollArea::vertical()
        .id_salt("facts of the loom")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 3.0;
            passes_ui(ui, loom, figures);
            ui.add_space(3.0);
            let size = words::exit_size(exit, figures);
            for (name, text) in [
                ("diameter", words::diameter(loom, figures)),
                ("hand rule", words::by_hand(loom.rule_of_thumb, figures)),
                ("exit", format!("{size}, {} full", words::fill(loom))),
                ("bend", words::bend(loom, job, figures)),
                ("lumps", words::lumps(loom, figures)),
                ("least hole", words::next_hole(loom, figures)),
            ] {
                fact_ui(ui, name, &text);
            }
        });
}

/// Whether it passes its exit; framed in the strong tone when it does not.
fn passes_ui(ui: &mut Ui, loom: &Loom, figures: Figures) {
    let paper = Paper::current(ui.ctx());
    let text = RichText::new(words::passes(loom, figures)).text_style(second());
    let frame = match loom.at_exit.verdict {
        Passes::No(_) => egui::Frame::new()
            .fill(mix(paper.sheet, paper.in_the_way, 0.2))
            .stroke(egui::Stroke::new(2.0, paper.in_the_way))
            .inner_margin(4.0),
        Passes::Yes | Passes::NotFound => egui::Frame::new(),
    };
    frame.show(ui, |ui| ui.add(Label::new(text.strong()).wrap()));
}

fn fact_ui(ui: &mut Ui, name: &str, text: &str) {
    ui.horizontal_top(|ui| {
        let height = ui.text_style_height(&second());
        ui.allocate_ui(egui::vec2(NAME, height), |ui| {
            ui.set_min_width(NAME);
            ui.label(RichText::new(name).text_style(second()).weak());
        });
        ui.add(Label::new(RichText::new(text).text_style(second())).wrap());
    });
}
