//! How one likes the window: units, paper, size of the words.

use super::edit::PaperChoice;
use crate::figures::Figures;

/// What one likes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// The unit lengths are shown in.
    pub figures: Figures,
    /// Light or dark paper.
    pub paper: PaperChoice,
    /// Larger words and targets.
    pub large: bool,
    /// Whether leads are laid whenever the job changes.
    pub lay: bool,
}

impl Settings {
    /// Puts them on.
    pub fn apply(&self, ctx: &egui::Context) {
        // Where the system does not say: a workshop is bright.
        ctx.options_mut(|options| options.fallback_theme = egui::Theme::Light);
        ctx.set_theme(match self.paper {
            PaperChoice::FollowSystem => egui::ThemePreference::System,
            PaperChoice::Light => egui::ThemePreference::Light,
            PaperChoice::Dark => egui::ThemePreference::Dark,
        });
        super::theme::dress(ctx, self.large);
    }
}
