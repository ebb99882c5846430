//! What one can choose from in the fields of the card: id and name of each.

use geometry::{CAVITY, ChainLink};
use profiles::Library;
use profiles::schema::{
    CablePart, LeadFile, MaterialPart, ModulePart, MountPart, PartUse, PlugPart, UnitPart, WrapPart,
};

use super::Card;

/// Id and name.
pub type Choice = (String, String);

impl Card<'_> {
    /// Units of the library, and the one described in the job.
    pub fn units(&self, used: &PartUse<UnitPart>) -> Vec<Choice> {
        let own = described(used, |unit| &unit.name);
        own.into_iter()
            .chain(named(self.library, |unit: &UnitPart| &unit.name))
            .collect()
    }

    /// Mounts.
    pub fn mounts(&self, used: &PartUse<MountPart>) -> Vec<Choice> {
        let own = described(used, |mount| &mount.name);
        own.into_iter()
            .chain(named(self.library, |mount: &MountPart| &mount.name))
            .collect()
    }

    /// Cables.
    pub fn cables(&self, used: &PartUse<CablePart>) -> Vec<Choice> {
        let own = described(used, |cable| &cable.name);
        own.into_iter()
            .chain(named(self.library, |cable: &CablePart| &cable.name))
            .collect()
    }

    /// Wraps of the library.
    pub fn wraps(&self) -> Vec<Choice> {
        named(self.library, |wrap: &WrapPart| &wrap.name)
    }

    /// Modules of the library.
    pub fn module_parts(&self, used: &PartUse<ModulePart>) -> Vec<Choice> {
        let own = described(used, |module| &module.name);
        own.into_iter()
            .chain(named(self.library, |module: &ModulePart| &module.name))
            .collect()
    }

    /// Plugs that go into the lead's socket; all of them when that is not known.
    pub fn plugs(&self, lead: &LeadFile) -> Vec<Choice> {
        let family = self.model.job.as_ref().and_then(|job| {
            let socket = lead.socket.as_ref()?;
            job.unit
                .sockets
                .iter()
                .find(|other| other.id == *socket)
                .map(|socket| socket.family.as_str())
        });
        let own = described(&lead.plug, |plug| &plug.name);
        let fitting = self
            .library
            .ids::<PlugPart>()
            .filter_map(|id| self.library.get::<PlugPart>(id))
            .filter(|plug| family.is_none_or(|family| plug.family == family))
            .map(|plug| (plug.id.clone(), plug.name.clone()));
        own.into_iter().chain(fitting).collect()
    }

    /// Materials.
    pub fn materials(&self) -> Vec<Choice> {
        named(self.library, |material: &MaterialPart| &material.name)
    }

    /// Exits of the job.
    pub fn exits(&self) -> Vec<Choice> {
        self.job
            .cavity
            .exits
            .iter()
            .map(|exit| (exit.id.clone(), exit.name.clone()))
            .collect()
    }

    /// Spaces and pockets of the job.
    pub fn rooms(&self) -> Vec<Choice> {
        let spaces = self
            .job
            .cavity
            .spaces
            .iter()
            .map(|space| (space.id.clone(), space.name.clone()));
        let pockets = self
            .job
            .cavity
            .pockets
            .iter()
            .map(|pocket| (pocket.id.clone(), pocket.name.clone()));
        let anywhere = (CAVITY.to_owned(), "anywhere in the cavity".to_owned());
        spaces.chain(pockets).chain([anywhere]).collect()
    }

    /// Sockets of the unit.
    pub fn sockets(&self) -> Vec<Choice> {
        self.model.job.as_ref().map_or(Vec::new(), |job| {
            job.unit
                .sockets
                .iter()
                .map(|socket| (socket.id.clone(), socket.name.clone()))
                .collect()
        })
    }

    /// Everything a lead may end at.
    pub fn ends(&self) -> Vec<Choice> {
        let exits = self
            .job
            .cavity
            .exits
            .iter()
            .map(|exit| (format!("exit {}", exit.id), exit.name.clone()));
        let modules = self
            .job
            .modules
            .iter()
            .map(|module| (format!("module {}", module.id), module.name.clone()));
        let plugs = self
            .job
            .cavity
            .factory_plugs
            .iter()
            .map(|plug| (format!("plug {}", plug.id), plug.name.clone()));
        exits.chain(modules).chain(plugs).collect()
    }

    /// The depth chain of a lead.
    pub fn link(&self, lead: &str) -> Option<&ChainLink> {
        self.model
            .fit
            .as_ref()?
            .chain
            .iter()
            .find(|link| link.lead == lead)
    }
}

fn named<T: profiles::library::Part>(library: &Library, name: fn(&T) -> &String) -> Vec<Choice> {
    library
        .ids::<T>()
        .filter_map(|id| Some((id.to_owned(), name(library.get::<T>(id)?).clone())))
        .collect()
}

fn described<T>(used: &PartUse<T>, name: fn(&T) -> &String) -> Option<Choice> {
    match used {
        PartUse::Inline(part) => Some((
            String::new(),
            format!("{} (described in the job)", name(part)),
        )),
        PartUse::Named(_) | PartUse::Changed { .. } => None,
    }
}
