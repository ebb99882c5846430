//! The cavity by depth: a table of cross-sections, in measuring order.

use egui::{RichText, Ui};
use profiles::Length;
use profiles::schema::{RunFile, StationFile};

use super::Card;
use super::list::{heading, remark};
use crate::desk::edit::{Ask, Edit};
use crate::desk::fields;

/// Width of one field of the table, points.
const WIDTH: f32 = 58.0;

/// Gap between fields, points.
const GAP: f32 = 2.0;

/// Draws the table.
pub fn stations_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let stations = &card.job.cavity.stations;
    heading(ui, "Cavity by depth");
    if stations.is_empty() {
        remark(
            ui,
            "At each depth: how far from the centre line to the left wall, the right wall, the roof and the floor.",
        );
    }
    let mut next = stations.clone();
    let mut gesture = None;
    let mut removed = None;
    let columns: [(&str, Side); 4] = [
        ("left", |s| &mut s.left),
        ("right", |s| &mut s.right),
        ("up", |s| &mut s.up),
        ("down", |s| &mut s.down),
    ];
    if !stations.is_empty() {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            for word in ["depth", "left", "right", "up", "down"] {
                let cell = egui::vec2(WIDTH, ui.text_style_height(&egui::TextStyle::Small));
                ui.allocate_ui(cell, |ui| {
                    ui.set_min_width(WIDTH);
                    ui.label(RichText::new(word).small().weak());
                });
            }
        });
    }
    for (at, station) in stations.iter().enumerate() {
        let of = format!("station {}", at + 1);
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            if let Some(typed) =
                fields::bare_length(ui, &format!("{of}: depth"), &station.at, WIDTH, asks)
            {
                next[at].at = typed.value;
                gesture = Some(typed.gesture);
            }
            if station.outline.is_empty() {
                for (word, side) in columns {
                    let value = side(&mut next[at]).clone();
                    if let Some(typed) =
                        side_field(ui, &format!("{of}: {word}"), value.as_ref(), asks)
                    {
                        *side(&mut next[at]) = typed.value;
                        gesture = Some(typed.gesture);
                    }
                }
            } else {
                ui.label(
                    RichText::new(format!("an outline of {} corners", station.outline.len()))
                        .small(),
                );
            }
            let button = ui.small_button("x").on_hover_text("Remove this depth");
            if button.accessible_name(format!("remove {of}")).clicked() {
                removed = Some(at);
            }
        });
    }
    if let Some(at) = removed {
        next.remove(at);
        asks.push(Ask::Edit(Edit::Stations(next), None));
    } else if let Some(gesture) = gesture {
        asks.push(Ask::Edit(Edit::Stations(next), Some(gesture)));
    } else if ui.small_button("Add a depth").clicked() {
        next.push(after(stations));
        asks.push(Ask::Edit(Edit::Stations(next), None));
    }
}

type Side = fn(&mut StationFile) -> &mut Option<Length>;

fn side_field(
    ui: &mut Ui,
    label: &str,
    value: Option<&Length>,
    asks: &mut Vec<Ask>,
) -> Option<fields::Typed<Option<Length>>> {
    let text = value.map_or("", Length::as_written);
    let read = |text: &str| {
        if text.trim().is_empty() {
            Ok(None)
        } else {
            Length::parse(text).map(Some)
        }
    };
    fields::typed(ui, label, text, "", WIDTH, read, asks)
}

/// A further section with nothing measured yet, 40 mm behind the last.
fn after(stations: &[StationFile]) -> StationFile {
    let unmeasured = || Length::parse("?").ok();
    let depth = stations
        .last()
        .and_then(|last| last.at.measure())
        .map_or(0.0, |at| at.value() + 40.0);
    StationFile {
        at: Length::mm(depth),
        left: unmeasured(),
        right: unmeasured(),
        up: unmeasured(),
        down: unmeasured(),
        outline: Vec::new(),
        to_next: RunFile::Blended,
    }
}
