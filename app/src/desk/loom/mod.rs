//! The loom of one exit, cut across, with what there is to know of it.
//!
//! The place of the three sections while the step of the looms is open.

mod facts;
mod in_exit;
pub mod leaders;
mod section;
pub mod sheet;

use std::collections::BTreeSet;

use egui::{Label, Rect, RichText, Ui, UiBuilder, pos2};
use geometry::{Exit, Job};

use super::canvas::Shown;
use super::edit::Ask;
use super::model::Model;
use super::theme::Paper;
use crate::words::looms::members;
use facts::facts_ui;
use in_exit::{InExit, in_exit_ui};
use section::{Section, section_ui};

/// Which loom is shown, and what is marked in it.
#[derive(Clone, Debug, Default)]
pub struct LoomState {
    exit: Option<String>,
    marked: BTreeSet<String>,
}

impl LoomState {
    /// Shows the loom of an exit (its id).
    pub fn show(&mut self, exit: String) {
        if self.exit.as_ref() != Some(&exit) {
            self.marked.clear();
        }
        self.exit = Some(exit);
    }

    /// Marks a lead (its id), or takes the mark away.
    pub fn mark(&mut self, lead: String) {
        if !self.marked.remove(&lead) {
            self.marked.insert(lead);
        }
    }

    /// Leads marked by hand (their ids).
    pub fn marked(&self) -> &BTreeSet<String> {
        &self.marked
    }

    /// Forgets marks on what is no longer in the loom shown.
    pub fn keep_to(&mut self, model: &Model) {
        let loom = (model.job.as_ref())
            .and_then(|job| self.exit_in(job, model))
            .and_then(|exit| model.loom(&exit.id));
        self.marked.retain(|lead| {
            loom.is_some_and(|loom| loom.strands.iter().any(|strand| strand.lead == *lead))
        });
    }

    /// The exit whose loom is shown: the one asked for, else that of most leads.
    pub fn exit_in<'a>(&self, job: &'a Job, model: &Model) -> Option<&'a Exit> {
        let exits = &job.cavity.exits;
        let asked = exits
            .iter()
            .find(|exit| Some(&exit.id) == self.exit.as_ref());
        let leads = |exit: &&Exit| model.loom(&exit.id).map_or(0, |it| members(it).len());
        // Of equals the first counts, and `max_by_key` gives the last.
        asked.or_else(|| exits.iter().rev().max_by_key(leads))
    }
}

/// Gap between pieces of paper, points.
const GAP: f32 = 6.0;

/// Draws the loom and what there is to know of it.
pub fn loom_ui(ui: &mut Ui, state: &LoomState, shown: Shown, asks: &mut Vec<Ask>) {
    let Some(job) = &shown.model.job else {
        lacks_ui(
            ui,
            "The job cannot be answered yet; the steps say what it needs.",
            asks,
        );
        return;
    };
    let Some(exit) = state.exit_in(job, shown.model) else {
        let needs = "A loom needs an exit: a hole or gap that leads leave the cavity through. \
                     The step of the looms on the left makes one.";
        lacks_ui(ui, needs, asks);
        return;
    };
    choice_ui(ui, job, exit, shown, asks);
    ui.add_space(2.0);
    let room = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(room);
    let [left, above, below] = arrange(room);
    let loom = shown.model.loom(&exit.id);
    match loom {
        Some(loom) => {
            let section = Section {
                loom,
                figures: shown.figures,
                attention: shown.attention,
                behind: shown.model.looms_behind.contains(&exit.id),
                marked: state.marked(),
            };
            section_ui(ui, left, section, asks);
        }
        None => {
            let words = "No lead leaves by this exit yet. Lay one in from the list on the left: \
                         one click for each socket.";
            empty_ui(ui, left, words);
        }
    }
    let in_exit = InExit {
        exit,
        loom,
        figures: shown.figures,
        attention: shown.attention,
    };
    in_exit_ui(ui, below, in_exit);
    let builder = UiBuilder::new()
        .max_rect(above.shrink(6.0))
        .id_salt("facts");
    let mut child = ui.new_child(builder);
    child.set_clip_rect(above);
    facts_ui(&mut child, job, exit, loom, shown.figures);
}

/// The drawing on the left; facts above the exit on the right.
fn arrange(room: Rect) -> [Rect; 3] {
    let width = (0.33 * room.width()).clamp(230.0, 430.0);
    let split = room.right() - width;
    let level = room.bottom() - (0.42 * room.height()).clamp(150.0, 380.0);
    [
        Rect::from_min_max(room.min, pos2(split - GAP, room.bottom())),
        Rect::from_min_max(pos2(split, room.top()), pos2(room.right(), level - GAP)),
        Rect::from_min_max(pos2(split, level), room.max),
    ]
}

/// Every exit with the diameter of its loom, and the way back to the sections.
fn choice_ui(ui: &mut Ui, job: &Job, of: &Exit, shown: Shown, asks: &mut Vec<Ask>) {
    ui.horizontal_wrapped(|ui| {
        back_ui(ui, asks);
        ui.weak("Loom through:");
        for exit in &job.cavity.exits {
            let text = match shown.model.loom(&exit.id) {
                Some(loom) => {
                    format!("{}, Ø {}", exit.name, shown.figures.bare(loom.diameter))
                }
                None => format!("{}, no lead", exit.name),
            };
            if ui.selectable_label(exit.id == of.id, text).clicked() {
                asks.push(Ask::Loom(exit.id.clone()));
            }
        }
    });
}

fn back_ui(ui: &mut Ui, asks: &mut Vec<Ask>) {
    if ui.button("Back to the sections").clicked() {
        asks.push(Ask::Step(None));
    }
}

/// What is lacking before anything can be drawn.
fn lacks_ui(ui: &mut Ui, words: &str, asks: &mut Vec<Ask>) {
    back_ui(ui, asks);
    ui.add_space(2.0);
    let room = ui.available_rect_before_wrap();
    ui.advance_cursor_after_rect(room);
    empty_ui(ui, room, words);
}

/// A piece of paper that says what it lacks.
fn empty_ui(ui: &mut Ui, rect: Rect, words: &str) {
    let paper = Paper::current(ui.ctx());
    let edge = egui::Stroke::new(1.0, paper.rule);
    ui.painter()
        .rect(rect, 0.0, paper.sheet, edge, egui::StrokeKind::Inside);
    let size = egui::vec2((rect.width() - 40.0).min(420.0), 120.0);
    let builder = UiBuilder::new()
        .max_rect(Rect::from_center_size(rect.center(), size))
        .id_salt("lacks");
    ui.new_child(builder)
        .add(Label::new(RichText::new(words).text_style(super::theme::second())).wrap());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_go_with_the_loom_they_were_made_in() {
        let mut state = LoomState::default();
        state.show("left".to_owned());
        state.mark("L3".to_owned());
        state.mark("L4".to_owned());
        state.mark("L3".to_owned());
        assert_eq!(state.marked().iter().collect::<Vec<_>>(), ["L4"]);
        state.show("left".to_owned());
        assert!(!state.marked().is_empty());
        state.show("right".to_owned());
        assert!(state.marked().is_empty());
    }

    #[test]
    fn the_pieces_of_paper_do_not_overlap() {
        for size in [[560.0, 420.0], [920.0, 520.0], [1540.0, 800.0]] {
            let room = Rect::from_min_size(pos2(350.0, 100.0), egui::Vec2::from(size));
            let papers = arrange(room);
            for (i, paper) in papers.iter().enumerate() {
                assert!(room.contains_rect(*paper) && paper.is_positive());
                assert!(papers[i + 1..].iter().all(|it| !it.intersects(*paper)));
            }
        }
    }
}
