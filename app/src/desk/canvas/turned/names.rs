//! Names in the turned view: in two columns beside the drawing, each with a
//! leader to what it names, none on another.

use std::collections::BTreeMap;

use egui::{Painter, Pos2, Rect, vec2};

use super::ink::{self, Dash};
use super::shapes::{LineOf, Shapes};
use super::show::Picture;
use crate::desk::canvas::Shown;
use crate::desk::edit::Target;
use crate::desk::loom::leaders::{self, Word};
use crate::desk::model::Part;
use crate::desk::theme::Paper;

/// Things of which less shows have no name, unless lit, square points.
const LEAST: usize = 60;
/// Panes narrower than this name only what is lit or in the way, points.
const NARROW: f32 = 520.0;
/// Width of a column of names, points.
const COLUMN: f32 = 122.0;

/// What would be written.
struct Note<'a> {
    name: &'a str,
    spot: Pos2,
    shows: usize,
    rank: u8,
}

/// Writes the names.
///
/// * `rect`: the pane; `title`: what stands above them
pub fn names(
    painter: &Painter,
    [rect, title]: [Rect; 2],
    picture: &Picture,
    shapes: &Shapes,
    shown: Shown,
    paper: &Paper,
) {
    let column = column(rect);
    let inner = rect.shrink2(vec2(5.0, 4.0));
    let pane = Rect::from_min_max(egui::pos2(inner.left(), title.bottom() + 4.0), inner.max);
    let drawing = pane
        .shrink2(vec2(column, 0.0))
        .shrink2(vec2(leaders::GAP, 0.0));
    let line = painter
        .layout_no_wrap("Ag".to_owned(), ink::lettering(1.0), paper.ink)
        .size()
        .y;
    let room = 2 * ((pane.height() / (line + 4.0)) as usize);
    let mut notes = notes(picture, shapes, shown, rect);
    notes.retain(|note| rect.width() >= NARROW || note.rank <= 1);
    notes.sort_by(|a, b| a.rank.cmp(&b.rank).then(b.shows.cmp(&a.shows)));
    notes.truncate(room);
    let galleys: Vec<_> = notes
        .iter()
        .map(|note| {
            let colour = if note.rank <= 3 {
                paper.ink
            } else {
                paper.faint
            };
            let mut job = egui::text::LayoutJob::simple_singleline(
                note.name.to_owned(),
                ink::lettering(1.0),
                colour,
            );
            job.wrap = egui::text::TextWrapping::truncate_at_width(column);
            (painter.layout_job(job), colour)
        })
        .collect();
    let words: Vec<Word> = notes
        .iter()
        .zip(&galleys)
        .map(|(note, (galley, _))| Word {
            size: galley.size(),
            tip: note.spot,
        })
        .collect();
    let placed = leaders::beside(&words, drawing, pane);
    for ((placed, (galley, colour)), note) in placed.into_iter().zip(galleys).zip(&notes) {
        let Some(placed) = placed else {
            continue;
        };
        let lit = note.rank == 0;
        let leader = if lit { paper.lit } else { paper.faint };
        let weight = if lit { 1.6 } else { 0.7 };
        ink::line(
            painter,
            &[placed.start, placed.tip],
            weight,
            leader,
            Dash::Full,
        );
        painter.circle_filled(placed.tip, 1.8, leader);
        let plate = placed.rect.expand2(vec2(2.0, 0.0));
        painter.rect_filled(plate, 1.0, paper.sheet.gamma_multiply(0.85));
        painter.galley(placed.rect.left_top(), galley, colour);
    }
}

/// Width of one column of names in a pane, points.
fn column(rect: Rect) -> f32 {
    COLUMN.min(0.25 * rect.width())
}

/// Room beside the drawing on either side, points. The few names of a narrow
/// pane may lie over its edge.
pub fn aside(rect: Rect) -> f32 {
    if rect.width() < NARROW {
        0.1 * rect.width()
    } else {
        column(rect)
    }
}

fn notes<'a>(picture: &Picture, shapes: &'a Shapes, shown: Shown, rect: Rect) -> Vec<Note<'a>> {
    let mut notes: BTreeMap<&Target, Note> = BTreeMap::new();
    for (number, shape) in shapes.shapes.iter().enumerate() {
        let lit = shown.attention.is_on(&shape.target);
        let Some((_, spot, shows)) = picture
            .place(number)
            .filter(|(_, _, shows)| lit || *shows >= LEAST)
        else {
            continue;
        };
        let rank = match shape.part {
            _ if lit => 0,
            _ if shown.model.clashes_with(&shape.target) => 1,
            None | Some(Part::Plug) => 2,
            Some(Part::Fixed) => 3,
            Some(Part::Unit) => 4,
        };
        if rank == 3 && shape.target.is_one_of_many() {
            continue;
        }
        let note = Note {
            name: &shape.name,
            spot,
            shows,
            rank,
        };
        // A lead is named at its cable where that shows more than its plug.
        if notes
            .get(&shape.target)
            .is_none_or(|other| note.shows > other.shows)
        {
            notes.insert(&shape.target, note);
        }
    }
    for line in shapes.lines.iter().filter(|line| line.kind == LineOf::Exit) {
        let rim: Vec<Pos2> = line
            .points
            .iter()
            .filter_map(|&point| picture.see(point))
            .collect();
        let rect = Rect::from_points(&rim);
        let rank = if shown.attention.is_on(&line.target) {
            0
        } else {
            5
        };
        notes.entry(&line.target).or_insert(Note {
            name: &line.name,
            spot: rect.center(),
            shows: 0,
            rank,
        });
    }
    let shows = |note: &Note| rect.shrink(4.0).contains(note.spot);
    notes.into_values().filter(shows).collect()
}
