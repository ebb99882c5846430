//! A window's work without the window, for `tests/killed.rs` to kill: takes up
//! what was left behind, then edits, keeps and saves until it is ended.
//!
//!     edit_until_killed FOLDER SEED
//!
//! Every edit is told on standard output once it is done: `edit NUMBER`. The
//! number stands in the job's name, so that any job found later says how far
//! it got.

use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use acceptance::chance::Chance;
use acceptance::random_edits::random_edit;
use profiles::KeptFolder;
use profiles::schema::JobFile;
use seatwell::desk::document::{Document, Place};
use seatwell::desk::edit::Edit;
use seatwell::desk::keeping::{Homes, Keeping};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().ok_or("a folder is missing")?;
    let seed: u64 = arguments.next().ok_or("a seed is missing")?.parse()?;
    let folder = Path::new(&folder);
    let file = folder.join("job.yaml");
    let homes = Homes {
        preferences: None,
        unsaved: Some(folder.join("unsaved")),
    };

    let mut document = match profiles::read_file(&file) {
        Ok(text) => {
            let read = profiles::read_job(&text, "job.yaml").map_err(|them| format!("{them:?}"))?;
            Document::new(read.file, Place::File(file.clone()))
        }
        Err(_) => {
            let first = JobFile {
                name: "edit 0".to_owned(),
                ..start()
            };
            Document::unsaved(first, Place::File(file.clone()), None)
        }
    };
    let mut keeping = Keeping::begin(&homes, || {});
    let left = KeptFolder::at(folder.join("unsaved")).left_behind();
    for problem in &left.problems {
        println!("broken {problem}");
    }
    for left in left.jobs {
        if number(&left.job) > number(document.job()) {
            let saved = JobFile::clone(document.job());
            document = Document::unsaved(left.job, Place::File(file.clone()), Some(saved));
        }
        keeping.attend(&document);
        keeping.taken_up(left.claim);
    }

    let mut chance = Chance::new(seed, 0);
    let mut at = number(document.job());
    let mut out = std::io::stdout();
    loop {
        at += 1;
        let (edit, gesture) = random_edit(document.job(), &mut chance);
        document.apply(edit, gesture);
        document.apply(Edit::Name(format!("edit {at}")), None);
        keeping.attend(&document);
        writeln!(out, "edit {at}")?;
        out.flush()?;
        if chance.below(40) == 0 {
            let job: Arc<JobFile> = document.job().clone();
            profiles::save_job(&file, &job).map_err(|problem| problem.to_string())?;
            document.saved_as(job, file.clone());
            keeping.attend(&document);
        }
        // At times hurried, at times slow.
        let pause = if chance.below(30) == 0 { 400 } else { 25 };
        std::thread::sleep(Duration::from_millis(chance.below(pause) as u64));
    }
}

fn start() -> JobFile {
    let library = profiles::Library::embedded();
    profiles::open_job(profiles::DEMO, &library)
        .map(|opened| opened.file)
        .unwrap_or_else(|_| profiles::empty_job(&profiles::Library::embedded()))
}

/// How far a job has got.
fn number(job: &JobFile) -> u64 {
    (job.name.strip_prefix("edit ")).map_or(0, |number| number.parse().unwrap_or(0))
}
