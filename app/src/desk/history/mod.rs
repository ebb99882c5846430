//! The steps that led to the job as it stands, and those taken back.

pub mod patch;
pub mod words;

use std::cell::OnceCell;

use profiles::schema::JobFile;

use patch::{Patch, Way};

/// One step: what it changed, and what that is in words.
#[derive(Clone, Debug)]
pub struct Step {
    patch: Patch,
    words: OnceCell<String>,
}

impl Step {
    /// The step from one job to another; nothing when they are the same.
    pub fn between(before: &JobFile, after: &JobFile) -> Option<Step> {
        let patch = Patch::between(before, after);
        (!patch.is_empty()).then(|| Step {
            patch,
            words: OnceCell::new(),
        })
    }

    /// The same step under a name of its own.
    #[must_use]
    pub fn called(self, words: &str) -> Step {
        Step {
            patch: self.patch,
            words: OnceCell::from(words.to_owned()),
        }
    }

    /// What it did.
    pub fn words(&self) -> &str {
        self.words.get_or_init(|| words::of(&self.patch))
    }

    /// The job on the other side of it.
    pub fn put(&self, job: &JobFile, way: Way) -> JobFile {
        let mut job = job.clone();
        self.patch.put(&mut job, way);
        job
    }
}
