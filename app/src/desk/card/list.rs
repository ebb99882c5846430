//! Lists of things of the job: a line each, the chosen one with its form below.

use egui::{Align2, Label, RichText, Role, Sense, Ui, WidgetInfo, pos2, vec2};

use super::Card;
use crate::desk::canvas::hatch::Hatch;
use crate::desk::canvas::ink;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::theme::{Paper, Tone, is_large, mix};

/// A heading within a step.
pub fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        ui.label(RichText::new(text).strong());
        let rest = ui.available_rect_before_wrap();
        let y = rest.center().y;
        let paper = Paper::current(ui.ctx());
        ui.painter()
            .hline(rest.x_range(), y, egui::Stroke::new(1.0, paper.rule));
    });
}

/// What stands at the start and at the end of a line.
pub struct Line<'a> {
    /// What it stands for.
    pub target: Target,
    /// Its name.
    pub name: &'a str,
    /// A word or a number at its end.
    pub end: String,
    /// Its swatch.
    pub swatch: Option<(Tone, Hatch)>,
    /// Whether it is in the way.
    pub in_the_way: bool,
}

/// Draws one line; says whether it is the chosen one.
pub fn line_ui(ui: &mut Ui, card: &Card, line: &Line, asks: &mut Vec<Ask>) -> bool {
    let paper = Paper::current(ui.ctx());
    let chosen = card.is_chosen(&line.target);
    let lit = card.attention.pointed == Some(&line.target);
    let size = vec2(ui.available_width(), ui.spacing().interact_size.y);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, chosen, line.name));
    if response.hovered() || response.has_focus() {
        asks.push(Ask::Point(line.target.clone()));
    }
    if response.clicked() {
        asks.push(Ask::Choose(line.target.clone()));
    }
    if chosen && card.fresh {
        response.scroll_to_me(Some(egui::Align::Center));
    }
    let painter = ui.painter_at(rect);
    if chosen || lit || response.hovered() {
        let share = if chosen { 0.30 } else { 0.16 };
        painter.rect_filled(rect, 2.0, mix(paper.board, paper.lit, share));
    }
    let mut left = rect.left() + 4.0;
    if let Some((tone, hatch)) = line.swatch {
        let swatch = egui::Rect::from_min_size(pos2(left, rect.center().y - 6.0), vec2(16.0, 12.0));
        painter.rect_filled(swatch, 0.0, paper.cut_fill(tone));
        let corners = [
            swatch.left_top(),
            swatch.right_top(),
            swatch.right_bottom(),
            swatch.left_bottom(),
        ]
        .map(ink::vec);
        let lines = hatch.lines(&[corners.to_vec()], ink::vec(swatch.min));
        ink::hatch(
            &painter.with_clip_rect(swatch),
            &lines,
            hatch.weight(),
            paper.hatch(tone),
        );
        let edge = egui::Stroke::new(1.0, paper.ink);
        painter.rect_stroke(swatch, 0.0, edge, egui::StrokeKind::Inside);
        left = swatch.right() + 6.0;
    }
    let font = egui::TextStyle::Body.resolve(ui.style());
    let small = egui::TextStyle::Small.resolve(ui.style());
    let end = painter.layout_no_wrap(line.end.clone(), small, paper.faint);
    let mut right = rect.right() - end.size().x - 4.0;
    painter.galley(
        pos2(right, rect.center().y - end.size().y / 2.0),
        end,
        paper.faint,
    );
    if line.in_the_way {
        right -= 16.0;
        let mark =
            egui::Rect::from_center_size(pos2(right + 5.0, rect.center().y), vec2(11.0, 11.0));
        painter.rect_filled(mark, 0.0, mix(paper.sheet, paper.in_the_way, 0.75));
        for [a, b] in [
            [mark.left_top(), mark.right_bottom()],
            [mark.right_top(), mark.left_bottom()],
        ] {
            painter.line_segment([a, b], egui::Stroke::new(1.6, paper.ink));
        }
        painter.rect_stroke(
            mark,
            0.0,
            egui::Stroke::new(1.6, paper.in_the_way),
            egui::StrokeKind::Outside,
        );
    }
    let name_room =
        egui::Rect::from_min_max(pos2(left, rect.top()), pos2(right - 6.0, rect.bottom()));
    painter.with_clip_rect(name_room).text(
        pos2(left, rect.center().y),
        Align2::LEFT_CENTER,
        line.name,
        font,
        paper.ink,
    );
    chosen
}

/// A frame around the form of the chosen line.
pub fn form_frame<R>(ui: &mut Ui, content: impl FnOnce(&mut Ui) -> R) -> R {
    let paper = Paper::current(ui.ctx());
    egui::Frame::new()
        .fill(mix(paper.board, paper.sheet, 0.6))
        .stroke(egui::Stroke::new(1.0, paper.rule))
        .inner_margin(6.0)
        .show(ui, |ui| {
            ui.set_min_width(ui.available_width());
            content(ui)
        })
        .inner
}

/// A thing's place in its list, and what can be done with it there.
pub struct InList<'a, T> {
    /// Where it stands, from 0.
    pub at: usize,
    /// Where the one shown before it stands, and the one after it.
    pub neighbours: [Option<usize>; 2],
    /// What it is called.
    pub name: &'a str,
    /// The change of the document that a change of the list is.
    pub edit: &'a dyn Fn(ListEdit<T>) -> Edit,
    /// A copy of it with a name of its own, and what it is called then; `None`
    /// where there can be no second one.
    pub copy: Option<(T, Target)>,
}

/// The places before and after one of a list that is shown whole.
pub fn neighbours(at: usize, count: usize) -> [Option<usize>; 2] {
    [at.checked_sub(1), Some(at + 1).filter(|&next| next < count)]
}

/// The buttons under the form of a thing that stands alone.
pub fn form_buttons(ui: &mut Ui, target: &Target, asks: &mut Vec<Ask>) {
    if ui.button("Cut the views here").clicked() {
        asks.push(Ask::CutThrough(target.clone()));
    }
}

/// The buttons under the form of a thing in a list.
pub fn list_buttons<T>(ui: &mut Ui, target: &Target, place: InList<T>, asks: &mut Vec<Ask>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        form_buttons(ui, target, asks);
        let edit = |edit: ListEdit<T>| Ask::Edit((place.edit)(edit), None);
        if let Some((copy, target)) = place.copy
            && ui.button("Duplicate").clicked()
        {
            asks.push(edit(ListEdit::insert(place.at + 1, copy)));
            asks.push(Ask::Choose(target));
        }
        for (to, word) in place.neighbours.into_iter().zip(["Up", "Down"]) {
            let button = ui.add_enabled(to.is_some(), egui::Button::new(word));
            let button = button.accessible_name(format!("{word} in the list: {}", place.name));
            let clicked = button
                .on_hover_text(format!("{word} in the list"))
                .clicked();
            if let Some(to) = to.filter(|_| clicked) {
                asks.push(edit(ListEdit::Move(place.at, to)));
            }
        }
        if ui.button("Remove").clicked() {
            asks.push(edit(ListEdit::Remove(place.at)));
        }
    });
}

/// A low button within a list, as high as any other where targets are large.
pub fn small_button(ui: &mut Ui, text: impl Into<egui::WidgetText>) -> egui::Response {
    let button = egui::Button::new(text.into());
    ui.add(if is_large(ui) { button } else { button.small() })
}

/// A remark in small words.
pub fn remark(ui: &mut Ui, text: &str) {
    ui.add(Label::new(RichText::new(text).small().weak()).wrap());
}

/// A short name not yet taken: the word and the first free number.
pub fn free_id<'a>(word: &str, taken: impl Iterator<Item = &'a str> + Clone) -> String {
    (1..)
        .map(|number| format!("{word}{number}"))
        .find(|id| !taken.clone().any(|other| other == id))
        .unwrap_or_else(|| word.to_owned())
}
