//! Puts one section on the paper.

use egui::{Painter, Pos2, Rect, Stroke};
use glam::DVec2;

use super::camera::{Camera, View};
use super::drawing::{LineKind, Standing};
use super::hatch::Hatch;
use super::ink::{self, Dash};
use super::layers::{Layer, Layers};
use super::polygon;
use crate::desk::edit::Target;
use crate::desk::model::{Clash, Known, Model, Part, Section, Strand};
use crate::desk::theme::{Paper, Tone, mix};

/// What is lit, and what is chosen.
#[derive(Clone, Copy)]
pub struct Attention<'a> {
    /// What is pointed at.
    pub pointed: Option<&'a Target>,
    /// What is chosen.
    pub chosen: Option<&'a Target>,
}

impl Attention<'_> {
    /// Whether a target is lit in any way.
    pub fn is_on(&self, target: &Target) -> bool {
        self.pointed == Some(target) || self.chosen == Some(target)
    }
}

/// One pane being drawn.
pub struct Pane<'a> {
    /// Draws within the pane.
    pub painter: &'a Painter,
    /// Which view it is.
    pub view: View,
    /// The shared camera.
    pub camera: &'a Camera,
    /// The pane on screen.
    pub rect: Rect,
    /// The paper it is drawn on.
    pub paper: Paper,
    /// What is lit.
    pub attention: Attention<'a>,
    /// What is drawn.
    pub layers: Layers,
}

impl Pane<'_> {
    /// Where a flat point lies on screen.
    pub fn screen(&self, flat: DVec2) -> DVec2 {
        self.camera
            .to_screen(self.view, ink::vec(self.rect.center()), flat)
    }

    /// Where a flat point lies on screen, for egui.
    pub fn pos(&self, flat: DVec2) -> Pos2 {
        ink::pos(self.screen(flat))
    }

    fn outline(&self, corners: &[DVec2]) -> Vec<DVec2> {
        corners.iter().map(|&corner| self.screen(corner)).collect()
    }

    fn points(&self, corners: &[DVec2]) -> Vec<Pos2> {
        corners.iter().map(|&corner| self.pos(corner)).collect()
    }

    fn anchor(&self) -> DVec2 {
        self.screen(DVec2::ZERO)
    }

    /// Draws walls, things, cables and what is in the way.
    ///
    /// * `at`: place of the cutting plane, mm
    pub fn section(&self, model: &Model, section: &Section, at: f64) {
        self.faces(model, section, Standing::Beyond);
        if self.layers.has(Layer::Slack) {
            self.pockets(model);
        }
        let leads = self.layers.has(Layer::Leads);
        if leads {
            self.strands(model);
            self.bands(model, section);
        }
        self.walls(section);
        self.holes(model, at);
        self.faces(model, section, Standing::Cut);
        self.lines(model, section);
        if leads {
            self.cut_bands(model, section);
            self.rings(model);
        }
        for clash in &model.clashes {
            self.clash(model, section, clash);
        }
    }

    fn walls(&self, section: &Section) {
        let paper = self.paper;
        for wall in &section.walls {
            ink::fill(
                self.painter,
                &self.outline(wall),
                paper.cut_fill(Tone::Wall),
            );
        }
        for wall in &section.walls {
            let lines = Hatch::Single.lines(&[self.outline(wall)], self.anchor());
            ink::hatch(
                self.painter,
                &lines,
                Hatch::Single.weight(),
                paper.hatch(Tone::Wall),
            );
        }
        let on = self.attention.is_on(&Target::Walls);
        for edge in &section.wall_edges {
            let points = self.points(edge);
            if on {
                let ring = mix(paper.sheet, paper.lit, 0.6);
                ink::line(self.painter, &points, 5.0, ring, Dash::Full);
            }
            ink::line(self.painter, &points, 2.0, paper.ink, Dash::Full);
        }
    }

    fn faces(&self, model: &Model, section: &Section, standing: Standing) {
        for face in section
            .drawing
            .faces
            .iter()
            .filter(|face| face.standing == standing)
        {
            let thing = &model.things[face.body];
            let outline = self.outline(&face.corners);
            let fill = match standing {
                Standing::Cut => self.paper.cut_fill(thing.tone),
                _ => self.paper.beyond_fill(thing.tone),
            };
            let lit = self.attention.pointed == Some(&thing.target);
            let fill = if lit {
                mix(fill, self.paper.lit, 0.22)
            } else {
                fill
            };
            ink::fill(self.painter, &outline, fill);
            if standing == Standing::Cut {
                let lines = thing.hatch.lines(&[outline], self.anchor());
                let colour = self.paper.hatch(thing.tone);
                ink::hatch(self.painter, &lines, thing.hatch.weight(), colour);
            }
        }
    }

    fn lines(&self, model: &Model, section: &Section) {
        for line in &section.drawing.lines {
            let thing = &model.things[line.body];
            let on = self.attention.is_on(&thing.target);
            let (weight, colour, dash) = match line.kind {
                LineKind::CutEdge => (2.0, self.paper.ink, edge_dash(thing.known)),
                LineKind::Visible => (1.3, self.paper.ink, edge_dash(thing.known)),
                LineKind::Hidden => (0.9, self.paper.faint, Dash::Hidden),
                LineKind::Before if thing.part == Part::Fixed && !on => continue,
                LineKind::Before => (0.9, self.paper.faint, Dash::DoubleDot),
            };
            let points = self.points(&line.points);
            if on {
                let weight = if self.attention.chosen == Some(&thing.target) {
                    5.0
                } else {
                    3.5
                };
                ink::line(
                    self.painter,
                    &points,
                    weight,
                    mix(self.paper.sheet, self.paper.lit, 0.6),
                    Dash::Full,
                );
            }
            ink::line(self.painter, &points, weight, colour, dash);
        }
    }

    fn strands(&self, model: &Model) {
        for strand in &model.strands {
            self.strand(strand);
        }
    }

    fn strand(&self, strand: &Strand) {
        let flat: Vec<DVec2> = strand
            .line
            .iter()
            .map(|&point| self.view.flat(point))
            .collect();
        let points = self.points(&flat);
        let on = self.attention.is_on(&strand.target);
        let width = (strand.od * self.camera.scale) as f32;
        let edge = if on { self.paper.lit } else { self.paper.ink };
        let fill = mix(
            self.paper.sheet,
            self.paper.tone(Tone::Lead),
            if on { 0.7 } else { 0.4 },
        );
        let rim = if on { 3.0 } else { 1.6 };
        self.painter
            .line(points.clone(), Stroke::new(width + rim, edge));
        self.painter.line(points.clone(), Stroke::new(width, fill));
        ink::line(self.painter, &points, 0.8, self.paper.ink, Dash::Chain);
        if on {
            let [low, high] = strand.room.map(|corner| self.pos(self.view.flat(corner)));
            let room = Rect::from_two_pos(low, high);
            let corners = [
                room.left_top(),
                room.right_top(),
                room.right_bottom(),
                room.left_bottom(),
                room.left_top(),
            ];
            ink::line(self.painter, &corners, 1.0, self.paper.ink, Dash::DoubleDot);
        }
    }

    fn holes(&self, model: &Model, at: f64) {
        for hole in &model.holes {
            let before = self.view.away(hole.centre) < self.view.plane_away(at) - hole.reach();
            if before && !self.attention.is_on(&hole.target) {
                continue;
            }
            let rim: Vec<DVec2> = hole
                .rim
                .iter()
                .map(|&point| self.view.flat(point))
                .collect();
            let points = self.points(&rim);
            let on = self.attention.is_on(&hole.target);
            let (weight, colour) = if on {
                (3.0, self.paper.lit)
            } else {
                (1.3, self.paper.ink)
            };
            ink::line(self.painter, &points, weight, colour, Dash::Full);
            let from = self.pos(self.view.flat(hole.centre));
            let to = self.pos(self.view.flat(hole.centre + hole.way * 16.0));
            if from.distance(to) > 6.0 {
                ink::line(self.painter, &[from, to], 1.0, colour, Dash::Full);
                ink::arrow_head(self.painter, to, to - from, colour);
            }
        }
    }

    /// The circle around the leads of each exit, where they pass it.
    fn rings(&self, model: &Model) {
        let Some(laid) = &model.laid else {
            return;
        };
        for ring in &laid.rings {
            let on = self.attention.is_on(&ring.exit);
            let colour = match (on, laid.stale) {
                (true, _) => self.paper.lit,
                (false, true) => self.paper.faint,
                (false, false) => self.paper.ink,
            };
            let points: Vec<Pos2> = (ring.line.iter())
                .map(|&point| self.pos(self.view.flat(point)))
                .collect();
            let weight = if on { 2.6 } else { 1.6 };
            ink::line(self.painter, &points, weight, colour, Dash::Full);
        }
    }

    fn clash(&self, model: &Model, section: &Section, clash: &Clash) {
        let [a, b] = clash.room.map(|corner| self.view.flat(corner));
        let (low, high) = (a.min(b), a.max(b));
        let room = Rect::from_two_pos(self.pos(low), self.pos(high));
        let strong = self.paper.in_the_way;
        let on = clash
            .piece
            .as_ref()
            .is_some_and(|target| self.attention.is_on(target))
            || clash
                .against
                .as_ref()
                .is_some_and(|target| self.attention.is_on(target));
        // What of the other thing lies in that room, heavily crossed.
        for face in &section.drawing.faces {
            if Some(&model.things[face.body].target) != clash.against.as_ref() {
                continue;
            }
            let shared = polygon::clip_to_box(&face.corners, low, high);
            if shared.len() < 3 {
                continue;
            }
            let outline = self.outline(&shared);
            ink::fill(self.painter, &outline, mix(self.paper.sheet, strong, 0.55));
            let lines = Hatch::InTheWay.lines(std::slice::from_ref(&outline), self.anchor());
            ink::hatch(
                self.painter,
                &lines,
                Hatch::InTheWay.weight(),
                self.paper.ink,
            );
            let mut rim: Vec<Pos2> = outline.iter().copied().map(ink::pos).collect();
            rim.extend(rim.first().copied());
            ink::line(self.painter, &rim, 3.0, strong, Dash::Full);
        }
        let corners = [
            room.left_top(),
            room.right_top(),
            room.right_bottom(),
            room.left_bottom(),
            room.left_top(),
        ];
        ink::line(
            self.painter,
            &corners,
            if on { 3.0 } else { 2.0 },
            strong,
            Dash::Full,
        );
    }
}

/// The dash that says how well a place is known.
pub fn edge_dash(known: Known) -> Dash {
    match known {
        Known::Measured => Dash::Full,
        Known::Estimated => Dash::Estimated,
        Known::Unmeasured => Dash::Dotted,
        Known::Placed => Dash::Hidden,
    }
}
