//! The bench: a rib in its own plane with its notches, and proud against cut.
//!
//! The place of the three sections while the step of the trimming is open.

mod curve;
mod rib;

use egui::{Rect, RichText, Ui, pos2, vec2};
use profiles::schema::JobFile;

use super::canvas::Shown;
use super::cutting::CuttingWork;
use super::edit::Ask;
use super::model::RibSheet;
use super::theme::Paper;
use crate::words::trim as words;

/// What the bench shows.
#[derive(Clone, Copy)]
pub struct Bench<'a> {
    /// The model and what is lit.
    pub shown: Shown<'a>,
    /// The job as written.
    pub job: &'a JobFile,
    /// What was found on cuts.
    pub work: &'a CuttingWork,
    /// The rib asked for (its id).
    pub rib: Option<&'a str>,
}

/// Gap between pieces of paper, points.
const GAP: f32 = 6.0;

/// Draws it.
pub fn bench_ui(ui: &mut Ui, bench: Bench, asks: &mut Vec<Ask>) {
    let ribs = &bench.shown.model.ribs;
    let asked = ribs.iter().find(|rib| Some(rib.id.as_str()) == bench.rib);
    let cut = ribs.iter().find(|rib| !rib.notches.is_empty());
    let Some(shown) = asked.or(cut).or(ribs.first()) else {
        let paper = Paper::current(ui.ctx());
        let room = ui.available_rect_before_wrap();
        ui.painter().rect_filled(room, 0.0, paper.sheet);
        ui.painter().text(
            room.center(),
            egui::Align2::CENTER_CENTER,
            "Nothing in this cavity may be cut.",
            egui::TextStyle::Body.resolve(ui.style()),
            paper.faint,
        );
        return;
    };
    ui.horizontal_wrapped(|ui| {
        for rib in ribs {
            let button = egui::Button::new(&rib.name).selected(rib.id == shown.id);
            let button = ui.add(button);
            let label = format!("show {} on the bench", rib.name);
            if button.accessible_name(label).clicked() {
                asks.push(Ask::Rib(rib.id.clone()));
            }
        }
        if ui.button("Back to the sections").clicked() {
            asks.push(Ask::Step(None));
        }
        let hint =
            "In its own plane. Double-dotted: as far as it may be cut; squares: sides to drag.";
        ui.label(RichText::new(hint).small().weak());
    });
    told_ui(ui, bench, shown);
    let room = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(room);
    let has_curve = bench.work.tried(bench.shown.model.job.as_ref()).is_some();
    let split = if has_curve { 0.58 } else { 1.0 };
    let at = room.top() + split * room.height();
    rib::rib_ui(
        ui,
        Rect::from_min_max(room.min, pos2(room.right(), at)),
        bench,
        shown,
        asks,
    );
    if has_curve {
        let below = Rect::from_min_max(pos2(room.left(), at) + vec2(0.0, GAP), room.max);
        curve::curve_ui(ui, below, bench, asks);
    }
}

/// What the notches come to, near the drawing, where the eye is while a side is
/// dragged: whether everything goes in, what goes, what is left.
fn told_ui(ui: &mut Ui, bench: Bench, rib: &RibSheet) {
    let job = bench.shown.model.job.as_ref();
    let Some(job) = job.filter(|it| !it.trims.is_empty()) else {
        return;
    };
    let fitted = bench.work.fitted(Some(job)).map(|(fitted, current)| {
        let words = words::fitted(fitted.at, fitted.looked_to, bench.shown.figures);
        (words, current)
    });
    let counted = bench
        .work
        .counted(Some(job))
        .and_then(|(counted, current)| {
            let account = counted.accounts.iter().find(|it| it.rib == rib.id)?;
            Some((words::gone_and_kept(account), current))
        });
    let waits = || ("laying the leads ...".to_owned(), false);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 16.0;
        for (words, current) in std::iter::once(fitted.unwrap_or_else(waits)).chain(counted) {
            let text = RichText::new(words);
            ui.label(if current { text } else { text.weak() });
        }
    });
}
