//! Handles on the paper: their marks, and the dimension that changes under the hand.

use egui::{Pos2, Rect, Stroke, Ui, Vec2, pos2, vec2};
use glam::DVec3;

use super::hand::{Hit, displaced, value};
use super::snap::Stop;
use super::{Handle, Held, Reading, unit};
use crate::desk::canvas::ink::{self, Dash};
use crate::desk::canvas::labels::Labels;
use crate::desk::canvas::paint::Pane;
use crate::figures::Figures;

/// The mark of a handle.
#[derive(Clone, Copy, Debug)]
pub enum Mark {
    /// A bar along a face, and a block on a stem outside of it.
    Face([Pos2; 2], Vec2),
    /// A circle with a cross: the whole of it.
    Whole(Pos2),
    /// A square on its tip: a place.
    Place(Pos2),
}

/// How far outside of its face a block stands, points.
const STEM: f32 = 8.0;
/// Half of a mark, points.
const HALF: f32 = 5.0;

/// Where a handle's mark goes; `None` when it is out of sight.
pub fn mark_of(ui: &Ui, pane: &Pane, handle: &Handle) -> Option<Hit> {
    let large = ui.spacing().interact_size.y >= 40.0;
    let [a, b] = handle.room.map(|corner| pane.pos(pane.view.flat(corner)));
    let room = Rect::from_two_pos(a, b);
    let pane_room = pane.rect.shrink(3.0);
    if !pane_room.expand(HALF).intersects(room) {
        return None;
    }
    let seen = Rect::from_min_max(
        room.min.clamp(pane_room.min, pane_room.max),
        room.max.clamp(pane_room.min, pane_room.max),
    );
    let at = seen.center();
    let reach = if large { 14.0 } else { 8.0 };
    let is_line = seen.width().max(seen.height()) > 3.0 * HALF;
    let is_face = handle.outward != DVec3::ZERO
        || matches!(handle.held, Held::Station(_, super::Wall::Depth));
    if is_face && is_line {
        let out = pane.view.flat(handle.outward);
        let out = vec2(out.x as f32, out.y as f32);
        // Outside of its face, so that both faces of a thin rib can be hit.
        let shift = out * (0.5 * reach + 1.0);
        let along = if seen.width() > seen.height() {
            vec2(1.0, 0.0)
        } else {
            vec2(0.0, 1.0)
        };
        let (from, to) = (seen.min + along * 3.0, seen.max - along * 3.0);
        let hit = Rect::from_two_pos(from, to)
            .translate(shift)
            .expand2(vec2(along.y, along.x) * (0.5 * reach + 1.0));
        let half = (0.5 * (to - from).length()).min(18.0);
        return Some(Hit {
            mark: Mark::Face([at - along * half, at + along * half], out * STEM),
            hit,
            at,
        });
    }
    let whole = handle.free == [true; 3] && !matches!(handle.held, Held::Exit(_));
    let is_end = matches!(handle.held, Held::Obstacle(_, super::Piece::End(_)));
    let (mark, size) = if whole && !is_end {
        // No larger than the thing, so that its faces can be hit beside it.
        let most = 2.0 * reach + 2.0;
        let size = (seen.size() - Vec2::splat(2.0)).clamp(Vec2::splat(8.0), Vec2::splat(most));
        (Mark::Whole(at), size)
    } else {
        (Mark::Place(at), Vec2::splat(2.0 * reach))
    };
    Some(Hit {
        mark,
        hit: Rect::from_center_size(at, size),
        at,
    })
}

impl Hit {
    /// Draws the mark.
    ///
    /// * `on`: whether the hand is on it; `focused`: whether keys are
    pub fn draw(&self, pane: &Pane, on: bool, focused: bool) {
        let (lit, sheet) = (pane.paper.lit, pane.paper.sheet);
        let fill = if on { lit } else { sheet };
        let rim = Stroke::new(1.6, lit);
        match self.mark {
            Mark::Face(ends, stem) => {
                ink::line(
                    pane.painter,
                    &ends,
                    if on { 4.0 } else { 2.4 },
                    lit,
                    Dash::Full,
                );
                let tip = self.at + stem;
                ink::line(pane.painter, &[self.at, tip], 1.6, lit, Dash::Full);
                let block = Rect::from_center_size(tip, Vec2::splat(7.0));
                let inside = egui::StrokeKind::Middle;
                pane.painter.rect(block, 0.0, fill, rim, inside);
            }
            Mark::Whole(at) => {
                pane.painter.circle(at, HALF + 1.0, fill, rim);
                let cross = if on { sheet } else { lit };
                for way in [vec2(HALF, 0.0), vec2(0.0, HALF)] {
                    ink::line(pane.painter, &[at - way, at + way], 1.6, cross, Dash::Full);
                }
            }
            Mark::Place(at) => {
                let tips = [
                    at + vec2(0.0, -HALF),
                    at + vec2(HALF, 0.0),
                    at + vec2(0.0, HALF),
                    at + vec2(-HALF, 0.0),
                ];
                let square = egui::Shape::convex_polygon(tips.to_vec(), fill, rim);
                pane.painter.add(square);
            }
        }
        if focused {
            let ring = Stroke::new(2.0, lit);
            let around = self.hit.expand(2.0);
            let outside = egui::StrokeKind::Outside;
            pane.painter.rect_stroke(around, 2.0, ring, outside);
        }
    }
}

/// Half the room that the plate keeps clear around the hand, and how far off it
/// may lie, points.
const HAND: f32 = 14.0;
const FAR: f32 = 130.0;

/// Where a room lies on screen.
pub fn extent(pane: &Pane, room: [DVec3; 2]) -> Rect {
    let [a, b] = room.map(|corner| pane.pos(pane.view.flat(corner)));
    Rect::from_two_pos(a, b)
}

/// Places for a plate just outside of a room, beside the hand or at the corners.
fn around(room: Rect, hand: Pos2, size: Vec2) -> Vec<Rect> {
    let (left, right) = (room.left() - size.x - 4.0, room.right() + 4.0);
    let (above, below) = (room.top() - size.y, room.bottom());
    let middle = hand - 0.5 * size;
    let corners = [
        pos2(right, above),
        pos2(right, below),
        pos2(left, above),
        pos2(left, below),
        pos2(right, middle.y),
        pos2(left, middle.y),
        pos2(middle.x, above),
        pos2(middle.x, below),
        pos2(hand.x, above),
        pos2(hand.x, below),
        pos2(hand.x - size.x, above),
        pos2(hand.x - size.x, below),
    ];
    corners.map(|at| Rect::from_min_size(at, size)).to_vec()
}

/// The dimension that is changing: written over everything else.
pub struct Plate {
    handle: Handle,
    readings: Vec<Reading>,
    refused: Option<String>,
    reached: Vec<Stop>,
    by: DVec3,
    at: Pos2,
    place: Option<Rect>,
}

impl Plate {
    /// What is written of a handle, near `at`.
    pub fn of(
        handle: &Handle,
        readings: &[Reading],
        refused: Option<String>,
        reached: &[Stop],
        at: Pos2,
    ) -> Plate {
        Plate {
            handle: handle.clone(),
            readings: readings.to_vec(),
            refused,
            reached: reached.to_vec(),
            by: DVec3::ZERO,
            at,
            place: None,
        }
    }

    /// With how far it has gone, mm.
    pub fn moved(mut self, by: DVec3) -> Plate {
        self.by = by;
        self
    }

    fn rows(&self, figures: Figures, on_sheet: [usize; 2]) -> Vec<String> {
        let mut rows: Vec<String> = Vec::new();
        let mut seen = [false; 3];
        for reading in &self.readings {
            let first = !std::mem::replace(&mut seen[reading.axis], true);
            if first && on_sheet.contains(&reading.axis) {
                rows.push(format!("{} {}", reading.name, value(reading, figures)));
            }
        }
        if self.by != DVec3::ZERO {
            rows.push(format!("moved {}", displaced(self.by, figures)));
        }
        rows.extend(
            self.reached
                .iter()
                .map(|stop| format!("level with the {}", stop.name.trim_start_matches("the "))),
        );
        rows.extend(self.refused.clone());
        rows
    }

    /// Finds its place before other words are written.
    ///
    /// * `thing`: where what is held lies on screen
    pub fn reserve(
        &mut self,
        pane: &Pane,
        labels: &mut Labels,
        figures: Figures,
        thing: Option<Rect>,
    ) {
        let text = self.rows(figures, super::axes_of(pane.view)).join("\n");
        if text.is_empty() {
            return;
        }
        let size = pane
            .painter
            .layout_no_wrap(text, ink::lettering(1.05), pane.paper.ink)
            .size()
            + vec2(10.0, 6.0);
        for line in self.lines(pane) {
            labels.keep_line(line);
        }
        let place = self.place_of(pane, size, thing, labels);
        labels.keep_free(place);
        self.place = Some(place);
    }

    /// The place nearest to the hand that lies off what is held, off what it is
    /// level with and off everything written; as much of that as can be had.
    fn place_of(&self, pane: &Pane, size: Vec2, thing: Option<Rect>, labels: &Labels) -> Rect {
        let room = pane.rect.shrink(4.0);
        let hand = Rect::from_center_size(self.at, Vec2::splat(2.0 * HAND));
        let mut places = around(hand, self.at, size);
        if let Some(thing) = thing {
            places.extend(around(thing.union(hand), self.at, size));
        }
        let off = |place: &Rect| place.distance_to_pos(self.at);
        places.retain(|place| room.contains_rect(*place) && off(place) <= FAR);
        places.sort_by(|a, b| off(a).total_cmp(&off(b)));
        let of_stop = |stop: &Stop| extent(pane, stop.room);
        let level: Vec<Rect> = self.reached.iter().map(of_stop).collect();
        let clear_of_thing = |place: &Rect| thing.is_none_or(|it| !it.intersects(*place));
        let clear =
            |place: &Rect| clear_of_thing(place) && !level.iter().any(|it| it.intersects(*place));
        let find = |wanted: &dyn Fn(&Rect) -> bool| places.iter().copied().find(|it| wanted(it));
        find(&|it| clear(it) && labels.is_free(*it))
            .or_else(|| find(&|it| clear_of_thing(it) && labels.is_free(*it)))
            .or_else(|| find(&|it| clear_of_thing(it)))
            .or_else(|| find(&|it| labels.is_free(*it)))
            .or_else(|| places.first().copied())
            .unwrap_or_else(|| {
                let most = (room.max - size).max(room.min);
                let corner = self.at + vec2(HAND, -HAND - size.y);
                Rect::from_min_size(corner.clamp(room.min, most), size)
            })
    }

    /// Lines that it draws: dimensions, and chains to what was reached.
    fn lines(&self, pane: &Pane) -> Vec<[Pos2; 2]> {
        let on_sheet = super::axes_of(pane.view);
        let stops = self.reached.iter().filter(|it| on_sheet.contains(&it.axis));
        let chains = stops.map(|stop| self.chain_of(pane, stop));
        let lengths = self.readings.iter();
        let lengths = lengths.filter(|it| on_sheet.contains(&it.axis));
        chains
            .chain(lengths.map(|reading| self.ends_of(pane, reading)))
            .collect()
    }

    /// Draws dimension lines, ticks of what was reached, and the words.
    pub fn draw(&self, pane: &Pane, figures: Figures) {
        let on_sheet = super::axes_of(pane.view);
        let mut seen = [false; 3];
        for reading in &self.readings {
            let first = !std::mem::replace(&mut seen[reading.axis], true);
            if first && on_sheet.contains(&reading.axis) {
                self.dimension(pane, reading);
            }
        }
        for stop in self.reached.iter().filter(|it| on_sheet.contains(&it.axis)) {
            self.tick(pane, stop);
        }
        let Some(place) = self.place else {
            return;
        };
        let colour = pane.paper.ink;
        let text = self.rows(figures, on_sheet).join("\n");
        let galley = pane
            .painter
            .layout_no_wrap(text, ink::lettering(1.05), colour);
        let rim = Stroke::new(1.6, pane.paper.lit);
        let inside = egui::StrokeKind::Inside;
        pane.painter.rect(place, 2.0, pane.paper.sheet, rim, inside);
        pane.painter
            .galley(place.min + vec2(5.0, 3.0), galley, colour);
    }

    /// The ends of a dimension line, from where a length is measured to what is held.
    fn ends_of(&self, pane: &Pane, reading: &Reading) -> [Pos2; 2] {
        let middle = 0.5 * (self.handle.room[0] + self.handle.room[1]) + self.by;
        let [from, to] = reading.from_to;
        // A socket's length is measured from the chassis.
        let off = match self.handle.held {
            Held::Socket(_) => middle[reading.axis] - to,
            _ => 0.0,
        };
        let on_axis = |value: f64| {
            let along = unit(reading.axis);
            middle + (value - middle[reading.axis]) * along
        };
        [from + off, to + off].map(|value| pane.pos(pane.view.flat(on_axis(value))))
    }

    /// A dimension line.
    fn dimension(&self, pane: &Pane, reading: &Reading) {
        let ends = self.ends_of(pane, reading);
        let length = ends[0].distance(ends[1]);
        if length < 4.0 {
            return;
        }
        let way = (ends[1] - ends[0]) / length;
        let colour = pane.paper.lit;
        ink::line(pane.painter, &ends, 1.4, colour, Dash::Full);
        ink::arrow_head(pane.painter, ends[0], -way, colour);
        ink::arrow_head(pane.painter, ends[1], way, colour);
        let square = vec2(-way.y, way.x) * 6.0;
        ink::line(
            pane.painter,
            &[ends[0] - square, ends[0] + square],
            1.4,
            colour,
            Dash::Full,
        );
    }

    /// The ends of a chain line from what is held to what it is level with.
    fn chain_of(&self, pane: &Pane, stop: &Stop) -> [Pos2; 2] {
        let along = unit(stop.axis);
        let level = |place: DVec3| place + (stop.at - place[stop.axis]) * along;
        let own = 0.5 * (self.handle.room[0] + self.handle.room[1]) + self.by;
        let other = 0.5 * (stop.room[0] + stop.room[1]);
        [own, other].map(|place| pane.pos(pane.view.flat(level(place))))
    }

    /// That line, with ticks at both ends.
    fn tick(&self, pane: &Pane, stop: &Stop) {
        let ends = self.chain_of(pane, stop);
        let along = unit(stop.axis);
        let square = pane.view.flat(along);
        let square = vec2(square.x as f32, square.y as f32) * 7.0;
        let colour = pane.paper.lit;
        ink::line(pane.painter, &ends, 1.2, colour, Dash::Chain);
        for end in ends {
            ink::line(
                pane.painter,
                &[end - square, end + square],
                2.0,
                colour,
                Dash::Full,
            );
        }
    }
}
