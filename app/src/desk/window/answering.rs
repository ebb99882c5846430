//! Keeping the model up with the document.

use profiles::Library;

use super::Desk;
use crate::desk::document::{Document, Place};
use crate::desk::model::Model;
use crate::desk::settings::Settings;

impl Desk {
    /// Gathers the model of the document as it now stands.
    pub(super) fn refresh(&mut self) {
        self.epoch += 1;
        self.model = model_of(&self.document, self.epoch, &self.library, &self.settings)
            .lay_up(&mut self.laid_up);
        self.behind_shown = false;
        self.draw_laid();
        self.view.loom.keep_to(&self.model);
    }

    /// Lays up the looms that are behind, once a frame has shown that they are.
    pub(super) fn catch_up(&mut self, ctx: &egui::Context) {
        if self.model.looms_behind.is_empty() {
            return;
        }
        if self.behind_shown {
            self.model.catch_up(&mut self.laid_up);
            self.draw_laid();
            self.view.loom.keep_to(&self.model);
        }
        self.behind_shown = !self.behind_shown;
        ctx.request_repaint();
    }
}

/// What the views show of a document.
pub(super) fn model_of(
    document: &Document,
    revision: u64,
    library: &Library,
    settings: &Settings,
) -> Model {
    let name = match document.place() {
        Place::File(path) => path.display().to_string(),
        Place::Embedded(name) => name.clone(),
        Place::Nowhere => String::new(),
    };
    Model::gather(document.job(), &name, revision, library, settings.figures)
}
