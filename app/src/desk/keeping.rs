//! The thread that writes what must not be lost: the unsaved job and the preferences.
//!
//! The window only hands over what there is to write; no frame waits for a
//! disk. What is handed over is written at once when the disk has rested for
//! [`PACE`], otherwise as soon as it has, the newest alone. So no more is ever
//! unwritten than the edits of one pace and one write.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use profiles::KeptFolder;
use profiles::kept::Claim;
use profiles::schema::JobFile;

use super::document::{Document, Place};
use super::preferences::{self, Preferences};

/// Shortest time from one write to the next.
pub const PACE: Duration = Duration::from_millis(500);

/// Where a user's own files are, as far as the window writes them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Homes {
    /// The file of the preferences; none are kept without it.
    pub preferences: Option<PathBuf>,
    /// The folder of jobs kept while they are not saved.
    pub unsaved: Option<PathBuf>,
}

impl Homes {
    /// Where the desktop keeps a user's files.
    pub fn usual() -> Homes {
        let dirs = directories::ProjectDirs::from("", "", "seatwell");
        Homes {
            preferences: (dirs.as_ref()).map(|dirs| dirs.config_dir().join("settings.yaml")),
            unsaved: dirs.map(|dirs| dirs.data_dir().join("unsaved")),
        }
    }
}

/// What the thread is told.
enum Told {
    Keep(Arc<JobFile>, Place),
    Forget,
    /// A job taken up, whose old place is given up once it is kept here.
    TakenUp(Claim),
    Remember(Box<Preferences>),
}

/// Keeps the document on the disk while it is not saved.
pub struct Keeping {
    tell: Option<Sender<Told>>,
    thread: Option<JoinHandle<()>>,
    trouble: Receiver<String>,
    /// The job last told of, and whether it was unsaved.
    last: Option<(Arc<JobFile>, bool)>,
    finished: bool,
}

impl Keeping {
    /// Begins to keep.
    ///
    /// * `wake`: called when there is trouble to tell of
    pub fn begin(homes: &Homes, wake: impl Fn() + Send + 'static) -> Keeping {
        let (tell, told) = channel();
        let (say, trouble) = channel();
        let mut writer = Writer {
            folder: homes.unsaved.clone().map(KeptFolder::at),
            preferences: homes.preferences.clone(),
            claim: None,
            is_kept: false,
            taken_up: Vec::new(),
            last_trouble: String::new(),
            say: Box::new(move |trouble| {
                // Nobody listens any more when the window has been closed.
                let _ = say.send(trouble);
                wake();
            }),
        };
        let thread = std::thread::Builder::new().name("keeping".to_owned());
        let thread = thread.spawn(move || writer.work(&told)).ok();
        Keeping {
            tell: thread.is_some().then_some(tell),
            thread,
            trouble,
            last: None,
            finished: false,
        }
    }

    /// Hands over the document if it has changed since it was last handed over.
    pub fn attend(&mut self, document: &Document) {
        let changed = document.is_changed();
        let known = (self.last.as_ref())
            .is_some_and(|(job, was)| Arc::ptr_eq(job, document.job()) && *was == changed);
        if known || self.finished {
            return;
        }
        // A job just opened has nothing to forget.
        let first = self.last.is_none();
        self.last = Some((document.job().clone(), changed));
        if changed {
            self.tell(Told::Keep(document.job().clone(), document.place().clone()));
        } else if !first {
            self.tell(Told::Forget);
        }
    }

    /// Gives up the old place of a job taken up, once the job is kept here.
    pub fn taken_up(&mut self, claim: Claim) {
        self.tell(Told::TakenUp(claim));
    }

    /// Hands over how one likes the window.
    pub fn remember(&mut self, preferences: Preferences) {
        self.tell(Told::Remember(Box::new(preferences)));
    }

    /// The window closes and nothing more is to be kept.
    pub fn finish(&mut self) {
        self.tell(Told::Forget);
        self.finished = true;
    }

    /// Why something could not be written, once.
    pub fn trouble(&mut self) -> Option<String> {
        self.trouble.try_recv().ok()
    }

    fn tell(&self, told: Told) {
        if let Some(tell) = &self.tell {
            // The thread ends only when this side does.
            let _ = tell.send(told);
        }
    }
}

impl Drop for Keeping {
    /// What has been handed over is written before the window is gone.
    fn drop(&mut self) {
        self.tell = None;
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

/// What the thread has.
struct Writer {
    folder: Option<KeptFolder>,
    preferences: Option<PathBuf>,
    claim: Option<Claim>,
    /// Whether the job handed over last is kept.
    is_kept: bool,
    taken_up: Vec<Claim>,
    last_trouble: String,
    say: Box<dyn Fn(String) + Send>,
}

/// What waits to be written.
#[derive(Default)]
struct Waiting {
    job: Option<Option<(Arc<JobFile>, Place)>>,
    preferences: Option<Box<Preferences>>,
}

impl Waiting {
    fn is_empty(&self) -> bool {
        self.job.is_none() && self.preferences.is_none()
    }
}

impl Writer {
    fn work(&mut self, told: &Receiver<Told>) {
        let mut waiting = Waiting::default();
        let mut rested = Instant::now();
        loop {
            let received = if waiting.is_empty() {
                told.recv().map_err(|_| RecvTimeoutError::Disconnected)
            } else {
                told.recv_timeout(rested.saturating_duration_since(Instant::now()))
            };
            let ends = matches!(received, Err(RecvTimeoutError::Disconnected));
            match received {
                Ok(Told::Keep(job, place)) => waiting.job = Some(Some((job, place))),
                Ok(Told::Forget) => waiting.job = Some(None),
                Ok(Told::TakenUp(claim)) => {
                    self.taken_up.push(claim);
                    if self.is_kept && waiting.job.is_none() {
                        self.give_up();
                    }
                }
                Ok(Told::Remember(liked)) => waiting.preferences = Some(liked),
                Err(_) => {}
            }
            if !waiting.is_empty() && (ends || Instant::now() >= rested) {
                self.write(std::mem::take(&mut waiting));
                rested = Instant::now() + PACE;
            }
            if ends {
                return;
            }
        }
    }

    fn write(&mut self, waiting: Waiting) {
        match waiting.job {
            Some(Some((job, place))) => {
                let kept = self.keep(&job, &place);
                self.is_kept = kept.is_ok();
                match kept {
                    Ok(()) => self.give_up(),
                    Err(trouble) => self.complain(format!(
                        "The unsaved job is not being kept on the disk: {trouble}. Save it yourself, and often."
                    )),
                }
            }
            Some(None) => {
                self.is_kept = false;
                self.taken_up.extend(self.claim.take());
                self.give_up();
            }
            None => {}
        }
        if let (Some(liked), Some(file)) = (waiting.preferences, &self.preferences)
            && let Err(error) = preferences::write(file, &liked)
        {
            self.complain(format!(
                "The settings could not be written to {}: {error}. They hold until the window closes.",
                file.display()
            ));
        }
    }

    /// Gives up places whose jobs are kept elsewhere, saved or not wanted any more.
    fn give_up(&mut self) {
        for old in std::mem::take(&mut self.taken_up) {
            if let Err(error) = old.forget() {
                self.complain(format!(
                    "A copy of the unsaved job stays on the disk and will be offered again: {error}."
                ));
            }
        }
    }

    fn keep(&mut self, job: &JobFile, place: &Place) -> Result<(), String> {
        let Some(folder) = &self.folder else {
            return Ok(());
        };
        if self.claim.is_none() {
            self.claim = Some(folder.claim().map_err(|error| error.to_string())?);
        }
        if let Some(claim) = &self.claim {
            let from = serde_json::to_string(place).unwrap_or_default();
            claim
                .keep(&from, job)
                .map_err(|problem| problem.to_string())?;
            self.last_trouble.clear();
        }
        Ok(())
    }

    /// Tells of trouble, once until it is over.
    fn complain(&mut self, trouble: String) {
        if self.last_trouble != trouble {
            self.last_trouble.clone_from(&trouble);
            (self.say)(trouble);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::edit::Edit;

    fn document() -> Document {
        Document::new(
            profiles::empty_job(&profiles::Library::embedded()),
            Place::Nowhere,
        )
    }

    fn homes(folder: &std::path::Path) -> Homes {
        Homes {
            preferences: None,
            unsaved: Some(folder.join("unsaved")),
        }
    }

    #[test]
    fn the_newest_of_many_edits_is_kept_and_a_saved_job_is_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let homes = homes(folder.path());
        let look = KeptFolder::at(folder.path().join("unsaved"));
        let mut document = document();
        let mut keeping = Keeping::begin(&homes, || {});
        keeping.attend(&document);
        for i in 0..50 {
            document.apply(Edit::Name(format!("name {i}")), None);
            keeping.attend(&document);
        }
        drop(keeping);
        let left = look.left_behind();
        assert_eq!(left.jobs[0].job, **document.job());
        assert_eq!(left.jobs[0].from, "\"nowhere\"");
        drop(left);

        let mut again = Keeping::begin(&homes, || {});
        again.attend(&document);
        let left = look.left_behind().jobs.pop().expect("one");
        again.taken_up(left.claim);
        drop(again);
        assert_eq!(look.left_behind().jobs.len(), 1, "kept once, in one place");

        let mut last = Keeping::begin(&homes, || {});
        last.attend(&document);
        last.taken_up(look.left_behind().jobs.pop().expect("one").claim);
        document.go_to(0);
        last.attend(&document);
        drop(last);
        assert!(look.left_behind().jobs.is_empty(), "nothing is unsaved");
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_told_of() {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("unsaved"), "a file").expect("written");
        let mut keeping = Keeping::begin(&homes(folder.path()), || {});
        let mut document = document();
        document.apply(Edit::Name("a name".to_owned()), None);
        keeping.attend(&document);
        let trouble = keeping.trouble.recv_timeout(Duration::from_secs(20));
        let trouble = trouble.expect("it is told");
        assert!(trouble.contains("not being kept"), "{trouble}");
    }
}
