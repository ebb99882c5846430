//! Writing a job.
//!
//! Lengths and the values of `with:` are written as typed. Comments are not
//! part of a job: a file read and saved again has lost its own.

use std::io::{self, Write};
use std::path::Path;

use atomic_write_file::AtomicWriteFile;
use serde_yaml::Value;

use crate::problem::{Problem, Severity};
use crate::read::read_job;
use crate::schema::JobFile;

/// A job as text, in the order of the schema, what equals its default left out.
///
/// The same job gives the same text, byte for byte, and [`read_job`] reads it
/// back as the same job.
pub fn to_yaml(job: &JobFile) -> String {
    // Only bytes and tagged words can fail, and a job holds neither.
    const WRITABLE: &str = "groups, lists, texts and numbers can be written";
    let text = serde_yaml::to_string(job).expect(WRITABLE);
    if !text.contains(SEPARATORS) {
        return text;
    }
    // The writer breaks lines at these two; the reader, by YAML 1.2, does not.
    // They are written under other names and put back.
    let mut free = ('\u{f000}'..'\u{f8ff}').filter(|c| !text.contains(*c));
    let (Some(first), Some(second)) = (free.next(), free.next()) else {
        return text;
    };
    let pairs = [(SEPARATORS[0], first), (SEPARATORS[1], second)];
    let mut value = serde_yaml::to_value(job).expect(WRITABLE);
    rename(&mut value, &pairs);
    let mut text = serde_yaml::to_string(&value).expect(WRITABLE);
    for (separator, stand_in) in pairs {
        text = text.replace(stand_in, &separator.to_string());
    }
    text
}

/// The line and paragraph separators of Unicode.
const SEPARATORS: [char; 2] = ['\u{2028}', '\u{2029}'];

/// Replaces characters in every text and key of a value.
fn rename(value: &mut Value, pairs: &[(char, char)]) {
    match value {
        Value::String(text) => {
            for (from, to) in pairs {
                *text = text.replace(*from, &to.to_string());
            }
        }
        Value::Sequence(items) => items.iter_mut().for_each(|item| rename(item, pairs)),
        Value::Mapping(entries) => {
            *entries = std::mem::take(entries)
                .into_iter()
                .map(|(mut key, mut value)| {
                    rename(&mut key, pairs);
                    rename(&mut value, pairs);
                    (key, value)
                })
                .collect();
        }
        _ => {}
    }
}

/// Saves a job: the file holds the whole of it or stays as it was.
///
/// A link is followed and stays a link. A job that could not be read again,
/// because one of its numbers is not a number, is not written.
///
/// # Errors
/// One problem: nothing was written, and why.
pub fn save_job(path: &Path, job: &JobFile) -> Result<(), Problem> {
    let file = path.display().to_string();
    let text = checked_text(job, &file)?;
    write_whole(path, text.as_bytes()).map_err(|error| {
        let found = format!("a place that cannot be written to ({error})");
        unsaved(file, &found, "a folder and a file that may be written")
    })
}

/// A job as text that has been read back as the same job.
pub(crate) fn checked_text(job: &JobFile, file: &str) -> Result<String, Problem> {
    let text = to_yaml(job);
    match read_job(&text, file) {
        Ok(read) if read.file == *job => Ok(text),
        Ok(_) => {
            let found = "a job that would not be read back as it is";
            let allowed = "texts and numbers that can be written";
            Err(unsaved(file.to_owned(), found, allowed))
        }
        // Its line is one of a file that does not exist.
        Err(problems) => Err(match problems.into_iter().next() {
            Some(problem) => Problem { line: 0, ..problem },
            None => {
                let found = "a job that cannot be read back";
                unsaved(file.to_owned(), found, "a whole job")
            }
        }),
    }
}

/// Replaces a file by these bytes in one step: whole, and on the disk before
/// the old ones are gone, or not at all.
///
/// # Errors
/// Nothing was written, and why.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    // An existing link is followed, so that what it points to is replaced.
    let target = match path.canonicalize() {
        Ok(target) => target,
        Err(error) if error.kind() == io::ErrorKind::NotFound && !path.is_symlink() => {
            path.to_owned()
        }
        Err(error) => return Err(error),
    };
    match target.metadata() {
        Ok(about) if about.is_dir() => return Err(io::Error::other("a folder")),
        Ok(about) if !about.is_file() => return Err(io::Error::other("not a plain file")),
        // Replacing a file needs no leave of the file itself, so it is asked for here.
        Ok(about) if about.permissions().readonly() => {
            return Err(io::Error::other("write-protected"));
        }
        _ => {}
    }
    let mut file = AtomicWriteFile::open(target)?;
    file.write_all(bytes)?;
    file.commit()
}

/// A problem of a file that was not saved.
pub(crate) fn unsaved(file: String, found: &str, allowed: &str) -> Problem {
    Problem {
        severity: Severity::Error,
        file,
        line: 0,
        field: String::new(),
        found: found.to_owned(),
        allowed: allowed.to_owned(),
    }
}
