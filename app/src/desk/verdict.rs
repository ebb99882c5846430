//! The verdict: the largest words in the window, always in sight.

use egui::{Label, RichText, Role, Sense, TextStyle, Ui, WidgetInfo, vec2};
use geometry::Verdict;

use super::canvas::hatch::Hatch;
use super::canvas::ink;
use super::edit::{Ask, Step};
use super::model::{Alternative, Model};
use super::theme::{Paper, mix, second};

/// Draws it.
pub fn verdict_ui(ui: &mut Ui, model: &Model, asks: &mut Vec<Ask>) {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 10.0;
        let verdict = model.fit.as_ref().map(|fit| fit.verdict);
        mark(ui, verdict, 30.0);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            ui.add(Label::new(RichText::new(&model.headline).heading()).wrap());
            if !model.second_line.is_empty() {
                ui.add(Label::new(RichText::new(&model.second_line).text_style(second())).wrap());
            }
            problem_lines(ui, model);
            alternatives_line(ui, model, asks);
            cautions_line(ui, model, asks);
        });
    });
}

/// The verdict as a drawing: a face flush with its dash, proud of it, or stopped.
pub fn mark(ui: &mut Ui, verdict: Option<Verdict>, size: f32) {
    let paper = Paper::current(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(vec2(size, size), Sense::hover());
    let word = verdict.map_or("no answer yet", Verdict::word);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("verdict: {word}")));
    let painter = ui.painter();
    let unit = size / 10.0;
    let line = egui::Stroke::new((unit * 0.5).max(1.2), paper.ink);
    let at = |x: f32, y: f32| rect.min + vec2(x * unit, y * unit);
    // The dash face: two thick strokes with the opening between them.
    for (from, to) in [(0.5, 2.0), (8.0, 9.5)] {
        painter.line_segment([at(4.5, from), at(4.5, to)], egui::Stroke::new(unit * 0.9, paper.ink));
    }
    let out = match verdict {
        Some(Verdict::Flush) => 0.0,
        Some(Verdict::Proud) => 1.4,
        Some(Verdict::Blocked) => 3.2,
        None => return,
    };
    let body = egui::Rect::from_min_max(at(4.2 - out, 2.4), at(9.0 - out, 7.6));
    let strong = verdict != Some(Verdict::Flush);
    painter.rect(body, 0.0, paper.cut_fill(super::theme::Tone::Unit), line, egui::StrokeKind::Inside);
    if strong {
        let gap = egui::Rect::from_min_max(at(4.2 - out, 2.4), at(4.2, 7.6));
        painter.rect_filled(gap, 0.0, mix(paper.sheet, paper.in_the_way, 0.75));
        let corners = [gap.left_top(), gap.right_top(), gap.right_bottom(), gap.left_bottom()].map(ink::vec).to_vec();
        let lines = Hatch::InTheWay.lines(&[corners], ink::vec(gap.left_top()));
        ink::hatch(painter, &lines, 1.2, paper.ink);
        painter.rect_stroke(gap, 0.0, egui::Stroke::new(2.0, paper.in_the_way), egui::StrokeKind::Outside);
    }
}

fn problem_lines(ui: &mut Ui, model: &Model) {
    const SHOWN: usize = 3;
    for problem in model.problems.iter().take(SHOWN) {
        ui.add(Label::new(RichText::new(problem.to_string()).small()).wrap());
    }
    if model.problems.len() > SHOWN {
        ui.weak(format!("and {} more, each at its step", model.problems.len() - SHOWN));
    }
}

fn alternatives_line(ui: &mut Ui, model: &Model, asks: &mut Vec<Ask>) {
    if model.alternatives.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 3.0);
        ui.weak("Instead:");
        for alternative in &model.alternatives {
            alternative_ui(ui, alternative, asks);
        }
    });
}

fn alternative_ui(ui: &mut Ui, alternative: &Alternative, asks: &mut Vec<Ask>) {
    let text = format!("{}: {}", alternative.name, alternative.says);
    let size = ui.text_style_height(&TextStyle::Body);
    let inner = ui.scope(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        mark(ui, alternative.verdict, size);
        ui.add(Label::new(&text).sense(Sense::click()))
    });
    if inner.inner.clicked() {
        asks.push(Ask::Step(Some(Step::Verdict)));
    }
    ui.add_space(8.0);
}

fn cautions_line(ui: &mut Ui, model: &Model, asks: &mut Vec<Ask>) {
    let Some(first) = model.cautions.first() else {
        return;
    };
    let titles: Vec<&str> = model.cautions.iter().map(|caution| caution.title.as_str()).collect();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let text = if titles.len() > 1 {
            format!("Before any cut: {}.", titles.join(", "))
        } else {
            format!("Before any cut: {}", first.text)
        };
        ui.add(Label::new(RichText::new(text).small()).wrap());
        if ui.small_button("Read the cautions").clicked() {
            asks.push(Ask::Step(Some(Step::Verdict)));
        }
    });
}
