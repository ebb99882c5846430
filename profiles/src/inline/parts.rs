//! Parts by name, by name with changes, or described in place.

use super::findings::{Field, Findings};
use super::names::check_known;
use crate::library::{Library, Part};
use crate::schema::PartUse;

/// The part a field means; `None` when there is no such part, which is then among the faults.
pub(super) fn resolve<T: Part>(
    part: &PartUse<T>,
    at: &Field,
    library: &Library,
    findings: &mut Findings,
) -> Option<T> {
    let word = T::KIND.word();
    let named = |base: &str, at: &Field, findings: &mut Findings| {
        check_known(base, library.ids::<T>(), word, at, findings);
        library.get::<T>(base).cloned()
    };
    match part {
        PartUse::Inline(part) => Some((**part).clone()),
        PartUse::Named(base) => {
            let part = named(base, at, findings)?;
            findings.part_comes_from(at, base, Vec::new());
            Some(part)
        }
        PartUse::Changed { base, with } => {
            let part = named(base, &at.key("use"), findings)?;
            match library.with_changes(base, &part, with) {
                Ok(changed) => {
                    findings.part_comes_from(at, base, changed.places.clone());
                    Some(changed.part.clone())
                }
                Err(bad) => {
                    for bad in bad {
                        let with = at.key("with");
                        let field = bad.key.map_or(with.clone(), |key| with.key(&key));
                        findings.error(&field, bad.found, bad.allowed);
                    }
                    None
                }
            }
        }
    }
}
