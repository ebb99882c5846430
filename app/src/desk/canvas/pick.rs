//! What lies under the pointer.

use glam::DVec2;

use super::camera::View;
use super::drawing::{Drawing, Standing};
use super::polygon;
use crate::desk::edit::Target;
use crate::desk::model::{Model, Part};

/// The target under a flat point: the nearest to the eye that contains it, else
/// the nearest edge within `reach` mm.
pub fn under(
    model: &Model,
    drawing: &Drawing,
    view: View,
    point: DVec2,
    reach: f64,
) -> Option<Target> {
    let strand = model.strands.iter().find(|strand| {
        let flat: Vec<DVec2> = strand.line.iter().map(|&p| view.flat(p)).collect();
        flat.windows(2)
            .any(|pair| distance_to_segment(point, pair[0], pair[1]) <= 0.5 * strand.od.max(reach))
    });
    let mut best: Option<(f64, usize)> = None;
    for face in drawing.faces.iter().rev() {
        if face.standing == Standing::Before {
            continue;
        }
        if polygon::contains(&face.corners, point) {
            let target = &model.things[face.body].target;
            if let (Some(strand), Target::Unit) = (strand, target) {
                return Some(strand.target.clone());
            }
            return Some(target.clone());
        }
        let away = polygon::distance_to_edge(&face.corners, point);
        if away <= reach && best.is_none_or(|(other, _)| away < other) {
            best = Some((away, face.body));
        }
    }
    if let Some(strand) = strand {
        return Some(strand.target.clone());
    }
    if let Some((_, body)) = best {
        return Some(model.things[body].target.clone());
    }
    let before = drawing.faces.iter().rev().find(|face| {
        face.standing == Standing::Before
            && model.things[face.body].part == Part::Plug
            && polygon::contains(&face.corners, point)
    });
    if let Some(face) = before {
        return Some(model.things[face.body].target.clone());
    }
    model
        .holes
        .iter()
        .find(|hole| {
            let rim: Vec<DVec2> = hole.rim.iter().map(|&p| view.flat(p)).collect();
            polygon::contains(&rim, point) || polygon::distance_to_edge(&rim, point) <= reach
        })
        .map(|hole| hole.target.clone())
}

fn distance_to_segment(point: DVec2, a: DVec2, b: DVec2) -> f64 {
    let along = b - a;
    let length = along.length_squared();
    let t = if length > 0.0 {
        ((point - a).dot(along) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    point.distance(a + t * along)
}
