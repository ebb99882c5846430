//! How one likes the window: units, paper, size of the words.

use super::edit::PaperChoice;
use crate::figures::Figures;

/// Scales of everything there is to choose from, percent.
pub const SCALES: [u32; 5] = [100, 125, 150, 175, 200];

/// What one likes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// The unit lengths are shown in.
    pub figures: Figures,
    /// Light or dark paper.
    pub paper: PaperChoice,
    /// Larger words and targets.
    pub large: bool,
    /// Whether leads are laid whenever the job changes.
    pub lay: bool,
    /// Scale of everything, percent: one of [`SCALES`].
    pub scale: u32,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            figures: Figures::default(),
            paper: PaperChoice::default(),
            large: false,
            lay: false,
            scale: SCALES[0],
        }
    }
}

impl Settings {
    /// Puts them on.
    pub fn apply(&self, ctx: &egui::Context) {
        ctx.options_mut(|options| {
            // Where the system does not say: a workshop is bright.
            options.fallback_theme = egui::Theme::Light;
            // Both are actions of our own.
            options.zoom_with_keyboard = false;
            options.quit_shortcuts.clear();
        });
        ctx.set_theme(match self.paper {
            PaperChoice::FollowSystem => egui::ThemePreference::System,
            PaperChoice::Light => egui::ThemePreference::Light,
            PaperChoice::Dark => egui::ThemePreference::Dark,
        });
        ctx.set_zoom_factor(self.scale as f32 / 100.0);
        super::theme::dress(ctx, self.large);
    }

    /// The next larger or smaller scale, where there is one.
    pub fn next_scale(&self, larger: bool) -> Option<u32> {
        let scales = SCALES.iter().copied();
        if larger {
            scales.filter(|scale| *scale > self.scale).min()
        } else {
            scales.filter(|scale| *scale < self.scale).max()
        }
    }
}
