//! From files of parts to a library: later files over earlier ones, then every
//! part that is another one with changes described in full.

use std::collections::BTreeMap;
use std::path::Path;

use super::change::changed;
use super::{Library, Part, Shelf};
use crate::problem::{Problem, Severity, quoted};
use crate::read::{LineMap, ReadParts, read_file, read_parts};
use crate::schema::{LibraryEntry, PartUse};

/// Most parts that one part may be made from, one after the other.
const LONGEST_CHAIN: usize = 32;

/// A file of parts, read but not yet understood.
#[derive(Clone, Debug)]
pub(super) struct PartsText {
    /// Its name, for messages.
    pub file: String,
    /// Its text.
    pub text: String,
}

/// Reads every `*.yaml` of a folder, in the order of their names.
pub(super) fn files_of(folder: &Path) -> (Vec<PartsText>, Vec<Problem>) {
    let mut files = Vec::new();
    let mut problems = Vec::new();
    let Ok(entries) = std::fs::read_dir(folder) else {
        return (files, problems);
    };
    let mut paths: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|end| end == "yaml") && path.is_file());
    paths.sort();
    for path in paths {
        match read_file(&path) {
            Ok(text) => files.push(PartsText {
                file: path.display().to_string(),
                text,
            }),
            Err(problem) => problems.push(problem),
        }
    }
    (files, problems)
}

/// Where an entry of the library was written.
#[derive(Clone, Debug)]
struct Place {
    file: String,
    line: usize,
    field: String,
}

impl Place {
    fn problem(&self, found: String, allowed: String) -> Problem {
        Problem {
            severity: Severity::Error,
            file: self.file.clone(),
            line: self.line,
            field: self.field.clone(),
            found,
            allowed,
        }
    }
}

/// Entries of one kind as written, by id.
type Entries<T> = BTreeMap<String, (LibraryEntry<T>, Place)>;

/// The library that some files make up, and what is wrong with them.
pub(super) fn library_of(files: &[PartsText]) -> (Library, Vec<Problem>) {
    let mut problems = Vec::new();
    let mut units = Entries::new();
    let mut mounts = Entries::new();
    let mut plugs = Entries::new();
    let mut cables = Entries::new();
    let mut wraps = Entries::new();
    let mut modules = Entries::new();
    let mut tools = Entries::new();
    let mut materials = Entries::new();
    for PartsText { file, text } in files {
        let ReadParts { file: parts, lines } = match read_parts(text, file) {
            Ok(read) => read,
            Err(faults) => {
                problems.extend(faults);
                continue;
            }
        };
        let described = parts
            .materials
            .into_iter()
            .map(|material| PartUse::Inline(Box::new(material)))
            .collect();
        let from = (file.as_str(), &lines);
        collect(&mut units, parts.units, "units", from, &mut problems);
        collect(&mut mounts, parts.mounts, "mounts", from, &mut problems);
        collect(&mut plugs, parts.plugs, "plugs", from, &mut problems);
        collect(&mut cables, parts.cables, "cables", from, &mut problems);
        collect(&mut wraps, parts.wraps, "wraps", from, &mut problems);
        collect(&mut modules, parts.modules, "modules", from, &mut problems);
        collect(&mut tools, parts.tools, "tools", from, &mut problems);
        collect(&mut materials, described, "materials", from, &mut problems);
    }
    let library = Library {
        units: described_in_full(&units, &mut problems),
        mounts: described_in_full(&mounts, &mut problems),
        plugs: described_in_full(&plugs, &mut problems),
        cables: described_in_full(&cables, &mut problems),
        wraps: described_in_full(&wraps, &mut problems),
        modules: described_in_full(&modules, &mut problems),
        tools: described_in_full(&tools, &mut problems),
        materials: described_in_full(&materials, &mut problems),
        ..Library::default()
    };
    (library, problems)
}

/// Takes the entries of one list of a file; an id twice in it is a problem.
///
/// * `from`: the file's name, and where its values stand
fn collect<T: Part>(
    entries: &mut Entries<T>,
    written: Vec<LibraryEntry<T>>,
    list: &str,
    (file, lines): (&str, &LineMap),
    problems: &mut Vec<Problem>,
) {
    for (index, entry) in written.into_iter().enumerate() {
        let field = format!("{list}[{index}]");
        let place = Place {
            file: file.to_owned(),
            line: lines.line_of(&field),
            field,
        };
        let id = match &entry {
            PartUse::Inline(part) => part.id().to_owned(),
            PartUse::Changed { with, .. } if with.contains_key("id") => with["id"].clone(),
            PartUse::Changed { base, .. } | PartUse::Named(base) => {
                problems.push(place.problem(
                    format!("use: {} without an id of its own", quoted(base)),
                    "with: that sets id and name".to_owned(),
                ));
                continue;
            }
        };
        let twice = entries
            .get(&id)
            .is_some_and(|(_, earlier)| earlier.file == file);
        if twice {
            problems.push(place.problem(
                format!("the id {} again", quoted(&id)),
                format!("an id used once among the {list} of a file"),
            ));
        } else {
            entries.insert(id, (entry, place));
        }
    }
}

/// Describes every entry in full; one that cannot be is left out.
fn described_in_full<T: Part>(entries: &Entries<T>, problems: &mut Vec<Problem>) -> Shelf<T> {
    let mut shelf = Shelf::new();
    for (id, (_, place)) in entries {
        match describe(id, entries, &mut Vec::new()) {
            Ok(part) => {
                shelf.insert(id.clone(), part);
            }
            Err(faults) => problems.extend(
                faults
                    .into_iter()
                    .map(|(found, allowed)| place.problem(found, allowed)),
            ),
        }
    }
    shelf
}

/// One entry in full.
///
/// * `on_the_way`: the entries that led here, to notice one that leads back to itself
fn describe<'a, T: Part>(
    id: &'a str,
    entries: &'a Entries<T>,
    on_the_way: &mut Vec<&'a str>,
) -> Result<T, Vec<(String, String)>> {
    let Some((entry, _)) = entries.get(id) else {
        return Err(vec![(
            format!("use: {}", quoted(id)),
            format!("the id of a {} of the library", T::KIND.word()),
        )]);
    };
    if on_the_way.contains(&id) {
        let round: Vec<String> = on_the_way.iter().map(|id| quoted(id)).collect();
        return Err(vec![(
            format!("{} made from itself", round.join(" made from ")),
            "a part that is described in full at the end".to_owned(),
        )]);
    }
    if on_the_way.len() == LONGEST_CHAIN {
        return Err(vec![(
            format!("a part made from more than {LONGEST_CHAIN} others in turn"),
            "fewer steps to a part that is described in full".to_owned(),
        )]);
    }
    on_the_way.push(id);
    match entry {
        PartUse::Inline(part) => Ok((**part).clone()),
        PartUse::Named(base) => describe(base, entries, on_the_way),
        PartUse::Changed { base, with } => {
            let base = describe(base, entries, on_the_way)?;
            match changed(&base, with) {
                Ok(changed) => Ok(changed.part),
                Err(bad) => Err(bad
                    .into_iter()
                    .map(|bad| {
                        let key = bad.key.map(|key| format!("with.{key}: "));
                        let found = format!("{}{}", key.unwrap_or_default(), bad.found);
                        (found, bad.allowed)
                    })
                    .collect()),
            }
        }
    }
}
