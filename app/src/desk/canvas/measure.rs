//! Measuring lines: from any point of a section to another, until taken away.

use egui::{Key, Pos2, Rect, Role, Sense, Stroke, Ui, Vec2, WidgetInfo, vec2};
use glam::DVec2;

use super::camera::View;
use super::drawing::Standing;
use super::handles::{AXES, axes_of, hand};
use super::ink::{self, Dash};
use super::labels::Labels;
use super::paint::Pane;
use super::polygon;
use crate::desk::edit::{Ask, DrawingAsk};
use crate::desk::model::{Model, Section};
use crate::figures::Figures;

/// How near a corner or a centre must be, points.
const CORNER: f64 = 9.0;
/// How near an edge must be, points.
const EDGE: f64 = 6.0;

/// What the measuring hand remembers.
#[derive(Debug, Default)]
pub struct Measuring {
    /// Whether clicks set points.
    pub on: bool,
    /// The lines that were drawn.
    pub lines: Vec<Measured>,
    /// The first point of the next line.
    first: Option<(View, DVec2)>,
    /// Where the keys have brought the next point.
    cross: Option<(View, DVec2)>,
}

/// A measuring line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// The view it lies in.
    pub view: View,
    /// Its two ends, as drawn, mm.
    pub ends: [DVec2; 2],
}

impl Measured {
    /// Its length, mm.
    pub fn length(&self) -> f64 {
        self.ends[0].distance(self.ends[1])
    }

    /// How far it goes along each axis of its sheet: which, and mm.
    pub fn parts(&self) -> [(usize, f64); 2] {
        let by = self.view.unflat(self.ends[1] - self.ends[0]);
        axes_of(self.view).map(|axis| (axis, by[axis].abs()))
    }

    /// What is written on it: its length, and its parts where it runs askew.
    pub fn words(&self, figures: Figures) -> String {
        let parts = self.parts();
        let askew = parts.iter().all(|(_, mm)| *mm > 0.05);
        let [first, second] =
            parts.map(|(axis, mm)| format!("{} {}", AXES[axis], figures.bare(mm)));
        let length = figures.bare(self.length());
        if askew {
            format!("{length}: {first}, {second}")
        } else {
            length
        }
    }
}

impl Measuring {
    /// Begins or ends measuring; lines stay.
    pub fn set(&mut self, on: bool) {
        self.on = on;
        self.first = None;
        self.cross = None;
    }

    /// Takes one line away.
    pub fn remove(&mut self, number: usize) {
        if number < self.lines.len() {
            self.lines.remove(number);
        }
    }

    /// Sets a point: the first of a line, or its second.
    fn set_point(&mut self, view: View, flat: DVec2) {
        match self.first.take() {
            Some((other, first)) if other == view => {
                if first.distance(flat) > 1e-6 {
                    self.lines.push(Measured {
                        view,
                        ends: [first, flat],
                    });
                }
            }
            _ => self.first = Some((view, flat)),
        }
    }
}

/// What a point has come to.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stop {
    Corner,
    Centre,
    Edge,
    Nothing,
}

/// The corners and centres one can measure from, and the edges between.
struct Places {
    corners: Vec<DVec2>,
    centres: Vec<DVec2>,
    edges: Vec<[DVec2; 2]>,
}

impl Places {
    fn of(pane: &Pane, model: &Model, section: &Section) -> Places {
        let mut places = Places {
            corners: Vec::new(),
            centres: Vec::new(),
            edges: Vec::new(),
        };
        for face in &section.drawing.faces {
            if face.standing == Standing::Before {
                continue;
            }
            places.corners.extend(&face.corners);
            places
                .edges
                .extend(polygon::edges(&face.corners).map(|(a, b)| [a, b]));
            if let Some([low, high]) = polygon::bounds(&face.corners) {
                places.centres.push(0.5 * (low + high));
            }
        }
        for edge in &section.wall_edges {
            places.corners.extend(edge);
            places.edges.push(*edge);
        }
        let holes = model.holes.iter();
        places
            .centres
            .extend(holes.map(|hole| pane.view.flat(hole.centre)));
        places
            .centres
            .extend(section.bands.cuts.iter().filter_map(|cut| {
                let [low, high] = polygon::bounds(&cut.outline)?;
                Some(0.5 * (low + high))
            }));
        places
    }

    /// The place that a point comes to.
    fn stop(&self, point: DVec2, scale: f64) -> (DVec2, Stop) {
        let nearest = |places: &[DVec2]| {
            places
                .iter()
                .copied()
                .map(|place| (place, place.distance(point)))
                .filter(|(_, away)| *away * scale <= CORNER)
                .reduce(|a, b| if b.1 < a.1 { b } else { a })
        };
        if let Some((corner, _)) = nearest(&self.corners) {
            return (corner, Stop::Corner);
        }
        if let Some((centre, _)) = nearest(&self.centres) {
            return (centre, Stop::Centre);
        }
        let on_edge = |[a, b]: &[DVec2; 2]| {
            let way = *b - *a;
            let share = ((point - *a).dot(way) / way.length_squared().max(1e-12)).clamp(0.0, 1.0);
            let foot = *a + share * way;
            (foot, foot.distance(point))
        };
        let edge = self
            .edges
            .iter()
            .map(on_edge)
            .filter(|(_, away)| *away * scale <= EDGE)
            .reduce(|a, b| if b.1 < a.1 { b } else { a });
        edge.map_or((point, Stop::Nothing), |(foot, _)| (foot, Stop::Edge))
    }

    /// The nearest corner or centre in one direction of the sheet.
    fn next(&self, from: DVec2, way: DVec2) -> Option<DVec2> {
        let ahead = |place: &DVec2| {
            let by = *place - from;
            let along = by.dot(way);
            (along > 1e-6 && along >= 0.7 * by.length()).then_some((*place, by.length()))
        };
        self.corners
            .iter()
            .chain(&self.centres)
            .filter_map(ahead)
            .reduce(|a, b| if b.1 < a.1 - 1e-9 { b } else { a })
            .map(|(place, _)| place)
    }
}

/// What is measured on.
#[derive(Clone, Copy)]
pub struct Sheet<'a> {
    /// The model.
    pub model: &'a Model,
    /// The section drawn in the pane.
    pub section: &'a Section,
    /// How lengths are written.
    pub figures: Figures,
}

/// Answers the measuring hand in one pane, and draws the line it is at.
///
/// * `response`: the pane's own
pub fn hand_ui(
    ui: &Ui,
    pane: &Pane,
    response: &egui::Response,
    state: &mut Measuring,
    sheet: Sheet,
) {
    if !state.on {
        return;
    }
    let places = Places::of(pane, sheet.model, sheet.section);
    let middle = ink::vec(pane.rect.center());
    let hovered = response.hover_pos().filter(|_| response.hovered());
    let mut at = None;
    if let Some(pointer) = hovered {
        ui.set_cursor_icon(egui::CursorIcon::Crosshair);
        let flat = pane.camera.to_flat(pane.view, middle, ink::vec(pointer));
        at = Some(places.stop(flat, pane.camera.scale));
        if ui.input(|i| i.pointer.delta() != Vec2::ZERO) {
            state.cross = None;
        }
    }
    if response.has_focus() {
        let start = state.cross.filter(|(view, _)| *view == pane.view);
        let here = start.map(|(_, flat)| flat).or(at.map(|(flat, _)| flat));
        let here = here.unwrap_or_else(|| pane.camera.to_flat(pane.view, middle, middle));
        if let Some(next) = by_keys(ui, pane.view, here, &places, sheet.figures) {
            state.cross = Some((pane.view, next));
        }
        if let Some((view, flat)) = state.cross
            && view == pane.view
        {
            // Keys go where they are told; only what lies just there is marked.
            at = Some((flat, places.stop(flat, 1e6).1));
        }
    }
    let enter = response.has_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let Some((flat, stop)) = at else {
        return;
    };
    if let Some((view, first)) = state.first
        && view == pane.view
    {
        let line = Measured {
            view,
            ends: [first, flat],
        };
        let ends = line.ends.map(|end| pane.pos(end));
        rule(pane, ends, pane.paper.lit);
        let words = line.words(sheet.figures);
        let size = ink::lettering(1.05);
        let galley = pane.painter.layout_no_wrap(words, size, pane.paper.ink);
        let corner = ends[1] + vec2(12.0, -galley.size().y - 10.0);
        let plate = Rect::from_min_size(corner, galley.size()).expand(3.0);
        pane.painter.rect_filled(plate, 1.0, pane.paper.sheet);
        pane.painter.galley(corner, galley, pane.paper.ink);
    }
    mark(pane, pane.pos(flat), stop);
    if response.clicked() || enter {
        state.set_point(pane.view, flat);
    }
}

/// Where the keys bring the point: arrows by a step, with the command key to
/// the next corner or centre that way.
fn by_keys(ui: &Ui, view: View, here: DVec2, places: &Places, figures: Figures) -> Option<DVec2> {
    if let Some(by) = hand::arrows(ui, view, figures) {
        return Some(here + view.flat(by));
    }
    let way = hand::ARROWS
        .into_iter()
        .find(|(key, _)| hand::presses(ui, *key).iter().any(|held| held.command))?;
    places.next(here, way.1)
}

/// A square on a corner, a circle on a centre, a tick on an edge, else a cross.
fn mark(pane: &Pane, at: Pos2, stop: Stop) {
    let pen = Stroke::new(1.8, pane.paper.lit);
    match stop {
        Stop::Corner => {
            let square = Rect::from_center_size(at, Vec2::splat(11.0));
            let middle = egui::StrokeKind::Middle;
            pane.painter.rect_stroke(square, 0.0, pen, middle);
        }
        Stop::Centre => {
            pane.painter.circle_stroke(at, 6.0, pen);
        }
        Stop::Edge => {
            let by = vec2(5.0, -5.0);
            pane.painter.line_segment([at - by, at + by], pen);
        }
        Stop::Nothing => {}
    }
    for way in [vec2(8.0, 0.0), vec2(0.0, 8.0)] {
        let thin = Stroke::new(1.0, pane.paper.lit);
        pane.painter.line_segment([at - way, at + way], thin);
    }
}

fn rule(pane: &Pane, ends: [Pos2; 2], colour: egui::Color32) {
    let way = (ends[1] - ends[0]).normalized();
    let square = vec2(-way.y, way.x) * 6.0;
    ink::line(pane.painter, &ends, 1.6, colour, Dash::Full);
    for end in ends {
        let tick = [end - square, end + square];
        ink::line(pane.painter, &tick, 1.6, colour, Dash::Full);
    }
}

/// Draws the lines of one pane, each with its words and a way to take it away.
pub fn lines_ui(
    ui: &Ui,
    pane: &Pane,
    lines: &[Measured],
    figures: Figures,
    labels: &mut Labels,
    asks: &mut Vec<Ask>,
) {
    for (number, line) in lines.iter().enumerate() {
        if line.view != pane.view {
            continue;
        }
        let ends = line.ends.map(|end| pane.pos(end));
        rule(pane, ends, pane.paper.ink);
        let words = line.words(figures);
        let galley =
            pane.painter
                .layout_no_wrap(words.clone(), ink::lettering(1.05), pane.paper.ink);
        let large = ui.spacing().interact_size.y >= 40.0;
        let button = if large { 30.0 } else { 16.0 };
        let size = vec2(
            galley.size().x + button + 12.0,
            (galley.size().y + 4.0).max(button + 2.0),
        );
        let middle = ends[0] + (ends[1] - ends[0]) * 0.5;
        // Off the line to one side, further and further; on it where all else is taken.
        let way = (ends[1] - ends[0]).normalized();
        let square = vec2(way.y, -way.x);
        let clear = 0.5 * (size.x * square.x.abs() + size.y * square.y.abs()) + 6.0;
        let off = |share: f32| middle + square * share - 0.5 * size;
        let places = [1.0, -1.0, 1.4, -1.4, 2.0, -2.0, 2.8, -2.8].map(|share| off(share * clear));
        let place = labels
            .first_free(size, places)
            .unwrap_or(Rect::from_min_size(off(0.0), size));
        labels.keep_free(place);
        labels.keep_line(ends);
        let rim = Stroke::new(1.2, pane.paper.ink);
        let inside = egui::StrokeKind::Inside;
        pane.painter.rect(place, 1.0, pane.paper.sheet, rim, inside);
        let corner = egui::pos2(place.left() + 5.0, place.center().y - 0.5 * galley.size().y);
        pane.painter.galley(corner, galley, pane.paper.ink);
        let spot = egui::pos2(place.right() - 0.5 * button - 2.0, place.center().y);
        let hit = Rect::from_center_size(spot, Vec2::splat(button));
        let id = ui.scope_id().with(("measuring line", number));
        let response = ui.interact(hit, id, Sense::click());
        let label = format!("remove measuring line {}, {words}", number + 1);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
        let on = response.hovered() || response.has_focus();
        let colour = if on { pane.paper.lit } else { pane.paper.ink };
        let pen = Stroke::new(if on { 2.4 } else { 1.4 }, colour);
        for by in [vec2(3.5, 3.5), vec2(3.5, -3.5)] {
            pane.painter.line_segment([spot - by, spot + by], pen);
        }
        if response.clicked() {
            asks.push(Ask::Drawing(DrawingAsk::RemoveLine(number)));
        }
    }
}

/// What Escape does while measuring: gives up the first point, else ends it.
pub fn escape(ui: &Ui, state: &mut Measuring) {
    if state.on && ui.input(|i| i.key_pressed(Key::Escape)) {
        if state.first.is_some() {
            state.first = None;
        } else {
            state.set(false);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_points_of_one_view_make_a_line_with_its_parts() {
        let mut measuring = Measuring::default();
        measuring.set(true);
        measuring.set_point(View::FromSide, DVec2::new(10.0, -5.0));
        measuring.set_point(View::FromSide, DVec2::new(40.0, 35.0));
        let line = measuring.lines[0];
        assert_eq!(line.length(), 50.0);
        assert_eq!(line.parts(), [(1, 30.0), (2, 40.0)]);
        assert_eq!(line.words(Figures::Millimetres), "50: depth 30, up 40");
        // A point in another view begins anew.
        measuring.set_point(View::FromSide, DVec2::ZERO);
        measuring.set_point(View::FromAbove, DVec2::ZERO);
        assert_eq!(measuring.lines.len(), 1);
        measuring.remove(0);
        assert!(measuring.lines.is_empty());
    }

    #[test]
    fn a_corner_is_taken_before_the_edge_it_ends() {
        let places = Places {
            corners: vec![DVec2::ZERO, DVec2::new(30.0, 0.0)],
            centres: Vec::new(),
            edges: vec![[DVec2::ZERO, DVec2::new(30.0, 0.0)]],
        };
        let near = DVec2::new(3.0, 2.0);
        assert_eq!(places.stop(near, 1.0), (DVec2::ZERO, Stop::Corner));
        let far = DVec2::new(14.0, 2.0);
        assert_eq!(places.stop(far, 1.0), (DVec2::new(14.0, 0.0), Stop::Edge));
        assert_eq!(places.stop(far, 8.0), (far, Stop::Nothing));
        assert_eq!(
            places.next(DVec2::new(2.0, 1.0), DVec2::X),
            Some(DVec2::new(30.0, 0.0))
        );
    }
}
