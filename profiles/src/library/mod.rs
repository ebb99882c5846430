//! The library: parts and jobs that come with the program, and the user's own parts.

use std::collections::BTreeMap;
use std::path::Path;

use crate::problem::Problem;
use crate::schema::{
    CablePart, MaterialPart, ModulePart, MountPart, PartUse, PlugPart, Provenance, ToolPart,
    UnitPart, WrapPart,
};

mod change;
mod embedded;
mod gather;
mod memory;
mod part;

#[cfg(test)]
mod tests;

pub use embedded::{DEMO, embedded_job, embedded_jobs};
pub use part::{Part, PartKind};

/// Parts of one kind by id.
pub type Shelf<T> = BTreeMap<String, T>;

/// Every part that a job may name, each described in full.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Library {
    units: Shelf<UnitPart>,
    mounts: Shelf<MountPart>,
    plugs: Shelf<PlugPart>,
    cables: Shelf<CablePart>,
    wraps: Shelf<WrapPart>,
    modules: Shelf<ModulePart>,
    tools: Shelf<ToolPart>,
    materials: Shelf<MaterialPart>,
    memory: memory::Memory,
}

/// One line of the list of parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartLine<'a> {
    /// Which kind it is.
    pub kind: PartKind,
    /// Its short name, unique among its kind.
    pub id: &'a str,
    /// What the installer calls it.
    pub name: &'a str,
    /// Where its figures come from.
    pub known: &'a Provenance,
}

impl Library {
    /// The parts that come with the program.
    ///
    /// # Panics
    /// Never in a program whose tests pass: they read every embedded file.
    pub fn embedded() -> Library {
        let (library, problems) = gather::library_of(&embedded::parts_files());
        assert!(
            problems.is_empty(),
            "embedded parts are broken: {problems:?}"
        );
        library
    }

    /// The parts that come with the program under those of a folder.
    ///
    /// Every `*.yaml` of the folder is read, in the order of their names; a part
    /// with the kind and id of an earlier one replaces it. A file or a part that
    /// cannot be used is left out and named among the problems.
    ///
    /// * `folder`: the user's own folder; one that does not exist holds no parts
    pub fn with_folder(folder: &Path) -> (Library, Vec<Problem>) {
        let mut files = embedded::parts_files();
        let (own, mut problems) = gather::files_of(folder);
        files.extend(own);
        let (library, more) = gather::library_of(&files);
        problems.extend(more);
        (library, problems)
    }

    /// A part by its id.
    pub fn get<T: Part>(&self, id: &str) -> Option<&T> {
        T::shelf(self).get(id)
    }

    /// A part as a job uses it, its changes carried out; `None` when there is no
    /// such part or a change cannot be made.
    pub fn resolved<T: Part>(&self, used: &PartUse<T>) -> Option<T> {
        match used {
            PartUse::Inline(part) => Some(T::clone(part)),
            PartUse::Named(base) => self.get::<T>(base).cloned(),
            PartUse::Changed { base, with } => {
                let part = self.get::<T>(base)?;
                let changed = self.with_changes(base, part, with).ok()?;
                Some(changed.part.clone())
            }
        }
    }

    /// Ids of all parts of a kind, in order.
    pub fn ids<T: Part>(&self) -> impl Iterator<Item = &str> {
        T::shelf(self).keys().map(String::as_str)
    }

    /// Every part, by kind and then by id.
    pub fn parts(&self) -> Vec<PartLine<'_>> {
        fn lines<T: Part>(shelf: &Shelf<T>) -> impl Iterator<Item = PartLine<'_>> {
            shelf.values().map(|part| PartLine {
                kind: T::KIND,
                id: part.id(),
                name: part.name(),
                known: part.known(),
            })
        }
        lines(&self.units)
            .chain(lines(&self.mounts))
            .chain(lines(&self.plugs))
            .chain(lines(&self.cables))
            .chain(lines(&self.wraps))
            .chain(lines(&self.modules))
            .chain(lines(&self.tools))
            .chain(lines(&self.materials))
            .collect()
    }
}
