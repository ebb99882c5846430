//! Asking where a file is: the system's own window, asked on a thread, and a typed path.
//!
//! A system without such a window answers as if the person had changed their
//! mind, so a path can always be typed as well.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// What a path is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// To read a job.
    Open,
    /// To write the job.
    SaveAs,
}

/// Asks for a path without holding up the window.
pub trait FileDialogs {
    /// Begins to ask; the answer arrives in the receiver, `None` when nothing was chosen.
    ///
    /// * `beside`: a path to begin from
    /// * `wake`: called once the answer is there
    fn ask(
        &self,
        purpose: Purpose,
        beside: Option<&Path>,
        wake: Box<dyn FnOnce() + Send>,
    ) -> Receiver<Option<PathBuf>>;
}

/// The system's own file window.
pub struct SystemDialogs;

impl FileDialogs for SystemDialogs {
    fn ask(
        &self,
        purpose: Purpose,
        beside: Option<&Path>,
        wake: Box<dyn FnOnce() + Send>,
    ) -> Receiver<Option<PathBuf>> {
        let mut dialog = rfd::AsyncFileDialog::new().add_filter("job", &["yaml", "yml"]);
        if let Some(folder) = beside
            .and_then(Path::parent)
            .filter(|folder| folder.is_dir())
        {
            dialog = dialog.set_directory(folder);
        }
        if let Some(name) = beside.and_then(Path::file_name) {
            dialog = dialog.set_file_name(name.to_string_lossy());
        }
        let (send, receive) = channel();
        std::thread::spawn(move || {
            let chosen = pollster::block_on(async {
                match purpose {
                    Purpose::Open => dialog.pick_file().await,
                    Purpose::SaveAs => dialog.save_file().await,
                }
            });
            // Nobody listens any more when the window has been closed.
            let _ = send.send(chosen.map(|file| file.path().to_path_buf()));
            wake();
        });
        receive
    }
}

/// A path being asked for.
pub struct Asking {
    /// What for.
    pub purpose: Purpose,
    /// The path as typed so far.
    pub typed: String,
    answer: Option<Receiver<Option<PathBuf>>>,
}

impl Asking {
    /// Begins to ask, by the system's window and by the typed field.
    pub fn begin(
        dialogs: &dyn FileDialogs,
        purpose: Purpose,
        beside: Option<&Path>,
        wake: Box<dyn FnOnce() + Send>,
    ) -> Asking {
        Asking {
            purpose,
            typed: beside.map_or(String::new(), |path| path.display().to_string()),
            answer: Some(dialogs.ask(purpose, beside, wake)),
        }
    }

    /// The path chosen in the system's window, once it is.
    pub fn chosen(&mut self) -> Option<PathBuf> {
        match self.answer.as_ref()?.try_recv() {
            Ok(Some(path)) => Some(path),
            Ok(None) | Err(TryRecvError::Disconnected) => {
                self.answer = None;
                None
            }
            Err(TryRecvError::Empty) => None,
        }
    }
}

/// A path to suggest for a job that is in no file yet: its name in lower case,
/// hyphens between the words.
pub fn suggested(job: &str, folder: &Path) -> PathBuf {
    let letters = job.to_lowercase();
    let words: Vec<&str> = letters
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let name = if words.is_empty() {
        "job".to_owned()
    } else {
        words.join("-")
    };
    folder.join(name + ".yaml")
}

/// A path for a job file: with an ending when it has none.
pub fn with_ending(path: PathBuf) -> PathBuf {
    if path.extension().is_some() {
        path
    } else {
        path.with_extension("yaml")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Answers(Option<PathBuf>);

    impl FileDialogs for Answers {
        fn ask(
            &self,
            _: Purpose,
            _: Option<&Path>,
            wake: Box<dyn FnOnce() + Send>,
        ) -> Receiver<Option<PathBuf>> {
            let (send, receive) = channel();
            send.send(self.0.clone()).expect("the receiver is here");
            wake();
            receive
        }
    }

    #[test]
    fn an_answer_arrives_once() {
        let mut asking = Asking::begin(
            &Answers(Some("a.yaml".into())),
            Purpose::Open,
            None,
            Box::new(|| {}),
        );
        assert_eq!(asking.chosen(), Some("a.yaml".into()));
        assert_eq!(asking.chosen(), None);
    }

    #[test]
    fn no_answer_leaves_the_typed_path() {
        let beside = Path::new("/jobs/van.yaml");
        let mut asking = Asking::begin(
            &Answers(None),
            Purpose::SaveAs,
            Some(beside),
            Box::new(|| {}),
        );
        assert_eq!(asking.chosen(), None);
        assert_eq!(asking.typed, "/jobs/van.yaml");
    }

    #[test]
    fn a_jobs_name_makes_a_file_name() {
        for (job, file) in [
            (
                "Brackenmoor rural post van",
                "brackenmoor-rural-post-van.yaml",
            ),
            ("  Van 7/12: left (2nd)", "van-7-12-left-2nd.yaml"),
            ("Æther Öl", "æther-öl.yaml"),
            ("..", "job.yaml"),
        ] {
            assert_eq!(
                suggested(job, Path::new("/jobs")),
                Path::new("/jobs").join(file)
            );
        }
    }

    #[test]
    fn a_name_without_ending_gets_one() {
        assert_eq!(with_ending("van".into()), PathBuf::from("van.yaml"));
        assert_eq!(with_ending("van.yml".into()), PathBuf::from("van.yml"));
    }
}
