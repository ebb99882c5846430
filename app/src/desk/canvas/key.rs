//! What stands above and below the drawing: which views and layers are shown,
//! the scale, what the hatches mean, what is pointed at.

use egui::{Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};
use glam::DVec2;

use super::camera::View;
use super::hatch::Hatch;
use super::ink::{self, Dash};
use super::layers::{Layer, switch_ui};
use super::{CanvasState, Shown, scale_bar};
use crate::desk::edit::{Ask, DrawingAsk, TurnedShown};
use crate::desk::model::facts_of;
use crate::desk::theme::{Paper, Tone, mix};
use crate::desk::top::TURNED;

/// Longest scale bar; where the row is full; and room for its words, points.
const BAR: f32 = 110.0;
const LEAST_BAR: f32 = 50.0;
const BAR_WORDS: f32 = 38.0;

/// Draws the strip above the drawing. Its switches wrap where they must; the
/// scale bar keeps the right end of the first row.
pub fn strip_ui(ui: &mut Ui, state: &CanvasState, shown: Shown, key: bool, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    let scale = if state.turned.is_alone() {
        state.turned.eye.scale
    } else {
        state.camera.scale
    };
    let row = ui.available_rect_before_wrap();
    let least = scale_bar::round_length(scale, shown.figures, LEAST_BAR).1;
    let kept = least.max(BAR_WORDS) + 2.0 * BESIDE_BAR;
    let words = egui::UiBuilder::new().max_rect(row.with_max_x(row.right() - kept));
    let used = ui.scope_builder(words, |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = vec2(3.0, 2.0);
            switches_ui(ui, state, key, asks);
        });
    });
    let free = row.right() - used.response.rect.right() - 2.0 * BESIDE_BAR;
    let height = ui.spacing().interact_size.y.max(scale_bar::HEIGHT);
    let end = row.with_max_y(row.top() + height);
    scale_bar(ui, end, scale, free.clamp(LEAST_BAR, BAR), shown, &paper);
    if key {
        swatches(ui, &paper);
    }
}

/// What can be switched: views, layers, measuring, the key.
fn switches_ui(ui: &mut Ui, state: &CanvasState, key: bool, asks: &mut Vec<Ask>) {
    views_ui(ui, state, asks);
    ui.add_space(3.0);
    for layer in Layer::ALL {
        let on = state.layers.has(layer);
        let name = format!("show {}", layer.word());
        if switch_ui(ui, on, layer.word(), &name) {
            asks.push(Ask::Drawing(DrawingAsk::Layer(layer, !on)));
        }
    }
    ui.add_space(3.0);
    if switch_ui(ui, key, "key", "show the key of hatches") {
        asks.push(Ask::Drawing(DrawingAsk::Key(!key)));
    }
    let measuring = state.measuring.on;
    if switch_ui(ui, measuring, "measure", "measure between points") {
        asks.push(Ask::Drawing(DrawingAsk::Measure(!measuring)));
    }
    if !state.measuring.lines.is_empty() && ui.small_button("Remove lines").clicked() {
        asks.push(Ask::Drawing(DrawingAsk::RemoveLines));
    }
}

/// Which views are shown.
fn views_ui(ui: &mut Ui, state: &CanvasState, asks: &mut Vec<Ask>) {
    if ui.button("Show all").clicked() {
        asks.push(Ask::ShowAll);
    }
    for (view, word, name) in [
        (None, "ABC", "all three views"),
        (Some(View::LookingIn), "A", "looking in alone"),
        (Some(View::FromAbove), "B", "from above alone"),
        (Some(View::FromSide), "C", "from the side alone"),
    ] {
        let is_so = state.alone == view && !state.turned.is_alone();
        let response = ui.selectable_label(is_so, word).accessible_name(name);
        if response.clicked() {
            asks.push(Ask::Alone(view));
        }
    }
    let alone = state.turned.is_alone();
    let response = ui
        .selectable_label(alone, "D")
        .on_hover_text(ui.ctx().format_shortcut(&TURNED))
        .accessible_name("turned view alone");
    if response.clicked() {
        asks.push(Ask::Turned(TurnedShown::Alone));
    }
    let beside = state.turned_beside;
    let response = ui
        .selectable_label(beside, "+D")
        .accessible_name("turned view beside the others");
    if response.clicked() {
        let next = if beside {
            TurnedShown::Away
        } else {
            TurnedShown::Beside
        };
        asks.push(Ask::Turned(next));
    }
}

/// The note below the drawing has two rows from this height of the canvas on, points.
const TWO_ROWS: f32 = 380.0;

/// What stays chosen covers no more of a low window's drawing than this many
/// rows; its form tells the rest, and so does pointing at it.
const STANDING_ROWS: usize = 3;

/// Height kept for the note below the drawing, points. It depends on the room
/// alone, not on the words: the drawing stays where it is whatever is told.
///
/// * `room`: height of the whole canvas, points
pub fn note_height(ui: &Ui, room: f32) -> f32 {
    let line = ui.text_style_height(&egui::TextStyle::Small);
    let lines = if room > TWO_ROWS { 2.0 } else { 1.0 };
    lines * line + 4.0
}

/// What is pointed at, or else chosen, with all its numbers. What finds no room
/// in the rows kept for it lies over the foot of the drawing.
///
/// * `foot`: the rows kept for it
pub fn note_ui(ui: &mut Ui, foot: Rect, state: &CanvasState, shown: Shown) {
    let paper = Paper::current(ui.ctx());
    let (text, colour) = note(state, shown).map_or_else(
        || {
            let help =
                "Point to read, click to choose; drag or press arrows to move what is chosen.";
            (help.to_owned(), paper.faint)
        },
        |text| (text, paper.ink),
    );
    let font = egui::TextStyle::Small.resolve(ui.style());
    let mut job = egui::text::LayoutJob::simple(text, font, colour, foot.width());
    if shown.attention.pointed.is_none() {
        job.wrap.max_rows = STANDING_ROWS;
    }
    let galley = ui.painter().layout_job(job);
    let over = (galley.size().y - foot.height()).max(0.0);
    let rect = foot.with_min_y(foot.top() - over);
    if over > 0.0 {
        let ground = rect.expand2(vec2(0.0, 2.0));
        ui.painter().rect_filled(ground, 0.0, paper.board);
        let edge = Stroke::new(1.0, paper.rule);
        ui.painter().hline(ground.x_range(), ground.top(), edge);
    }
    let builder = egui::UiBuilder::new().max_rect(rect).id_salt("note");
    let mut child = ui.new_child(builder);
    child.add(egui::Label::new(galley).selectable(false));
}

fn note(state: &CanvasState, shown: Shown) -> Option<String> {
    if state.measuring.on {
        let help = "Measuring: click two points (corners, edges and centres are taken). With the \
                    keys: arrows, with the command key to the next corner, Enter sets a point, \
                    Esc ends it.";
        return Some(help.to_owned());
    }
    let target = shown.attention.pointed.or(shown.attention.chosen)?;
    let (name, facts) = facts_of(shown.model, target)?;
    let word = if shown.attention.pointed.is_some() {
        "Pointed at"
    } else {
        "Chosen"
    };
    let facts: Vec<String> = facts.iter().map(|fact| fact.says(shown.figures)).collect();
    let mut parts = vec![format!("{word}: {name}")];
    let mut met: Vec<String> = Vec::new();
    for clash in &shown.model.clashes {
        if clash.piece.as_ref() == Some(target) || clash.against.as_ref() == Some(target) {
            let part = format!(
                "{}, {} short",
                clash.says,
                shown.figures.length(clash.short)
            );
            // The parts of a plug may meet one thing each.
            if !met.contains(&part) {
                met.push(part);
            }
        }
    }
    if !met.is_empty() {
        parts.push(format!("in the way: {}", met.join("; ")));
    }
    parts.push(facts.join(", "));
    parts.push(format!("lengths in {}.", shown.figures.named()));
    Some(parts.join("; "))
}

/// Free room on either side of the scale bar, points.
const BESIDE_BAR: f32 = 6.0;

/// Draws the scale bar at the right end of a row.
///
/// * `room`: the longest it may be, points
fn scale_bar(ui: &mut Ui, row: Rect, scale: f64, room: f32, shown: Shown, paper: &Paper) {
    let (length, points) = scale_bar::round_length(scale, shown.figures, room);
    let size = vec2(points, scale_bar::HEIGHT);
    let middle = row.right() - BESIDE_BAR - 0.5 * points.max(BAR_WORDS);
    let rect = Rect::from_center_size(pos2(middle, row.center().y), size);
    let response = ui.interact(rect, ui.scope_id().with("scale bar"), Sense::hover());
    let words = shown.figures.length(length);
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Label, true, format!("scale bar, {words}"))
    });
    let foot = rect.left_bottom() - vec2(0.0, 4.0);
    scale_bar::draw(ui.painter(), foot, points, &words, paper);
}

/// A hatched square with its tone, as on the drawing.
pub fn swatch(
    ui: &mut Ui,
    fill: egui::Color32,
    hatch: Hatch,
    line: egui::Color32,
    paper: &Paper,
) -> egui::Response {
    let (rect, response) = ui.allocate_exact_size(vec2(22.0, 14.0), Sense::hover());
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, fill);
    let outline = [
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom(),
        rect.left_bottom(),
    ]
    .map(ink::vec)
    .to_vec();
    let lines = hatch.lines(
        &[outline],
        DVec2::new(rect.left().into(), rect.top().into()),
    );
    ink::hatch(&painter, &lines, hatch.weight(), line);
    painter.rect_stroke(rect, 0.0, Stroke::new(1.0, paper.ink), StrokeKind::Inside);
    response
}

fn swatches(ui: &mut Ui, paper: &Paper) {
    let mut entries: Vec<(egui::Color32, Hatch, egui::Color32, &str)> = vec![(
        mix(paper.sheet, paper.in_the_way, 0.55),
        Hatch::InTheWay,
        paper.ink,
        "in the way",
    )];
    for tone in Tone::ALL {
        let hatch = match tone {
            Tone::Wall | Tone::SubDash => Hatch::Single,
            Tone::Structure => Hatch::Pairs,
            Tone::Air => Hatch::Single,
            Tone::Loom => Hatch::Net,
            Tone::Unit => Hatch::Falling,
            Tone::Lead => Hatch::Upright,
            Tone::Module => Hatch::FallingClose,
            Tone::Unknown => Hatch::Dashes,
        };
        entries.push((paper.cut_fill(tone), hatch, paper.hatch(tone), tone.word()));
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().interact_size.y = 16.0;
        ui.spacing_mut().item_spacing = vec2(6.0, 2.0);
        for (fill, hatch, line, word) in entries {
            entry(ui, word, |ui| {
                swatch(ui, fill, hatch, line, paper);
            });
        }
        for (dash, word) in [
            (Dash::Full, "measured"),
            (Dash::Estimated, "± 2.5 or more"),
            (Dash::Dotted, "not measured ?"),
        ] {
            entry(ui, word, |ui| {
                let (rect, _) = ui.allocate_exact_size(vec2(24.0, 14.0), Sense::hover());
                let y = rect.center().y;
                ink::line(
                    ui.painter(),
                    &[pos2(rect.left(), y), pos2(rect.right(), y)],
                    2.0,
                    paper.ink,
                    dash,
                );
            });
        }
    });
}

/// A sample and its word, kept on one line.
fn entry(ui: &mut Ui, word: &str, sample: impl FnOnce(&mut Ui)) {
    let text = egui::RichText::new(word).small();
    let font = egui::TextStyle::Small.resolve(ui.style());
    let width = ui
        .painter()
        .layout_no_wrap(word.to_owned(), font, egui::Color32::BLACK)
        .size()
        .x
        + 40.0;
    ui.allocate_ui_with_layout(
        vec2(width, 16.0),
        egui::Layout::left_to_right(egui::Align::Center),
        |ui| {
            sample(ui);
            ui.add(egui::Label::new(text).extend());
        },
    );
}
