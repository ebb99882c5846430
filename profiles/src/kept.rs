//! Jobs kept while they are not saved, so that a crash or a power cut costs
//! seconds and not a morning.
//!
//! A folder holds one place for each window that runs: a lock, held as long as
//! the window lives, and the job it keeps. The system lets go of a lock when
//! its process ends, however it ends; a kept job whose lock is free was left
//! behind. A kept job is a whole job file, with two lines of comment above it,
//! and could be opened by hand.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::problem::Problem;
use crate::read::{read_file, read_job};
use crate::save::{checked_text, unsaved, write_whole};
use crate::schema::JobFile;

/// First line of a kept job.
const TITLE: &str = "# Kept by Seatwell until this job is saved.";
/// What the second line begins with.
const FROM: &str = "# from: ";
/// Endings of the two files of a place.
const JOB: &str = "yaml";
const LOCK: &str = "lock";
/// Held by whoever claims or looks.
const GATE: &str = "gate";

/// A folder of kept jobs.
#[derive(Clone, Debug)]
pub struct KeptFolder {
    folder: PathBuf,
}

/// A place in the folder, held by this process.
#[derive(Debug)]
pub struct Claim {
    folder: PathBuf,
    name: String,
    /// Locked while it is open.
    _lock: File,
}

/// A job that some window left behind.
#[derive(Debug)]
pub struct Left {
    /// Its place, now held by this process.
    pub claim: Claim,
    /// Where it belongs, as told when it was kept.
    pub from: String,
    /// The job.
    pub job: JobFile,
    /// When it was kept.
    pub at: SystemTime,
}

/// What a look into the folder finds.
#[derive(Debug, Default)]
pub struct LeftBehind {
    /// Jobs, the newest first.
    pub jobs: Vec<Left>,
    /// What is wrong with files that cannot be read; each was put aside under
    /// another name, so that it is told of once and never lost.
    pub problems: Vec<Problem>,
}

impl KeptFolder {
    /// The folder at a path, made when it is first written to.
    pub fn at(folder: PathBuf) -> KeptFolder {
        KeptFolder { folder }
    }

    /// Takes a place of its own.
    ///
    /// # Errors
    /// When the folder cannot be made or nothing in it can be locked.
    pub fn claim(&self) -> io::Result<Claim> {
        fs::create_dir_all(&self.folder)?;
        let _alone = self.alone()?;
        let process = std::process::id();
        for number in 0.. {
            let name = format!("{process}-{number}");
            if !self.path(&name, JOB).exists()
                && let Some(claim) = self.take(&name)?
            {
                return Ok(claim);
            }
        }
        Err(io::Error::other("every name is taken"))
    }

    /// Jobs whose windows are gone. Each is held by this process from now on,
    /// so that no other window offers it too.
    pub fn left_behind(&self) -> LeftBehind {
        let mut found = LeftBehind::default();
        let Ok(_alone) = self.alone() else {
            return found; // no folder, so nothing was left in it
        };
        for path in self.files() {
            let (Some(name), Some(ending)) = (text_of(path.file_stem()), text_of(path.extension()))
            else {
                continue;
            };
            if name.starts_with('.') || (ending == LOCK && !self.path(&name, JOB).exists()) {
                self.sweep(&path);
            } else if ending == JOB
                && let Ok(Some(claim)) = self.take(&name)
            {
                match claim.read() {
                    Ok(left) => found.jobs.push(left),
                    Err(problem) => found.problems.push(put_aside(&path, problem)),
                }
            }
        }
        found.jobs.sort_by(|a, b| {
            b.at.cmp(&a.at)
                .then_with(|| a.claim.name.cmp(&b.claim.name))
        });
        found
    }

    /// Everything in the folder, by name.
    fn files(&self) -> Vec<PathBuf> {
        let mut files: Vec<PathBuf> = fs::read_dir(&self.folder)
            .into_iter()
            .flatten()
            .filter_map(|entry| Some(entry.ok()?.path()))
            .collect();
        files.sort();
        files
    }

    /// Takes away what a write that was cut off, or an empty place, left over, if
    /// its window is gone.
    fn sweep(&self, path: &Path) {
        let name = text_of(path.file_name()).unwrap_or_default();
        let of = name
            .trim_start_matches('.')
            .split('.')
            .next()
            .unwrap_or_default();
        if !of.is_empty() && matches!(self.take(of), Ok(Some(_))) {
            // What stays in spite of that does no harm.
            let _ = fs::remove_file(path);
            if !self.path(of, JOB).exists() {
                let _ = fs::remove_file(self.path(of, LOCK));
            }
        }
    }

    /// Nobody else claims or looks while this is held.
    fn alone(&self) -> io::Result<File> {
        let gate = open_lock(&self.folder.join(GATE))?;
        gate.lock()?;
        Ok(gate)
    }

    fn path(&self, name: &str, ending: &str) -> PathBuf {
        self.folder.join(format!("{name}.{ending}"))
    }

    /// The place of that name, unless another holds it.
    fn take(&self, name: &str) -> io::Result<Option<Claim>> {
        let lock = open_lock(&self.path(name, LOCK))?;
        match lock.try_lock() {
            Ok(()) => Ok(Some(Claim {
                folder: self.folder.clone(),
                name: name.to_owned(),
                _lock: lock,
            })),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(error)) => Err(error),
        }
    }
}

impl Claim {
    /// Keeps a job here, in the place of the one kept before: the whole of it or nothing.
    ///
    /// * `from`: where it belongs; one line, given back as it is
    ///
    /// # Errors
    /// One problem: nothing was written, and why; what was kept before still is.
    pub fn keep(&self, from: &str, job: &JobFile) -> Result<(), Problem> {
        let path = self.path(JOB);
        let file = path.display().to_string();
        let text = checked_text(job, &file)?;
        let from = from.replace(['\n', '\r'], " ");
        let text = format!("{TITLE}\n{FROM}{from}\n{text}");
        write_whole(&path, text.as_bytes()).map_err(|error| {
            let found = format!("a place that cannot be written to ({error})");
            unsaved(
                file,
                &found,
                "a folder that may be written, with room on its disk",
            )
        })
    }

    /// Keeps nothing here any more.
    ///
    /// # Errors
    /// When the kept job cannot be taken away.
    pub fn forget(&self) -> io::Result<()> {
        match fs::remove_file(self.path(JOB)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }

    fn read(self) -> Result<Left, Problem> {
        let path = self.path(JOB);
        let name = path.display().to_string();
        let text = read_file(&path)?;
        let from = text.lines().find_map(|line| line.strip_prefix(FROM));
        let from = from.unwrap_or_default().to_owned();
        let at = fs::metadata(&path).and_then(|about| about.modified());
        match read_job(&text, &name) {
            Ok(read) => Ok(Left {
                claim: self,
                from,
                job: read.file,
                at: at.unwrap_or(SystemTime::UNIX_EPOCH),
            }),
            Err(mut problems) => Err(problems.swap_remove(0)),
        }
    }

    fn path(&self, ending: &str) -> PathBuf {
        self.folder.join(format!("{}.{ending}", self.name))
    }
}

impl Drop for Claim {
    /// A place with nothing in it is given up.
    fn drop(&mut self) {
        // While somebody looks the lock stays; the next look takes it away.
        let Ok(gate) = open_lock(&self.folder.join(GATE)) else {
            return;
        };
        if gate.try_lock().is_ok() && !self.path(JOB).exists() {
            let _ = fs::remove_file(self.path(LOCK));
        }
    }
}

fn open_lock(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    options.open(path)
}

/// Gives an unreadable file another name; the problem then names that.
fn put_aside(path: &Path, problem: Problem) -> Problem {
    let aside = path.with_extension("unreadable");
    match fs::rename(path, &aside) {
        Ok(()) => Problem {
            file: aside.display().to_string(),
            ..problem
        },
        Err(_) => problem,
    }
}

fn text_of(name: Option<&std::ffi::OsStr>) -> Option<String> {
    Some(name?.to_str()?.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::empty_job;

    fn job(name: &str) -> JobFile {
        JobFile {
            name: name.to_owned(),
            ..empty_job(&crate::Library::embedded())
        }
    }

    fn names(left: &LeftBehind) -> Vec<&str> {
        left.jobs
            .iter()
            .map(|left| left.job.name.as_str())
            .collect()
    }

    #[test]
    fn a_kept_job_is_left_behind_by_a_window_that_ends_and_by_no_other() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = KeptFolder::at(place.path().join("unsaved"));
        assert!(folder.left_behind().jobs.is_empty(), "no folder, no jobs");
        let (first, second) = (folder.claim().unwrap(), folder.claim().unwrap());
        first.keep("{\"file\":\"a\"}", &job("one")).unwrap();
        second.keep("nowhere", &job("two")).unwrap();
        assert!(folder.left_behind().jobs.is_empty(), "both windows live");
        drop(first);
        let left = folder.left_behind();
        assert_eq!(names(&left), ["one"]);
        assert_eq!(left.jobs[0].from, "{\"file\":\"a\"}");
        assert!(folder.left_behind().jobs.is_empty(), "held by who found it");
        drop(left);
        let left = folder.left_behind();
        assert_eq!(names(&left), ["one"], "not answered, so offered again");
        left.jobs[0].claim.forget().unwrap();
        drop(left);
        drop(second);
        assert_eq!(names(&folder.left_behind()), ["two"]);
    }

    #[test]
    fn an_empty_place_leaves_nothing() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = KeptFolder::at(place.path().to_owned());
        let claim = folder.claim().unwrap();
        claim.keep("", &job("one")).unwrap();
        claim.forget().unwrap();
        claim.forget().unwrap();
        drop(claim);
        let names: Vec<PathBuf> = folder.files();
        assert_eq!(names, [place.path().join("gate")]);
    }

    #[test]
    fn what_cannot_be_read_is_put_aside_and_told_once() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = KeptFolder::at(place.path().to_owned());
        fs::write(place.path().join("9-0.yaml"), "format: 1\nname: [\n").unwrap();
        fs::write(place.path().join(".9-0.yaml.aBcDeF"), "format").unwrap();
        fs::write(place.path().join("8-0.lock"), "").unwrap();
        let left = folder.left_behind();
        assert!(left.jobs.is_empty());
        assert!(left.problems[0].file.ends_with("9-0.unreadable"));
        assert!(place.path().join("9-0.unreadable").is_file());
        drop(left);
        for gone in [".9-0.yaml.aBcDeF", "8-0.lock"] {
            assert!(!place.path().join(gone).exists(), "{gone}");
        }
        assert!(folder.left_behind().problems.is_empty());
    }

    #[test]
    fn a_kept_job_can_be_opened_by_hand() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = KeptFolder::at(place.path().to_owned());
        let claim = folder.claim().unwrap();
        claim.keep("two\nlines", &job("one")).unwrap();
        let text = read_file(&claim.path(JOB)).unwrap();
        assert_eq!(read_job(&text, "kept").unwrap().file, job("one"));
        assert!(text.contains("# from: two lines\n"));
    }
}
