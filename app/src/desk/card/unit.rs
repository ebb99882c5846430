//! Step 2: the unit.

use egui::Ui;
use profiles::Length;
use profiles::schema::{PartUse, UnitPart};

use super::list::{heading, remark};
use super::part::{PartFields, id_of};
use super::{Card, list};
use crate::desk::edit::{Ask, Edit, Target};
use crate::desk::fields;

/// How to reach one length of a unit.
type Place = fn(&mut UnitPart) -> Option<&mut Length>;

/// Lengths of the unit one can change here: name, key, place.
const LENGTHS: [(&str, &str, Place); 6] = [
    ("chassis width", "chassis.width", |u| {
        Some(&mut u.chassis.width)
    }),
    ("chassis height", "chassis.height", |u| {
        Some(&mut u.chassis.height)
    }),
    ("chassis depth", "chassis.depth", |u| {
        Some(&mut u.chassis.depth)
    }),
    ("nose width", "nose.width", |u| Some(&mut u.nose.width)),
    ("nose height", "nose.height", |u| Some(&mut u.nose.height)),
    ("nose thickness", "nose.thickness", |u| {
        Some(&mut u.nose.thickness)
    }),
];

/// Draws the step.
pub fn unit_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let used = &card.job.unit;
    if let Some(id) = fields::choice_of(ui, "unit", "unit", id_of(used), &card.units(used)) {
        asks.push(Ask::Edit(Edit::Unit(PartUse::Named(id)), None));
    }
    let part = PartFields {
        of: "unit",
        used,
        base: used.base().and_then(|id| card.library.get::<UnitPart>(id)),
    };
    for (name, key, place) in LENGTHS {
        if let Some(typed) = part.length(ui, name, key, place, asks) {
            asks.push(Ask::Edit(Edit::Unit(typed.value), Some(typed.gesture)));
        }
    }
    if let PartUse::Changed { base, .. } = used {
        remark(ui, "Changed from the library.");
        if list::small_button(ui, "As in the library").clicked() {
            asks.push(Ask::Edit(Edit::Unit(PartUse::Named(base.clone())), None));
        }
    }
    sockets(ui, card, asks);
    list::form_buttons(ui, &Target::Unit, asks);
}

/// What plugs in where.
fn sockets(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let Some(job) = &card.model.job else {
        return;
    };
    if job.unit.sockets.is_empty() {
        return;
    }
    heading(ui, "Sockets");
    for socket in &job.unit.sockets {
        let lead = job
            .leads
            .iter()
            .find(|lead| lead.from == geometry::LeadStart::Socket(socket.id.clone()));
        match lead {
            Some(lead) => {
                let line = list::Line {
                    target: Target::Lead(lead.id.clone()),
                    name: &socket.name,
                    end: lead.name.clone(),
                    swatch: None,
                    in_the_way: false,
                };
                list::line_ui(ui, &card, &line, asks);
            }
            None => {
                ui.horizontal(|ui| {
                    ui.add_space(4.0);
                    ui.label(&socket.name);
                    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                        ui.add_space(4.0);
                        ui.label(egui::RichText::new("nothing plugged in").small().weak());
                    });
                });
            }
        }
    }
}
