//! Files built into the program.

use include_dir::{Dir, include_dir};

use super::gather::PartsText;

static FILES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/library");

/// The embedded job that `demo` means.
pub const DEMO: &str = "post-van";

/// Every embedded job: its name and its text, in the order of the names.
pub fn embedded_jobs() -> Vec<(&'static str, &'static str)> {
    let mut jobs: Vec<_> = FILES
        .get_dir("jobs")
        .into_iter()
        .flat_map(Dir::files)
        .filter_map(|file| Some((file.path().file_stem()?.to_str()?, file.contents_utf8()?)))
        .collect();
    jobs.sort_unstable();
    jobs
}

/// The text of an embedded job by its name; `demo` is one of them.
pub fn embedded_job(name: &str) -> Option<&'static str> {
    let name = if name == "demo" { DEMO } else { name };
    embedded_jobs()
        .into_iter()
        .find_map(|(job, text)| (job == name).then_some(text))
}

/// The embedded files of parts, in the order of their names.
pub(super) fn parts_files() -> Vec<PartsText> {
    let mut files: Vec<PartsText> = FILES
        .files()
        .filter_map(|file| {
            Some(PartsText {
                file: file.path().to_str()?.to_owned(),
                text: file.contents_utf8()?.to_owned(),
            })
        })
        .collect();
    files.sort_by(|a, b| a.file.cmp(&b.file));
    files
}
