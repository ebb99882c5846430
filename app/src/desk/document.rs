//! The job being worked on: an immutable snapshot, the ones before it and after it.

use std::path::PathBuf;
use std::sync::Arc;

use profiles::schema::JobFile;

use super::edit::Edit;

/// How many steps can be taken back.
const DEPTH: usize = 200;

/// Where a job came from, and where saving puts it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// One of the jobs that come with the program: saving asks for a place.
    Embedded(String),
    /// A file.
    File(PathBuf),
    /// Nowhere yet.
    Nowhere,
}

impl Place {
    /// What it is called in a line of text.
    pub fn words(&self) -> String {
        match self {
            Place::Embedded(name) => format!("comes with the program: {name}"),
            Place::File(path) => path.display().to_string(),
            Place::Nowhere => "not in a file yet".to_owned(),
        }
    }
}

/// What one gesture is told from another by: a field being typed in, a drag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gesture(pub u64);

/// The job being worked on, with its history.
#[derive(Clone, Debug)]
pub struct Document {
    now: Arc<JobFile>,
    past: Vec<Arc<JobFile>>,
    future: Vec<Arc<JobFile>>,
    saved: Arc<JobFile>,
    gesture: Option<Gesture>,
    revision: u64,
    place: Place,
}

impl Document {
    /// A job as it is in its place.
    pub fn new(job: JobFile, place: Place) -> Document {
        let now = Arc::new(job);
        Document {
            saved: now.clone(),
            now,
            past: Vec::new(),
            future: Vec::new(),
            gesture: None,
            revision: 0,
            place,
        }
    }

    /// The job as it stands.
    pub fn job(&self) -> &Arc<JobFile> {
        &self.now
    }

    /// Rises with every change; what is computed from the job is kept by it.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Where it came from.
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// Whether it differs from what is saved.
    pub fn is_changed(&self) -> bool {
        !Arc::ptr_eq(&self.now, &self.saved) && *self.now != *self.saved
    }

    /// Applies one edit. Edits of the same gesture count as one step.
    pub fn apply(&mut self, edit: Edit, gesture: Option<Gesture>) {
        let mut next = JobFile::clone(&self.now);
        edit.apply(&mut next);
        if next == *self.now {
            return;
        }
        let goes_on = gesture.is_some() && gesture == self.gesture;
        let next = Arc::new(next);
        let before = std::mem::replace(&mut self.now, next);
        if !goes_on {
            self.past.push(before);
            if self.past.len() > DEPTH {
                self.past.remove(0);
            }
        }
        self.gesture = gesture;
        self.future.clear();
        self.revision += 1;
    }

    /// Ends a gesture: what follows is a step of its own.
    pub fn settle(&mut self) {
        self.gesture = None;
    }

    /// Whether a step can be taken back.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether a step taken back can be taken again.
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    /// Takes one step back.
    pub fn undo(&mut self) {
        if let Some(before) = self.past.pop() {
            self.future.push(std::mem::replace(&mut self.now, before));
            self.moved();
        }
    }

    /// Takes again the step last taken back.
    pub fn redo(&mut self) {
        if let Some(after) = self.future.pop() {
            self.past.push(std::mem::replace(&mut self.now, after));
            self.moved();
        }
    }

    fn moved(&mut self) {
        self.gesture = None;
        self.revision += 1;
    }

    /// Notes that this snapshot now lies in that file.
    pub fn saved_as(&mut self, job: Arc<JobFile>, path: PathBuf) {
        self.saved = job;
        self.place = Place::File(path);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::edit::sample_job;

    fn named(name: &str) -> Edit {
        Edit::Name(name.to_owned())
    }

    #[test]
    fn all_undos_give_the_first_document_back() {
        let first = sample_job();
        let mut document = Document::new(first.clone(), Place::Nowhere);
        for i in 0..40 {
            document.apply(
                named(&format!("name {i}")),
                (i % 3 == 0).then_some(Gesture(1)),
            );
        }
        let last = document.job().clone();
        let mut steps = 0;
        while document.can_undo() {
            document.undo();
            steps += 1;
        }
        assert_eq!(steps, 40);
        assert_eq!(**document.job(), first);
        assert!(!document.is_changed());
        while document.can_redo() {
            document.redo();
        }
        assert_eq!(*document.job(), last);
    }

    #[test]
    fn one_gesture_is_one_step() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        for text in ["B", "Be", "Beam"] {
            document.apply(named(text), Some(Gesture(7)));
        }
        document.settle();
        document.apply(named("Beams"), Some(Gesture(7)));
        document.undo();
        assert_eq!(document.job().name, "Beam");
        document.undo();
        assert_eq!(document.job().name, sample_job().name);
    }

    #[test]
    fn a_new_edit_forgets_what_was_taken_back() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        document.apply(named("one"), None);
        document.undo();
        document.apply(named("two"), None);
        assert!(!document.can_redo());
        assert_eq!(document.job().name, "two");
    }

    #[test]
    fn an_edit_that_changes_nothing_is_no_step() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        document.apply(named(&sample_job().name), None);
        assert!(!document.can_undo());
        assert_eq!(document.revision(), 0);
    }

    #[test]
    fn saving_remembers_which_snapshot_is_in_the_file() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        document.apply(named("new name"), None);
        let written = document.job().clone();
        document.apply(named("newer name"), None);
        document.saved_as(written, "somewhere.yaml".into());
        assert!(document.is_changed());
        document.undo();
        assert!(!document.is_changed());
    }
}
