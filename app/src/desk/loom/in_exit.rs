//! The loom in its exit: does what is in it lie in the hole all at once?

use egui::{Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use geometry::Exit;
use geometry::looms::{Loom, Passes, WhyNot};
use geometry::packing::PackedCircle;
use glam::DVec2;

use super::sheet::{Edge, Sheet};
use crate::desk::canvas::Attention;
use crate::desk::canvas::hatch::Hatch;
use crate::desk::canvas::ink::{self, Dash};
use crate::desk::canvas::polygon;
use crate::desk::edit::Target;
use crate::desk::theme::{Paper, Tone, mix};
use crate::figures::Figures;
use crate::words::looms as words;

/// What the drawing shows.
#[derive(Clone, Copy)]
pub struct InExit<'a> {
    /// The exit.
    pub exit: &'a Exit,
    /// Its loom, where any lead leaves by it.
    pub loom: Option<&'a Loom>,
    /// How lengths are written.
    pub figures: Figures,
    /// What is lit.
    pub attention: Attention<'a>,
}

/// Width of the band that shows the panel around the hole, points.
const PANEL: f64 = 13.0;

/// Draws the hole with what lies in it.
pub fn in_exit_ui(ui: &Ui, rect: Rect, shown: InExit) {
    let paper = Paper::current(ui.ctx());
    let painter = ui.painter_at(rect);
    let outline = shown.exit.outline();
    let Some([low, high]) = polygon::bounds(&outline) else {
        return;
    };
    let room = rect.size() - vec2(2.0 * PANEL as f32 + 24.0, 2.0 * PANEL as f32 + 62.0);
    let extent = (high - low).max(DVec2::splat(0.1));
    let scale = (f64::from(room.x.max(20.0)) / extent.x)
        .min(f64::from(room.y.max(20.0)) / extent.y)
        .min(20.0);
    let centre = 0.5 * (low + high);
    let offset = vec2((centre.x * scale) as f32, (-centre.y * scale) as f32);
    let sheet = Sheet {
        painter: &painter,
        paper,
        middle: rect.center() + vec2(0.0, -6.0) - offset,
        scale,
    };
    sheet.frame(rect);
    sheet.title(rect.min + vec2(10.0, 8.0), "In its exit");
    hole(&sheet, &outline, centre);
    if let Some(loom) = shown.loom {
        rounds(&sheet, shown, loom);
    }
    rim(&sheet, &outline);
    let size = words::exit_size(shown.exit, shown.figures);
    let under = pos2(rect.right() - 10.0, rect.bottom() - 8.0);
    let lettering = ink::lettering(1.1);
    painter.text(
        under,
        egui::Align2::RIGHT_BOTTOM,
        &size,
        lettering,
        paper.ink,
    );
    sheet.scale_bar(rect.left_bottom() + vec2(12.0, -10.0), shown.figures, 80.0);
    let id = ui.scope_id().with("in its exit");
    let response = ui.interact(rect, id, Sense::hover());
    let label = format!("the exit {}, {size}", shown.exit.name);
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
}

/// The panel around the hole, cut: hatched as walls are.
fn hole(sheet: &Sheet, outline: &[DVec2], centre: DVec2) {
    let screen = |points: &[DVec2]| -> Vec<DVec2> {
        points.iter().map(|&at| ink::vec(sheet.pos(at))).collect()
    };
    let inner = screen(outline);
    let outer: Vec<DVec2> = outline
        .iter()
        .map(|&corner| {
            let out = (corner - centre).normalize_or_zero() * PANEL * std::f64::consts::SQRT_2;
            ink::vec(sheet.pos(corner + out / sheet.scale))
        })
        .collect();
    let paper = sheet.paper;
    ink::fill(sheet.painter, &outer, paper.cut_fill(Tone::Wall));
    ink::fill(sheet.painter, &inner, paper.sheet);
    let lines = Hatch::Single.lines(&[outer, inner.clone()], inner[0]);
    let pen = Hatch::Single.weight();
    ink::hatch(sheet.painter, &lines, pen, paper.hatch(Tone::Wall));
}

/// The edge of the hole, thick.
fn rim(sheet: &Sheet, outline: &[DVec2]) {
    let mut rim: Vec<_> = outline.iter().map(|&at| sheet.pos(at)).collect();
    rim.extend(rim.first().copied());
    ink::line(sheet.painter, &rim, 3.0, sheet.paper.ink, Dash::Full);
}

/// What lies in the hole, each as one round; what is in the way in the strong tone.
fn rounds(sheet: &Sheet, shown: InExit, loom: &Loom) {
    let paper = sheet.paper;
    let verdict = loom.at_exit.verdict;
    let dash = match verdict {
        Passes::NotFound => Dash::Estimated,
        Passes::Yes | Passes::No(_) => Dash::Full,
    };
    let rounds = words::rounds(loom);
    for (at, (round, place)) in rounds.iter().zip(&loom.at_exit.placed).enumerate() {
        let in_the_way = match verdict {
            Passes::No(WhyNot::TooThick { lead, .. }) => lead == at,
            Passes::No(WhyNot::TwoLargest { leads, .. }) => leads.contains(&at),
            Passes::No(WhyNot::SoManyAlike { diameter, .. }) => place.diameter >= diameter,
            Passes::No(WhyNot::Areas { .. } | WhyNot::NoHole) => true,
            Passes::Yes | Passes::NotFound => false,
        };
        let lit =
            (round.lead).is_some_and(|lead| shown.attention.is_on(&Target::Lead(lead.to_owned())));
        let colour = match (in_the_way, lit) {
            (true, _) => paper.in_the_way,
            (false, true) => paper.lit,
            (false, false) => paper.ink,
        };
        if in_the_way {
            let fill = mix(paper.sheet, paper.in_the_way, 0.55);
            sheet.filled(place.centre, place.diameter, fill);
        } else {
            contents(sheet, shown, loom, at, place);
        }
        if in_the_way {
            sheet.crossed(place.centre, place.diameter);
        }
        let weight = if in_the_way || lit { 3.0 } else { 1.3 };
        let edge = Edge {
            weight,
            colour,
            dash,
        };
        sheet.edge(place.centre, place.diameter, edge);
    }
}

/// What one round holds: the whole loom, a tape, or a strand.
fn contents(sheet: &Sheet, shown: InExit, loom: &Loom, at: usize, place: &PackedCircle) {
    let (wrap, middle, tape) = if loom.wrap > 0.0 {
        (loom.wrap, DVec2::ZERO, None)
    } else if let Some(tape) = loom.tapes.get(at) {
        (tape.wrap, tape.centre, Some(at))
    } else {
        let fill = sheet.paper.cut_fill(Tone::Lead);
        return sheet.filled(place.centre, place.diameter, fill);
    };
    sheet.wrap(place.centre, place.diameter - 2.0 * wrap, place.diameter);
    let inside = (loom.strands.iter()).filter(|strand| tape.is_none() || strand.tape == tape);
    for strand in inside {
        let paper = sheet.paper;
        let centre = place.centre + strand.centre - middle;
        let lit = (shown.attention).is_on(&Target::Lead(strand.lead.clone()));
        sheet.filled(centre, strand.diameter, paper.cut_fill(Tone::Lead));
        let edge = Edge {
            weight: if lit { 2.5 } else { 1.0 },
            colour: if lit { paper.lit } else { paper.ink },
            dash: Dash::Full,
        };
        sheet.edge(centre, strand.diameter, edge);
    }
}
