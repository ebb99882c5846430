//! What the window does so that nothing is lost: it keeps the unsaved job,
//! offers what was left behind, notices other hands on its file, remembers how
//! it is liked.

use std::path::{Path, PathBuf};

use egui::Ui;
use profiles::KeptFolder;
use profiles::kept::Left;
use profiles::schema::JobFile;

use super::Desk;
use crate::desk::document::{Document, Place};
use crate::desk::edit::Ask;
use crate::desk::fields;
use crate::desk::keeping::Keeping;
use crate::desk::lines::{self, ago, question_ui};
use crate::desk::preferences::{Preferences, WindowSize};
use crate::desk::start::Own;
use crate::desk::top::After;
use crate::desk::watch::Watch;

/// What it takes.
pub(super) struct Upkeep {
    pub(super) keeping: Keeping,
    /// Jobs left behind by windows that are gone, the newest first.
    left: Vec<Left>,
    watch: Watch,
    /// Another program has changed the file.
    pub(super) elsewhere: Option<Box<JobFile>>,
    /// A file that saving would write over.
    pub(super) over: Option<PathBuf>,
    pub(super) preferences: Preferences,
    /// As they were last written.
    written: Preferences,
}

/// What a person says to a job left behind.
#[derive(Clone, Copy)]
enum Found {
    TakeUp,
    LetGo,
}

/// What a person says to a file that another program has changed.
#[derive(Clone, Copy)]
enum Theirs {
    Read,
    KeepMine,
}

impl Upkeep {
    pub(super) fn begin(ctx: &egui::Context, own: Own, place: &Place) -> Upkeep {
        let found = own.homes.unsaved.clone().map(KeptFolder::at);
        let found = found.map(|folder| folder.left_behind()).unwrap_or_default();
        let mut left = found.jobs;
        left.retain(|left| !is_in_its_place(left));
        let mut preferences = own.preferences.clone();
        if let Place::File(path) = place {
            preferences.worked_on(path);
        }
        let (keeping, watching) = (ctx.clone(), ctx.clone());
        Upkeep {
            keeping: Keeping::begin(&own.homes, move || keeping.request_repaint()),
            left,
            watch: Watch::begin(move || watching.request_repaint()),
            elsewhere: None,
            over: None,
            written: own.preferences.clone(),
            preferences,
        }
    }
}

/// A job that was saved before its window ended needs no taking up.
fn is_in_its_place(left: &Left) -> bool {
    let is_so = match place_of(left) {
        Place::File(path) => read_job(&path).is_ok_and(|job| job == left.job),
        Place::Embedded(_) | Place::Nowhere => false,
    };
    if is_so {
        // Should it stay, it is looked at again next time.
        let _ = left.claim.forget();
    }
    is_so
}

fn place_of(left: &Left) -> Place {
    serde_json::from_str(&left.from).unwrap_or(Place::Nowhere)
}

/// The job in a file, whatever it says; the first thing wrong when it says nothing.
fn read_job(path: &Path) -> Result<JobFile, String> {
    let name = path.display().to_string();
    let text = profiles::read_file(path).map_err(|problem| problem.to_string())?;
    let read = profiles::read_job(&text, &name);
    read.map(|read| read.file).map_err(|problems| {
        (problems.first()).map_or_else(|| format!("{name} says nothing"), ToString::to_string)
    })
}

impl Desk {
    /// Lines about what must not be lost.
    pub(super) fn upkeep_lines(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.left_line(ui, &ctx);
        self.elsewhere_line(ui, &ctx);
        self.over_line(ui, &ctx);
        let hovering = ctx.input(|input| input.raw.hovered_files.len());
        if hovering > 0 {
            lines::sheet(ui, |ui| {
                ui.label("Let go here to open the file.");
            });
        }
        lines::had(&ctx);
    }

    fn left_line(&mut self, ui: &mut Ui, ctx: &egui::Context) {
        let Some(left) = self.upkeep.left.first() else {
            return;
        };
        let more = match self.upkeep.left.len() - 1 {
            0 => String::new(),
            more => format!(" {more} more will be asked about after it."),
        };
        let text = format!(
            "\"{}\" ({}) was changed {} and not saved before its window was gone. It is still here as it was then.{more}",
            left.job.name,
            place_of(left).words(),
            ago(left.at),
        );
        match question_ui(
            ui,
            &text,
            &[("Take it up", Found::TakeUp), ("Let it go", Found::LetGo)],
        ) {
            Some(Found::TakeUp) => self.guarded(ctx, After::TakeUp),
            Some(Found::LetGo) => {
                let left = self.upkeep.left.remove(0);
                if let Err(error) = left.claim.forget() {
                    self.notices = vec![format!(
                        "It could not be taken away and will be offered again: {error}."
                    )];
                }
            }
            None => {}
        }
    }

    /// Goes on with the job left behind; its old place is given up once it is kept anew.
    pub(super) fn take_up(&mut self, ctx: &egui::Context) {
        if self.upkeep.left.is_empty() {
            return;
        }
        fields::forget_drafts(ctx);
        let left = self.upkeep.left.remove(0);
        let place = place_of(&left);
        let saved = match &place {
            Place::File(path) => read_job(path).ok(),
            Place::Embedded(name) => profiles::open_job(name, &self.library)
                .ok()
                .map(|opened| opened.file),
            Place::Nowhere => None,
        };
        self.go_on_with(Document::unsaved(left.job, place, saved), Vec::new());
        self.upkeep.keeping.attend(&self.document);
        self.upkeep.keeping.taken_up(left.claim);
    }

    fn elsewhere_line(&mut self, ui: &mut Ui, ctx: &egui::Context) {
        if self.upkeep.elsewhere.is_none() {
            return;
        }
        let place = self.document.place().words();
        let changed = if self.document.is_changed() {
            " The changes made here stay in what was done: one Undo brings them back."
        } else {
            ""
        };
        let text = format!("{place} was changed by another program. Read it again?{changed}");
        let answers = [
            ("Read it again", Theirs::Read),
            ("Keep what is here", Theirs::KeepMine),
        ];
        let Some(answer) = question_ui(ui, &text, &answers) else {
            return;
        };
        let theirs = self.upkeep.elsewhere.take();
        match (answer, theirs) {
            (Theirs::Read, Some(theirs)) => self.take_theirs(ctx, *theirs),
            (Theirs::KeepMine, Some(theirs)) => {
                self.document.lies_there(Some((*theirs).into()));
                ctx.request_repaint();
            }
            (_, None) => {}
        }
    }

    /// Puts what lies in the file in the place of what is here, as a step.
    fn take_theirs(&mut self, ctx: &egui::Context, theirs: JobFile) {
        fields::forget_drafts(ctx);
        self.document
            .replace(theirs.clone(), "Read again from its file");
        self.document.lies_there(Some(theirs.into()));
        self.refresh();
        ctx.request_repaint();
    }

    /// Reads the job's file again because a hand asked for it.
    pub(super) fn read_again(&mut self, ctx: &egui::Context) {
        let Place::File(path) = self.document.place().clone() else {
            return;
        };
        self.upkeep.elsewhere = None;
        match read_job(&path) {
            Ok(theirs) => self.take_theirs(ctx, theirs),
            Err(problem) => {
                self.notices = vec![format!(
                    "The file could not be read again; the job here is as it was. {problem}"
                )];
            }
        }
    }

    fn over_line(&mut self, ui: &mut Ui, ctx: &egui::Context) {
        let Some(path) = &self.upkeep.over else {
            return;
        };
        let text = format!(
            "{} is there already. Put this job in its place?",
            path.display()
        );
        let answers = [("Write over it", true), ("Leave it as it is", false)];
        if let Some(over) = question_ui(ui, &text, &answers) {
            let path = self.upkeep.over.take();
            match path {
                Some(path) if over => self.save_to(ctx, &path),
                _ => self.then = None,
            }
        }
    }

    /// Takes what other hands and threads have done meanwhile.
    pub(super) fn look_around(&mut self, ctx: &egui::Context) {
        if let Some(trouble) = self.upkeep.keeping.trouble() {
            self.notices.push(trouble);
            ctx.request_repaint();
        }
        let path = match self.document.place() {
            Place::File(path) => Some(path.clone()),
            Place::Embedded(_) | Place::Nowhere => None,
        };
        self.upkeep.watch.look_at(path.as_deref());
        if self.upkeep.watch.was_touched()
            && let Some(path) = path
        {
            self.look_at_file(&path);
        }
    }

    /// Compares the file with what this window knows of it.
    fn look_at_file(&mut self, path: &Path) {
        match read_job(path) {
            Ok(there) => {
                let known = self.document.saved().is_some_and(|saved| **saved == there);
                let mine = *self.document.job().as_ref() == there;
                if mine && !known {
                    self.document.lies_there(Some(self.document.job().clone()));
                }
                self.upkeep.elsewhere = (!known && !mine).then(|| Box::new(there));
            }
            Err(problem) => {
                self.upkeep.elsewhere = None;
                if self.document.saved().is_some() {
                    self.document.lies_there(None);
                    self.notices = vec![if path.exists() {
                        format!(
                            "Another program has changed the file, and it can no longer be read. The job here is as it was; Save writes it over what is there. {problem}"
                        )
                    } else {
                        format!(
                            "{} is no longer there: another program has moved it or taken it away. The job here is as it was; Save writes it there again.",
                            path.display()
                        )
                    }];
                }
            }
        }
    }

    /// Whether the job's own file holds something this window does not know; then
    /// it is asked about before it is written over.
    pub(super) fn is_otherwise_there(&mut self, path: &Path) -> bool {
        if *self.document.place() != Place::File(path.to_owned()) || self.document.saved().is_none()
        {
            return false;
        }
        let known = self.document.saved().is_some();
        self.look_at_file(path);
        let otherwise = self.upkeep.elsewhere.is_some() || known != self.document.saved().is_some();
        if self.upkeep.elsewhere.is_some() {
            self.notices = vec![
                "Not saved yet: the file was changed by another program since it was read. Choose above; Save as puts this job in another place.".to_owned(),
            ];
        }
        // One that is gone is written again: nothing there could be lost.
        otherwise && path.exists()
    }

    /// Hands over what is to be written, once a frame has been drawn.
    pub(super) fn keep(&mut self, ctx: &egui::Context) {
        self.upkeep.keeping.attend(&self.document);
        let scale = ctx.zoom_factor();
        let size = ctx.input(|input| {
            let viewport = input.viewport();
            let size = viewport.inner_rect?.size() * scale;
            let filled = viewport.maximized == Some(true);
            Some((size, filled))
        });
        let known = self.upkeep.preferences.window;
        let window = match (size, known) {
            // The size to go back to is the one before it filled the screen.
            (Some((_, true)), Some(known)) => Some(WindowSize {
                fills_the_screen: true,
                ..known
            }),
            (Some((size, filled)), _) => Some(WindowSize {
                width: size.x.round().clamp(400.0, 16_000.0) as u32,
                height: size.y.round().clamp(300.0, 16_000.0) as u32,
                fills_the_screen: filled,
            }),
            (None, known) => known,
        };
        let now = Preferences {
            window,
            ..self.upkeep.preferences.clone().with(self.settings)
        };
        if now != self.upkeep.written {
            self.upkeep.written = now.clone();
            self.upkeep.keeping.remember(now.clone());
        }
        self.upkeep.preferences = now;
    }

    /// Opens a file dropped on the window.
    pub(super) fn dropped(&mut self, ctx: &egui::Context, asks: &mut Vec<Ask>) {
        let paths: Vec<PathBuf> = ctx.input(|input| {
            let files = input.raw.dropped_files.iter();
            files.map(|file| file.path().to_owned()).collect()
        });
        let Some(first) = paths.first() else {
            return;
        };
        if paths.len() > 1 {
            self.notices = vec![format!(
                "{} files were dropped, and a window holds one job: the first is opened.",
                paths.len()
            )];
        }
        asks.push(Ask::OpenPath(first.clone()));
    }
}
