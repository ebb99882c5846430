//! What of the drawing is shown: a row of switches.

use egui::{Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use super::ink::{self, Dash};
use crate::desk::model::{Part, Thing};
use crate::desk::theme::{Paper, Tone};

/// Something that can be left out of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// Plugs and cables.
    Leads,
    /// Room kept around what is solid.
    Clears,
    /// Dimension lines.
    Dims,
    /// Ribs, shelves, bosses, brackets.
    Ribs,
    /// Slack in its pockets.
    Slack,
    /// What things are called.
    Names,
}

impl Layer {
    /// All of them, in the order of the switches.
    pub const ALL: [Layer; 6] = [
        Layer::Leads,
        Layer::Ribs,
        Layer::Slack,
        Layer::Clears,
        Layer::Dims,
        Layer::Names,
    ];

    /// The word on its switch.
    pub fn word(self) -> &'static str {
        match self {
            Layer::Leads => "leads",
            Layer::Clears => "clearances",
            Layer::Dims => "dimensions",
            Layer::Ribs => "ribs",
            Layer::Slack => "slack",
            Layer::Names => "names",
        }
    }
}

/// Which layers are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layers {
    shown: [bool; 6],
}

impl Default for Layers {
    fn default() -> Layers {
        let mut layers = Layers { shown: [true; 6] };
        layers.show(Layer::Clears, false);
        layers
    }
}

impl Layers {
    /// Whether a layer is shown.
    pub fn has(&self, layer: Layer) -> bool {
        self.shown[layer as usize]
    }

    /// Shows a layer, or leaves it out.
    pub fn show(&mut self, layer: Layer, shown: bool) {
        self.shown[layer as usize] = shown;
    }

    /// Whether a thing is in the drawing.
    pub fn draws(&self, thing: &Thing) -> bool {
        match (thing.part, thing.tone) {
            (Part::Plug, _) => self.has(Layer::Leads),
            (_, Tone::SubDash) => self.has(Layer::Ribs),
            _ => true,
        }
    }
}

/// A switch drawn as a leader line: it ends in a full dot when on, and is
/// broken and ends in a ring when off. True when it was pressed.
pub fn switch_ui(ui: &mut Ui, on: bool, word: &str, name: &str) -> bool {
    const LINE: f32 = 14.0;
    let paper = Paper::current(ui.ctx());
    let font = egui::TextStyle::Small.resolve(ui.style());
    let colour = if on { paper.ink } else { paper.faint };
    let galley = ui.painter().layout_no_wrap(word.to_owned(), font, colour);
    let height = ui.spacing().interact_size.y;
    let size = vec2(galley.size().x + LINE + 9.0, height);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, on, name));
    if response.hovered() || response.has_focus() {
        let fill = crate::desk::theme::mix(paper.board, paper.ink, 0.08);
        ui.painter().rect_filled(rect, 2.0, fill);
    }
    if response.has_focus() {
        let ring = Stroke::new(1.6, paper.lit);
        let inside = egui::StrokeKind::Inside;
        ui.painter().rect_stroke(rect, 2.0, ring, inside);
    }
    let painter = ui.painter_at(rect);
    let y = rect.center().y;
    let dot = pos2(rect.left() + LINE - 2.0, y);
    let line = [pos2(rect.left() + 3.0, y), dot - vec2(3.0, 0.0)];
    if on {
        ink::line(&painter, &line, 1.6, paper.ink, Dash::Full);
        painter.circle_filled(dot, 3.4, paper.ink);
    } else {
        ink::line(&painter, &line, 1.0, paper.faint, Dash::Dotted);
        painter.circle_stroke(dot, 3.0, Stroke::new(1.0, paper.faint));
    }
    let at = pos2(rect.left() + LINE + 5.0, y - 0.5 * galley.size().y);
    painter.galley(at, galley, colour);
    response.clicked()
}
