//! Dimensions, rulers and the scale bar: the numbers on the drawing.

use std::sync::Arc;

use egui::{Color32, Galley, Pos2, Rect, Vec2, pos2, vec2};
use glam::DVec2;

use super::camera::View;
use super::ink::{self, Dash};
use super::labels::Labels;
use super::paint::Pane;
use crate::desk::model::Dim;
use crate::figures::Figures;

/// Draws the dimensions of one pane, the strong ones first.
pub fn dims(pane: &Pane, dims: &[Dim], labels: &mut Labels, figures: Figures) {
    let shown = |dim: &&Dim| {
        dim.view == pane.view
            && dim
                .only_with
                .as_ref()
                .is_none_or(|target| pane.attention.is_on(target))
    };
    let mut written = Vec::new();
    for strong in [true, false] {
        for dim in dims.iter().filter(shown).filter(|dim| dim.strong == strong) {
            written.extend(one(pane, dim, labels, figures).map(|words| (dim, words)));
        }
    }
    // No line of another crosses a number.
    for (dim, words) in written {
        write(pane, dim, words);
    }
}

/// Words of a dimension and where they go.
type Words = (Rect, Arc<Galley>);

/// Draws the lines of a dimension; its words, which are still to be written.
fn one(pane: &Pane, dim: &Dim, labels: &mut Labels, figures: Figures) -> Option<Words> {
    let ends = dim.ends.map(|end| pane.pos(end));
    let off = vec2(dim.off.x as f32, dim.off.y as f32);
    let [a, b] = ends.map(|end| end + off);
    let length = a.distance(b);
    if length < 1.5 || !pane.rect.intersects(Rect::from_two_pos(a, b).expand(1.0)) {
        return None;
    }
    let colour = colour_of(pane, dim);
    let weight = if dim.strong { 1.6 } else { 0.9 };
    let way = (b - a) / length;
    // A line without its number says nothing.
    let words = place_words(pane, dim, [a, b], labels, figures)?;
    labels.keep_line([a, b]);
    let straight = |from: Pos2, to: Pos2, weight: f32| {
        ink::line(pane.painter, &[from, to], weight, colour, Dash::Full);
    };
    if off != Vec2::ZERO {
        let out = off.normalized();
        for (end, on) in ends.into_iter().zip([a, b]) {
            straight(end + out * 2.0, on + out * 3.0, 0.8);
        }
    }
    if length >= 24.0 {
        straight(a, b, weight);
        ink::arrow_head(pane.painter, a, -way, colour);
        ink::arrow_head(pane.painter, b, way, colour);
    } else {
        straight(a - way * 16.0, b + way * 16.0, weight);
        ink::arrow_head(pane.painter, a, way, colour);
        ink::arrow_head(pane.painter, b, -way, colour);
    }
    Some(words)
}

fn colour_of(pane: &Pane, dim: &Dim) -> Color32 {
    if dim.strong {
        pane.paper.in_the_way
    } else {
        pane.paper.ink
    }
}

/// Finds a place for the number of a dimension.
fn place_words(
    pane: &Pane,
    dim: &Dim,
    [a, b]: [Pos2; 2],
    labels: &mut Labels,
    figures: Figures,
) -> Option<Words> {
    let mut words = figures.with_plus_minus(dim.mm, dim.plus_minus);
    if !dim.word.is_empty() {
        words = format!("{words} {}", dim.word);
    }
    let ink_colour = pane.paper.ink;
    let galley = pane
        .painter
        .layout_no_wrap(words.clone(), ink::lettering(1.0), ink_colour);
    let size = galley.size();
    let middle = a + (b - a) * 0.5;
    let level = (b - a).x.abs() >= (b - a).y.abs();
    let (w, h) = (size.x, size.y);
    let corners = if level {
        let y = middle.y - h - 1.0;
        let (left, right) = (a.x.min(b.x), a.x.max(b.x));
        [
            pos2(middle.x - w / 2.0, y),
            pos2(middle.x - w / 2.0, middle.y + 2.0),
            pos2(right + 20.0, middle.y - h / 2.0),
            pos2(left - 20.0 - w, middle.y - h / 2.0),
            pos2(right + 4.0, y - 4.0),
            pos2(left - w, y - 6.0),
            pos2(right, middle.y + 6.0),
            pos2(middle.x - w / 2.0, y - 16.0),
            pos2(middle.x - w / 2.0, middle.y + 18.0),
        ]
    } else {
        let (top, bottom) = (a.y.min(b.y), a.y.max(b.y));
        [
            pos2(middle.x + 4.0, middle.y - h / 2.0),
            pos2(middle.x - w - 4.0, middle.y - h / 2.0),
            pos2(middle.x - w / 2.0, top - h - 18.0),
            pos2(middle.x - w / 2.0, bottom + 18.0),
            pos2(middle.x + 6.0, top - h),
            pos2(middle.x - w - 6.0, top - h),
            pos2(middle.x + 6.0, bottom),
            pos2(middle.x - w - 6.0, bottom),
            pos2(middle.x + 20.0, middle.y - h / 2.0),
        ]
    };
    let mut corners = corners.to_vec();
    if !level && dim.off.x < 0.0 {
        // Away from what is measured.
        corners.swap(0, 1);
    }
    let mut found = labels.first_free(size, corners);
    if found.is_none() && dim.strong {
        // What is in the way is said, wherever there is room.
        let line = Rect::from_two_pos(a, b);
        found = labels.place(size, line).map(|placed| placed.rect);
    }
    if found.is_none() {
        labels.leave_out(format!("dimension {words}"));
    }
    Some((found?, galley))
}

fn write(pane: &Pane, dim: &Dim, (rect, galley): Words) {
    let plate = rect.expand2(vec2(3.0, 1.0));
    pane.painter
        .rect_filled(plate, 1.0, pane.paper.sheet.gamma_multiply(0.92));
    if dim.strong {
        let stroke = egui::Stroke::new(1.6, colour_of(pane, dim));
        pane.painter
            .rect_stroke(plate, 1.0, stroke, egui::StrokeKind::Outside);
    }
    pane.painter.galley(rect.left_top(), galley, pane.paper.ink);
}

/// A ruler of depth along the lower edge of a pane, with the dash face at 0.
pub fn depth_ruler(pane: &Pane, labels: &mut Labels, figures: Figures) {
    if pane.view == View::LookingIn {
        return;
    }
    let colour = pane.paper.faint;
    let base = pane.rect.bottom() - 1.0;
    let step = tick_step(pane.camera.scale, figures);
    let to_depth = |x: f32| {
        let point = DVec2::new(f64::from(x), f64::from(pane.rect.center().y));
        pane.camera
            .to_flat(pane.view, ink::vec(pane.rect.center()), point)
            .x
    };
    let (first, last) = (to_depth(pane.rect.left()), to_depth(pane.rect.right()));
    let small = step / 5.0;
    let mut tick = (first / small).ceil() as i64;
    while (tick as f64) * small <= last {
        let depth = tick as f64 * small;
        let x = pane.pos(DVec2::new(depth, 0.0)).x;
        let large = tick % 5 == 0;
        let height = if large { 8.0 } else { 4.0 };
        ink::line(
            pane.painter,
            &[pos2(x, base - height), pos2(x, base)],
            0.9,
            colour,
            Dash::Full,
        );
        if large {
            let galley =
                pane.painter
                    .layout_no_wrap(figures.bare(depth), ink::lettering(0.9), colour);
            let corner = pos2(x - galley.size().x / 2.0, base - 9.0 - galley.size().y);
            if let Some(place) = labels.first_free(galley.size(), [corner]) {
                let sheet = pane.paper.sheet.gamma_multiply(0.85);
                let plate = place.expand2(vec2(2.0, 0.0));
                pane.painter.rect_filled(plate, 1.0, sheet);
                pane.painter.galley(corner, galley, colour);
            }
        }
        tick += 1;
    }
}

/// Distance between numbers on a ruler, mm: a round one, at least 42 points apart.
fn tick_step(scale: f64, figures: Figures) -> f64 {
    let unit = match figures {
        Figures::Millimetres => 1.0,
        Figures::Inches => 25.4 / 4.0,
    };
    [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0]
        .map(|step| step * unit)
        .into_iter()
        .find(|step| step * scale >= 42.0)
        .unwrap_or(1000.0 * unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rulers_stay_round_and_legible() {
        for scale in [0.2, 0.9, 1.3, 4.0, 30.0] {
            assert!(tick_step(scale, Figures::Millimetres) * scale >= 42.0);
        }
        assert_eq!(tick_step(1.2, Figures::Millimetres), 50.0);
    }
}
