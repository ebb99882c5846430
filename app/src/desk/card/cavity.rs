//! Step 1: the opening, the cavity by depth, and everything in it.

use egui::Ui;
use profiles::behind::is_behind;
use profiles::schema::{CavityFile, KindFile};

use super::list::{Line, form_frame, heading, line_ui, remark};
use super::{Card, factory_plugs, list, obstacle, places, sockets, stations};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::model::kind_of;
use crate::desk::theme::Tone;

/// Draws the step.
pub fn cavity_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let cavity = &card.job.cavity;
    opening(ui, card, asks);
    frame(ui, cavity, asks);
    sockets::sockets_ui(ui, card, asks);
    obstacles(ui, card, asks);
    places::exits_ui(ui, card, asks);
    places::spaces_ui(ui, card, asks);
    places::pockets_ui(ui, card, asks);
    factory_plugs::factory_plugs_ui(ui, card, asks);
    stations::stations_ui(ui, card, asks);
}

fn opening(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Opening");
    let opening = &card.job.cavity.opening;
    let mut next = opening.clone();
    let mut gesture = None;
    if let Some(typed) = fields::length(ui, "opening", "width", &opening.width, asks) {
        next.width = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(typed) = fields::length(ui, "opening", "height", &opening.height, asks) {
        next.height = typed.value;
        gesture = Some(typed.gesture);
    }
    let corner = opening.corner_radius.as_ref();
    if let Some(typed) = fields::optional_length(ui, "opening", "corner radius", corner, "0", asks)
    {
        next.corner_radius = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(gesture) = gesture {
        asks.push(Ask::Edit(Edit::Opening(next), Some(gesture)));
    }
}

/// Planes and clearances.
fn frame(ui: &mut Ui, cavity: &CavityFile, asks: &mut Vec<Ask>) {
    egui::CollapsingHeader::new("Planes and clearances")
        .id_salt("planes")
        .show(ui, |ui| {
            let mut next = cavity.clone();
            let mut gesture: Option<Gesture> = None;
            type Place = fn(&mut CavityFile) -> &mut Option<profiles::Length>;
            let lengths: [(&str, &str, Place); 4] = [
                ("seat plane at depth", "0", |c| &mut c.seat_plane),
                ("finished face at depth", "0", |c| &mut c.finished_face),
                ("leads keep from walls", "2", |c| &mut c.clear),
                ("unit keeps from walls", "0", |c| &mut c.slide_gap),
            ];
            for (name, usual, place) in lengths {
                let value = place(&mut next).clone();
                if let Some(typed) =
                    fields::optional_length(ui, "cavity", name, value.as_ref(), usual, asks)
                {
                    *place(&mut next) = typed.value;
                    gesture = Some(typed.gesture);
                }
            }
            if let Some(closed) = fields::tick(ui, "cavity", "closed at the back", cavity.closed) {
                next.closed = closed;
                asks.push(Ask::Edit(Edit::Cavity(Box::new(next.clone())), None));
            }
            if let Some(gesture) = gesture {
                asks.push(Ask::Edit(Edit::Cavity(Box::new(next)), Some(gesture)));
            }
        });
}

fn obstacles(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "Things in the cavity");
    let obstacles = &card.job.cavity.obstacles;
    if obstacles.iter().all(is_behind) {
        remark(
            ui,
            "Ribs, beams, ducts, brackets, looms: everything solid behind the opening.",
        );
    }
    let things = (obstacles.iter().enumerate()).filter(|(_, each)| !is_behind(each));
    for (at, each) in things {
        let target = Target::Obstacle(each.id.clone());
        let swatch = card
            .model
            .thing(&target)
            .map_or((Tone::Unknown, Hatch::Dashes), |thing| {
                (thing.tone, thing.hatch)
            });
        let line = Line {
            in_the_way: card
                .model
                .clashes
                .iter()
                .any(|clash| clash.against.as_ref() == Some(&target)),
            target: target.clone(),
            name: &each.name,
            end: kind_of(each.kind).word().to_owned(),
            swatch: Some(swatch),
        };
        if line_ui(ui, &card, &line, asks) {
            form_frame(ui, |ui| obstacle::obstacle_ui(ui, card, at, asks));
        }
    }
    ui.horizontal_wrapped(|ui| {
        ui.weak("Add:");
        for kind in [
            KindFile::Rib,
            KindFile::Beam,
            KindFile::Duct,
            KindFile::Bracket,
            KindFile::Loom,
            KindFile::Unknown,
        ] {
            let word = kind_of(kind).word();
            if list::small_button(ui, word)
                .on_hover_text(format!("Add a {word}"))
                .clicked()
            {
                let new = obstacle::new_obstacle(kind, obstacles);
                let target = Target::Obstacle(new.id.clone());
                asks.push(Ask::Edit(Edit::Obstacle(ListEdit::add(new)), None));
                asks.push(Ask::Choose(target));
            }
        }
    });
}
