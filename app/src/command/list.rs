//! `seatwell parts`.

use std::fmt::Write;

use profiles::Library;
use profiles::schema::{HowKnown, Provenance};
use serde::Serialize;

use super::{Outcome, print, print_json};

/// One part, as other programs read it.
#[derive(Serialize)]
struct Part<'a> {
    kind: &'static str,
    id: &'a str,
    name: &'a str,
    known: &'a Provenance,
}

/// Prints the parts of the library.
pub fn run(json: bool, library: &Library) -> Outcome {
    let parts = library.parts();
    if json {
        let parts: Vec<Part> = parts
            .iter()
            .map(|part| Part {
                kind: part.kind.word(),
                id: part.id,
                name: part.name,
                known: part.known,
            })
            .collect();
        return print_json(&parts);
    }
    let mut text = String::new();
    let mut kind = "";
    let width = parts
        .iter()
        .map(|part| part.id.chars().count())
        .max()
        .unwrap_or(0);
    for part in &parts {
        if part.kind.word() != kind {
            kind = part.kind.word();
            // Writing to a String cannot fail.
            let _ = writeln!(text, "{}{kind}", if text.is_empty() { "" } else { "\n" });
        }
        let _ = writeln!(
            text,
            "  {:width$}  {} ({})",
            part.id,
            part.name,
            known(part.known)
        );
    }
    print(&text)
}

fn known(known: &Provenance) -> String {
    let how = match known.how {
        HowKnown::NotSaid => "not said",
        HowKnown::Read => "read in the source",
        HowKnown::Computed => "computed",
        HowKnown::FromMemory => "from memory",
        HowKnown::CommonPractice => "common practice",
        HowKnown::Measured => "measured",
        HowKnown::Invented => "invented for the demo",
    };
    if known.source.is_empty() {
        how.to_owned()
    } else {
        format!("{how}; {}", known.source)
    }
}
