//! What is wrong with a file, so that the person who wrote it can put it right.

use std::fmt;

/// One thing wrong with a file or a document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Whether the job can be answered in spite of it.
    pub severity: Severity,
    /// The file, or the name of the embedded job; empty for a document not yet saved.
    pub file: String,
    /// Line, counted from 1; 0 where there is none.
    pub line: usize,
    /// Where in the document, as `cavity.obstacles[2].box.depth`; empty = the whole file.
    pub field: String,
    /// What was found.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
}

/// Whether a job can be answered in spite of a problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// It cannot.
    Error,
    /// It can; the answer says so.
    Warning,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        if !self.file.is_empty() {
            write!(f, "{}", self.file)?;
            if self.line > 0 {
                write!(f, ":{}", self.line)?;
            }
            f.write_str(": ")?;
        }
        if self.severity == Severity::Warning {
            f.write_str("warning: ")?;
        }
        if !self.field.is_empty() {
            write!(f, "{}: ", self.field)?;
        }
        write!(f, "found {}; allowed: {}", self.found, self.allowed)
    }
}

/// A text as it stands in a file, in quotes, cut to what fits on a line.
pub(crate) fn quoted(text: &str) -> String {
    const MOST: usize = 40;
    if text.is_empty() {
        return "nothing".to_owned();
    }
    let mut shown = String::from("\"");
    for (at, c) in text.chars().enumerate() {
        if at == MOST {
            shown.push('…');
            break;
        }
        match c {
            '\n' => shown.push_str("\\n"),
            c if c.is_control() => shown.push('\u{fffd}'),
            c => shown.push(c),
        }
    }
    shown.push('"');
    shown
}
