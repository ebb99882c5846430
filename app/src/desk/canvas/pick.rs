//! What lies under the pointer.

use glam::DVec2;

use super::camera::View;
use super::drawing::{LineKind, Standing};
use super::layers::{Layer, Layers};
use super::polygon;
use crate::desk::edit::Target;
use crate::desk::model::{Model, Part, Section};

/// The target under a flat point: the nearest to the eye that contains it, else
/// the nearest edge within `reach` mm.
pub fn under(
    model: &Model,
    section: &Section,
    layers: Layers,
    view: View,
    point: DVec2,
    reach: f64,
) -> Option<Target> {
    let leads = layers.has(Layer::Leads);
    let strand = model.strands.iter().filter(|_| leads).find(|strand| {
        let flat: Vec<DVec2> = strand.line.iter().map(|&p| view.flat(p)).collect();
        flat.windows(2).any(|pair| {
            polygon::distance_to_segment(point, pair[0], pair[1]) <= 0.5 * strand.od.max(reach)
        })
    });
    let drawing = &section.drawing;
    let way = way_under(model, section, point, reach).filter(|_| leads);
    if let Some((target, LineKind::CutEdge | LineKind::Visible)) = way {
        return Some(target.clone());
    }
    let way = way.map(|(target, _)| target);
    let inside = strand.map(|strand| &strand.target).or(way);
    let mut best: Option<(f64, usize)> = None;
    for face in drawing.faces.iter().rev() {
        if face.standing == Standing::Before {
            continue;
        }
        if polygon::contains(&face.corners, point) {
            let target = &model.things[face.body].target;
            if let (Some(inside), Target::Unit) = (inside, target) {
                return Some(inside.clone());
            }
            return Some(target.clone());
        }
        let away = polygon::distance_to_edge(&face.corners, point);
        if away <= reach && best.is_none_or(|(other, _)| away < other) {
            best = Some((away, face.body));
        }
    }
    if let Some(inside) = inside {
        return Some(inside.clone());
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
        .or_else(|| pocket_under(model, view, point).filter(|_| layers.has(Layer::Slack)))
        .or_else(|| {
            let near = |[a, b]: &[DVec2; 2]| polygon::distance_to_segment(point, *a, *b) <= reach;
            let on_wall = section.wall_edges.iter().any(near);
            on_wall.then_some(Target::Walls)
        })
}

/// The pocket with slack in it under a flat point.
fn pocket_under(model: &Model, view: View, point: DVec2) -> Option<Target> {
    let pocket = model.pockets.iter().find(|pocket| {
        let [a, b] = pocket.room.map(|corner| view.flat(corner));
        let inside = point.cmpge(a.min(b)).all() && point.cmple(a.max(b)).all();
        inside && pocket.fill.is_some_and(|fill| fill > 0.0)
    })?;
    Some(pocket.target.clone())
}

/// The laid lead under a flat point.
fn way_under<'a>(
    model: &'a Model,
    section: &Section,
    point: DVec2,
    reach: f64,
) -> Option<(&'a Target, LineKind)> {
    let ways = &model.laid.as_ref()?.ways;
    let ods: Vec<f64> = ways.iter().map(|way| way.od).collect();
    let (way, kind) = section.bands.under(point, &ods, reach)?;
    Some((&ways.get(way)?.target, kind))
}
