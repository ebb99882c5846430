//! Proud against what is cut: for each millimetre the least, and what the ribs keep.

use egui::{Align2, Pos2, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use geometry::trimming::TrimOutcome;

use super::Bench;
use crate::desk::canvas::hatch::Hatch;
use crate::desk::canvas::ink::{self, Dash};
use crate::desk::card::trim::{files, least_kept};
use crate::desk::edit::{Ask, Edit};
use crate::desk::theme::{Paper, Tone, mix};
use crate::words::trim as words;

/// Room beside and under the plot, points.
const LEFT: f32 = 70.0;
const RIGHT: f32 = 24.0;
const TOP: f32 = 44.0;
const BOTTOM: f32 = 44.0;

/// Draws the plot; a click on a column takes its notches.
pub fn curve_ui(ui: &mut Ui, rect: Rect, bench: Bench, asks: &mut Vec<Ask>) {
    let job = bench.shown.model.job.as_ref();
    let Some((tried, current)) = bench.work.tried(job) else {
        return;
    };
    let paper = Paper::current(ui.ctx());
    let painter = ui.painter_at(rect);
    let edge = egui::Stroke::new(1.0, paper.rule);
    painter.rect(rect, 0.0, paper.sheet, edge, egui::StrokeKind::Inside);
    let title = "Proud against what is cut; in each column what the ribs keep of their stiffness";
    let at = rect.min + vec2(10.0, 8.0);
    painter.text(
        at,
        Align2::LEFT_TOP,
        title,
        ink::lettering(1.1),
        paper.faint,
    );
    let plot = Rect::from_min_max(rect.min + vec2(LEFT, TOP), rect.max - vec2(RIGHT, BOTTOM));
    let count = tried.steps.len().max(1);
    let column = (plot.width() / count as f32).min(90.0);
    let cut = tried.steps.iter().filter(|step| step.holds());
    let most = cut
        .map(|step| step.removed_mm3)
        .fold(0.0, f64::max)
        .max(1.0);
    let y = |mm3: f64| plot.bottom() - (mm3 / most) as f32 * plot.height();
    let x = |at: usize| plot.left() + column * at as f32;
    axis(&painter, plot, &paper, most);
    if let Some(job) = job {
        let steps = tried.steps.iter();
        let allowed = steps.filter(|step| step.proud <= job.proud_limit + 1e-9);
        limit(&painter, plot, x(allowed.count()), &paper);
    }
    for (at, step) in tried.steps.iter().enumerate() {
        let full = Rect::from_min_max(
            pos2(x(at), plot.top()),
            pos2(x(at) + column, plot.bottom() + BOTTOM - 6.0),
        );
        let words = said(bench, &tried.accounts[at], step);
        let id = ui.scope_id().with(("step of proud", at));
        let sense = if current && step.holds() {
            Sense::click()
        } else {
            Sense::hover()
        };
        let response = ui.interact(full, id, sense);
        let taken = job.is_some_and(|job| job.trims == step.trims) && step.holds();
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, taken, &words));
        if response.clicked() {
            let trims = files(bench.shown.model, bench.job, step);
            asks.push(Ask::Edit(Edit::Trims(trims), None));
        }
        if taken || response.hovered() || response.has_focus() {
            let share = if taken { 0.22 } else { 0.10 };
            painter.rect_filled(full, 2.0, mix(paper.sheet, paper.lit, share));
        }
        let middle = x(at) + 0.5 * column;
        let under = pos2(middle, plot.bottom() + 6.0);
        let proud = bench.shown.figures.bare(step.proud);
        painter.text(
            under,
            Align2::CENTER_TOP,
            proud,
            ink::lettering(1.05),
            paper.ink,
        );
        match step.outcome {
            TrimOutcome::Cut | TrimOutcome::CutWithStrips => {
                let top = y(step.removed_mm3);
                let bar = Rect::from_min_max(
                    pos2(middle - 0.3 * column, top),
                    pos2(middle + 0.3 * column, plot.bottom()),
                );
                column_ui(&painter, bar, &paper);
                let kept = least_kept(&tried.accounts[at]).map_or(String::new(), words::share);
                let kept = match step.outcome {
                    TrimOutcome::CutWithStrips => format!("{kept}\nwith strip"),
                    _ => kept,
                };
                let above = pos2(middle, top - 3.0);
                painter.text(
                    above,
                    Align2::CENTER_BOTTOM,
                    kept,
                    ink::lettering(1.0),
                    paper.ink,
                );
            }
            TrimOutcome::NothingToCut => {
                let at = pos2(middle, plot.bottom() - 4.0);
                painter.text(
                    at,
                    Align2::CENTER_BOTTOM,
                    "none",
                    ink::lettering(1.0),
                    paper.ink,
                );
            }
            _ => {
                let at = pos2(middle, plot.bottom() - 4.0);
                painter.text(
                    at,
                    Align2::CENTER_BOTTOM,
                    "no",
                    ink::lettering(1.0),
                    paper.faint,
                );
            }
        }
    }
    let foot = pos2(rect.left() + 10.0, rect.bottom() - 6.0);
    let unit = bench.shown.figures.word();
    let under = format!("proud, {unit}");
    painter.text(
        foot,
        Align2::LEFT_BOTTOM,
        under,
        ink::lettering(1.0),
        paper.faint,
    );
}

/// A step in words, for those who hear it.
fn said(
    bench: Bench,
    accounts: &[geometry::trimming::Account],
    step: &geometry::trimming::TrimStep,
) -> String {
    words::headline(step, accounts, bench.shown.figures)
}

fn axis(painter: &egui::Painter, plot: Rect, paper: &Paper, most: f64) {
    let line =
        |a: Pos2, b: Pos2, weight| ink::line(painter, &[a, b], weight, paper.ink, Dash::Full);
    line(plot.left_bottom(), plot.right_bottom(), 1.4);
    line(plot.left_bottom(), plot.left_top(), 1.4);
    for share in [0.5, 1.0] {
        let at = pos2(plot.left(), plot.bottom() - share as f32 * plot.height());
        line(at - vec2(4.0, 0.0), at, 1.0);
        let words = words::volume(share * most);
        let beside = at - vec2(7.0, 0.0);
        painter.text(
            beside,
            Align2::RIGHT_CENTER,
            words,
            ink::lettering(1.0),
            paper.faint,
        );
    }
}

/// The line beyond which the unit stands prouder than the job allows.
fn limit(painter: &egui::Painter, plot: Rect, x: f32, paper: &Paper) {
    if x >= plot.right() {
        return;
    }
    let ends = [pos2(x, plot.top() - 6.0), pos2(x, plot.bottom())];
    ink::line(painter, &ends, 1.0, paper.faint, Dash::Chain);
    let at = pos2(x + 4.0, plot.top() - 8.0);
    let words = "beyond what this job allows";
    painter.text(
        at,
        Align2::LEFT_TOP,
        words,
        ink::lettering(1.0),
        paper.faint,
    );
}

fn column_ui(painter: &egui::Painter, bar: Rect, paper: &Paper) {
    painter.rect_filled(bar, 0.0, paper.cut_fill(Tone::SubDash));
    let corners = [
        bar.left_top(),
        bar.right_top(),
        bar.right_bottom(),
        bar.left_bottom(),
    ];
    let outline = corners.map(ink::vec).to_vec();
    let lines = Hatch::Single.lines(&[outline], ink::vec(bar.min));
    ink::hatch(
        painter,
        &lines,
        Hatch::Single.weight(),
        paper.hatch(Tone::SubDash),
    );
    let line = egui::Stroke::new(1.2, paper.ink);
    painter.rect_stroke(bar, 0.0, line, egui::StrokeKind::Inside);
}
