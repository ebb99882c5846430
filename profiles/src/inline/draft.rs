//! A job as it stands with one of its alternatives, before any name is looked up.

use crate::schema::{
    AlternativeFile, CavityFile, JobFile, LeadFile, ModuleFile, MountPart, PartUse, PlugPart,
    UnitPart,
};

use super::findings::{Field, Findings};
use super::names::check_known;

/// What a job, or one of its alternatives, is made of; each with its place in the document.
pub(super) struct Draft<'a> {
    pub name: String,
    pub file: &'a JobFile,
    pub cavity: &'a CavityFile,
    pub unit: (&'a PartUse<UnitPart>, Field),
    pub mount: (&'a PartUse<MountPart>, Field),
    pub leads: Vec<DraftLead<'a>>,
    pub modules: Vec<DraftModule<'a>>,
}

/// A lead with the plug it has here.
pub(super) struct DraftLead<'a> {
    pub file: &'a LeadFile,
    pub at: Field,
    pub plug: &'a PartUse<PlugPart>,
    pub plug_at: Field,
}

/// A module, and where it has been moved to here.
pub(super) struct DraftModule<'a> {
    pub file: &'a ModuleFile,
    pub at: Field,
    pub moved_to: Option<(&'a Vec<String>, Field)>,
}

impl<'a> Draft<'a> {
    /// The job itself.
    pub fn job(file: &'a JobFile) -> Draft<'a> {
        Draft {
            name: file.name.clone(),
            file,
            cavity: &file.cavity,
            unit: (&file.unit, Field::top("unit")),
            mount: (&file.mount, Field::top("mount")),
            leads: leads_at(&file.leads, &Field::top("leads")),
            modules: file
                .modules
                .iter()
                .enumerate()
                .map(|(index, module)| DraftModule {
                    file: module,
                    at: Field::top("modules").item(index),
                    moved_to: None,
                })
                .collect(),
        }
    }

    /// The job with one of its alternatives put in.
    pub fn alternative(
        file: &'a JobFile,
        other: &'a AlternativeFile,
        at: &Field,
        findings: &mut Findings,
    ) -> Draft<'a> {
        let mut draft = Draft::job(file);
        draft.name = format!("{}: {}", file.name, other.name);
        if let Some(unit) = &other.unit {
            draft.unit = (unit, at.key("unit"));
        }
        if let Some(mount) = &other.mount {
            draft.mount = (mount, at.key("mount"));
        }
        let ids: Vec<&str> = file.leads.iter().map(|lead| lead.id.as_str()).collect();
        for (index, id) in other.without.iter().enumerate() {
            let at = at.key("without").item(index);
            check_known(id, ids.iter().copied(), "lead", &at, findings);
        }
        draft
            .leads
            .retain(|lead| !other.without.contains(&lead.file.id));
        draft.leads.extend(leads_at(&other.leads, &at.key("leads")));
        for (id, plug) in &other.plugs {
            let at = at.key("plugs").key(id);
            let known = draft.leads.iter().map(|lead| lead.file.id.as_str());
            if check_known(id, known, "lead", &at, findings) {
                for lead in draft.leads.iter_mut().filter(|lead| lead.file.id == *id) {
                    lead.plug = plug;
                    lead.plug_at = at.clone();
                }
            }
        }
        for (id, places) in &other.move_modules {
            let at = at.key("move_modules").key(id);
            let known = file.modules.iter().map(|module| module.id.as_str());
            if check_known(id, known, "module", &at, findings) {
                for module in draft.modules.iter_mut().filter(|m| m.file.id == *id) {
                    module.moved_to = Some((places, at.clone()));
                }
            }
        }
        draft
    }
}

fn leads_at<'a>(files: &'a [LeadFile], at: &Field) -> Vec<DraftLead<'a>> {
    files
        .iter()
        .enumerate()
        .map(|(index, file)| {
            let at = at.item(index);
            DraftLead {
                file,
                plug: &file.plug,
                plug_at: at.key("plug"),
                at,
            }
        })
        .collect()
}
