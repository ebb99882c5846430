//! The verdict: the largest words in the window, always in sight.

use egui::{Label, RichText, Role, Sense, TextStyle, Ui, WidgetInfo, vec2};
use geometry::Verdict;

use super::canvas::hatch::Hatch;
use super::canvas::ink;
use super::edit::{Ask, Step};
use super::laying::Doing;
use super::model::{Alternative, Model};
use super::theme::{Paper, is_large, mix, second};
use crate::figures::Figures;

/// Windows lower than this tell alternatives and cautions by a button each, points.
const LOW: f32 = 600.0;

/// Draws it. While something is held its height stays as it was.
///
/// * `doing`: what the search that lays the leads is doing
pub fn verdict_ui(ui: &mut Ui, model: &Model, doing: Doing, figures: Figures, asks: &mut Vec<Ask>) {
    let room = ui.available_rect_before_wrap();
    let builder = egui::UiBuilder::new().max_rect(room).id_salt("verdict");
    let mut child = ui.new_child(builder);
    let id = child.scope_id().with("height");
    let held = ui.input(|input| input.pointer.any_down());
    let kept: Option<f32> = ui.data(|data| data.get_temp(id)).filter(|_| held);
    if let Some(height) = kept {
        let steady = room.with_max_y(room.top() + height);
        child.set_clip_rect(steady.intersect(child.clip_rect()));
    }
    head_ui(&mut child, model, doing, figures, asks);
    let height = kept.unwrap_or(child.min_rect().height());
    ui.data_mut(|data| data.insert_temp(id, height));
    ui.advance_cursor_after_rect(room.with_max_y(room.top() + height));
}

fn head_ui(ui: &mut Ui, model: &Model, doing: Doing, figures: Figures, asks: &mut Vec<Ask>) {
    let brief = is_brief(ui);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 10.0;
        let laid = model.laid_verdict();
        mark(ui, model.verdict(), 34.0);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            let (headline, second_line) = laid
                .map_or((&model.headline, &model.second_line), |laid| {
                    (&laid.headline, &laid.second_line)
                });
            ui.add(Label::new(RichText::new(headline).heading()).wrap());
            if !second_line.is_empty() {
                ui.add(Label::new(RichText::new(second_line).text_style(second())).wrap());
            }
            laying_line(ui, model, doing, figures, asks);
            problem_lines(ui, model);
            if !brief {
                alternatives_line(ui, model, asks);
                cautions_line(ui, model, asks);
            }
        });
    });
}

/// Whether alternatives and cautions are told by a button each.
fn is_brief(ui: &Ui) -> bool {
    is_large(ui) || ui.ctx().content_rect().height() < LOW
}

/// Whether leads are laid, what is being done about it, and the other figure:
/// the quick rule's beside the routed one, or the last routed one in grey.
fn laying_line(ui: &mut Ui, model: &Model, doing: Doing, figures: Figures, asks: &mut Vec<Ask>) {
    let small = |text: &str| Label::new(RichText::new(text).small());
    // Low as the lines around it, unless targets are to be large.
    let large = is_large(ui);
    let rows = |ui: &mut Ui, content: &mut dyn FnMut(&mut Ui)| {
        if large {
            ui.horizontal_wrapped(content);
        } else {
            low_rows(ui, content);
        }
    };
    rows(ui, &mut |ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 2.0);
        let on = doing != Doing::Off;
        let mut wanted = on;
        let toggle = ui.checkbox(&mut wanted, RichText::new("Lay the leads").small());
        if toggle.changed() {
            asks.push(Ask::Lay(wanted));
        }
        let word = match doing {
            Doing::Off => "the quick rule alone".to_owned(),
            Doing::NoJob => "waits for a job that can be answered".to_owned(),
            Doing::Waiting | Doing::Laying(None) => "laying leads ...".to_owned(),
            Doing::Laying(Some(looking)) => {
                format!(
                    "laying leads at {} proud ...",
                    figures.length(looking.proud)
                )
            }
            Doing::Ranging => "how sure it is: being worked out ...".to_owned(),
            Doing::Laid => String::new(),
            Doing::Stopped => "stopped".to_owned(),
            Doing::Broken => "the search broke off; the quick rule stands".to_owned(),
        };
        if !word.is_empty() {
            ui.add(small(&word));
        }
        let button = |ui: &mut Ui, word: &str| {
            let button = egui::Button::new(RichText::new(word).small());
            ui.add(if large { button } else { button.small() })
                .clicked()
        };
        match doing {
            Doing::Laying(_) | Doing::Ranging if button(ui, "Stop") => asks.push(Ask::StopLaying),
            Doing::Stopped | Doing::Broken if button(ui, "Go on") => asks.push(Ask::GoOnLaying),
            _ => {}
        }
        if let Some(laid) = &model.laid {
            if model.laid_verdict().is_none() {
                let of = if laid.stale {
                    "Of an earlier state"
                } else {
                    "Its leads alone"
                };
                let text = format!("{of}: {}", laid.headline);
                ui.add(Label::new(RichText::new(text).small().weak()));
            } else if !laid.beside.is_empty() {
                ui.add(small(&laid.beside));
            }
        }
        if is_brief(ui) {
            brief_buttons(ui, model, button, asks);
        }
    });
}

/// The verdict as a drawing: a face flush with its dash, proud of it, or stopped.
pub fn mark(ui: &mut Ui, verdict: Option<Verdict>, size: f32) {
    let paper = Paper::current(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(vec2(size * 1.4, size), Sense::hover());
    let word = verdict.map_or("no answer yet", Verdict::word);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("verdict: {word}")));
    draw_mark(ui.painter(), rect, verdict, &paper);
}

fn draw_mark(painter: &egui::Painter, rect: egui::Rect, verdict: Option<Verdict>, paper: &Paper) {
    let Some(verdict) = verdict else {
        return;
    };
    let unit = rect.height() / 10.0;
    let at = |x: f32, y: f32| rect.min + vec2(x * unit, y * unit);
    let block = |left: f32, top: f32, right: f32, bottom: f32| {
        egui::Rect::from_min_max(at(left, top), at(right, bottom))
    };
    let edge = egui::Stroke::new((unit * 0.35).max(1.0), paper.ink);
    let out = match verdict {
        Verdict::Flush => 0.0,
        Verdict::Proud => 1.2,
        Verdict::Blocked => 2.2,
    };
    // The dash face, cut, with the opening between; then the unit: nose and chassis.
    for (top, bottom) in [(0.2, 1.8), (8.2, 9.8)] {
        painter.rect_filled(block(4.6, top, 6.2, bottom), 0.0, paper.ink);
    }
    let fill = paper.cut_fill(super::theme::Tone::Unit);
    painter.rect(
        block(4.4 - out, 2.8, 10.6 - out, 7.2),
        0.0,
        fill,
        edge,
        egui::StrokeKind::Inside,
    );
    painter.rect(
        block(3.4 - out, 1.2, 4.6 - out, 8.8),
        0.0,
        fill,
        edge,
        egui::StrokeKind::Inside,
    );
    if verdict != Verdict::Flush {
        let stop = block(10.8 - out, 1.6, 13.4 - out, 8.4);
        painter.rect_filled(stop, 0.0, mix(paper.sheet, paper.in_the_way, 0.75));
        let corners = [
            stop.left_top(),
            stop.right_top(),
            stop.right_bottom(),
            stop.left_bottom(),
        ]
        .map(ink::vec)
        .to_vec();
        let lines = Hatch::InTheWay.lines(&[corners], ink::vec(stop.left_top()));
        ink::hatch(painter, &lines, 1.2, paper.ink);
        painter.rect_stroke(
            stop,
            0.0,
            egui::Stroke::new(edge.width, paper.in_the_way),
            egui::StrokeKind::Outside,
        );
    }
}

fn problem_lines(ui: &mut Ui, model: &Model) {
    const SHOWN: usize = 3;
    for said in model.problems_said.iter().take(SHOWN) {
        ui.add(Label::new(RichText::new(said).small()).wrap());
    }
    if model.problems.len() > SHOWN {
        ui.weak(format!(
            "and {} more, each at its step",
            model.problems.len() - SHOWN
        ));
    }
}

/// Where targets are large or the window is low, the alternatives and the
/// cautions are a button each; the verdict's step says the rest.
fn brief_buttons(
    ui: &mut Ui,
    model: &Model,
    button: impl Fn(&mut Ui, &str) -> bool,
    asks: &mut Vec<Ask>,
) {
    let others = match model.alternatives.len() {
        1 => "1 way instead".to_owned(),
        count => format!("{count} ways instead"),
    };
    for (shown, word) in [
        (!model.alternatives.is_empty(), others.as_str()),
        (model.cut_is_near, "Before any cut: read the cautions"),
    ] {
        if shown && button(ui, word) {
            asks.push(Ask::Step(Some(Step::Verdict)));
        }
    }
}

fn alternatives_line(ui: &mut Ui, model: &Model, asks: &mut Vec<Ask>) {
    if model.alternatives.is_empty() {
        return;
    }
    low_rows(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 2.0);
        ui.label(RichText::new("Instead:").small().weak());
        for alternative in &model.alternatives {
            alternative_ui(ui, alternative, asks);
        }
    });
}

/// Rows no higher than their words, going on below where they end.
fn low_rows(ui: &mut Ui, content: impl FnOnce(&mut Ui)) {
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = 14.0;
        ui.horizontal_wrapped(content);
    });
}

/// One alternative on one line: its verdict as a drawing and in words.
fn alternative_ui(ui: &mut Ui, alternative: &Alternative, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    let text = format!("{}: {}", alternative.name, alternative.says);
    let font = TextStyle::Small.resolve(ui.style());
    let galley = ui.painter().layout_no_wrap(text.clone(), font, paper.ink);
    let height = galley.size().y.max(14.0);
    let mark_size = vec2(height * 1.4, height);
    let size = vec2(mark_size.x + 4.0 + galley.size().x + 10.0, height + 4.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &text));
    if response.clicked() {
        asks.push(Ask::Step(Some(Step::Verdict)));
    }
    let middle = rect.center().y;
    let mark_rect =
        egui::Rect::from_min_size(egui::pos2(rect.left(), middle - height / 2.0), mark_size);
    draw_mark(ui.painter(), mark_rect, alternative.verdict, &paper);
    let at = egui::pos2(mark_rect.right() + 4.0, middle - galley.size().y / 2.0);
    if response.hovered() || response.has_focus() {
        let line = at.y + galley.size().y;
        ui.painter().hline(
            at.x..=at.x + galley.size().x,
            line,
            egui::Stroke::new(1.0, paper.faint),
        );
    }
    ui.painter().galley(at, galley, paper.ink);
}

/// What to heed before a cut, where cutting may be thought of: a rib is in the way.
fn cautions_line(ui: &mut Ui, model: &Model, asks: &mut Vec<Ask>) {
    if !model.cut_is_near {
        return;
    }
    let titles: Vec<&str> = model
        .before_a_cut
        .iter()
        .map(|caution| caution.title.as_str())
        .collect();
    low_rows(ui, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.label(RichText::new(format!("Before any cut: {}.", titles.join("; "))).small());
        if ui
            .add(egui::Button::new(RichText::new("Read the cautions").small()).small())
            .clicked()
        {
            asks.push(Ask::Step(Some(Step::Verdict)));
        }
    });
}
