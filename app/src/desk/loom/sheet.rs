//! Rounds on paper: the pens of both drawings of a loom.

use egui::{Color32, Painter, Pos2, Rect, Stroke, pos2, vec2};
use glam::DVec2;

use crate::desk::canvas::hatch::{self, Hatch};
use crate::desk::canvas::ink::{self, Dash};
use crate::desk::canvas::scale_bar;
use crate::desk::theme::{Paper, Tone};
use crate::figures::Figures;

/// A piece of paper with a scale and a middle.
pub struct Sheet<'a> {
    /// Draws within it.
    pub painter: &'a Painter,
    /// Its colours.
    pub paper: Paper,
    /// Where the origin of the drawing lies on screen.
    pub middle: Pos2,
    /// Points on screen for one mm.
    pub scale: f64,
}

/// How a round is drawn.
#[derive(Clone, Copy)]
pub struct Edge {
    /// Width of its line, points.
    pub weight: f32,
    /// Colour of its line.
    pub colour: Color32,
    /// How its line is broken.
    pub dash: Dash,
}

impl Sheet<'_> {
    /// A place of the drawing on screen; up is up.
    pub fn pos(&self, at: DVec2) -> Pos2 {
        self.middle + vec2((at.x * self.scale) as f32, (-at.y * self.scale) as f32)
    }

    /// A length of the drawing on screen, points.
    pub fn points(&self, mm: f64) -> f32 {
        (mm * self.scale) as f32
    }

    /// The square around a round.
    pub fn around(&self, centre: DVec2, diameter: f64) -> Rect {
        Rect::from_center_size(self.pos(centre), egui::Vec2::splat(self.points(diameter)))
    }

    /// The line around a round.
    pub fn edge(&self, centre: DVec2, diameter: f64, edge: Edge) {
        let rim = self.rim(centre, diameter);
        let mut line: Vec<Pos2> = rim.into_iter().map(ink::pos).collect();
        line.extend(line.first().copied());
        ink::line(self.painter, &line, edge.weight, edge.colour, edge.dash);
    }

    /// A lead cut across: its tone, its hatch turned by so many degrees.
    pub fn lead(&self, centre: DVec2, diameter: f64, turn: f64, fill: Color32) {
        let rim = self.rim(centre, diameter);
        self.filled(centre, diameter, fill);
        let lines = hatch::turned(&[rim], ink::vec(self.pos(centre)), turn);
        let pen = Hatch::Upright.weight();
        ink::hatch(self.painter, &lines, pen, self.paper.hatch(Tone::Lead));
    }

    /// A plain round.
    pub fn filled(&self, centre: DVec2, diameter: f64, fill: Color32) {
        let radius = 0.5 * self.points(diameter);
        self.painter.circle_filled(self.pos(centre), radius, fill);
    }

    /// What is wrapped round: a ring from one diameter to the other, mm.
    pub fn wrap(&self, centre: DVec2, inner: f64, outer: f64) {
        let place = self.pos(centre);
        let fill = self.paper.cut_fill(Tone::Structure);
        self.filled(centre, outer, fill);
        self.filled(centre, inner, self.paper.sheet);
        let ring = [self.rim(centre, outer), self.rim(centre, inner)];
        let lines = Hatch::Dots.lines(&ring, ink::vec(place));
        let pen = Hatch::Dots.weight();
        ink::hatch(self.painter, &lines, pen, self.paper.hatch(Tone::Structure));
        for diameter in [outer, inner] {
            let edge = Edge {
                weight: if diameter == outer { 2.0 } else { 1.0 },
                colour: self.paper.ink,
                dash: Dash::Full,
            };
            self.edge(centre, diameter, edge);
        }
    }

    /// Heavy lines both ways over a round: it is in the way.
    pub fn crossed(&self, centre: DVec2, diameter: f64) {
        let rim = self.rim(centre, diameter);
        let lines = Hatch::InTheWay.lines(&[rim], ink::vec(self.pos(centre)));
        let pen = Hatch::InTheWay.weight();
        ink::hatch(self.painter, &lines, pen, self.paper.ink);
    }

    /// Centre lines that stand out of a round a little.
    pub fn centre_lines(&self, diameter: f64) {
        let reach = 0.5 * self.points(diameter) + 10.0;
        for way in [vec2(reach, 0.0), vec2(0.0, reach)] {
            let ends = [self.middle - way, self.middle + way];
            ink::line(self.painter, &ends, 0.8, self.paper.faint, Dash::Chain);
        }
    }

    /// The scale bar with its foot at a place.
    pub fn scale_bar(&self, foot: Pos2, figures: Figures, room: f32) {
        let (length, points) = scale_bar::round_length(self.scale, figures, room);
        let words = figures.length(length);
        scale_bar::draw(self.painter, foot, points, &words, &self.paper);
    }

    /// Words in faint lettering with a corner at a place.
    pub fn title(&self, at: Pos2, words: &str) -> Rect {
        self.painter.text(
            at,
            egui::Align2::LEFT_TOP,
            words,
            ink::lettering(1.1),
            self.paper.faint,
        )
    }

    /// A level dimension under or above a round.
    ///
    /// * `off`: from the middle of the drawing down to the line, points
    pub fn level_dimension(&self, diameter: f64, off: f32, words: &str) {
        let half = 0.5 * self.points(diameter);
        let y = self.middle.y + off;
        let [left, right] = [-half, half].map(|x| pos2(self.middle.x + x, y));
        let ink_colour = self.paper.ink;
        let straight = |from: Pos2, to: Pos2| {
            ink::line(self.painter, &[from, to], 0.8, ink_colour, Dash::Full);
        };
        for end in [left, right] {
            straight(
                pos2(end.x, self.middle.y),
                pos2(end.x, y + 3.0 * off.signum()),
            );
        }
        straight(left, right);
        ink::arrow_head(self.painter, left, vec2(-1.0, 0.0), ink_colour);
        ink::arrow_head(self.painter, right, vec2(1.0, 0.0), ink_colour);
        let galley =
            self.painter
                .layout_no_wrap(words.to_owned(), ink::lettering(1.15), ink_colour);
        let size = galley.size();
        let corner = pos2(self.middle.x - 0.5 * size.x, y - size.y - 1.0);
        let plate = Rect::from_min_size(corner, size).expand2(vec2(3.0, 0.0));
        self.painter.rect_filled(plate, 1.0, self.paper.sheet);
        self.painter.galley(corner, galley, ink_colour);
    }

    /// The pane's own line.
    pub fn frame(&self, rect: Rect) {
        let edge = Stroke::new(1.0, self.paper.rule);
        self.painter
            .rect(rect, 0.0, self.paper.sheet, edge, egui::StrokeKind::Inside);
    }

    /// Points on the rim of a round, on screen.
    fn rim(&self, centre: DVec2, diameter: f64) -> Vec<DVec2> {
        let middle = ink::vec(self.pos(centre));
        let radius = 0.5 * diameter * self.scale;
        (0..64)
            .map(|i| {
                let turn = std::f64::consts::TAU * f64::from(i) / 64.0;
                middle + radius * DVec2::from_angle(turn)
            })
            .collect()
    }
}
