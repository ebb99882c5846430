//! Opening a job: from the name of a file, or of an embedded job, to numbers.

use std::path::{Path, PathBuf};

use geometry::Job;

use crate::inline::{Alternative, Fault, inline};
use crate::library::{Library, embedded_job};
use crate::problem::{Problem, Severity};
use crate::read::{LineMap, read_file, read_job};
use crate::schema::JobFile;

/// A job opened: as written, and in plain numbers.
#[derive(Clone, Debug)]
pub struct Opened {
    /// Where it came from; `None` for an embedded job.
    pub path: Option<PathBuf>,
    /// The job as written.
    pub file: JobFile,
    /// Where each value stands in its file.
    pub lines: LineMap,
    /// The job in plain numbers.
    pub job: Job,
    /// Its alternatives, in the order of the file.
    pub alternatives: Vec<Alternative>,
    /// What the answer goes on in spite of.
    pub warnings: Vec<Problem>,
}

/// Opens a job.
///
/// * `which`: the name of an embedded job (`demo` is one), or the path of a file
/// * `library`: where the parts it names are looked up
///
/// # Errors
/// Everything wrong with it, each with its line; nothing is half opened.
pub fn open_job(which: &str, library: &Library) -> Result<Opened, Vec<Problem>> {
    if let Some(text) = embedded_job(which) {
        return open_text(text, which, None, library);
    }
    let path = Path::new(which);
    if !path.exists() && !which.contains(['.', '/', '\\']) {
        return Err(vec![no_such_job(which)]);
    }
    let text = read_file(path).map_err(|problem| vec![problem])?;
    open_text(&text, which, Some(path.to_owned()), library)
}

/// Opens a job from its text.
///
/// * `name`: of the file, for problems
///
/// # Errors
/// As [`open_job`].
pub fn open_text(
    text: &str,
    name: &str,
    path: Option<PathBuf>,
    library: &Library,
) -> Result<Opened, Vec<Problem>> {
    let read = read_job(text, name)?;
    let with_lines = |faults: Vec<Fault>| -> Vec<Problem> {
        let mut problems: Vec<Problem> = faults
            .into_iter()
            .map(|fault| {
                let line = read.lines.line_of(&fault.field);
                fault.in_file(name, line)
            })
            .collect();
        problems.sort_by_key(|problem| problem.line);
        problems
    };
    match inline(&read.file, library) {
        Ok(inlined) => Ok(Opened {
            path,
            warnings: with_lines(inlined.warnings),
            job: inlined.job,
            alternatives: inlined.alternatives,
            file: read.file,
            lines: read.lines,
        }),
        Err(faults) => Err(with_lines(faults)),
    }
}

fn no_such_job(which: &str) -> Problem {
    let names: Vec<&str> = crate::library::embedded_jobs()
        .into_iter()
        .map(|(name, _)| name)
        .collect();
    Problem {
        severity: Severity::Error,
        file: which.to_owned(),
        line: 0,
        field: String::new(),
        found: "no file and no embedded job of that name".to_owned(),
        allowed: format!(
            "the path of a job file, demo, or one of {}",
            names.join(", ")
        ),
    }
}
