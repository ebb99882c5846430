//! The picture: filled cell by cell, edges drawn over it.

use egui::{
    Color32, ColorImage, Context, Painter, Pos2, Rect, Stroke, TextureHandle, TextureOptions, pos2,
};
use geometry::sight::{Eye, Place, Run, Seen, Sight, Standing};
use glam::{DVec2, DVec3};

use super::ink::{self, Dash};
use super::shapes::{LineOf, Shape, Shapes};
use crate::desk::canvas::paint::{Attention, edge_dash};
use crate::desk::edit::Target;
use crate::desk::model::{Known, Part};
use crate::desk::theme::{Paper, Tone, mix};

/// Most cells of a picture; a larger one is drawn coarser.
const MOST_CELLS: f64 = 450_000.0;
/// The same while a hand moves the eye.
const MOST_MOVING: f64 = 220_000.0;
/// How much of a see-through thing's tone is seen, of 256.
const TINT: u16 = 77;
/// How near the pointer must come, points.
const REACH: f64 = 5.0;

/// The last picture, and what it was of.
#[derive(Default)]
pub struct Picture {
    sight: Sight,
    texture: Option<TextureHandle>,
    of: Option<Of>,
    rect: Option<Rect>,
    per_point: f64,
    places: Vec<Option<Place>>,
    made: u64,
}

/// Everything that bears on a picture.
#[derive(Clone, PartialEq)]
struct Of {
    revision: Option<u64>,
    eye: Eye,
    size: [usize; 2],
    through: [bool; 2],
    lit: [Option<Target>; 2],
    dark: bool,
}

impl Picture {
    /// Works the picture out, if anything in it has changed.
    ///
    /// * `moving`: whether a hand is moving the eye
    #[allow(clippy::too_many_arguments)] // all that a picture depends on
    pub fn look(
        &mut self,
        ctx: &Context,
        rect: Rect,
        moving: bool,
        eye: &Eye,
        shapes: &Shapes,
        through: [bool; 2],
        attention: Attention,
        paper: &Paper,
    ) {
        let area = f64::from(rect.area().max(1.0));
        let pixels = f64::from(ctx.pixels_per_point());
        let most = if moving { MOST_MOVING } else { MOST_CELLS };
        self.per_point = pixels.min((most / area).sqrt());
        self.rect = Some(rect);
        let cells = |points: f32| ((f64::from(points) * self.per_point).round() as usize).max(1);
        let of = Of {
            revision: shapes.revision(),
            eye: *eye,
            size: [cells(rect.width()), cells(rect.height())],
            through,
            lit: [attention.pointed.cloned(), attention.chosen.cloned()],
            dark: paper.dark,
        };
        let same_view = self.of.as_ref().is_some_and(|old| {
            (old.revision, old.eye, old.size, old.through)
                == (of.revision, of.eye, of.size, of.through)
        });
        if !same_view {
            let eye = Eye {
                scale: eye.scale * self.per_point,
                ..*eye
            };
            let skins = shapes
                .shapes
                .iter()
                .map(|shape| (&shape.skin, shape.standing(through)));
            self.sight.look(&eye, of.size, skins);
            for (number, line) in shapes.lines.iter().enumerate() {
                self.sight
                    .line(&eye, shapes.shapes.len() + number, &line.points);
            }
            self.places = self.sight.places(shapes.shapes.len());
        }
        if self.of.as_ref() != Some(&of) {
            self.made += 1;
            self.fill(ctx, of.size, eye, shapes, attention, paper);
            self.of = Some(of);
        }
    }

    fn fill(
        &mut self,
        ctx: &Context,
        size: [usize; 2],
        eye: &Eye,
        shapes: &Shapes,
        attention: Attention,
        paper: &Paper,
    ) {
        // The light comes over the left shoulder of whoever looks.
        let light = -(eye.ahead() + 0.5 * eye.right() + 0.7 * eye.down()).normalize();
        let tone = |seen: Seen| {
            let shape = &shapes.shapes[seen.skin as usize];
            let normal = shape.skin.facets[seen.facet as usize].normal;
            shade(shape, normal.dot(light), attention, paper)
        };
        let pixels = self.sight.paint(paper.sheet, tone, tinted);
        let image = ColorImage::new(size, pixels);
        match &mut self.texture {
            Some(texture) => texture.set(image, TextureOptions::LINEAR),
            None => {
                self.texture = Some(ctx.load_texture("turned view", image, TextureOptions::LINEAR))
            }
        }
    }

    /// Puts the picture and its edges on the paper.
    pub fn draw(
        &self,
        painter: &Painter,
        shapes: &Shapes,
        through: [bool; 2],
        attention: Attention,
        paper: &Paper,
    ) {
        let (Some(texture), Some(rect)) = (&self.texture, self.rect) else {
            return;
        };
        let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        painter.image(texture.id(), rect, whole, Color32::WHITE);
        for run in self.sight.runs() {
            let ends = [self.pos(run.from), self.pos(run.to)];
            let Some(shape) = shapes.shapes.get(run.skin) else {
                self.line(painter, run, shapes, ends, attention, paper);
                continue;
            };
            let on = attention.is_on(&shape.target);
            let solid = shape.standing(through) == Standing::Solid;
            let dash = edge_dash(shape.known);
            match (run.shows, on) {
                (true, true) => ink::line(painter, &ends, 2.4, paper.lit, dash),
                (false, true) => ink::line(painter, &ends, 1.0, paper.lit, Dash::Hidden),
                (true, false) if solid && !shape.stale => {
                    ink::line(painter, &ends, 1.2, paper.ink, dash)
                }
                (true, false) => ink::line(painter, &ends, 0.8, paper.faint, dash),
                (false, false) => {}
            }
        }
    }

    /// A run of a line without a body.
    fn line(
        &self,
        painter: &Painter,
        run: &Run,
        shapes: &Shapes,
        ends: [Pos2; 2],
        attention: Attention,
        paper: &Paper,
    ) {
        let Some(line) = shapes.lines.get(run.skin - shapes.shapes.len()) else {
            return;
        };
        let on = attention.is_on(&line.target);
        let (weight, colour) = match line.kind {
            LineOf::InTheWay => (2.0, paper.in_the_way),
            _ if on => (2.2, paper.lit),
            LineOf::Wall => (0.8, paper.rule),
            LineOf::Exit | LineOf::Pocket => (1.2, paper.ink),
            LineOf::Loom => (1.6, paper.ink),
            LineOf::Pin => (1.8, paper.ink),
        };
        match (line.kind, run.shows) {
            (LineOf::Pocket, true) => ink::line(painter, &ends, weight, colour, Dash::DoubleDot),
            (_, true) => {
                painter.line_segment(ends, Stroke::new(weight, colour));
            }
            (LineOf::Wall | LineOf::Pocket, false) if !on => {}
            (_, false) => ink::line(painter, &ends, 0.7 * weight, colour, Dash::Hidden),
        }
    }

    fn pos(&self, cell: DVec2) -> Pos2 {
        let origin = self.rect.map_or(Pos2::ZERO, |rect| rect.min);
        ink::pos(ink::vec(origin) + cell / self.per_point)
    }

    /// The target under the pointer: the nearest body, else the nearest line.
    pub fn under(&self, shapes: &Shapes, pointer: Pos2) -> Option<Target> {
        let place = (ink::vec(pointer) - ink::vec(self.rect?.min)) * self.per_point;
        let reach = REACH * self.per_point;
        let line = self
            .sight
            .runs()
            .iter()
            .filter(|run| run.skin >= shapes.shapes.len() && run.shows);
        let line = line
            .filter_map(|run| Some((run, shapes.lines.get(run.skin - shapes.shapes.len())?)))
            .filter(|(_, line)| matches!(line.kind, LineOf::Exit | LineOf::Pocket))
            .find(|(run, _)| {
                super::super::polygon::distance_to_segment(place, run.from, run.to) <= reach
            });
        let body = self
            .sight
            .under(place, 0.6 * reach)
            .and_then(|skin| shapes.shapes.get(skin));
        match (body, line) {
            (Some(shape), Some((_, line))) if shape.part == Some(Part::Unit) => {
                Some(line.target.clone())
            }
            (Some(shape), _) => Some(shape.target.clone()),
            (None, line) => line.map(|(_, line)| line.target.clone()),
        }
    }

    /// Where each shape shows on screen: around it, a spot on it, and how much
    /// of it shows, square points.
    pub fn place(&self, shape: usize) -> Option<(Rect, Pos2, usize)> {
        let place = self.places.get(shape).copied().flatten()?;
        let rect = Rect::from_two_pos(self.pos(place.low), self.pos(place.high));
        let shows = place.cells as f64 / (self.per_point * self.per_point);
        Some((rect, self.pos(place.spot), shows as usize))
    }

    /// Runs of edges that show.
    pub fn shown_runs(&self) -> impl Iterator<Item = &Run> {
        self.sight.runs().iter().filter(|run| run.shows)
    }

    /// How many pictures were worked out.
    pub fn made(&self) -> u64 {
        self.made
    }

    /// Where a point shows on screen.
    pub fn see(&self, point: DVec3) -> Option<Pos2> {
        let (rect, of) = (self.rect?, self.of.as_ref()?);
        Some(ink::pos(
            ink::vec(rect.center()) + of.eye.see(point).truncate(),
        ))
    }
}

/// A see-through tone over another.
fn tinted(under: Color32, over: Color32) -> Color32 {
    let blend = |under: u8, over: u8| {
        ((u16::from(under) * (256 - TINT) + u16::from(over) * TINT) >> 8) as u8
    };
    Color32::from_rgb(
        blend(under.r(), over.r()),
        blend(under.g(), over.g()),
        blend(under.b(), over.b()),
    )
}

/// The tone of a facet: the thing's own, lighter where it faces the light.
fn shade(shape: &Shape, facing: f64, attention: Attention, paper: &Paper) -> Color32 {
    let tone = paper.tone(shape.tone);
    let base = match shape.tone {
        _ if shape.stale => mix(paper.sheet, paper.rule, 0.4),
        Tone::Structure => mix(paper.sheet, tone, 0.3),
        Tone::Loom => mix(paper.sheet, tone, 0.55),
        _ => mix(paper.sheet, tone, 0.5),
    };
    let base = match shape.known {
        Known::Placed | Known::Unmeasured => mix(paper.sheet, base, 0.7),
        _ => base,
    };
    let base = if attention.is_on(&shape.target) {
        mix(base, paper.lit, 0.35)
    } else {
        base
    };
    // On dark paper what faces the light comes forward, on light paper what turns away does.
    let turned = (1.0 - facing.clamp(0.0, 1.0)) as f32;
    if paper.dark {
        mix(base, paper.sheet, 0.65 * turned)
    } else {
        mix(base, paper.ink, 0.38 * turned)
    }
}
