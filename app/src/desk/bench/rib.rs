//! A rib in its own plane: where it may be cut, its notches, the leads that pass.

use std::sync::Arc;

use egui::{CursorIcon, Galley, Key, Pos2, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use geometry::stiffness;
use glam::DVec2;
use profiles::Length;

use super::Bench;
use crate::desk::canvas::hatch::Hatch;
use crate::desk::canvas::ink::{self, Dash};
use crate::desk::canvas::labels::Labels;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit};
use crate::desk::loom::sheet::{Edge, Sheet};
use crate::desk::model::{RibSheet, SheetNotch};
use crate::desk::theme::{Paper, Tone, mix};

/// Room around the rib, points.
const ROOM: f32 = 62.0;
/// Largest scale, points for one mm.
const LARGEST: f64 = 9.0;
/// A handle is taken hold of within this, points.
const GRASP: f32 = 12.0;
/// Half the side of a handle, points.
const HANDLE: f32 = 4.5;

/// A side of a notch that can be dragged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    From,
    To,
    Bottom,
}

impl Side {
    fn word(self) -> &'static str {
        match self {
            Side::From => "first side",
            Side::To => "second side",
            Side::Bottom => "bottom",
        }
    }
}

/// A side of one notch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Grip {
    notch: usize,
    side: Side,
}

/// Draws the rib and says what the hand asks for.
pub fn rib_ui(ui: &mut Ui, rect: Rect, bench: Bench, rib: &RibSheet, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    let painter = ui.painter_at(rect);
    let [low, high] = rib.face.bounds();
    let size = high - low;
    let room = rect.size() - vec2(2.0 * ROOM, 2.0 * ROOM);
    let scale = (f64::from(room.x) / size.x).min(f64::from(room.y) / size.y);
    let scale = scale.clamp(0.5, LARGEST);
    let middle = 0.5 * (low + high);
    let off = vec2((middle.x * scale) as f32, (-middle.y * scale) as f32);
    let sheet = Sheet {
        painter: &painter,
        paper,
        middle: rect.center() - off,
        scale,
    };
    sheet.frame(rect);
    body(&sheet, rib);
    ranges(&sheet, rib);
    for passing in &rib.passing {
        lead(&sheet, bench, passing);
    }
    let foot = rect.left_bottom() + vec2(12.0, -10.0);
    sheet.scale_bar(foot, bench.shown.figures, 110.0);
    let mut labels = Labels::new(rect);
    labels.keep_free(Rect::from_min_max(
        foot - vec2(0.0, 28.0),
        foot + vec2(110.0, 0.0),
    ));
    for notch in &rib.notches {
        dimensions(&sheet, bench, rib, notch, &mut labels);
    }
    names(&sheet, rib, &mut labels);
    hand(ui, rect, &sheet, bench, rib, asks);
}

/// The rib as cut, hatched.
fn body(sheet: &Sheet, rib: &RibSheet) {
    let paper = sheet.paper;
    let outline: Vec<DVec2> = rib
        .outline
        .iter()
        .map(|at| ink::vec(sheet.pos(*at)))
        .collect();
    ink::fill(sheet.painter, &outline, paper.cut_fill(Tone::SubDash));
    let lines = Hatch::Single.lines(std::slice::from_ref(&outline), ink::vec(sheet.middle));
    let pen = Hatch::Single.weight();
    ink::hatch(sheet.painter, &lines, pen, paper.hatch(Tone::SubDash));
    let mut edge: Vec<Pos2> = outline.into_iter().map(ink::pos).collect();
    edge.extend(edge.first().copied());
    ink::line(sheet.painter, &edge, 2.0, paper.ink, Dash::Full);
}

/// The line as far as which it may be cut, edge by edge.
fn ranges(sheet: &Sheet, rib: &RibSheet) {
    let [low, high] = rib.face.bounds();
    for range in &rib.ranges {
        let from_below = rib.face.side(range.edge) == Some(stiffness::Edge::Lower);
        let height = |depth: f64| {
            if from_below {
                low.y + depth
            } else {
                high.y - depth
            }
        };
        let mut line = Vec::new();
        for (cell, depth) in range.deepest.iter().enumerate() {
            let from = f64::from(range.first + cell as i32) * range.snap;
            for x in [from, from + range.snap] {
                line.push(sheet.pos(DVec2::new(x, height(*depth))));
            }
        }
        ink::line(
            sheet.painter,
            &line,
            1.0,
            sheet.paper.faint,
            Dash::DoubleDot,
        );
    }
}

/// A lead that passes, with the room it keeps.
fn lead(sheet: &Sheet, bench: Bench, passing: &crate::desk::model::Passing) {
    let paper = sheet.paper;
    let lit = bench.shown.attention.is_on(&passing.target);
    let fill = paper.cut_fill(Tone::Lead);
    sheet.lead(passing.at, passing.od, 0.0, fill);
    let edge = |weight, colour, dash| Edge {
        weight,
        colour,
        dash,
    };
    let ink_or_lit = if lit { paper.lit } else { paper.ink };
    sheet.edge(passing.at, passing.od, edge(1.6, ink_or_lit, Dash::Full));
    let room = passing.od + 2.0 * passing.clear;
    sheet.edge(passing.at, room, edge(0.8, paper.faint, Dash::Hidden));
}

/// Names of the leads that pass close by, where there is room for them.
fn names(sheet: &Sheet, rib: &RibSheet, labels: &mut Labels) {
    for passing in &rib.passing {
        labels.keep_free(sheet.around(passing.at, passing.od));
    }
    for passing in rib.passing.iter().filter(|it| it.is_close) {
        let galley = lettered(sheet, &passing.name);
        let room = sheet.around(passing.at, passing.od + 2.0 * passing.clear);
        if let Some(placed) = labels.place(galley.size(), room) {
            if let Some(end) = placed.leader {
                let line = [end, sheet.pos(passing.at)];
                ink::line(sheet.painter, &line, 0.8, sheet.paper.faint, Dash::Full);
            }
            plate(sheet, placed.rect, galley);
        }
    }
}

fn lettered(sheet: &Sheet, words: &str) -> Arc<Galley> {
    let colour = sheet.paper.ink;
    sheet
        .painter
        .layout_no_wrap(words.to_owned(), ink::lettering(1.0), colour)
}

/// Words on a plate of paper.
fn plate(sheet: &Sheet, rect: Rect, galley: Arc<Galley>) {
    let ground = mix(sheet.paper.sheet, sheet.paper.board, 0.2);
    let painter = sheet.painter;
    painter.rect_filled(rect.expand2(vec2(2.0, 0.0)), 1.0, ground);
    painter.galley(rect.min, galley, sheet.paper.ink);
}

/// Where the sides of a notch are, (x, y), mm.
fn corners(rib: &RibSheet, notch: &SheetNotch) -> Option<[DVec2; 4]> {
    let [low, high] = rib.face.bounds();
    let (edge, bottom) = match rib.face.side(notch.trim.edge)? {
        stiffness::Edge::Lower => (low.y, low.y + notch.trim.depth),
        stiffness::Edge::Upper => (high.y, high.y - notch.trim.depth),
    };
    let [from, to] = notch.trim.along;
    Some([
        DVec2::new(from, edge),
        DVec2::new(from, bottom),
        DVec2::new(to, bottom),
        DVec2::new(to, edge),
    ])
}

/// Width and depth beside a notch; dotted where a rule forbids it.
fn dimensions(
    sheet: &Sheet,
    bench: Bench,
    rib: &RibSheet,
    notch: &SheetNotch,
    labels: &mut Labels,
) {
    let Some(corners) = corners(rib, notch) else {
        return;
    };
    let figures = bench.shown.figures;
    let paper = sheet.paper;
    let at = corners.map(|corner| sheet.pos(corner));
    if !notch.faults.is_empty() {
        ink::line(sheet.painter, &at, 3.0, paper.ink, Dash::Dotted);
    }
    let down = (at[0].y - at[1].y).signum();
    let y = at[0].y + 40.0 * down;
    let thin = |a: Pos2, b: Pos2| ink::line(sheet.painter, &[a, b], 0.8, paper.ink, Dash::Full);
    for x in [at[0].x, at[3].x] {
        thin(pos2(x, at[0].y), pos2(x, y + 4.0 * down));
    }
    thin(pos2(at[0].x, y), pos2(at[3].x, y));
    ink::arrow_head(sheet.painter, pos2(at[0].x, y), vec2(-1.0, 0.0), paper.ink);
    ink::arrow_head(sheet.painter, pos2(at[3].x, y), vec2(1.0, 0.0), paper.ink);
    let width = notch.trim.along[1] - notch.trim.along[0];
    let words = format!(
        "{} wide, {} to {}",
        figures.bare(width),
        figures.bare(notch.trim.along[0]),
        figures.bare(notch.trim.along[1])
    );
    let under = pos2(0.5 * (at[0].x + at[3].x), y + 12.0 * down);
    let depth = format!("{} deep", figures.bare(notch.trim.depth));
    let above = pos2(under.x, at[1].y - 14.0 * down);
    labels.keep_line([pos2(at[0].x, y), pos2(at[3].x, y)]);
    for (words, at) in [(words, under), (depth, above)] {
        let galley = lettered(sheet, &words);
        let rect = Rect::from_center_size(at, galley.size());
        labels.keep_free(rect);
        plate(sheet, rect, galley);
    }
}

/// The handles of all notches that may be dragged.
fn grips(sheet: &Sheet, rib: &RibSheet) -> Vec<(Grip, Pos2)> {
    let free = rib.notches.iter().filter(|notch| !notch.trim.locked);
    free.filter_map(|notch| {
        let at = corners(rib, notch)?.map(|corner| sheet.pos(corner));
        let between = |a: Pos2, b: Pos2| a + 0.5 * (b - a);
        let notch = notch.number;
        Some([
            (
                Grip {
                    notch,
                    side: Side::From,
                },
                between(at[0], at[1]),
            ),
            (
                Grip {
                    notch,
                    side: Side::Bottom,
                },
                between(at[1], at[2]),
            ),
            (
                Grip {
                    notch,
                    side: Side::To,
                },
                between(at[2], at[3]),
            ),
        ])
    })
    .flatten()
    .collect()
}

/// The hand on the drawing: sides of notches are dragged or moved by the arrow
/// keys, leads pointed at.
fn hand(ui: &Ui, rect: Rect, sheet: &Sheet, bench: Bench, rib: &RibSheet, asks: &mut Vec<Ask>) {
    let id = ui.scope_id().with(("bench", &rib.id));
    let response = ui.interact(rect, id, Sense::hover());
    let label = format!("{} on the bench, {} notches", rib.name, rib.notches.len());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
    if let Some(at) = response.hover_pos() {
        let on = rib.passing.iter().find(|it| {
            let reach = 0.5 * sheet.points(it.od) + 3.0;
            sheet.pos(it.at).distance(at) < reach
        });
        if let Some(passing) = on {
            asks.push(Ask::Point(passing.target.clone()));
        }
    }
    for (grip, at) in grips(sheet, rib) {
        grip_ui(ui, sheet, bench, rib, (grip, at), asks);
    }
}

/// One handle.
fn grip_ui(
    ui: &Ui,
    sheet: &Sheet,
    bench: Bench,
    rib: &RibSheet,
    (grip, at): (Grip, Pos2),
    asks: &mut Vec<Ask>,
) {
    let id = (ui.scope_id()).with(("side of a notch", grip.notch, grip.side.word()));
    let grasp = Rect::from_center_size(at, egui::Vec2::splat(2.0 * GRASP));
    let response = ui.interact(grasp, id, Sense::click_and_drag());
    let label = format!(
        "{} of notch {} in {}",
        grip.side.word(),
        grip.notch + 1,
        rib.name
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, &label));
    let held = response.hovered() || response.dragged() || response.has_focus();
    if held {
        ui.ctx().set_cursor_icon(match grip.side {
            Side::Bottom => CursorIcon::ResizeVertical,
            Side::From | Side::To => CursorIcon::ResizeHorizontal,
        });
    }
    let square = Rect::from_center_size(at, egui::Vec2::splat(2.0 * HANDLE));
    let colour = if held {
        sheet.paper.lit
    } else {
        sheet.paper.ink
    };
    let line = egui::Stroke::new(if held { 2.4 } else { 1.6 }, colour);
    let painter = sheet.painter;
    painter.rect(
        square,
        0.0,
        sheet.paper.field,
        line,
        egui::StrokeKind::Inside,
    );
    let gesture = Gesture(id.value());
    if response.dragged()
        && let Some(at) = response.interact_pointer_pos()
    {
        asks.extend(moved(bench, rib, grip, ink_to_rib(sheet, at), gesture));
    }
    if response.drag_stopped() {
        asks.push(Ask::Settle);
    }
    if response.has_focus() {
        let step = ui.input(|input| {
            let by = |more, less| {
                i32::from(input.key_pressed(more)) - i32::from(input.key_pressed(less))
            };
            DVec2::new(
                f64::from(by(Key::ArrowRight, Key::ArrowLeft)),
                f64::from(by(Key::ArrowUp, Key::ArrowDown)),
            )
        });
        if step != DVec2::ZERO {
            let range = rib.ranges.first().map_or(1.0, |range| range.snap);
            let from = ink_to_rib(sheet, at);
            asks.extend(moved(bench, rib, grip, from + range * step, gesture));
            asks.push(Ask::Settle);
        }
    }
}

/// A place on screen in the plane of the rib, mm.
fn ink_to_rib(sheet: &Sheet, at: Pos2) -> DVec2 {
    let from_middle = at - sheet.middle;
    DVec2::new(f64::from(from_middle.x), -f64::from(from_middle.y)) / sheet.scale
}

/// A side brought to the pointer, on whole steps and within what may be cut.
fn moved(bench: Bench, rib: &RibSheet, grip: Grip, at: DVec2, gesture: Gesture) -> Option<Ask> {
    let notch = rib.notches.iter().find(|it| it.number == grip.notch)?;
    let range = rib.ranges.iter().find(|it| it.edge == notch.trim.edge)?;
    let written = bench.job.trims.get(grip.notch)?;
    let snap = range.snap;
    let step = |value: f64| (value / snap).round() * snap;
    let [low, high] = rib.face.bounds();
    let [least, most] = range.along()?;
    let [from, to] = notch.trim.along;
    let mut next = written.clone();
    match grip.side {
        Side::From => next.along[0] = Length::mm(step(at.x).clamp(least, to - snap)),
        Side::To => next.along[1] = Length::mm(step(at.x).clamp(from + snap, most)),
        Side::Bottom => {
            let depth = match rib.face.side(notch.trim.edge)? {
                stiffness::Edge::Lower => at.y - low.y,
                stiffness::Edge::Upper => high.y - at.y,
            };
            let deepest = range.deepest_between([from, to]).max(snap);
            let deepest = (deepest / snap + 1e-6).floor() * snap;
            next.depth = Length::mm(step(depth).clamp(snap, deepest));
        }
    }
    (next != *written)
        .then(|| Ask::Edit(Edit::Trim(ListEdit::set(grip.notch, next)), Some(gesture)))
}
