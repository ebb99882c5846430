//! Every colour of the window, in one place.
//!
//! Two papers, light and dark, with the same contrast between paper and ink.
//! Tones are those of Okabe and Ito, "Color Universal Design" (2008), a set
//! that people with the common kinds of colour blindness tell apart. One of
//! them, vermilion, means one thing only: this is in the way. Every tone is
//! doubled by a hatch and a word, so a grey print says the same.

use egui::{Color32, CornerRadius, FontFamily, FontId, Stroke, TextStyle, Theme, Visuals};

/// Black of the set; used through the paper's own ink.
const VERMILION: Color32 = Color32::from_rgb(0xD5, 0x5E, 0x00);
const SKY_BLUE: Color32 = Color32::from_rgb(0x56, 0xB4, 0xE9);
const BLUISH_GREEN: Color32 = Color32::from_rgb(0x00, 0x9E, 0x73);
const YELLOW: Color32 = Color32::from_rgb(0xF0, 0xE4, 0x42);
const BLUE: Color32 = Color32::from_rgb(0x00, 0x72, 0xB2);
const REDDISH_PURPLE: Color32 = Color32::from_rgb(0xCC, 0x79, 0xA7);

/// What a thing is, as far as its tone goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Tone {
    /// Walls of the cavity and the dash face.
    Wall,
    /// Ribs, shelves, bosses, brackets: parts of the sub-dash.
    SubDash,
    /// Beams, airbag parts, supports: what is never cut.
    Structure,
    /// Ducts, vents, the heater box.
    Air,
    /// Factory loom and factory plugs.
    Loom,
    /// The unit and its mount.
    Unit,
    /// Plugs and cables.
    Lead,
    /// Interface modules.
    Module,
    /// Nobody knows what it is.
    Unknown,
}

impl Tone {
    /// All of them, in the order of the key.
    pub const ALL: [Tone; 9] = [
        Tone::Unit,
        Tone::Lead,
        Tone::Module,
        Tone::SubDash,
        Tone::Structure,
        Tone::Air,
        Tone::Loom,
        Tone::Wall,
        Tone::Unknown,
    ];

    /// The word beside its swatch.
    pub fn word(self) -> &'static str {
        match self {
            Tone::Wall => "wall",
            Tone::SubDash => "rib, shelf, boss",
            Tone::Structure => "never cut",
            Tone::Air => "duct, heater",
            Tone::Loom => "factory loom",
            Tone::Unit => "unit, mount",
            Tone::Lead => "plug, cable",
            Tone::Module => "module",
            Tone::Unknown => "unknown",
        }
    }
}

/// The colours of one paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Whether it is the dark one.
    pub dark: bool,
    /// What the drawing lies on.
    pub sheet: Color32,
    /// What lies around the sheet.
    pub board: Color32,
    /// A field one can type in.
    pub field: Color32,
    /// Lines and words.
    pub ink: Color32,
    /// Words that may step back.
    pub faint: Color32,
    /// Thin lines that help the eye: rules, leaders, grid.
    pub rule: Color32,
    /// What is in the way. Nothing else has this colour.
    pub in_the_way: Color32,
    /// Ring around what is pointed at or chosen.
    pub lit: Color32,
}

impl Paper {
    /// Ink on light paper.
    pub const LIGHT: Paper = Paper {
        dark: false,
        sheet: Color32::from_rgb(0xFB, 0xF9, 0xF3),
        board: Color32::from_rgb(0xEE, 0xEB, 0xE2),
        field: Color32::from_rgb(0xFF, 0xFE, 0xFB),
        ink: Color32::from_rgb(0x20, 0x22, 0x25),
        faint: Color32::from_rgb(0x5C, 0x5F, 0x63),
        rule: Color32::from_rgb(0xAE, 0xAA, 0x9F),
        in_the_way: VERMILION,
        lit: BLUE,
    };

    /// Chalk on dark paper.
    pub const DARK: Paper = Paper {
        dark: true,
        sheet: Color32::from_rgb(0x16, 0x19, 0x1D),
        board: Color32::from_rgb(0x20, 0x24, 0x29),
        field: Color32::from_rgb(0x10, 0x12, 0x15),
        ink: Color32::from_rgb(0xF0, 0xEB, 0xE0),
        faint: Color32::from_rgb(0x99, 0x97, 0x91),
        rule: Color32::from_rgb(0x4C, 0x50, 0x55),
        in_the_way: Color32::from_rgb(0xE8, 0x6A, 0x0A),
        lit: SKY_BLUE,
    };

    /// The paper of a theme.
    pub fn of(theme: Theme) -> Paper {
        match theme {
            Theme::Light => Paper::LIGHT,
            Theme::Dark => Paper::DARK,
        }
    }

    /// The paper that is in use.
    pub fn current(ctx: &egui::Context) -> Paper {
        Paper::of(ctx.theme())
    }

    /// The pure tone.
    pub fn tone(&self, tone: Tone) -> Color32 {
        match tone {
            Tone::Wall => self.faint,
            Tone::Structure => self.ink,
            Tone::Air | Tone::Unknown => self.rule,
            Tone::SubDash => BLUISH_GREEN,
            Tone::Loom => YELLOW,
            Tone::Unit => BLUE,
            Tone::Lead => SKY_BLUE,
            Tone::Module => REDDISH_PURPLE,
        }
    }

    /// Fill of a face the section cuts.
    pub fn cut_fill(&self, tone: Tone) -> Color32 {
        let share = match tone {
            Tone::Wall => 0.10,
            Tone::Structure => 0.22,
            Tone::Unknown => 0.25,
            Tone::Loom if self.dark => 0.3,
            Tone::Loom => 0.45,
            _ => 0.34,
        };
        mix(self.sheet, self.tone(tone), share)
    }

    /// Fill of what lies beyond the section.
    pub fn beyond_fill(&self, tone: Tone) -> Color32 {
        let share = match tone {
            Tone::Wall => 0.03,
            Tone::Structure => 0.08,
            Tone::Loom => 0.2,
            _ => 0.13,
        };
        mix(self.sheet, self.tone(tone), share)
    }

    /// Hatch lines on a cut face.
    pub fn hatch(&self, tone: Tone) -> Color32 {
        match tone {
            Tone::Wall => mix(self.sheet, self.ink, 0.45),
            _ => mix(self.tone(tone), self.ink, 0.45),
        }
    }
}

/// `share` of `b` in `a`, channel by channel.
pub fn mix(a: Color32, b: Color32, share: f32) -> Color32 {
    let blend = |x: u8, y: u8| {
        (f32::from(x) + (f32::from(y) - f32::from(x)) * share)
            .round()
            .clamp(0.0, 255.0) as u8
    };
    Color32::from_rgb(
        blend(a.r(), b.r()),
        blend(a.g(), b.g()),
        blend(a.b(), b.b()),
    )
}

/// Size of words on the drawing, points.
pub const LETTERING: f32 = 12.0;

/// Sets both papers, and the sizes of everything one reads or hits.
///
/// * `large`: for reading at arm's length and hitting with a gloved finger
pub fn dress(ctx: &egui::Context, large: bool) {
    for theme in [Theme::Light, Theme::Dark] {
        let paper = Paper::of(theme);
        ctx.set_visuals_of(theme, visuals(&paper));
        ctx.style_mut_of(theme, |style| {
            let grow = if large { GROWN } else { 1.0 };
            // The sentence of the verdict is large as it is.
            let heading = if large { 30.0 } else { 26.0 };
            let size = |points: f32| FontId::new(points * grow, FontFamily::Proportional);
            style.text_styles = [
                (TextStyle::Small, size(12.0)),
                (TextStyle::Body, size(14.0)),
                (TextStyle::Button, size(14.0)),
                (TextStyle::Monospace, size(13.0)),
                (
                    TextStyle::Heading,
                    FontId::new(heading, FontFamily::Proportional),
                ),
                (TextStyle::Name("second".into()), size(13.5)),
            ]
            .into();
            style.spacing.item_spacing = egui::vec2(8.0, 5.0) * grow;
            style.spacing.button_padding = egui::vec2(8.0, if large { 10.0 } else { 3.0 });
            style.spacing.interact_size = egui::vec2(40.0, if large { 44.0 } else { 24.0 });
            style.spacing.combo_width = 90.0;
            style.spacing.indent = 8.0;
            style.spacing.scroll = egui::style::ScrollStyle::thin();
            style.interaction.selectable_labels = false;
            style.interaction.tooltip_delay = 0.4;
        });
    }
}

/// From this height of a row on, targets are large, points.
const LARGE_ROW: f32 = 40.0;

/// Whether words and targets are large.
pub fn is_large(ui: &egui::Ui) -> bool {
    ui.spacing().interact_size.y >= LARGE_ROW
}

/// How much larger words are than usual.
pub fn grow(ui: &egui::Ui) -> f32 {
    if is_large(ui) { GROWN } else { 1.0 }
}

/// How much larger words are in large mode.
const GROWN: f32 = 1.3;

/// The style of the second line under the verdict.
pub fn second() -> TextStyle {
    TextStyle::Name("second".into())
}

fn visuals(paper: &Paper) -> Visuals {
    let mut visuals = if paper.dark {
        Visuals::dark()
    } else {
        Visuals::light()
    };
    visuals.panel_fill = paper.board;
    visuals.window_fill = paper.board;
    visuals.window_stroke = Stroke::new(1.0, paper.rule);
    visuals.extreme_bg_color = paper.field;
    visuals.faint_bg_color = mix(paper.board, paper.ink, 0.04);
    visuals.code_bg_color = paper.field;
    visuals.override_text_color = Some(paper.ink);
    visuals.weak_text_color = Some(paper.faint);
    visuals.hyperlink_color = paper.lit;
    visuals.warn_fg_color = paper.ink;
    visuals.error_fg_color = paper.ink;
    visuals.selection.bg_fill = mix(paper.board, paper.lit, 0.3);
    visuals.selection.stroke = Stroke::new(1.5, paper.ink);
    visuals.window_corner_radius = CornerRadius::same(3);
    visuals.menu_corner_radius = CornerRadius::same(3);
    visuals.window_shadow = egui::Shadow::NONE;
    visuals.popup_shadow = egui::Shadow::NONE;
    visuals.interact_cursor = None;

    let corner = CornerRadius::same(2);
    let states = [
        (&mut visuals.widgets.noninteractive, 0.0, paper.rule),
        (&mut visuals.widgets.inactive, 0.06, paper.rule),
        (&mut visuals.widgets.hovered, 0.12, paper.faint),
        (&mut visuals.widgets.active, 0.2, paper.ink),
        (&mut visuals.widgets.open, 0.12, paper.faint),
    ];
    for (widget, share, edge) in states {
        widget.bg_fill = mix(paper.board, paper.ink, share);
        widget.weak_bg_fill = mix(paper.board, paper.ink, share);
        widget.bg_stroke = Stroke::new(1.0, edge);
        widget.fg_stroke = Stroke::new(1.0, paper.ink);
        widget.corner_radius = corner;
        widget.expansion = 0.0;
    }
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast as WCAG 2.2 defines them
    /// (W3C Recommendation, 5 October 2023, "relative luminance", "contrast ratio").
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |colour: Color32| {
            let channel = |value: u8| {
                let value = f64::from(value) / 255.0;
                if value <= 0.04045 {
                    value / 12.92
                } else {
                    ((value + 0.055) / 1.055).powf(2.4)
                }
            };
            0.2126 * channel(colour.r())
                + 0.7152 * channel(colour.g())
                + 0.0722 * channel(colour.b())
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn both_papers_have_the_same_contrast() {
        let (light, dark) = (Paper::LIGHT, Paper::DARK);
        let pairs = [
            (
                "ink",
                contrast(light.sheet, light.ink),
                contrast(dark.sheet, dark.ink),
            ),
            (
                "faint",
                contrast(light.sheet, light.faint),
                contrast(dark.sheet, dark.faint),
            ),
            (
                "rule",
                contrast(light.sheet, light.rule),
                contrast(dark.sheet, dark.rule),
            ),
        ];
        for (what, on_light, on_dark) in pairs {
            let ratio = on_light / on_dark;
            assert!(
                (0.94..=1.06).contains(&ratio),
                "{what}: {on_light:.2} against {on_dark:.2}"
            );
        }
    }

    #[test]
    fn words_can_be_read_and_the_strong_tone_stands_out() {
        for paper in [Paper::LIGHT, Paper::DARK] {
            for ground in [paper.sheet, paper.board, paper.field] {
                assert!(contrast(paper.ink, ground) >= 12.0);
                assert!(contrast(paper.faint, ground) >= 4.5);
                assert!(contrast(paper.in_the_way, ground) >= 3.0);
            }
            for tone in Tone::ALL {
                assert!(
                    contrast(paper.ink, paper.cut_fill(tone)) >= 5.0,
                    "{tone:?}: {:.2}",
                    contrast(paper.ink, paper.cut_fill(tone))
                );
            }
        }
    }
}
