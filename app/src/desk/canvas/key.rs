//! The corner of the sheet: what is pointed at, what the hatches mean, the scale.

use egui::{Sense, Stroke, StrokeKind, Ui, pos2, vec2};
use glam::DVec2;

use super::camera::View;
use super::hatch::Hatch;
use super::ink::{self, Dash};
use super::{CanvasState, Shown, scale_bar};
use crate::desk::edit::{Ask, TurnedShown};
use crate::desk::model::facts_of;
use crate::desk::theme::{Paper, Tone, grow, is_large, mix};
use crate::desk::top::TURNED;

/// Draws it.
pub fn key_ui(ui: &mut Ui, state: &CanvasState, shown: Shown, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        if ui.button("Show all").clicked() {
            asks.push(Ask::ShowAll);
        }
        for (view, word, name) in [
            (None, "ABC", "all three views"),
            (Some(View::LookingIn), "A", "looking in alone"),
            (Some(View::FromAbove), "B", "from above alone"),
            (Some(View::FromSide), "C", "from the side alone"),
        ] {
            let is_so = state.alone == view && !state.turned.is_alone();
            let response = ui.selectable_label(is_so, word).accessible_name(name);
            if response.clicked() {
                asks.push(Ask::Alone(view));
            }
        }
        let alone = state.turned.is_alone();
        let response = ui
            .selectable_label(alone, "D")
            .on_hover_text(ui.ctx().format_shortcut(&TURNED))
            .accessible_name("turned view alone");
        if response.clicked() {
            asks.push(Ask::Turned(TurnedShown::Alone));
        }
        let beside = state.turned.shown == Some(TurnedShown::Beside);
        let response = ui
            .selectable_label(beside, "+D")
            .accessible_name("turned view beside the others");
        if response.clicked() {
            let next = if beside {
                TurnedShown::Away
            } else {
                TurnedShown::Beside
            };
            asks.push(Ask::Turned(next));
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().interact_size.y = 20.0;
        let scale = if state.turned.is_alone() {
            state.turned.eye.scale
        } else {
            state.camera.scale
        };
        scale_bar(ui, scale, shown, &paper);
    });
    ui.add_space(2.0);
    if is_large(ui) {
        // What is pointed at comes first where there is not room for both.
        pointed_at(ui, shown);
        ui.add_space(4.0);
        if ui.available_height() > SWATCHES_HIGH {
            swatches(ui, &paper);
        }
        return;
    }
    swatches(ui, &paper);
    ui.add_space(4.0);
    pointed_at(ui, shown);
}

/// Height of the key of hatches in large words, points.
const SWATCHES_HIGH: f32 = 150.0;

/// What is pointed at, or else chosen, with all its numbers.
fn pointed_at(ui: &mut Ui, shown: Shown) {
    let target = shown.attention.pointed.or(shown.attention.chosen);
    let Some(target) = target else {
        ui.weak("Point at anything to read what it is.");
        return;
    };
    let Some((name, facts)) = facts_of(shown.model, target) else {
        return;
    };
    let word = if shown.attention.pointed.is_some() {
        "Pointed at"
    } else {
        "Chosen"
    };
    ui.label(format!("{word}: {name}"));
    let facts: Vec<String> = facts.iter().map(|fact| fact.says(shown.figures)).collect();
    let text = format!("{}; lengths in {}", facts.join(", "), shown.figures.word());
    ui.add(egui::Label::new(egui::RichText::new(text).small().weak()).wrap());
    for clash in &shown.model.clashes {
        if clash.piece.as_ref() == Some(target) || clash.against.as_ref() == Some(target) {
            let says = format!(
                "In the way: {}, {} short.",
                clash.says,
                shown.figures.length(clash.short)
            );
            ui.add(egui::Label::new(egui::RichText::new(says).small()).wrap());
        }
    }
}

fn scale_bar(ui: &mut Ui, scale: f64, shown: Shown, paper: &Paper) {
    let (length, points) = scale_bar::round_length(scale, shown.figures, 110.0);
    let size = vec2(points + 2.0, scale_bar::HEIGHT);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let words = shown.figures.length(length);
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Label, true, format!("scale bar, {words}"))
    });
    let foot = rect.left_bottom() - vec2(0.0, 4.0);
    scale_bar::draw(ui.painter(), foot, points, &words, paper);
}

/// A hatched square with its tone, as on the drawing.
pub fn swatch(
    ui: &mut Ui,
    fill: egui::Color32,
    hatch: Hatch,
    line: egui::Color32,
    paper: &Paper,
) -> egui::Response {
    let (rect, response) = ui.allocate_exact_size(vec2(22.0, 14.0), Sense::hover());
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, fill);
    let outline = [
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom(),
        rect.left_bottom(),
    ]
    .map(ink::vec)
    .to_vec();
    let lines = hatch.lines(
        &[outline],
        DVec2::new(rect.left().into(), rect.top().into()),
    );
    ink::hatch(&painter, &lines, hatch.weight(), line);
    painter.rect_stroke(rect, 0.0, Stroke::new(1.0, paper.ink), StrokeKind::Inside);
    response
}

fn swatches(ui: &mut Ui, paper: &Paper) {
    ui.spacing_mut().interact_size.y = 16.0;
    let small = |text: &str| egui::RichText::new(text).small();
    let columns = if ui.available_width() > 300.0 * grow(ui) {
        3
    } else {
        2
    };
    let mut entries: Vec<(egui::Color32, Hatch, egui::Color32, &str)> = vec![(
        mix(paper.sheet, paper.in_the_way, 0.55),
        Hatch::InTheWay,
        paper.ink,
        "in the way",
    )];
    for tone in Tone::ALL {
        let hatch = match tone {
            Tone::Wall | Tone::SubDash => Hatch::Single,
            Tone::Structure => Hatch::Pairs,
            Tone::Air => Hatch::Single,
            Tone::Loom => Hatch::Net,
            Tone::Unit => Hatch::Falling,
            Tone::Lead => Hatch::Upright,
            Tone::Module => Hatch::FallingClose,
            Tone::Unknown => Hatch::Dashes,
        };
        entries.push((paper.cut_fill(tone), hatch, paper.hatch(tone), tone.word()));
    }
    egui::Grid::new("key of hatches")
        .num_columns(columns)
        .spacing(vec2(10.0, 2.0))
        .min_row_height(16.0)
        .show(ui, |ui| {
            for row in entries.chunks(columns) {
                for &(fill, hatch, line, word) in row {
                    ui.horizontal(|ui| {
                        ui.spacing_mut().item_spacing.x = 5.0;
                        swatch(ui, fill, hatch, line, paper);
                        ui.label(small(word));
                    });
                }
                ui.end_row();
            }
        });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(5.0, 2.0);
        for (dash, word) in [
            (Dash::Full, "measured"),
            (Dash::Estimated, "± 2.5 or more"),
            (Dash::Dotted, "not measured ?"),
        ] {
            let (rect, _) = ui.allocate_exact_size(vec2(24.0, 14.0), Sense::hover());
            let y = rect.center().y;
            ink::line(
                ui.painter(),
                &[pos2(rect.left(), y), pos2(rect.right(), y)],
                2.0,
                paper.ink,
                dash,
            );
            ui.label(small(word));
        }
    });
}
