//! A small job that is whole, and everything that can be wrong with it.

mod cavity_faults;
mod looms;
mod numbers;
mod part_faults;
mod trims;

use crate::inline::{Fault, Inlined, inline};
use crate::library::Library;
use crate::problem::Severity;
use crate::read::read_job;

const SMALL: &str = include_str!("small.yaml");

/// Inlines the small job with some of its text replaced.
fn inlined(changes: &[(&str, &str)]) -> Result<Inlined, Vec<Fault>> {
    let mut text = SMALL.to_owned();
    for (from, to) in changes {
        assert_eq!(text.matches(from).count(), 1, "{from:?} stands there once");
        text = text.replace(from, to);
    }
    let read = read_job(&text, "small.yaml").unwrap_or_else(|problems| panic!("{problems:#?}"));
    inline(&read.file, &Library::embedded())
}

/// The small job with some of its text replaced, in numbers.
fn numbers(changes: &[(&str, &str)]) -> Inlined {
    inlined(changes).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// Faults as sentences.
fn said(faults: &[Fault]) -> Vec<String> {
    faults
        .iter()
        .map(|fault| {
            format!(
                "{}: found {}; allowed: {}",
                fault.field, fault.found, fault.allowed
            )
        })
        .collect()
}

/// Replaces one text of the small job and expects exactly these faults.
#[track_caller]
fn check(from: &str, to: &str, expected: &[&str]) {
    let faults = inlined(&[(from, to)]).expect_err("this must be refused");
    assert!(faults.iter().all(|fault| fault.severity == Severity::Error));
    assert_eq!(said(&faults), expected);
}
