//! Leads laid in the background, as the window takes them.

use std::sync::Arc;

use geometry::Reading;
use geometry::seating::{VOXEL, routed_on};

use crate::desk::card::trim::files;
use crate::desk::edit::{Ask, Edit, Step};
use crate::desk::laying::{Doing, LaidJob, Laying, Stage};
use crate::desk::window::Desk;

impl Desk {
    /// The search that lays the leads.
    pub fn laying(&self) -> &Laying {
        &self.laying
    }

    /// What that search is doing.
    pub fn doing(&self) -> Doing {
        self.laying
            .doing(self.settings.lay, self.model.job.is_some())
    }

    /// Lays the leads of the job here and now, however long it takes.
    pub fn lay_here(&mut self, ctx: &egui::Context) {
        if let Some(job) = &self.model.job {
            let fit = geometry::fit(job);
            let at = |reading| routed_on(job, &fit, reading, VOXEL, &mut |_| true);
            let routed = at(Reading::Nominal);
            let ends = [at(Reading::Worst), at(Reading::Best)];
            let laid = LaidJob {
                job: job.clone(),
                routed,
                stage: Stage::BothEnds(Box::new(ends)),
            };
            self.lay_as(ctx, Arc::new(laid));
        }
    }

    /// Leaves all laying to those who ask for it here and now. No answer comes
    /// from a thread between two frames then, and moves what a hand aims at.
    pub fn lay_only_here(&mut self) {
        self.laying.only_here();
    }

    /// Takes leads laid before, as if they had just been.
    pub fn lay_as(&mut self, ctx: &egui::Context, laid: Arc<LaidJob>) {
        self.settings.lay = true;
        self.laying.take_as(laid);
        self.take_laid();
        ctx.request_repaint();
    }

    /// Turns the turned view to the right, rad.
    pub fn turn_by(&mut self, turn: f64) {
        self.view.canvas.turned.turn_by(turn);
    }

    /// Takes an answer that has come, and keeps the search at what is asked.
    pub(super) fn attend_to_laying(&mut self, ctx: &egui::Context) {
        let job = self.model.job.as_ref();
        if self
            .laying
            .attend(ctx, self.model.revision, job, self.settings.lay)
        {
            self.take_laid();
        }
    }

    /// Looks for the least cut here and now, however long it takes.
    pub fn look_for_cuts_here(&mut self) {
        if let Some(job) = &self.model.job {
            self.cutting.look_here(job);
        }
    }

    /// Takes the notches of the least proud at which anything was found.
    pub fn take_first_cut(&mut self, ctx: &egui::Context) {
        let found = self.cutting.tried(self.model.job.as_ref());
        let step = found.and_then(|(tried, _)| tried.steps.iter().find(|step| step.holds()));
        if let Some(step) = step {
            let trims = files(&self.model, self.document.job(), step);
            self.ask(ctx, Ask::Edit(Edit::Trims(trims), None));
        }
    }

    /// Works out what the job's notches come to, here and now.
    pub fn count_cuts_here(&mut self) {
        if let Some(job) = &self.model.job {
            self.cutting.count_here(job);
        }
    }

    /// Takes what was found on cuts, and has the job's notches worked out.
    pub(super) fn attend_to_cutting(&mut self, ctx: &egui::Context) {
        let open = self.view.step == Some(Step::Trim);
        if self.cutting.attend(ctx, self.model.job.as_ref(), open) {
            ctx.request_repaint();
        }
    }

    /// Draws the last answer, of this state or of an earlier one.
    pub(super) fn draw_laid(&mut self) {
        if let Some(laid) = self.laying.answer().filter(|_| self.settings.lay) {
            self.model.lay(laid, self.settings.figures);
        }
    }

    /// A new answer makes a new picture of the same job.
    fn take_laid(&mut self) {
        self.epoch += 1;
        self.model.revision = self.epoch;
        self.draw_laid();
        self.laying.known_as(self.epoch, self.model.job.as_ref());
    }
}
