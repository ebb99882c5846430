//! The cavity by depth: a table of cross-sections, in measuring order.

use egui::{RichText, Ui};
use profiles::Length;
use profiles::schema::{RunFile, StationFile};

use super::list::{heading, remark};
use super::{Card, copies, list};
use crate::desk::edit::{Ask, Edit};
use crate::desk::fields;
use crate::desk::theme::{grow, is_large};
use crate::figures::Figures;

/// Widest field of the table, points.
const WIDTH: f32 = 58.0;

/// Width of the field of a table of five columns and two buttons, points.
fn field_width(ui: &Ui) -> f32 {
    let buttons = 2.0 * if is_large(ui) { 44.0 } else { 24.0 };
    let rest = ui.available_width() - buttons - 8.0 * GAP;
    (rest / 5.0).floor().clamp(40.0, WIDTH * grow(ui))
}

/// Gap between fields, points.
const GAP: f32 = 2.0;

/// Draws the table.
pub fn stations_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let stations = &card.job.cavity.stations;
    heading(ui, "Cavity by depth");
    if stations.is_empty() {
        remark(
            ui,
            "Where you want more than what is behind each socket. At each depth: how far from the centre line to the left wall, the right wall, the roof and the floor.",
        );
    }
    let width = field_width(ui);
    let mut next = stations.clone();
    let mut gesture = None;
    let mut removed = None;
    let mut doubled = None;
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
                let cell = egui::vec2(width, ui.text_style_height(&egui::TextStyle::Small));
                ui.allocate_ui(cell, |ui| {
                    ui.set_min_width(width);
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
                fields::bare_length(ui, &format!("{of}: depth"), &station.at, width, asks)
            {
                next[at].at = typed.value;
                gesture = Some(typed.gesture);
            }
            if station.outline.is_empty() {
                for (word, side) in columns {
                    let value = side(&mut next[at]).clone();
                    if let Some(typed) =
                        side_field(ui, &format!("{of}: {word}"), value.as_ref(), width, asks)
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
            let button = list::small_button(ui, "+").on_hover_text("One more like this behind it");
            if button.accessible_name(format!("duplicate {of}")).clicked() {
                doubled = Some(at);
            }
            let button = list::small_button(ui, "x").on_hover_text("Remove this depth");
            if button.accessible_name(format!("remove {of}")).clicked() {
                removed = Some(at);
            }
        });
        fields::refusals_ui(ui);
    }
    if stations
        .iter()
        .any(|it| has_plain_figures(it, card.figures))
    {
        remark(ui, "A figure without a unit is in mm.");
    }
    if let Some(at) = removed {
        next.remove(at);
        asks.push(Ask::Edit(Edit::Stations(next), None));
    } else if let Some((at, copy)) =
        doubled.and_then(|at| Some((at, copies::station(stations, at)?)))
    {
        next.insert(at + 1, copy);
        asks.push(Ask::Edit(Edit::Stations(next), None));
    } else if let Some(gesture) = gesture {
        asks.push(Ask::Edit(Edit::Stations(next), Some(gesture)));
    } else {
        ui.horizontal_wrapped(|ui| {
            if list::small_button(ui, "Add a depth").clicked() {
                next.push(after(stations));
                asks.push(Ask::Edit(Edit::Stations(next), None));
            }
            if let Some(sorted) = sorted(stations)
                && list::small_button(ui, "Put in order of depth").clicked()
            {
                asks.push(Ask::Edit(Edit::Stations(sorted), None));
            }
        });
    }
}

/// Whether some figure of a cross-section is in mm and does not say so, where inches are shown.
fn has_plain_figures(station: &StationFile, figures: Figures) -> bool {
    let sides = [&station.left, &station.right, &station.up, &station.down];
    let mut lengths = sides.into_iter().flatten().chain([&station.at]);
    lengths.any(|written| {
        figures
            .beside(written)
            .is_some_and(|(unit, _)| !unit.is_empty())
    })
}

type Side = fn(&mut StationFile) -> &mut Option<Length>;

fn side_field(
    ui: &mut Ui,
    label: &str,
    value: Option<&Length>,
    width: f32,
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
    fields::typed(ui, label, text, "", width, read, asks)
}

/// How far behind the last a further section is put, mm.
const NEXT: f64 = 40.0;

/// Sections by rising depth, as they have to be; `None` when they are so already.
fn sorted(stations: &[StationFile]) -> Option<Vec<StationFile>> {
    let depth = |station: &StationFile| station.at.measure().map_or(0.0, |at| at.value());
    let mut sorted = stations.to_vec();
    sorted.sort_by(|a, b| depth(a).total_cmp(&depth(b)));
    (sorted != stations).then_some(sorted)
}

/// A further section with nothing measured yet, some way behind the last.
pub fn after(stations: &[StationFile]) -> StationFile {
    let unmeasured = || Length::parse("?").ok();
    let depth = stations
        .last()
        .and_then(|last| last.at.measure())
        .map_or(0.0, |at| at.value() + NEXT);
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
