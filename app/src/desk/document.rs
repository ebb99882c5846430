//! The job being worked on: an immutable snapshot, the ones before it and after it.

use std::path::PathBuf;
use std::sync::Arc;

use profiles::schema::JobFile;

use super::edit::Edit;
use super::history::Step;
use super::history::patch::Way;

/// Where a job came from, and where saving puts it.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
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

/// A gesture that goes on, and the job before it.
#[derive(Clone, Debug)]
struct Going {
    gesture: Gesture,
    before: Arc<JobFile>,
}

/// The job being worked on, with its history. There is no end to the steps
/// that can be taken back: each is kept as what it changed.
#[derive(Clone, Debug)]
pub struct Document {
    now: Arc<JobFile>,
    past: Vec<Step>,
    future: Vec<Step>,
    /// What lies in its place; `None` when nothing does any more.
    saved: Option<Arc<JobFile>>,
    going: Option<Going>,
    revision: u64,
    place: Place,
}

impl Document {
    /// A job as it is in its place.
    pub fn new(job: JobFile, place: Place) -> Document {
        let now = Arc::new(job);
        Document {
            saved: Some(now.clone()),
            now,
            past: Vec::new(),
            future: Vec::new(),
            going: None,
            revision: 0,
            place,
        }
    }

    /// A job that is not what lies in its place.
    ///
    /// * `saved`: what does lie there, where that is known
    pub fn unsaved(job: JobFile, place: Place, saved: Option<JobFile>) -> Document {
        Document {
            saved: saved.map(Arc::new),
            ..Document::new(job, place)
        }
    }

    /// The job as it stands.
    pub fn job(&self) -> &Arc<JobFile> {
        &self.now
    }

    /// What lies in its place, as far as this window knows.
    pub fn saved(&self) -> Option<&Arc<JobFile>> {
        self.saved.as_ref()
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
        (self.saved.as_ref())
            .is_none_or(|saved| !Arc::ptr_eq(&self.now, saved) && self.now != *saved)
    }

    /// Applies one edit. Edits of the same gesture count as one step.
    pub fn apply(&mut self, edit: Edit, gesture: Option<Gesture>) {
        let mut next = JobFile::clone(&self.now);
        edit.apply(&mut next);
        let goes_on = gesture.is_some() && gesture == self.gesture();
        if next == *self.now {
            return;
        }
        let before = match &self.going {
            Some(going) if goes_on => going.before.clone(),
            _ => self.now.clone(),
        };
        if goes_on {
            self.past.pop();
        }
        match Step::between(&before, &next) {
            Some(step) => self.take(step, &before),
            // The gesture has led back to where it began.
            None => self.now = before.clone(),
        }
        self.going = gesture.map(|gesture| Going { gesture, before });
        self.future.clear();
        self.revision += 1;
    }

    /// Puts a whole other job in the place of this one, as one step.
    ///
    /// * `words`: what the step is called
    pub fn replace(&mut self, job: JobFile, words: &str) {
        if let Some(step) = Step::between(&self.now, &job) {
            let before = self.now.clone();
            self.take(step.called(words), &before);
            self.future.clear();
            self.moved();
        }
    }

    /// The job after a step is what the step says, to the last bit.
    fn take(&mut self, step: Step, before: &JobFile) {
        self.now = Arc::new(step.put(before, Way::On));
        self.past.push(step);
    }

    fn gesture(&self) -> Option<Gesture> {
        // A gesture that led back to where it began has left no step behind.
        let going = self.going.as_ref()?;
        let left_a_step = !Arc::ptr_eq(&going.before, &self.now);
        left_a_step.then_some(going.gesture)
    }

    /// Whether a gesture is under way: the next edit may be part of it.
    pub fn is_going(&self) -> bool {
        self.going.is_some()
    }

    /// Ends a gesture: what follows is a step of its own.
    pub fn settle(&mut self) {
        self.going = None;
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
        if let Some(step) = self.past.pop() {
            self.now = Arc::new(step.put(&self.now, Way::Back));
            self.future.push(step);
            self.moved();
        }
    }

    /// Takes again the step last taken back.
    pub fn redo(&mut self) {
        if let Some(step) = self.future.pop() {
            self.now = Arc::new(step.put(&self.now, Way::On));
            self.past.push(step);
            self.moved();
        }
    }

    /// How many steps led to the job as it stands.
    pub fn done(&self) -> usize {
        self.past.len()
    }

    /// Every step from the first, those taken back at the end.
    pub fn steps(&self) -> impl ExactSizeIterator<Item = &Step> {
        let count = self.past.len() + self.future.len();
        (0..count).map(move |at| match self.past.get(at) {
            Some(step) => step,
            None => &self.future[count - 1 - at],
        })
    }

    /// Goes to where so many steps are done, back or on.
    pub fn go_to(&mut self, done: usize) {
        while self.past.len() > done && self.can_undo() {
            self.undo();
        }
        while self.past.len() < done && self.can_redo() {
            self.redo();
        }
    }

    fn moved(&mut self) {
        self.going = None;
        self.revision += 1;
    }

    /// Notes that this snapshot now lies in that file.
    pub fn saved_as(&mut self, job: Arc<JobFile>, path: PathBuf) {
        self.saved = Some(job);
        self.place = Place::File(path);
    }

    /// Notes what lies in the file by now, through another program's hand;
    /// `None` when there is no file any more.
    pub fn lies_there(&mut self, job: Option<Arc<JobFile>>) {
        self.saved = job;
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
    fn a_gesture_that_leads_back_is_no_step() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        document.apply(named("before"), None);
        for text in ["B", "Be", "before", "Bea"] {
            document.apply(named(text), Some(Gesture(7)));
        }
        assert_eq!(document.done(), 2);
        document.apply(named("before"), Some(Gesture(7)));
        assert_eq!(
            (document.done(), document.job().name.as_str()),
            (1, "before")
        );
        document.undo();
        assert_eq!(**document.job(), sample_job());
    }

    #[test]
    fn one_goes_to_any_step_and_back() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        for i in 0..300 {
            document.apply(named(&format!("name {i}")), None);
        }
        document.go_to(10);
        assert_eq!(
            (document.job().name.as_str(), document.done()),
            ("name 9", 10)
        );
        let words: Vec<&str> = document.steps().map(Step::words).collect();
        assert_eq!(words.len(), 300);
        assert_eq!(words[0], "Job: name sample -> name 0");
        assert_eq!(words[299], "Job: name name 298 -> name 299");
        document.go_to(300);
        assert_eq!(document.job().name, "name 299");
        document.go_to(0);
        assert_eq!(**document.job(), sample_job());
    }

    #[test]
    fn another_job_in_its_place_is_one_step_with_a_name() {
        let mut document = Document::new(sample_job(), Place::Nowhere);
        document.apply(named("mine"), None);
        let theirs = JobFile {
            name: "theirs".to_owned(),
            ..sample_job()
        };
        document.replace(theirs.clone(), "Read again");
        document.lies_there(Some(Arc::new(theirs)));
        assert!(!document.is_changed());
        assert_eq!(document.steps().last().map(Step::words), Some("Read again"));
        document.undo();
        assert_eq!(document.job().name, "mine");
        assert!(document.is_changed());
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
