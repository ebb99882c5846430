//! What is behind each socket: one row each, in the order a hand goes along the back.

use egui::{CollapsingHeader, ComboBox, Label, RichText, Ui, vec2};
use profiles::Length;
use profiles::behind::{
    Behind, HowMeasured, RearSocket, behind, behind_all, depth_with, described, id_behind,
    is_id_behind, with_behind,
};
use profiles::schema::{KindFile, MetFile};

use super::Card;
use super::list::{remark, small_button};
use super::obstacle::new_obstacle;
use crate::desk::edit::{Ask, Edit, Target};
use crate::desk::fields;
use crate::desk::theme::grow;

/// What a row is called by those who hear it.
pub fn row_label(socket: &str) -> String {
    format!("depth behind the {socket}")
}

/// What was met, in words.
pub const MET: [(MetFile, &str); 4] = [
    (MetFile::NotKnown, "don't know"),
    (MetFile::Hard, "hard"),
    (MetFile::Soft, "soft"),
    (MetFile::Moves, "moves"),
];

/// Sockets on the rear, left to right along each row of the back, the upper row first.
pub fn in_measuring_order(job: Option<&geometry::Job>) -> Vec<RearSocket> {
    /// Sockets within this height of each other are one row of the back, mm.
    const ROW: f64 = 25.0;
    let mut sockets = job.map_or(Vec::new(), RearSocket::all);
    sockets.sort_by_key(|socket| {
        let row = (-socket.at.y / ROW).round() as i64;
        (row, (socket.at.x * 100.0) as i64)
    });
    sockets
}

/// The label of the first row, where there is one.
pub fn first_label(job: Option<&geometry::Job>) -> Option<String> {
    let sockets = in_measuring_order(job);
    sockets.first().map(|socket| row_label(&socket.name))
}

/// Draws the rows.
pub fn sockets_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let sockets = in_measuring_order(card.model.job.as_ref());
    if sockets.is_empty() {
        return;
    }
    let done = (sockets.iter())
        .filter_map(|socket| behind(card.job, &socket.id))
        .filter(is_of_its_own)
        .count();
    let bare = card.job.cavity.stations.is_empty();
    let title = match done {
        0 => "Behind each socket".to_owned(),
        done => format!("Behind each socket ({done} of {})", sockets.len()),
    };
    let header = CollapsingHeader::new(RichText::new(title).strong())
        .id_salt("behind each socket")
        .default_open(bare || done > 0)
        .open((card.open_sockets || card.fresh && is_chosen(&card)).then_some(true));
    let shown = header.show_unindented(ui, |ui| {
        remark(
            ui,
            "How far a hand or a rod gets in, from the dash face, where each plug will be; what it meets; how you know.",
        );
        if let Some(all) = behind_all(card.job) {
            let text = format!(
                "Now {} for all of them, as in the quick answer.",
                all.depth.as_written()
            );
            remark(ui, &text);
        }
        for socket in &sockets {
            row_ui(ui, card, &sockets, socket, asks);
        }
    });
    if card.open_sockets {
        shown.header_response.scroll_to_me(Some(egui::Align::Min));
    }
}

/// Whether what is behind a socket is chosen.
fn is_chosen(card: &Card) -> bool {
    matches!(card.attention.chosen, Some(Target::Obstacle(id)) if is_id_behind(id))
}

/// Whether a depth was measured for its socket: one that came from the quick
/// answer has no ± yet.
fn is_of_its_own(found: &Behind) -> bool {
    let measure = found.depth.measure();
    measure.is_none_or(|measure| !measure.is_measured() || measure.plus_minus() > 0.0)
}

fn row_ui(
    ui: &mut Ui,
    card: Card,
    sockets: &[RearSocket],
    socket: &RearSocket,
    asks: &mut Vec<Ask>,
) {
    let found = behind(card.job, &socket.id);
    let target = target_of(&card, &socket.id);
    let grown = grow(ui);
    let mut hovered = false;
    let mut next: Option<Option<Behind>> = None;
    let mut gesture = None;
    let row = ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        let rest = (FIELD + WAY + MET_WIDTH) * grown + 5.0 * 3.0;
        let name_width = (ui.available_width() - rest).max(60.0);
        let size = vec2(name_width, ui.spacing().interact_size.y);
        let left = egui::Layout::left_to_right(egui::Align::Center);
        ui.allocate_ui_with_layout(size, left, |ui| {
            ui.set_min_width(name_width);
            let name = short(&socket.name);
            ui.add(Label::new(RichText::new(name).small()).wrap());
        });
        let label = row_label(&socket.name);
        if let Some(typed) = depth_field(ui, &label, found.as_ref(), asks) {
            next = Some(typed.value);
            gesture = Some(typed.gesture);
        }
        if let Some(how) = way_ui(ui, &socket.name, found.as_ref()) {
            next = Some(found.as_ref().map(|found| measured(found, how)));
        }
        if let Some(met) = met_ui(ui, &socket.name, found.as_ref()) {
            next = Some(found.as_ref().map(|found| Behind {
                met,
                ..found.clone()
            }));
        }
        hovered = ui.rect_contains_pointer(ui.min_rect());
    });
    fields::refusals_ui(ui);
    if (hovered || row.response.has_focus())
        && let Some(target) = target
    {
        asks.push(Ask::Point(target));
    }
    if let Some(next) = next {
        let obstacles = with_behind(card.job, sockets, &socket.id, next);
        asks.push(Ask::Edit(Edit::Obstacles(obstacles), gesture));
    }
    let own = Target::Obstacle(id_behind(&socket.id));
    let chosen = card.is_chosen(&own);
    if chosen && card.fresh {
        row.response.scroll_to_me(Some(egui::Align::Center));
    }
    let in_the_way = card.model.clashes_with(&own);
    let Some(found) = found.filter(|_| in_the_way || chosen) else {
        return;
    };
    if in_the_way && matches!(found.met, MetFile::Soft | MetFile::Moves) {
        remark(ui, advice(found.met));
    }
    describe_ui(ui, card, sockets, socket, &found, asks);
}

/// Makes what was met a thing with a form of its own, that may be cut if its
/// form says so.
fn describe_ui(
    ui: &mut Ui,
    card: Card,
    sockets: &[RearSocket],
    socket: &RearSocket,
    found: &Behind,
    asks: &mut Vec<Ask>,
) {
    if !profiles::is_entered(&found.depth) || found.met == MetFile::Moves {
        return;
    }
    let button = small_button(ui, "It is a rib: describe it").on_hover_text(
        "Puts a rib there with a form of its own: how thick it is, how far it reaches, whether it may be cut. Then measure past it.",
    );
    let label = format!("it is a rib: describe what is behind the {}", socket.name);
    if button.accessible_name(label).clicked() {
        let rib = new_obstacle(KindFile::Rib, &card.job.cavity.obstacles);
        let target = Target::Obstacle(rib.id.clone());
        if let Some(obstacles) = described(card.job, sockets, &socket.id, rib) {
            asks.push(Ask::Edit(Edit::Obstacles(obstacles), None));
            asks.push(Ask::Choose(target));
        }
    }
}

/// What to do about something in the way that gives.
pub fn advice(met: MetFile) -> &'static str {
    match met {
        MetFile::Moves => "It moves: push it aside, hold it there, and measure what is behind it.",
        _ => "It is soft: press as hard as the plug may, and measure again.",
    }
}

/// Widths of the three columns after the name, points.
const FIELD: f32 = 56.0;
const WAY: f32 = 78.0;
const MET_WIDTH: f32 = 94.0;

/// What a box to choose from takes beyond the width it is given, points.
const AROUND: f32 = 14.0;

/// `video socket` is shown as `video`: the heading says that they are sockets.
fn short(name: &str) -> &str {
    (name.strip_suffix(" sockets"))
        .or_else(|| name.strip_suffix(" socket"))
        .unwrap_or(name)
}

/// What is lit with a row: what was met, or else the lead that plugs in there.
pub fn target_of(card: &Card, socket: &str) -> Option<Target> {
    let met = Target::Obstacle(id_behind(socket));
    if card.model.thing(&met).is_some() {
        return Some(met);
    }
    let lead = (card.job.leads.iter()).find(|lead| lead.socket.as_deref() == Some(socket))?;
    Some(Target::Lead(lead.id.clone()))
}

/// The same, measured in another way.
fn measured(found: &Behind, how: HowMeasured) -> Behind {
    let alone = Length::parse(found.depth_alone()).unwrap_or_else(|_| found.depth.clone());
    Behind {
        depth: depth_with(&alone, how),
        met: found.met,
    }
}

/// A depth as typed, with what is known beside it kept; nothing typed, nothing known.
pub fn read_depth(text: &str, found: Option<&Behind>) -> Result<Option<Behind>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let typed = Length::parse(text)?;
    let how = found.and_then(Behind::how).unwrap_or(HowMeasured::Felt);
    Ok(Some(Behind {
        depth: depth_with(&typed, how),
        met: found.map_or(MetFile::NotKnown, |found| found.met),
    }))
}

fn depth_field(
    ui: &mut Ui,
    label: &str,
    found: Option<&Behind>,
    asks: &mut Vec<Ask>,
) -> Option<fields::Typed<Option<Behind>>> {
    // A ± that is one of the three ways is said by the word beside the field.
    let written = found.map_or("", |found| match found.how() {
        Some(_) => found.depth_alone(),
        None => found.depth.as_written(),
    });
    let read = |text: &str| read_depth(text, found);
    let width = FIELD * grow(ui);
    fields::typed(ui, label, written, "", width, read, asks)
}

/// How it was measured.
fn way_ui(ui: &mut Ui, socket: &str, found: Option<&Behind>) -> Option<HowMeasured> {
    let how = found.and_then(Behind::how);
    let shown = match (found, how) {
        (_, Some(how)) => how.word(),
        (Some(found), None) if found.depth.measure().is_none_or(|it| !it.is_measured()) => "",
        (Some(found), None) if is_of_its_own(found) => "own ±",
        (Some(_), None) => "no ±",
        (None, None) => "",
    };
    let measured = found.is_some_and(|found| profiles::is_entered(&found.depth));
    let mut chosen = None;
    ui.add_enabled_ui(measured, |ui| {
        ComboBox::from_id_salt(("how", socket))
            .selected_text(RichText::new(shown).small())
            .width((WAY - AROUND) * grow(ui))
            .truncate()
            .show_ui(ui, |ui| {
                for each in HowMeasured::ALL {
                    let text = format!("{}, ± {}", each.word(), each.plus_minus());
                    if ui.selectable_label(how == Some(each), text).clicked() {
                        chosen = Some(each);
                    }
                }
            })
            .response
            .accessible_name(format!("how measured behind the {socket}"));
    });
    chosen.filter(|each| how != Some(*each))
}

/// What was met.
fn met_ui(ui: &mut Ui, socket: &str, found: Option<&Behind>) -> Option<MetFile> {
    let met = found.map(|found| found.met);
    let word = |met: MetFile| (MET.iter().find(|(it, _)| *it == met)).map_or("", |(_, word)| word);
    let mut chosen = None;
    ui.add_enabled_ui(found.is_some(), |ui| {
        ComboBox::from_id_salt(("met", socket))
            .selected_text(RichText::new(met.map_or("", word)).small())
            .width((MET_WIDTH - AROUND) * grow(ui))
            .truncate()
            .show_ui(ui, |ui| {
                for (each, word) in MET {
                    if ui.selectable_label(met == Some(each), word).clicked() {
                        chosen = Some(each);
                    }
                }
            })
            .response
            .accessible_name(format!("met behind the {socket}"));
    });
    chosen.filter(|each| met != Some(*each))
}
