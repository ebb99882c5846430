//! Names: unique ones, missing ones, and the nearest one that exists.

use std::collections::BTreeMap;

use super::findings::{Field, Findings};
use crate::problem::quoted;
use crate::read::nearest;

/// Names that answers use for parts every job has.
const RESERVED: [&str; 8] = [
    "chassis",
    "brackets",
    "nose",
    "overhang",
    "rear support",
    "wall",
    "opening",
    "finished face",
];

/// The names given in a job so far, each with the place that gave it.
#[derive(Debug, Default)]
pub(super) struct Names {
    taken: BTreeMap<String, String>,
}

impl Names {
    /// Takes note of an id and checks the name beside it.
    ///
    /// * `at`: the item that bears the id
    pub fn give(&mut self, id: &str, name: &str, at: &Field, findings: &mut Findings) {
        self.give_id(id, at, findings);
        if name.trim().is_empty() {
            findings.error(&at.key("name"), "no name", "what the installer calls it");
        }
    }

    fn give_id(&mut self, id: &str, at: &Field, findings: &mut Findings) {
        let field = at.key("id");
        if id.trim().is_empty() {
            findings.error(&field, "no id", "a short name");
        } else if RESERVED.contains(&id) {
            findings.error(
                &field,
                quoted(id),
                "another name: answers use this one for a part every job has",
            );
        } else if let Some(first) = self.taken.get(id) {
            findings.error(
                &field,
                format!("{} again, as in {first}", quoted(id)),
                "an id used once in the job",
            );
        } else {
            self.taken.insert(id.to_owned(), at.as_str().to_owned());
        }
    }
}

/// Checks that `id` is one of `known`.
///
/// * `what`: what is looked for, as "exit"
pub(super) fn check_known<'a>(
    id: &str,
    known: impl IntoIterator<Item = &'a str>,
    what: &str,
    at: &Field,
    findings: &mut Findings,
) -> bool {
    let known: Vec<&str> = known.into_iter().collect();
    if known.contains(&id) {
        return true;
    }
    let (found, allowed) = not_among(id, &known, what);
    findings.error(at, found, allowed);
    false
}

/// What to say of a name that does not exist: all there is when that is few,
/// and the one that was probably meant.
pub(super) fn not_among(id: &str, known: &[&str], what: &str) -> (String, String) {
    const FEW: usize = 12;
    let near = nearest(id, known).map(|near| format!(", perhaps meant as {}", quoted(near)));
    let found = format!("{what} {}{}", quoted(id), near.unwrap_or_default());
    let allowed = match known {
        [] => format!("none; there is no {what} here"),
        few if few.len() <= FEW => few.join(", "),
        many => format!("one of the {} there are", many.len()),
    };
    (found, allowed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_missing_name_is_told_with_what_there_is() {
        let (found, allowed) = not_among("gd1", &["GB1", "UD"], "space");
        assert_eq!(found, "space \"gd1\", perhaps meant as \"GB1\"");
        assert_eq!(allowed, "GB1, UD");
        assert_eq!(not_among("x", &[], "exit").1, "none; there is no exit here");
    }

    #[test]
    fn an_id_given_twice_or_reserved_is_named_with_its_place() {
        let mut names = Names::default();
        let mut findings = Findings::default();
        let obstacles = Field::top("cavity").key("obstacles");
        names.give("R1", "rib", &obstacles.item(0), &mut findings);
        names.give("R1", "another rib", &obstacles.item(1), &mut findings);
        names.give("wall", "", &obstacles.item(2), &mut findings);
        let (faults, _) = findings.into_parts();
        let found: Vec<&str> = faults.iter().map(|fault| fault.found.as_str()).collect();
        assert_eq!(
            found,
            [
                "\"R1\" again, as in cavity.obstacles[0]",
                "\"wall\"",
                "no name"
            ]
        );
    }
}
