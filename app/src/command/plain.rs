//! `seatwell plain`.

use profiles::Library;

use super::{Outcome, print, print_json, refuse};
use crate::answer::PlainJob;

/// Prints a job as plain solids.
pub fn run(job: &str, json: bool, library: &Library) -> Outcome {
    let opened = match profiles::open_job(job, library) {
        Ok(opened) => opened,
        Err(problems) => return refuse(&problems),
    };
    let plain = PlainJob::of(&opened.job);
    if json {
        return print_json(&plain);
    }
    match serde_yaml::to_string(&plain) {
        Ok(text) => print(&text),
        Err(error) => {
            eprintln!("seatwell: could not write the job: {error}");
            Outcome::Internal
        }
    }
}
