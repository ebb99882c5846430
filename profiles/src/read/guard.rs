//! The gate a file passes before anyone tries to understand it.

use std::fs;
use std::io::Read;
use std::path::Path;

use crate::problem::{Problem, Severity};

/// Largest file that is read, bytes. A job with every kind of piece in it takes some 50 kB.
pub const LARGEST_FILE: u64 = 4 * 1024 * 1024;

const TEXT: &str = "a text file in UTF-8 of at most 4 MB";

/// Reads a file's text, and is the only place that reads one.
///
/// What is larger than [`LARGEST_FILE`] is refused by its size alone, unread;
/// what is not a plain file is refused too. A byte order mark is dropped.
///
/// # Errors
/// One problem: no such file, not a file, too large, binary, not UTF-8.
pub fn read_file(path: &Path) -> Result<String, Problem> {
    let name = path.display().to_string();
    let refuse = |found: String, allowed: &str| Err(whole_file(&name, 0, found, allowed));
    let mut file = match fs::metadata(path) {
        Ok(about) if about.is_dir() => return refuse("a folder".to_owned(), TEXT),
        Ok(about) if !about.is_file() => return refuse("not a plain file".to_owned(), TEXT),
        Ok(about) if about.len() > LARGEST_FILE => {
            let size = about.len().div_ceil(1024 * 1024);
            return refuse(format!("a file of {size} MB"), TEXT);
        }
        Ok(_) => match fs::File::open(path) {
            Ok(file) => file,
            Err(error) => return refuse(format!("a file that cannot be opened ({error})"), TEXT),
        },
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            return refuse("no such file".to_owned(), "the path of a file");
        }
        Err(error) => return refuse(format!("a file that cannot be opened ({error})"), TEXT),
    };
    let mut bytes = Vec::new();
    // One byte more than allowed, should the file grow meanwhile.
    if let Err(error) = (&mut file).take(LARGEST_FILE + 1).read_to_end(&mut bytes) {
        return refuse(format!("a file that cannot be read ({error})"), TEXT);
    }
    text_of(bytes, &name)
}

/// The text that bytes hold, without a byte order mark.
fn text_of(bytes: Vec<u8>, file: &str) -> Result<String, Problem> {
    let refuse = |line: usize, found: &str, allowed| Err(whole_file(file, line, found, allowed));
    if bytes.len() as u64 > LARGEST_FILE {
        return refuse(0, "a file of more than 4 MB", TEXT);
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return refuse(0, "text in UTF-16", "text saved as UTF-8");
    }
    if bytes.contains(&0) {
        return refuse(0, "a binary file", TEXT);
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(match text.strip_prefix('\u{feff}') {
            Some(rest) => rest.to_owned(),
            None => text,
        }),
        Err(error) => {
            let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
            let line = 1 + good.iter().filter(|b| **b == b'\n').count();
            refuse(line, "text that is not UTF-8", "text saved as UTF-8")
        }
    }
}

/// What no text may be, wherever it comes from.
pub(super) fn check(text: &str, file: &str) -> Result<(), Problem> {
    let refuse = |found: &str, allowed| Err(whole_file(file, 0, found, allowed));
    if text.len() as u64 > LARGEST_FILE {
        return refuse("a text of more than 4 MB", TEXT);
    }
    if text.contains('\0') {
        return refuse("a binary file", TEXT);
    }
    if text.trim().is_empty() {
        return refuse("an empty file", START);
    }
    let is_comment = |line: &str| line.trim().is_empty() || line.trim_start().starts_with('#');
    if text.lines().all(is_comment) {
        return refuse("nothing but comments", START);
    }
    Ok(())
}

const START: &str = "keys and values, the first of them format: 1";

/// A problem of a file as a whole.
fn whole_file(file: &str, line: usize, found: impl Into<String>, allowed: &str) -> Problem {
    Problem {
        severity: Severity::Error,
        file: file.to_owned(),
        line,
        field: String::new(),
        found: found.into(),
        allowed: allowed.to_owned(),
    }
}
