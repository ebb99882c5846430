//! Sections of the model, kept until the job or the cutting plane moves.

use geometry::section::{silhouette, slice};
use geometry::{Bounds, Solid};
use glam::{DVec2, DVec3};

use super::{Model, Thing};
use crate::desk::canvas::bands::Bands;
use crate::desk::canvas::camera::View;
use crate::desk::canvas::drawing::{Body, Drawing, wall_edges};
use crate::desk::canvas::layers::Layers;
use crate::desk::canvas::polygon;

/// One view of the model, cut.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Everything but the walls; bodies are numbered as [`Model::things`].
    pub drawing: Drawing,
    /// Cut faces of the walls, as drawn, mm.
    pub walls: Vec<Vec<DVec2>>,
    /// Their edges toward the cavity and on the dash face.
    pub wall_edges: Vec<[DVec2; 2]>,
    /// Laid leads, in the order of [`Laid::ways`](super::Laid::ways).
    pub bands: Bands,
}

/// What a section depends on: the revision, the place of its plane, what is left out.
type Key = (u64, f64, Layers);

/// The sections last drawn, one for each view.
#[derive(Default)]
pub struct Outlines {
    kept: [Option<(Key, Section)>; 3],
}

impl Outlines {
    /// The section of a view at a place of its cutting plane, mm.
    pub fn section(&mut self, model: &Model, view: View, at: f64, layers: Layers) -> &Section {
        let slot = &mut self.kept[view as usize];
        let key = (model.revision, at, layers);
        slot.take_if(|(kept, _)| *kept != key);
        let (_, section) = slot.get_or_insert_with(|| (key, cut(model, view, at, layers)));
        section
    }

    /// Forgets everything, as when another job is opened.
    pub fn clear(&mut self) {
        self.kept = [None, None, None];
    }
}

fn cut(model: &Model, view: View, at: f64, layers: Layers) -> Section {
    let drawn = |thing: &Thing| {
        if layers.draws(thing) {
            body(&thing.solid, view, at)
        } else {
            // It keeps its number, and hides nothing.
            Body {
                silhouette: Vec::new(),
                slices: Vec::new(),
                away: [f64::INFINITY; 2],
            }
        }
    };
    let bodies: Vec<Body> = model.things.iter().map(drawn).collect();
    let walls: Vec<Vec<DVec2>> = model
        .walls
        .iter()
        .flat_map(|wall| flat_slices(wall, view, at))
        .collect();
    let wall_edges = wall_edges(&walls, |flat| model.is_free(view.lift(flat, at)));
    let [one, other] = model.walls_box.map(|corner| view.flat(corner));
    let walls = walls
        .iter()
        .map(|wall| polygon::clip_to_box(wall, one.min(other), one.max(other)))
        .filter(|wall| wall.len() > 2)
        .collect();
    let drawing = Drawing::of(&bodies, view.plane_away(at));
    let ways = model.laid.iter().flat_map(|laid| &laid.ways);
    let ways: Vec<(&[DVec3], f64)> = ways.map(|way| (way.line.as_slice(), way.od)).collect();
    Section {
        bands: Bands::of(&ways, &bodies, view, at),
        drawing,
        walls,
        wall_edges,
    }
}

fn body(solid: &Solid, view: View, at: f64) -> Body {
    let Bounds { min, max } = solid.bounds();
    let (a, b) = (view.away(min), view.away(max));
    Body {
        silhouette: silhouette(solid, view.plane())
            .into_iter()
            .map(|point| view.flat_in_plane(point))
            .collect(),
        slices: flat_slices(solid, view, at),
        away: [a.min(b), a.max(b)],
    }
}

fn flat_slices(solid: &Solid, view: View, at: f64) -> Vec<Vec<DVec2>> {
    slice(solid, view.plane(), at)
        .into_iter()
        .map(|outline| {
            outline
                .into_iter()
                .map(|point| view.flat_in_plane(point))
                .collect()
        })
        .collect()
}
