//! How a lead was laid, and the points it is to pass.

use egui::Ui;
use profiles::schema::LeadFile;

use super::Card;
use super::list::{heading, remark};
use super::places::AXES;
use crate::desk::edit::{Ask, Edit, Target};
use crate::desk::fields;
use crate::desk::model::route_lines;
use crate::desk::pin_edit::{PinEdit, written};

/// Most points that a lead passes.
const MOST_POINTS: usize = 6;

/// Draws both.
pub fn route_ui(ui: &mut Ui, card: Card, lead: &LeadFile, asks: &mut Vec<Ask>) {
    let target = Target::Lead(lead.id.clone());
    let lines = route_lines(card.model, &target, card.figures);
    if !lines.is_empty() {
        heading(ui, "As laid");
        for line in &lines {
            remark(ui, line);
        }
    }
    points_ui(ui, card, lead, asks);
}

fn points_ui(ui: &mut Ui, card: Card, lead: &LeadFile, asks: &mut Vec<Ask>) {
    heading(ui, "Points it passes");
    let edit = |edit| Edit::Through(lead.id.clone(), edit);
    for (number, point) in lead.through.iter().enumerate() {
        let of = format!("{}, point {}", lead.name, number + 1);
        let mut next = point.clone();
        let mut gesture = None;
        for (axis, word) in AXES.into_iter().enumerate() {
            let name = if axis == 0 {
                format!("{}: {word}", number + 1)
            } else {
                word.to_owned()
            };
            let written = &point[axis];
            let typed = fields::row(ui, &name, |ui| {
                let label = format!("{of}: {word}");
                let width = fields::field_width(ui);
                let typed = fields::bare_length(ui, &label, written, width, asks);
                fields::unit_ui(ui, written);
                typed
            });
            if let Some(typed) = typed {
                next[axis] = typed.value;
                gesture = Some(typed.gesture);
            }
        }
        if gesture.is_some() {
            asks.push(Ask::Edit(edit(PinEdit::Move(number, next)), gesture));
        }
        let button = ui.button("Let it go free here");
        if button
            .accessible_name(format!("{of}: let it go free"))
            .clicked()
        {
            asks.push(Ask::Edit(edit(PinEdit::Remove(number)), None));
        }
    }
    let Some(place) = middle_of(card, lead).filter(|_| lead.through.len() < MOST_POINTS) else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        if ui.button("Pass a point").clicked() {
            let last = lead.through.len();
            asks.push(Ask::Edit(edit(PinEdit::Add(last, written(place))), None));
        }
        if lead.through.is_empty() {
            remark(ui, "or pull the chosen lead on the drawing");
        }
    });
}

/// A place to begin from: half-way from its last point, or from its plug, to its end.
fn middle_of(card: Card, lead: &LeadFile) -> Option<glam::DVec3> {
    let target = Target::Lead(lead.id.clone());
    let laid = card.model.laid.as_ref()?;
    let way = laid.ways.iter().find(|way| way.target == target)?;
    let mut pins = card.model.pins.iter().filter(|pin| pin.target == target);
    let last = pins.next_back().and_then(|pin| {
        let points = way.line.iter().enumerate();
        let nearest = points.min_by(|a, b| a.1.distance(pin.at).total_cmp(&b.1.distance(pin.at)));
        nearest.map(|(number, _)| number)
    });
    let from = last.unwrap_or(0);
    way.line.get((from + way.line.len()) / 2).copied()
}
