//! Puts laid leads, and pockets with their slack, on the paper.

use egui::{Color32, Pos2, Rect, Stroke};
use glam::DVec2;

use super::bands::Band;
use super::camera::View;
use super::drawing::LineKind;
use super::hatch::Hatch;
use super::ink::{self, Dash};
use super::paint::Pane;
use crate::desk::model::{Laid, Model, Pocket, Section};
use crate::desk::theme::{Tone, mix};

/// Distance between the lines that stand for slack, points.
const SLACK: f32 = 5.0;

impl Pane<'_> {
    /// Leads that are seen behind the plane.
    pub fn bands(&self, model: &Model, section: &Section) {
        let Some(laid) = &model.laid else {
            return;
        };
        for band in &section.bands.runs {
            if band.kind == LineKind::Visible {
                self.band(laid, band);
            }
        }
    }

    /// Leads where the plane crosses them, and the lines of those that are hidden.
    pub fn cut_bands(&self, model: &Model, section: &Section) {
        let Some(laid) = &model.laid else {
            return;
        };
        for band in &section.bands.runs {
            let on = self.attention.is_on(&laid.ways[band.way].target);
            match band.kind {
                LineKind::Hidden => self.sides(
                    laid,
                    band,
                    if on { self.paper.lit } else { self.paper.faint },
                    Dash::Hidden,
                ),
                LineKind::Before if on => self.sides(laid, band, self.paper.lit, Dash::DoubleDot),
                _ => {}
            }
        }
        for cut in &section.bands.cuts {
            let on = self.attention.is_on(&laid.ways[cut.way].target);
            let outline: Vec<DVec2> = cut
                .outline
                .iter()
                .map(|&corner| self.screen(corner))
                .collect();
            ink::fill(self.painter, &outline, self.lead_fill(laid, on, 0.55));
            let lines =
                Hatch::Upright.lines(std::slice::from_ref(&outline), self.screen(DVec2::ZERO));
            ink::hatch(
                self.painter,
                &lines,
                Hatch::Upright.weight(),
                self.paper.hatch(Tone::Lead),
            );
            let mut rim: Vec<Pos2> = outline.into_iter().map(ink::pos).collect();
            rim.extend(rim.first().copied());
            let (weight, colour) = if on {
                (3.0, self.paper.lit)
            } else {
                (1.6, self.edge(laid))
            };
            ink::line(self.painter, &rim, weight, colour, Dash::Full);
        }
    }

    fn edge(&self, laid: &Laid) -> Color32 {
        if laid.stale {
            self.paper.faint
        } else {
            self.paper.ink
        }
    }

    fn lead_fill(&self, laid: &Laid, on: bool, share: f32) -> Color32 {
        match (laid.stale, on) {
            (true, _) => mix(self.paper.sheet, self.paper.rule, 0.5 * share),
            (false, true) => mix(self.paper.sheet, self.paper.tone(Tone::Lead), 0.8),
            (false, false) => mix(self.paper.sheet, self.paper.tone(Tone::Lead), share),
        }
    }

    fn band(&self, laid: &Laid, band: &Band) {
        let way = &laid.ways[band.way];
        let on = self.attention.is_on(&way.target);
        let points: Vec<Pos2> = band.line.iter().map(|&point| self.pos(point)).collect();
        let width = (way.od * self.camera.scale) as f32;
        let (rim, edge) = if on {
            (3.6, self.paper.lit)
        } else {
            (2.2, self.edge(laid))
        };
        let fill = self.lead_fill(laid, on, 0.4);
        self.painter
            .line(points.clone(), Stroke::new(width + rim, edge));
        self.painter.line(points.clone(), Stroke::new(width, fill));
        ink::line(self.painter, &points, 0.7, edge, Dash::Chain);
    }

    /// Both outlines of a run.
    fn sides(&self, laid: &Laid, band: &Band, colour: Color32, dash: Dash) {
        let half = 0.5 * laid.ways[band.way].od;
        for side in [-half, half] {
            let points: Vec<Pos2> = beside(&band.line, side)
                .into_iter()
                .map(|point| self.pos(point))
                .collect();
            ink::line(self.painter, &points, 0.9, colour, dash);
        }
    }

    /// Pockets that slack lies in, filled as far as it fills them.
    pub fn pockets(&self, model: &Model) {
        for pocket in &model.pockets {
            let on = self.attention.is_on(&pocket.target);
            let fill = pocket.fill.unwrap_or(0.0);
            if on || fill > 0.0 {
                self.pocket(pocket, fill, on);
            }
        }
    }

    fn pocket(&self, pocket: &Pocket, fill: f64, on: bool) {
        let rect = self.pocket_rect(pocket);
        let colour = if on { self.paper.lit } else { self.paper.faint };
        let corners = [
            rect.left_top(),
            rect.right_top(),
            rect.right_bottom(),
            rect.left_bottom(),
            rect.left_top(),
        ];
        ink::line(
            self.painter,
            &corners,
            if on { 2.0 } else { 1.0 },
            colour,
            Dash::DoubleDot,
        );
        // Slack lies at the bottom of a pocket; from above it lies all over, the
        // less of it the wider apart.
        let fill_share = fill.clamp(0.05, 1.0) as f32;
        let (share, apart) = match self.view {
            View::FromAbove => (1.0, SLACK / fill_share),
            _ => (fill_share, SLACK),
        };
        let top = rect.bottom() - share * rect.height();
        let tone = mix(self.paper.sheet, self.paper.hatch(Tone::Lead), 0.5);
        let mut up = rect.bottom() - 0.5 * apart;
        while up > top && fill > 0.0 {
            let waves = (0..=((rect.width() / 4.0) as i32)).map(|i| {
                let x = rect.left() + 4.0 * i as f32;
                Pos2::new(x, up + if i % 2 == 0 { 1.2 } else { -1.2 })
            });
            let line: Vec<Pos2> = waves.collect();
            ink::line(self.painter, &line, 0.8, tone, Dash::Full);
            up -= apart;
        }
    }

    /// Where a pocket lies on screen.
    pub fn pocket_rect(&self, pocket: &Pocket) -> Rect {
        let [low, high] = pocket.room.map(|corner| self.pos(self.view.flat(corner)));
        Rect::from_two_pos(low, high)
    }
}

/// A line beside another, to its left where `off` is negative, mm.
fn beside(line: &[DVec2], off: f64) -> Vec<DVec2> {
    let ways: Vec<DVec2> = line
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).normalize_or_zero())
        .collect();
    let way_at = |i: usize| {
        let before = ways.get(i.wrapping_sub(1)).copied().unwrap_or_default();
        let after = ways.get(i).copied().unwrap_or_default();
        (before + after).normalize_or_zero()
    };
    line.iter()
        .enumerate()
        .map(|(i, &point)| point + off * way_at(i).perp())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_beside_a_straight_one_is_straight() {
        let line = [0.0, 4.0, 9.0].map(|x| DVec2::new(x, 1.0));
        let beside = beside(&line, 3.0);
        assert!(beside.iter().all(|point| (point.y - 4.0).abs() < 1e-12));
    }
}
