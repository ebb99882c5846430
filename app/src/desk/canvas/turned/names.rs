//! Names in the turned view: what shows, the important ones first, none on another.

use std::collections::BTreeMap;

use egui::{Painter, Pos2, Rect};

use super::Labels;
use super::ink::{self, Dash};
use super::shapes::Shapes;
use super::show::Picture;
use crate::desk::canvas::Shown;
use crate::desk::edit::Target;
use crate::desk::model::Part;
use crate::desk::theme::Paper;

/// Things of which fewer cells show have no name, unless lit.
const FEWEST: usize = 60;

/// What would be written.
struct Note<'a> {
    name: &'a str,
    rect: Rect,
    spot: Pos2,
    cells: usize,
    rank: u8,
}

/// Writes the names.
pub fn names(
    painter: &Painter,
    picture: &Picture,
    shapes: &Shapes,
    shown: Shown,
    labels: &mut Labels,
    paper: &Paper,
) {
    let mut notes: BTreeMap<&Target, Note> = BTreeMap::new();
    for (number, shape) in shapes.shapes.iter().enumerate() {
        let lit = shown.attention.is_on(&shape.target);
        let Some((rect, spot, cells)) = picture
            .place(number)
            .filter(|(_, _, cells)| lit || *cells >= FEWEST)
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
        let note = Note {
            name: &shape.name,
            rect,
            spot,
            cells,
            rank,
        };
        // A lead is named at its cable where that shows more than its plug.
        if notes
            .get(&shape.target)
            .is_none_or(|other| note.cells > other.cells)
        {
            notes.insert(&shape.target, note);
        }
    }
    for line in shapes
        .lines
        .iter()
        .filter(|line| matches!(line.target, Target::Exit(_)))
    {
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
            rect,
            spot: rect.center(),
            cells: 0,
            rank,
        });
    }
    let mut order: Vec<Note> = notes.into_values().collect();
    order.sort_by(|a, b| a.rank.cmp(&b.rank).then(b.cells.cmp(&a.cells)));
    for note in order {
        write(painter, &note, labels, paper);
    }
}

fn write(painter: &Painter, note: &Note, labels: &mut Labels, paper: &Paper) {
    let colour = if note.rank <= 3 {
        paper.ink
    } else {
        paper.faint
    };
    let galley = painter.layout_no_wrap(note.name.to_owned(), ink::lettering(1.0), colour);
    // Something long and thin covers little of the box around it: its name goes by a spot on it.
    let full = note.cells as f32 > 0.45 * note.rect.area();
    let thing = if full {
        note.rect
    } else {
        Rect::from_center_size(note.spot, egui::vec2(6.0, 6.0))
    };
    let Some(placed) = labels.place(galley.size(), thing) else {
        return;
    };
    if let Some(end) = placed.leader {
        ink::line(painter, &[end, note.spot], 0.8, colour, Dash::Full);
        painter.circle_filled(note.spot, 1.8, colour);
    }
    let plate = placed.rect.expand2(egui::vec2(2.0, 0.0));
    painter.rect_filled(plate, 1.0, paper.sheet.gamma_multiply(0.8));
    painter.galley(placed.rect.left_top(), galley, colour);
}
