//! The room kept around what is solid: a thin broken line beside its outline.

use glam::DVec2;

use super::drawing::Standing;
use super::ink::{self, Dash};
use super::paint::Pane;
use super::polygon;
use crate::desk::model::{Model, Section};

/// Steps of a quarter turn at a corner.
const STEPS: u32 = 4;

/// Draws the clear of everything that is cut or seen behind the plane.
pub fn clears(pane: &Pane, model: &Model, section: &Section) {
    let Some(layout) = &model.layout else {
        return;
    };
    for face in &section.drawing.faces {
        // Things begin with what is fixed, in the order of the layout.
        let clear = layout.fixed.get(face.body).map_or(0.0, |fixed| fixed.clear);
        if clear <= 0.0 || face.standing == Standing::Before {
            continue;
        }
        for line in around(&face.corners, clear) {
            let points: Vec<egui::Pos2> = line.iter().map(|&point| pane.pos(point)).collect();
            let colour = match face.standing {
                Standing::Cut => pane.paper.ink,
                _ => pane.paper.faint,
            };
            ink::line(pane.painter, &points, 0.8, colour, Dash::Hidden);
        }
    }
}

/// The line at a distance around an outline, in pieces where it is hollow, mm.
pub fn around(outline: &[DVec2], distance: f64) -> Vec<Vec<DVec2>> {
    let count = outline.len();
    if count < 3 {
        return Vec::new();
    }
    let turn = if polygon::area(outline) > 0.0 {
        -1.0
    } else {
        1.0
    };
    let out = |i: usize| {
        let way = outline[(i + 1) % count] - outline[i % count];
        way.perp().normalize_or_zero() * turn
    };
    let mut ring: Vec<DVec2> = Vec::new();
    for (i, &corner) in outline.iter().enumerate() {
        let (before, after) = (out(i + count - 1), out(i));
        let angle = before.angle_to(after);
        // A hollow corner needs no arc; what crosses there is left out below.
        let steps = if angle * turn < 0.0 {
            (angle.abs() / std::f64::consts::FRAC_PI_2 * f64::from(STEPS)).ceil() as u32
        } else {
            1
        };
        for step in 0..=steps {
            let share = f64::from(step) / f64::from(steps.max(1));
            let way = DVec2::from_angle(angle * share).rotate(before);
            ring.push(corner + distance * way);
        }
    }
    ring.extend(ring.first().copied());
    // What lies nearer than the distance belongs to a hollow corner.
    let keeps = |point: DVec2| {
        !polygon::contains(outline, point)
            && polygon::distance_to_edge(outline, point) > distance * 0.98 - 1e-9
    };
    let mut lines: Vec<Vec<DVec2>> = Vec::new();
    let mut line: Vec<DVec2> = Vec::new();
    for pair in ring.windows(2) {
        if keeps(pair[0]) && keeps(0.5 * (pair[0] + pair[1])) && keeps(pair[1]) {
            if line.is_empty() {
                line.push(pair[0]);
            }
            line.push(pair[1]);
        } else if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_keeps_its_distance_all_round() {
        let square = [
            DVec2::new(0.0, 0.0),
            DVec2::new(10.0, 0.0),
            DVec2::new(10.0, 4.0),
            DVec2::new(0.0, 4.0),
        ];
        let mut other_way = square;
        other_way.reverse();
        for outline in [square, other_way] {
            let lines = around(&outline, 3.0);
            assert_eq!(lines.len(), 1);
            let [low, high] = polygon::bounds(&lines[0]).expect("there is one");
            assert!(low.distance(DVec2::splat(-3.0)) < 1e-9, "{low}");
            assert!(high.distance(DVec2::new(13.0, 7.0)) < 1e-9, "{high}");
            for &point in &lines[0] {
                let away = polygon::distance_to_edge(&outline, point);
                assert!((away - 3.0).abs() < 1e-9, "{point}: {away}");
            }
        }
    }
}
