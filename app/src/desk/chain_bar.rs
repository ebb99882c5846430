//! The depth chain of every lead: what it needs, stacked, against what there is.

use egui::{Align2, Color32, Pos2, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use geometry::ChainLink;

use super::canvas::Attention;
use super::canvas::hatch::Hatch;
use super::canvas::ink::{self, Dash};
use super::edit::{Ask, Target};
use super::model::Model;
use super::theme::{Paper, Tone, grow, is_large, mix};
use crate::figures::Figures;

/// Height of one lead's row, points.
const ROW: f32 = 20.0;
/// Room for the lead's name, points.
const NAME: f32 = 168.0;
/// Least and most room for what is to spare, points.
const MARGIN: [f32; 2] = [250.0, 420.0];

/// Room for the longest of what stands beside the bars, points.
fn margin_room(ui: &Ui, fit: &geometry::Fit, figures: Figures) -> f32 {
    let font = egui::TextStyle::Body.resolve(ui.style());
    let longest = (fit.chain.iter())
        .map(|link| {
            let words = margin_words(link, figures);
            let galley = ui
                .painter()
                .layout_no_wrap(words, font.clone(), Color32::BLACK);
            galley.size().x
        })
        .fold(0.0, f32::max);
    let [least, most] = MARGIN;
    (longest + 24.0).clamp(least, most * grow(ui))
}

/// Draws the bars of all leads, the tightest first.
pub fn chain_bar_ui(
    ui: &mut Ui,
    model: &Model,
    figures: Figures,
    attention: Attention,
    asks: &mut Vec<Ask>,
) {
    let paper = Paper::current(ui.ctx());
    let Some(fit) = &model.fit else {
        ui.weak("The depth chain of each lead stands here once the job can be answered.");
        return;
    };
    if fit.chain.is_empty() {
        ui.weak("No lead plugs into the back of the unit yet.");
        return;
    }
    let longest = fit
        .chain
        .iter()
        .map(|link| link.needed.max(link.available.unwrap_or(0.0)))
        .fold(1.0, f64::max);
    heading(ui, &paper, figures);
    let margin = margin_room(ui, fit, figures);
    let name = NAME * grow(ui);
    ui.take_available_height();
    let row = row_height(ui);
    let whole_rows = (ui.available_height() / row).floor().max(1.0);
    egui::ScrollArea::vertical()
        .auto_shrink([false, false])
        .max_height(whole_rows * row)
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for link in &fit.chain {
                let row = Row {
                    link,
                    figures,
                    paper,
                    longest,
                    name,
                    margin,
                    attention,
                };
                row.ui(ui, asks);
            }
        });
}

/// Height of the row of a lead, points.
fn row_height(ui: &Ui) -> f32 {
    let row = ui.spacing().interact_size.y;
    if is_large(ui) {
        row
    } else {
        ROW.max(row - 4.0)
    }
}

fn heading(ui: &mut Ui, paper: &Paper, figures: Figures) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.label("Depth chain");
        ui.weak(format!(
            "quick rule, {}, the tightest first:",
            figures.named()
        ));
        for (piece, word) in
            Piece::ALL
                .into_iter()
                .zip(["setback", "chassis", "plug", "turn of the cable"])
        {
            let (rect, _) = ui.allocate_exact_size(vec2(22.0, 12.0), Sense::hover());
            piece.draw(ui.painter(), rect, paper);
            ui.weak(word);
        }
        let (rect, _) = ui.allocate_exact_size(vec2(8.0, 16.0), Sense::hover());
        stop_mark(ui.painter(), rect.center().x, rect, paper);
        ui.weak("there is");
    });
}

/// One length of the chain.
#[derive(Clone, Copy)]
enum Piece {
    Setback,
    Chassis,
    Plug,
    Turn,
}

impl Piece {
    const ALL: [Piece; 4] = [Piece::Setback, Piece::Chassis, Piece::Plug, Piece::Turn];

    fn draw(self, painter: &egui::Painter, rect: Rect, paper: &Paper) {
        let (fill, hatch, line) = match self {
            Piece::Setback => (paper.sheet, Hatch::Plain, paper.ink),
            Piece::Chassis => (
                paper.cut_fill(Tone::Unit),
                Hatch::Falling,
                paper.hatch(Tone::Unit),
            ),
            Piece::Plug => (
                paper.cut_fill(Tone::Lead),
                Hatch::Upright,
                paper.hatch(Tone::Lead),
            ),
            Piece::Turn => (
                paper.beyond_fill(Tone::Lead),
                Hatch::Dots,
                paper.hatch(Tone::Lead),
            ),
        };
        patch(painter, rect, fill, hatch, line);
        let outline = egui::Stroke::new(1.0, paper.ink);
        painter.rect_stroke(rect, 0.0, outline, egui::StrokeKind::Inside);
    }
}

fn patch(painter: &egui::Painter, rect: Rect, fill: Color32, hatch: Hatch, line: Color32) {
    painter.rect_filled(rect, 0.0, fill);
    let outline = [
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom(),
        rect.left_bottom(),
    ]
    .map(ink::vec)
    .to_vec();
    let lines = hatch.lines(&[outline], ink::vec(rect.left_top()));
    ink::hatch(
        &painter.with_clip_rect(rect.intersect(painter.clip_rect())),
        &lines,
        hatch.weight(),
        line,
    );
}

/// The mark of the depth there is: a wall seen from its edge.
fn stop_mark(painter: &egui::Painter, x: f32, rect: Rect, paper: &Paper) {
    ink::line(
        painter,
        &[pos2(x, rect.top()), pos2(x, rect.bottom())],
        2.4,
        paper.ink,
        Dash::Full,
    );
    let mut y = rect.top() + 4.0;
    while y <= rect.bottom() + 0.5 {
        ink::line(
            painter,
            &[pos2(x, y), pos2(x + 5.0, y - 5.0)],
            1.0,
            paper.ink,
            Dash::Full,
        );
        y += 4.5;
    }
}

struct Row<'a> {
    link: &'a ChainLink,
    figures: Figures,
    paper: Paper,
    longest: f64,
    /// Room before the bar and after it, points.
    name: f32,
    margin: f32,
    attention: Attention<'a>,
}

impl Row<'_> {
    fn ui(&self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let size = vec2(ui.available_width(), row_height(ui));
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let target = Target::Lead(self.link.lead.clone());
        let label = format!(
            "depth chain of {}: {}",
            self.link.name,
            margin_words(self.link, self.figures)
        );
        response.widget_info(|| {
            WidgetInfo::selected(
                Role::Button,
                true,
                self.attention.chosen == Some(&target),
                &label,
            )
        });
        if response.hovered() || response.has_focus() {
            asks.push(Ask::Point(target.clone()));
        }
        if response.clicked() {
            asks.push(Ask::Choose(target.clone()));
        }
        // The tip of a row cut off at the edge would read as a part of its neighbour.
        let sight = ui.clip_rect();
        if sight.intersect(rect).height() < 0.5 * rect.height() {
            return;
        }
        let painter = ui.painter_at(rect);
        if self.attention.is_on(&target) {
            painter.rect_filled(rect, 0.0, mix(self.paper.board, self.paper.lit, 0.22));
        }
        let against_lit = self.link.against.as_ref().is_some_and(|id| {
            [Target::Obstacle(id.clone()), Target::Module(id.clone())]
                .iter()
                .any(|t| self.attention.is_on(t))
        });
        let name_at = pos2(rect.left() + 4.0, rect.center().y);
        painter
            .with_clip_rect(Rect::from_min_max(
                rect.min,
                pos2(rect.left() + self.name - 6.0, rect.bottom()),
            ))
            .text(
                name_at,
                Align2::LEFT_CENTER,
                &self.link.name,
                egui::TextStyle::Body.resolve(ui.style()),
                self.paper.ink,
            );
        let bar = Rect::from_min_max(
            pos2(rect.left() + self.name, rect.top() + 4.0),
            pos2(rect.right() - self.margin, rect.bottom() - 4.0),
        );
        self.bar(&painter, bar);
        let colour = if against_lit {
            self.paper.lit
        } else {
            self.paper.ink
        };
        painter.text(
            pos2(bar.right() + 14.0, rect.center().y),
            Align2::LEFT_CENTER,
            margin_words(self.link, self.figures),
            egui::TextStyle::Body.resolve(ui.style()),
            colour,
        );
    }

    fn bar(&self, painter: &egui::Painter, bar: Rect) {
        let link = self.link;
        let x = |mm: f64| bar.left() + (mm / self.longest) as f32 * bar.width();
        let mut from = 0.0;
        for (piece, length) in
            Piece::ALL
                .into_iter()
                .zip([link.setback, link.chassis, link.plug, link.turn])
        {
            let to = from + length;
            let rect = Rect::from_min_max(pos2(x(from), bar.top()), pos2(x(to), bar.bottom()));
            if rect.width() > 0.3 {
                piece.draw(painter, rect, &self.paper);
            }
            from = to;
        }
        let Some(available) = link.available else {
            return;
        };
        if link.margin.is_some_and(|margin| margin < 0.0) {
            let over = Rect::from_min_max(
                pos2(x(available), bar.top()),
                pos2(x(link.needed), bar.bottom()),
            );
            let fill = mix(self.paper.sheet, self.paper.in_the_way, 0.75);
            patch(painter, over, fill, Hatch::InTheWay, self.paper.ink);
            let stroke = egui::Stroke::new(2.0, self.paper.in_the_way);
            painter.rect_stroke(over, 0.0, stroke, egui::StrokeKind::Outside);
        }
        let at: Pos2 = pos2(x(available), bar.center().y);
        stop_mark(painter, at.x, bar.expand2(vec2(0.0, 3.0)), &self.paper);
    }
}

/// What is short or to spare, and before what, in words.
fn margin_words(link: &ChainLink, figures: Figures) -> String {
    let against = link.against_name.as_deref().unwrap_or("nothing");
    match link.margin {
        None => "nothing behind it".to_owned(),
        Some(margin) => format!("{}: {against}", depth_left(margin, figures)),
    }
}

/// The depth a lead has to spare, or is short of, in words that tell it from the
/// length of its cable; mm.
pub fn depth_left(margin: f64, figures: Figures) -> String {
    let word = if margin < 0.0 { "short" } else { "to spare" };
    format!("{} {word} in depth", figures.bare(margin.abs()))
}
