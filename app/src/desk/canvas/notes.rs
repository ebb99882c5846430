//! Names on the drawing: each thing once in each view, the important ones first.

use std::borrow::Cow;
use std::collections::BTreeMap;

use egui::{Pos2, Rect};
use glam::DVec2;

use super::drawing::{LineKind, Standing};
use super::ink::{self, Dash};
use super::labels::Labels;
use super::paint::Pane;
use super::polygon;
use crate::desk::edit::Target;
use crate::desk::model::{Known, Model, Part, Section};
use crate::figures::Figures;

/// What would be written beside a thing.
struct Note<'a> {
    name: Cow<'a, str>,
    on_screen: Rect,
    area: f32,
    cut: bool,
    rank: u8,
    known: Known,
}

/// Writes the names in one pane.
///
/// * `all`: every one of them; else only what is lit
pub fn names(
    pane: &Pane,
    model: &Model,
    section: &Section,
    figures: Figures,
    all: bool,
    labels: &mut Labels,
) {
    let mut notes: BTreeMap<&Target, Note> = BTreeMap::new();
    for face in &section.drawing.faces {
        let thing = &model.things[face.body];
        let lit = pane.attention.is_on(&thing.target);
        let clash = model.clashes_with(&thing.target);
        let cut = face.standing == Standing::Cut;
        let wanted = match face.standing {
            Standing::Cut => true,
            Standing::Beyond => {
                lit || clash || (thing.part == Part::Fixed && shows(section, face.body))
            }
            Standing::Before => lit,
        };
        if !wanted || (thing.target.is_one_of_many() && !lit && !clash) {
            continue;
        }
        let Some(on_screen) = extent(pane, &face.corners) else {
            continue;
        };
        let area = on_screen.area();
        let rank = match (lit, clash, cut) {
            (true, _, _) => 0,
            (_, true, _) => 1,
            (_, _, true) => 2,
            _ => 3,
        };
        let note = Note {
            name: Cow::Borrowed(&thing.name),
            on_screen,
            area,
            cut,
            rank,
            known: thing.known,
        };
        let better = notes
            .get(&thing.target)
            .is_none_or(|other| (note.cut, note.area) > (other.cut, other.area));
        if better {
            notes.insert(&thing.target, note);
        }
    }
    for hole in &model.holes {
        let rim: Vec<DVec2> = hole
            .rim
            .iter()
            .map(|&point| pane.view.flat(point))
            .collect();
        let lit = pane.attention.is_on(&hole.target);
        if !lit && pane.camera.scale < 1.5 {
            continue;
        }
        if let Some(on_screen) = extent(pane, &rim) {
            let rank = if lit { 0 } else { 4 };
            notes.entry(&hole.target).or_insert(Note {
                name: hole_name(model, &hole.target, &hole.name, figures),
                on_screen,
                area: on_screen.area(),
                cut: false,
                rank,
                known: Known::Measured,
            });
        }
    }
    lead_notes(pane, model, section, &mut notes);
    pocket_notes(pane, model, &mut notes);
    let mut order: Vec<Note> = notes.into_values().collect();
    order.retain(|note| all || note.rank == 0);
    order.sort_by(|a, b| a.rank.cmp(&b.rank).then(b.area.total_cmp(&a.area)));
    for note in order.iter().filter(|note| note.cut) {
        labels.keep_apart(note.on_screen);
    }
    let mut behind = false;
    for note in order {
        if note.rank > 2 && !behind {
            // What lies behind is not written across what is cut.
            behind = true;
            keep_cut_faces_free(pane, section, labels);
        }
        write(pane, &note, labels);
    }
}

/// An exit, and how thick the leads are that pass it.
fn hole_name<'a>(model: &Model, exit: &Target, name: &'a str, figures: Figures) -> Cow<'a, str> {
    let rings = model.laid.iter().flat_map(|laid| &laid.rings);
    match rings.clone().find(|ring| ring.exit == *exit) {
        Some(ring) => Cow::Owned(format!("{name}, loom {}", figures.bare(ring.diameter))),
        None => Cow::Borrowed(name),
    }
}

/// Laid leads whose plug is not named already: where they are cut or seen.
fn lead_notes<'a>(
    pane: &Pane,
    model: &'a Model,
    section: &Section,
    notes: &mut BTreeMap<&'a Target, Note<'a>>,
) {
    for (number, way) in model
        .laid
        .iter()
        .flat_map(|laid| laid.ways.iter().enumerate())
    {
        let lit = pane.attention.is_on(&way.target);
        let cut = section.bands.cuts.iter().find(|cut| cut.way == number);
        let runs = section
            .bands
            .runs
            .iter()
            .filter(|run| run.way == number && run.kind == LineKind::Visible);
        let longest = runs.max_by_key(|run| run.line.len());
        let Some(place) = cut.map(|cut| &cut.outline).or(longest.map(|run| &run.line)) else {
            continue;
        };
        if let Some(on_screen) = extent(pane, place) {
            notes.entry(&way.target).or_insert(Note {
                name: Cow::Borrowed(&way.name),
                on_screen,
                area: on_screen.area(),
                cut: cut.is_some(),
                rank: if lit { 0 } else { 3 },
                known: Known::Measured,
            });
        }
    }
}

/// Pockets with slack in them, and how full they are.
fn pocket_notes<'a>(pane: &Pane, model: &'a Model, notes: &mut BTreeMap<&'a Target, Note<'a>>) {
    for pocket in &model.pockets {
        let lit = pane.attention.is_on(&pocket.target);
        let Some(fill) = pocket.fill.filter(|fill| *fill > 0.0 || lit) else {
            continue;
        };
        let on_screen = pane.pocket_rect(pocket);
        if pane.rect.intersects(on_screen) {
            notes.entry(&pocket.target).or_insert(Note {
                name: Cow::Owned(format!("{}, {:.0} % slack", pocket.name, 100.0 * fill)),
                on_screen,
                area: on_screen.area(),
                cut: false,
                rank: if lit { 0 } else { 4 },
                known: Known::Measured,
            });
        }
    }
}

fn keep_cut_faces_free(pane: &Pane, section: &Section, labels: &mut Labels) {
    for face in section
        .drawing
        .faces
        .iter()
        .filter(|face| face.standing == Standing::Cut)
    {
        if let Some(rect) = extent(pane, &face.corners) {
            labels.keep_free(rect);
        }
    }
}

fn write(pane: &Pane, note: &Note, labels: &mut Labels) {
    let colour = if note.rank <= 2 {
        pane.paper.ink
    } else {
        pane.paper.faint
    };
    let name = match note.known {
        Known::Unmeasured => format!("{} ?", note.name),
        _ => note.name.clone().into_owned(),
    };
    let galley = pane
        .painter
        .layout_no_wrap(name.clone(), ink::lettering(1.0), colour);
    let Some(placed) = labels.place(galley.size(), note.on_screen) else {
        labels.leave_out(name);
        return;
    };
    if let Some(end) = placed.leader {
        let shown = note.on_screen.intersect(pane.rect);
        let tip = shown.center();
        ink::line(pane.painter, &[end, tip], 0.8, colour, Dash::Full);
        pane.painter.circle_filled(tip, 1.8, colour);
    }
    let plate = placed.rect.expand2(egui::vec2(2.0, 0.0));
    pane.painter
        .rect_filled(plate, 1.0, pane.paper.sheet.gamma_multiply(0.92));
    pane.painter.galley(placed.rect.left_top(), galley, colour);
}

/// Whether an edge of a body is seen, rather than hidden behind something.
fn shows(section: &Section, body: usize) -> bool {
    section
        .drawing
        .lines
        .iter()
        .any(|line| line.body == body && line.kind == LineKind::Visible)
}

/// Where a flat outline lies on screen; `None` when it is out of the pane.
fn extent(pane: &Pane, corners: &[DVec2]) -> Option<Rect> {
    let [low, high] = polygon::bounds(corners)?;
    let corners: [Pos2; 2] = [pane.pos(low), pane.pos(high)];
    let rect = Rect::from_two_pos(corners[0], corners[1]);
    pane.rect.intersects(rect).then_some(rect)
}
