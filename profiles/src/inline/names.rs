//! Names: unique ones, missing ones, and the nearest one that exists.

use std::collections::BTreeMap;

use super::findings::{Field, Findings};

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
                format!("`{id}`"),
                "another name: answers use this one for a part every job has",
            );
        } else if let Some(first) = self.taken.get(id) {
            findings.error(
                &field,
                format!("`{id}` again, as in {first}"),
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
    findings.error(at, format!("{what} `{id}`"), choice(id, &known, what));
    false
}

/// What is allowed instead of a name that does not exist: all there is when
/// that is few, else the nearest.
pub(super) fn choice(id: &str, known: &[&str], what: &str) -> String {
    match known {
        [] => format!("none: there is no {what} here"),
        few if few.len() <= 12 => {
            let quoted: Vec<String> = few.iter().map(|name| format!("`{name}`")).collect();
            quoted.join(", ")
        }
        many => {
            let nearest = many
                .iter()
                .min_by_key(|name| edits_between(id, name))
                .expect("there are more than twelve");
            format!("one of {} others, the nearest `{nearest}`", many.len())
        }
    }
}

/// Fewest letters to insert, drop or change to turn one word into the other.
fn edits_between(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, letter) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, other) in to.iter().enumerate() {
            let change = diagonal + usize::from(letter != *other);
            diagonal = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[to.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edits_are_counted() {
        assert_eq!(edits_between("kitten", "sitting"), 3);
        assert_eq!(edits_between("", "rib"), 3);
        assert_eq!(edits_between("hdmi_a", "hdmi_a"), 0);
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
            ["`R1` again, as in cavity.obstacles[0]", "`wall`", "no name"]
        );
    }
}
