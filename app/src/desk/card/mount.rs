//! Step 3: what holds the unit.

use egui::Ui;
use profiles::schema::{MountPart, PartUse};

use super::list::{form_buttons, heading, remark};
use super::part::{PartFields, id_of};
use super::{Card, tabs};
use crate::desk::edit::{Ask, Edit, Target};
use crate::desk::fields;

/// Draws the step.
pub fn mount_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let used = &card.job.mount;
    if let Some(id) = fields::choice_of(ui, "mount", "mount", id_of(used), &card.mounts(used)) {
        asks.push(Ask::Edit(Edit::Mount(PartUse::Named(id)), None));
    }
    let base = used.base().and_then(|id| card.library.get::<MountPart>(id));
    let part = PartFields {
        of: "mount",
        used,
        base,
    };
    if let Some(typed) = part.length(ui, "setback", "setback", |m| Some(&mut m.setback), asks) {
        asks.push(Ask::Edit(Edit::Mount(typed.value), Some(typed.gesture)));
    }
    remark(
        ui,
        "From the seat plane to the chassis front; positive into the dash.",
    );
    let bracket = |m: &mut MountPart| m.factory_brackets.is_some();
    let described = match used {
        PartUse::Inline(part) => Some(part.as_ref()),
        _ => base,
    };
    let Some(mut described) = described.cloned() else {
        return;
    };
    if bracket(&mut described) {
        let typed = part.length(
            ui,
            "bracket thickness",
            "factory_brackets.bracket.thickness",
            |m| {
                m.factory_brackets
                    .as_mut()
                    .map(|brackets| &mut brackets.bracket.thickness)
            },
            asks,
        );
        if let Some(typed) = typed {
            asks.push(Ask::Edit(Edit::Mount(typed.value), Some(typed.gesture)));
        }
    }
    if described.sleeve.is_some() {
        for (name, key) in [
            ("sleeve wall", "sleeve.wall"),
            ("sleeve depth", "sleeve.depth"),
        ] {
            let typed = part.length(
                ui,
                name,
                key,
                |m| {
                    m.sleeve.as_mut().map(|sleeve| {
                        if key == "sleeve.wall" {
                            &mut sleeve.wall
                        } else {
                            &mut sleeve.depth
                        }
                    })
                },
                asks,
            );
            if let Some(typed) = typed {
                asks.push(Ask::Edit(Edit::Mount(typed.value), Some(typed.gesture)));
            }
        }
    }
    tabs::tabs_ui(ui, card, asks);
    hole_pairs(ui, card);
    form_buttons(ui, &Target::Mount, asks);
}

/// Which bracket holes line up with which of the unit's.
fn hole_pairs(ui: &mut Ui, card: Card) {
    let Some(fit) = card
        .model
        .fit
        .as_ref()
        .filter(|fit| !fit.hole_pairs.is_empty())
    else {
        return;
    };
    heading(ui, "Holes");
    for pair in &fit.hole_pairs {
        let says = if pair.lines_up {
            "lines up".to_owned()
        } else {
            format!("{} off", card.figures.length(pair.off))
        };
        remark(
            ui,
            &format!(
                "{}: bracket {} to unit {}: {says}",
                pair.side.word(),
                pair.bracket_hole,
                pair.unit_hole
            ),
        );
    }
}
