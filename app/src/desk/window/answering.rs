//! Keeping the model up with the document.

use std::time::Duration;

use profiles::Library;

use super::Desk;
use crate::desk::document::{Document, Place};
use crate::desk::model::Model;
use crate::desk::settings::Settings;

/// Alternatives are answered once a hand has been still for this long, s.
const AT_REST: f64 = 0.2;

impl Desk {
    /// Gathers the model of the document as it now stands.
    pub(super) fn refresh(&mut self) {
        self.epoch += 1;
        let model = if self.document.is_going() && !self.model.alternatives.is_empty() {
            Model::gather_in_hand(
                self.document.job(),
                &called(&self.document),
                self.epoch,
                &self.library,
                self.settings.figures,
                &self.model.alternatives,
            )
        } else {
            model_of(&self.document, self.epoch, &self.library, &self.settings)
        };
        self.model = model.lay_up(&mut self.laid_up);
        self.behind_shown = false;
        self.rests_from = None;
        self.draw_laid();
        self.view.loom.keep_to(&self.model);
    }

    /// Answers what is behind: looms once a frame has shown that they are,
    /// alternatives once the hand rests.
    pub(super) fn catch_up(&mut self, ctx: &egui::Context) {
        if self.model.alternatives_behind {
            let now = ctx.input(|input| input.time);
            let rested = now - *self.rests_from.get_or_insert(now);
            if rested >= AT_REST {
                self.model.answer_alternatives(
                    self.document.job(),
                    &called(&self.document),
                    &self.library,
                    self.settings.figures,
                );
                ctx.request_repaint();
            } else {
                ctx.request_repaint_after(Duration::from_secs_f64(AT_REST - rested));
            }
        }
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
    let name = called(document);
    Model::gather(document.job(), &name, revision, library, settings.figures)
}

/// What the file of a document is called.
fn called(document: &Document) -> String {
    match document.place() {
        Place::File(path) => path.display().to_string(),
        Place::Embedded(name) => name.clone(),
        Place::Nowhere => String::new(),
    }
}
