//! Reading a file: from bytes to text, to a tree with lines, to the types of the schema.
//!
//! 1. The guard: size, encoding, emptiness.
//! 2. The tree: plain values, each with its line; no anchors, no tags, no key twice.
//! 3. The types: every value checked for its kind, and every fault reported in one pass.
//!
//! What the file says as a whole, whether the parts it names exist, whether
//! depths rise, is not asked here.

mod fault;
mod grow;
mod guard;
mod lines;
mod mend;
mod nearest;
mod question_marks;
mod scan_words;
mod tree;
mod typed;

use serde::de::DeserializeOwned;

use crate::problem::{Problem, Severity};
use crate::schema::{FORMAT, JobFile, PartsFile};

use self::tree::{Entry, Kind, Node};

pub use guard::{LARGEST_FILE, read_file};
pub use lines::LineMap;
pub(crate) use nearest::nearest;

/// Most problems reported of one file.
pub const MOST_PROBLEMS: usize = 50;

/// A job as read, and where in its file each value stands.
#[derive(Clone, Debug)]
pub struct ReadJob {
    /// The job as written.
    pub file: JobFile,
    /// Where each value stands.
    pub lines: LineMap,
}

/// A file of parts as read, and where in its file each value stands.
#[derive(Clone, Debug)]
pub struct ReadParts {
    /// The parts as written.
    pub file: PartsFile,
    /// Where each value stands.
    pub lines: LineMap,
}

/// Reads a job.
///
/// * `file_name`: named in every problem
///
/// ```
/// let problems = profiles::read_job("format: 1\nname: Van\n", "van.yaml").unwrap_err();
/// assert_eq!(
///     problems[0].to_string(),
///     "van.yaml:1: cavity: found no key \"cavity\"; allowed: a value; it cannot be left out",
/// );
/// ```
///
/// # Errors
/// Everything wrong with the text, by line, at most [`MOST_PROBLEMS`].
pub fn read_job(text: &str, file_name: &str) -> Result<ReadJob, Vec<Problem>> {
    let (file, lines) = read(text, file_name)?;
    Ok(ReadJob { file, lines })
}

/// Reads a file of parts.
///
/// * `file_name`: named in every problem
///
/// # Errors
/// Everything wrong with the text, by line, at most [`MOST_PROBLEMS`].
pub fn read_parts(text: &str, file_name: &str) -> Result<ReadParts, Vec<Problem>> {
    let (file, lines) = read(text, file_name)?;
    Ok(ReadParts { file, lines })
}

/// Reads another file of the program's own, by the same rules: a text of keys
/// and values without a number of its format.
///
/// * `file_name`: named in every problem
///
/// # Errors
/// Everything wrong with the text, by line, at most [`MOST_PROBLEMS`].
pub fn read_plain<T: DeserializeOwned>(text: &str, file_name: &str) -> Result<T, Vec<Problem>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    guard::check(text, file_name).map_err(|problem| vec![problem])?;
    let mut faults = Faults {
        file: file_name,
        problems: Vec::new(),
    };
    let root = grow::grow(text, &mut faults);
    match root.and_then(|mut root| mend::read(&mut root, &mut faults)) {
        Some(read) if faults.problems.is_empty() => Ok(read),
        _ => Err(faults.by_line()),
    }
}

/// Reads one part from a text made by this program: every fault by its field in the part.
pub(crate) fn read_part<T: DeserializeOwned>(text: &str) -> Result<T, Vec<Problem>> {
    let mut faults = Faults {
        file: "",
        problems: Vec::new(),
    };
    let part =
        grow::grow(text, &mut faults).and_then(|mut root| mend::read(&mut root, &mut faults));
    match part {
        Some(part) if faults.problems.is_empty() => Ok(part),
        _ => Err(faults.by_line()),
    }
}

/// Reads a document of either kind.
fn read<T: DeserializeOwned>(text: &str, file_name: &str) -> Result<(T, LineMap), Vec<Problem>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    guard::check(text, file_name).map_err(|problem| vec![problem])?;
    let mut faults = Faults {
        file: file_name,
        problems: Vec::new(),
    };
    let Some(mut root) = grow::grow(text, &mut faults) else {
        return Err(faults.by_line());
    };
    let lines = LineMap::of(&root);
    if let Some(newer) = check_format(&mut root, &mut faults) {
        return Err(vec![newer]);
    }
    match mend::read(&mut root, &mut faults) {
        Some(document) if faults.problems.is_empty() => Ok((document, lines)),
        _ => Err(faults.by_line()),
    }
}

/// Checks the number of the format. A file of a newer program is not looked
/// into any further: its problem alone comes back.
fn check_format(root: &mut Node, faults: &mut Faults) -> Option<Problem> {
    let top = root.line;
    let Kind::Keys(entries) = &mut root.kind else {
        return None;
    };
    let Some(entry) = entries.iter_mut().find(|entry| entry.key == "format") else {
        faults.add(
            top,
            "format",
            "no key \"format\"",
            format!("format: {FORMAT}"),
        );
        entries.push(Entry {
            key: "format".to_owned(),
            line: top,
            value: Node::mended(top),
        });
        return None;
    };
    if let Kind::Scalar { text, .. } = &entry.value.kind
        && let Ok(number) = text.parse::<u64>()
    {
        if number == u64::from(FORMAT) {
            return None;
        }
        if number > u64::from(FORMAT) {
            faults.problems.clear();
            faults.add(
                entry.line,
                "format",
                format!("format {number}"),
                format!("{FORMAT}; this file was written by a newer program"),
            );
            return faults.problems.pop();
        }
    }
    let found = entry.value.described();
    faults.add(entry.line, "format", found, format!("{FORMAT}"));
    entry.value = Node::mended(entry.line);
    None
}

/// What is wrong with one file.
struct Faults<'a> {
    file: &'a str,
    problems: Vec<Problem>,
}

impl Faults<'_> {
    /// Adds an error.
    fn add(
        &mut self,
        line: usize,
        field: impl Into<String>,
        found: impl Into<String>,
        allowed: impl Into<String>,
    ) {
        self.problems.push(Problem {
            severity: Severity::Error,
            file: self.file.to_owned(),
            line,
            field: field.into(),
            found: found.into(),
            allowed: allowed.into(),
        });
    }

    /// Whether as many were found as are reported.
    fn are_too_many(&self) -> bool {
        self.problems.len() >= MOST_PROBLEMS
    }

    /// All of them, by line; one at least.
    fn by_line(mut self) -> Vec<Problem> {
        if self.problems.is_empty() {
            self.add(0, "", "nothing that can be read", "keys and values");
        }
        self.problems.sort_by_key(|problem| problem.line);
        self.problems.truncate(MOST_PROBLEMS);
        self.problems
    }
}
