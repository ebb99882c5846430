//! Opening, saving, closing: what the window does with files.

use std::path::{Path, PathBuf};

use egui::ViewportCommand;
use profiles::schema::JobFile;

use super::Desk;
use crate::desk::document::{Document, Place};
use crate::desk::files::{Asking, Purpose, suggested, with_ending};
use crate::desk::lines;
use crate::desk::top::After;

impl Desk {
    /// Does what may lose changes, once nobody minds.
    pub(super) fn guarded(&mut self, ctx: &egui::Context, after: After) {
        if self.document.is_changed() {
            self.guard = Some(after);
        } else {
            self.go_on(ctx, Some(after));
        }
    }

    pub(super) fn go_on(&mut self, ctx: &egui::Context, after: Option<After>) {
        match after {
            Some(After::Open) => self.ask_path(ctx, Purpose::Open),
            Some(After::OpenPath(path)) => {
                self.open(ctx, &path.display().to_string(), Place::File(path.clone()));
            }
            Some(After::TakeUp) => self.take_up(ctx),
            Some(After::Begin(name)) => self.open(ctx, &name, Place::Embedded(name.clone())),
            Some(After::BeginEmpty) => {
                let job = profiles::empty_job(&self.library);
                self.take(ctx, job, Place::Nowhere, Vec::new());
                self.view.quick.open = true;
                self.view.quick.fresh = true;
            }
            Some(After::Close) => {
                self.closing = true;
                self.upkeep.keeping.finish();
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            None => {}
        }
        ctx.request_repaint();
    }

    pub(super) fn ask_path(&mut self, ctx: &egui::Context, purpose: Purpose) {
        let beside = match (self.document.place(), purpose) {
            (Place::File(path), _) => Some(path.clone()),
            (Place::Embedded(_) | Place::Nowhere, Purpose::SaveAs) => Some(self.suggested()),
            (Place::Embedded(_) | Place::Nowhere, Purpose::Open) => None,
        };
        let wake = ctx.clone();
        self.asking = Some(Asking::begin(
            self.dialogs.as_ref(),
            purpose,
            beside.as_deref(),
            Box::new(move || wake.request_repaint()),
        ));
        lines::want(ctx);
    }

    /// Where a job goes that is in no file yet: into the folder used last, or home.
    fn suggested(&self) -> PathBuf {
        let last = self.upkeep.preferences.recent.first();
        let used = last.and_then(|path| path.parent());
        let used = used.filter(|folder| folder.is_dir()).map(Path::to_owned);
        let folder = used.or_else(std::env::home_dir).unwrap_or_default();
        suggested(&self.document.job().name, &folder)
    }

    /// * `typed`: by hand; the system's window asks itself before writing over a file
    pub(super) fn take_path(&mut self, ctx: &egui::Context, path: PathBuf, typed: bool) {
        let Some(asking) = self.asking.take() else {
            return;
        };
        match asking.purpose {
            Purpose::Open => self.open(ctx, &path.display().to_string(), Place::File(path)),
            Purpose::SaveAs => {
                let path = with_ending(path);
                let own = *self.document.place() == Place::File(path.clone());
                if typed && path.exists() && !own {
                    self.upkeep.over = Some(path);
                } else {
                    self.save_to(ctx, &path);
                }
            }
        }
    }

    pub(super) fn open(&mut self, ctx: &egui::Context, which: &str, place: Place) {
        match profiles::open_job(which, &self.library) {
            Ok(opened) => {
                let warnings = opened.warnings.iter().map(ToString::to_string).collect();
                if let Place::File(path) = &place {
                    self.upkeep.preferences.worked_on(path);
                }
                self.take(ctx, opened.file, place, warnings);
            }
            Err(problems) => {
                self.notices = problems.iter().map(ToString::to_string).collect();
                self.notices.insert(
                    0,
                    format!(
                        "{which} could not be opened; the job here is as it was. Put right what stands below in a text editor, or choose another file."
                    ),
                );
            }
        }
    }

    /// Goes on with another job.
    fn take(&mut self, ctx: &egui::Context, job: JobFile, place: Place, notices: Vec<String>) {
        crate::desk::fields::forget_drafts(ctx);
        self.go_on_with(Document::new(job, place), notices);
    }

    pub(super) fn go_on_with(&mut self, document: Document, notices: Vec<String>) {
        self.document = document;
        self.notices = notices;
        self.upkeep.elsewhere = None;
        self.upkeep.over = None;
        self.view.chosen = None;
        self.view.quick.open = false;
        self.view.guide.forget();
        self.refresh();
        self.view.canvas.begin(&self.model);
    }

    pub(super) fn save(&mut self, ctx: &egui::Context) {
        match self.document.place().clone() {
            Place::File(path) => self.save_to(ctx, &path),
            Place::Embedded(_) | Place::Nowhere => self.ask_path(ctx, Purpose::SaveAs),
        }
    }

    pub(super) fn save_to(&mut self, ctx: &egui::Context, path: &Path) {
        if self.is_otherwise_there(path) {
            self.then = None;
            return;
        }
        let job = self.document.job().clone();
        match profiles::save_job(path, &job) {
            Ok(()) => {
                self.document.saved_as(job, path.to_owned());
                self.notices.clear();
                self.upkeep.preferences.worked_on(path);
                let then = self.then.take();
                self.go_on(ctx, then);
            }
            Err(problem) => {
                self.then = None;
                self.notices = vec![format!(
                    "Not saved. {problem}. The job is still here; Save as puts it in another place."
                )];
            }
        }
    }

    /// Takes a path chosen in the system's window.
    pub(super) fn take_answers(&mut self, ctx: &egui::Context) {
        if let Some(path) = self.asking.as_mut().and_then(Asking::chosen) {
            self.take_path(ctx, path, false);
        }
    }

    /// A job with changes is not closed without a word.
    pub(super) fn close_request(&mut self, ctx: &egui::Context) {
        let asked = ctx.input(|input| input.viewport().close_requested());
        if asked && !self.closing && self.document.is_changed() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.guard = Some(After::Close);
        }
    }
}
