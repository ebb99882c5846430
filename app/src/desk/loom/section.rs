//! A loom cut across: every strand a round with its lead's name, what is
//! wrapped round, and the diameter.

use std::collections::BTreeSet;
use std::sync::Arc;

use egui::{CursorIcon, Galley, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use geometry::looms::{Loom, Strand};
use glam::DVec2;

use super::leaders::{self, Word};
use super::sheet::{Edge, Sheet};
use crate::desk::canvas::Attention;
use crate::desk::canvas::ink::{self, Dash};
use crate::desk::edit::{Ask, Target};
use crate::desk::theme::{Paper, Tone, mix};
use crate::figures::Figures;
use crate::words::looms::{self as words, Member};

/// What the drawing shows.
#[derive(Clone, Copy)]
pub struct Section<'a> {
    /// The loom.
    pub loom: &'a Loom,
    /// How lengths are written.
    pub figures: Figures,
    /// What is lit.
    pub attention: Attention<'a>,
    /// Whether it is as it was before the last change.
    pub behind: bool,
    /// Leads marked by hand (their ids).
    pub marked: &'a BTreeSet<String>,
}

/// Room for title and centre line above, and dimension and scale bar below, points.
const ABOVE: f32 = 50.0;
const BELOW: f32 = 64.0;
/// Widest column of words, as a share of the pane.
const WIDEST: f32 = 0.26;
/// Up to so many leads, a name and its size stand in two lines.
const FEW: usize = 18;
/// Largest scale, points for one mm.
const LARGEST: f64 = 45.0;

/// Draws the loom and says what the hand asks for.
pub fn section_ui(ui: &mut Ui, rect: Rect, section: Section, asks: &mut Vec<Ask>) {
    let paper = Paper::current(ui.ctx());
    let loom = section.loom;
    let painter = ui.painter_at(rect);
    let members = words::members(loom);
    let two_lines = members.len() <= FEW;
    let names: Vec<Arc<Galley>> = (members.iter())
        .map(|member| {
            let between = if two_lines { "\n" } else { "  " };
            let text = format!("{}{between}{}", member.name, member.size(section.figures));
            name(ui, text, WIDEST * rect.width())
        })
        .collect();
    let column = names.iter().map(|it| it.size().x).fold(0.0, f32::max);
    let room = vec2(
        rect.width() - 2.0 * (column + leaders::GAP + 8.0),
        rect.height() - ABOVE - BELOW,
    );
    let largest = f64::from(room.min_elem().max(20.0)) / loom.diameter.max(0.1);
    let sheet = Sheet {
        painter: &painter,
        paper,
        middle: pos2(rect.center().x, rect.top() + ABOVE + 0.5 * room.y),
        scale: largest.min(LARGEST),
    };
    sheet.frame(rect);
    hand(ui, rect, &sheet, section, asks);
    sheet.centre_lines(loom.diameter);
    wraps(&sheet, loom);
    for (at, member) in members.iter().enumerate() {
        strands(&sheet, section, member, turn(at));
    }
    let pane = Rect::from_min_max(
        rect.min + vec2(8.0, 30.0),
        pos2(rect.right() - 8.0, rect.bottom() - 34.0),
    );
    letter(ui, &sheet, section, &members, &names, pane, asks);
    dimensions(&sheet, section);
    let foot = rect.left_bottom() + vec2(12.0, -10.0);
    sheet.scale_bar(foot, section.figures, 110.0);
    if section.behind {
        painter.rect_filled(rect.shrink(1.0), 0.0, paper.sheet.gamma_multiply(0.6));
    }
    let title = if section.behind {
        "Across the loom as it was; being laid up again"
    } else {
        "Across the loom"
    };
    sheet.title(rect.min + vec2(10.0, 8.0), title);
}

/// How a lead's hatch is turned, degrees: by the golden share of a half turn
/// from lead to lead, so that few are alike.
fn turn(at: usize) -> f64 {
    (at as f64 * 111.246) % 180.0
}

/// A lead's name and size; what is too wide goes on in the next line.
fn name(ui: &Ui, text: String, widest: f32) -> Arc<Galley> {
    let paper = Paper::current(ui.ctx());
    let job = egui::text::LayoutJob::simple(text, ink::lettering(1.0), paper.ink, widest);
    ui.painter().layout_job(job)
}

/// The hand on the drawing: pointing lights a lead, a click marks it.
fn hand(ui: &Ui, rect: Rect, sheet: &Sheet, section: Section, asks: &mut Vec<Ask>) {
    let loom = section.loom;
    let id = ui.scope_id().with("across the loom");
    let response = ui.interact(rect, id, Sense::click());
    let label = format!(
        "across the loom through {}, Ø {}",
        loom.name,
        section.figures.length(loom.diameter)
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &label));
    let Some(pointer) = response.hover_pos().filter(|_| response.hovered()) else {
        return;
    };
    let under = (loom.strands.iter()).find(|strand| {
        pointer.distance(sheet.pos(strand.centre)) <= 0.5 * sheet.points(strand.diameter)
    });
    if let Some(strand) = under {
        ui.set_cursor_icon(CursorIcon::PointingHand);
        asks.push(Ask::Point(Target::Lead(strand.lead.clone())));
        if response.clicked() {
            asks.push(Ask::Mark(strand.lead.clone()));
        }
    }
}

/// What is wrapped round the whole and round what is taped. A loom with nothing
/// round it has an outline only in thought.
fn wraps(sheet: &Sheet, loom: &Loom) {
    if loom.wrap > 0.0 {
        sheet.wrap(DVec2::ZERO, loom.bare, loom.diameter);
    } else {
        let thought = Edge {
            weight: 1.2,
            colour: sheet.paper.ink,
            dash: Dash::DoubleDot,
        };
        sheet.edge(DVec2::ZERO, loom.diameter, thought);
    }
    for tape in &loom.tapes {
        sheet.wrap(tape.centre, tape.diameter - 2.0 * tape.wrap, tape.diameter);
    }
}

/// Every strand of one lead.
fn strands(sheet: &Sheet, section: Section, member: &Member, turn: f64) {
    let paper = sheet.paper;
    let target = Target::Lead(member.lead.to_owned());
    let lit = section.attention.is_on(&target);
    let marked = section.marked.contains(member.lead);
    let fill = if lit || marked {
        mix(paper.cut_fill(Tone::Lead), paper.lit, 0.35)
    } else {
        paper.cut_fill(Tone::Lead)
    };
    let line = |weight: f32, lit: bool| Edge {
        weight,
        colour: if lit { paper.lit } else { paper.ink },
        dash: Dash::Full,
    };
    for strand in section
        .loom
        .strands
        .iter()
        .filter(|it| it.lead == member.lead)
    {
        sheet.lead(strand.centre, strand.diameter, turn, fill);
        let weight = if lit { 3.0 } else { 1.4 };
        sheet.edge(strand.centre, strand.diameter, line(weight, lit));
        if marked {
            // A second ring, so that the mark is not told by its tone alone.
            let inner = (strand.diameter - 9.0 / sheet.scale).max(0.4 * strand.diameter);
            sheet.edge(strand.centre, inner, line(1.6, true));
        }
    }
}

/// Writes every lead's name: into its round where it fits, else beside the loom.
fn letter(
    ui: &Ui,
    sheet: &Sheet,
    section: Section,
    members: &[Member],
    names: &[Arc<Galley>],
    pane: Rect,
    asks: &mut Vec<Ask>,
) {
    let (mut beside, mut words, mut places) = (Vec::new(), Vec::new(), Vec::new());
    for (at, member) in members.iter().enumerate() {
        let Some(strand) = outermost(section.loom, member.lead) else {
            continue;
        };
        let size = names[at].size();
        let tip = sheet.pos(strand.centre);
        if member.count == 1 && size.length() + 6.0 < sheet.points(strand.diameter) {
            places.push((at, Rect::from_center_size(tip, size)));
        } else {
            beside.push(at);
            words.push(Word { size, tip });
        }
    }
    let drawing = sheet.around(DVec2::ZERO, section.loom.diameter);
    for (at, placed) in (beside.into_iter()).zip(leaders::beside(&words, drawing, pane)) {
        let Some(placed) = placed else { continue };
        let ends = [placed.start, placed.tip];
        ink::line(sheet.painter, &ends, 0.8, sheet.paper.ink, Dash::Full);
        sheet
            .painter
            .circle_filled(placed.tip, 2.0, sheet.paper.ink);
        places.push((at, placed.rect));
    }
    // Words last, so that no leader runs through one.
    for (at, place) in places {
        word_ui(ui, sheet, section, &members[at], &names[at], place, asks);
    }
}

/// The strand of a lead that lies furthest out: where its leader ends.
fn outermost<'a>(loom: &'a Loom, lead: &str) -> Option<&'a Strand> {
    (loom.strands.iter())
        .filter(|strand| strand.lead == lead)
        .max_by(|a, b| a.centre.length().total_cmp(&b.centre.length()))
}

/// One name, which answers the hand as its strands do.
fn word_ui(
    ui: &Ui,
    sheet: &Sheet,
    section: Section,
    member: &Member,
    name: &Arc<Galley>,
    place: Rect,
    asks: &mut Vec<Ask>,
) {
    let paper = sheet.paper;
    let target = Target::Lead(member.lead.to_owned());
    let plate = place.expand2(vec2(3.0, 1.0));
    let id = ui.scope_id().with(("strand", member.lead));
    let response = ui.interact(plate, id, Sense::click());
    let marked = section.marked.contains(member.lead);
    let label = format!(
        "strand of {}, {}",
        member.name,
        member.size(section.figures)
    );
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, marked, &label));
    let fill = if section.attention.is_on(&target) || marked {
        mix(paper.sheet, paper.lit, 0.25)
    } else {
        paper.sheet.gamma_multiply(0.9)
    };
    sheet.painter.rect_filled(plate, 2.0, fill);
    if response.has_focus() {
        let ring = egui::Stroke::new(1.5, paper.lit);
        sheet
            .painter
            .rect_stroke(plate, 2.0, ring, egui::StrokeKind::Outside);
    }
    sheet.painter.galley(place.min, name.clone(), paper.ink);
    if response.hovered() || response.has_focus() {
        asks.push(Ask::Point(target));
    }
    if response.clicked() {
        asks.push(Ask::Mark(member.lead.to_owned()));
    }
}

/// Over all below, bare above.
fn dimensions(sheet: &Sheet, section: Section) {
    let loom = section.loom;
    let half = 0.5 * sheet.points(loom.diameter);
    let figures = section.figures;
    let over = format!("Ø {}", figures.bare(loom.diameter));
    if loom.wrap > 0.0 {
        let words = format!("{over} over the wrap");
        sheet.level_dimension(loom.diameter, half + 30.0, &words);
        let words = format!("Ø {} bare", figures.bare(loom.bare));
        sheet.level_dimension(loom.bare, -half - 14.0, &words);
    } else {
        sheet.level_dimension(loom.diameter, half + 30.0, &over);
    }
}
