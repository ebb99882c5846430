//! From a job as written to plain numbers: names looked up, defaults filled in,
//! everything checked in one pass.
//!
//! Every default that [`crate::schema`] states is applied here and nowhere else.

use std::collections::BTreeSet;

use geometry::Job;

use crate::library::Library;
use crate::problem::{Severity, quoted};
use crate::schema::{AlternativeFile, FORMAT, JobFile};

mod cable;
mod cavity;
mod cutting;
mod draft;
mod exit;
mod findings;
mod kinds;
mod leads;
mod looms;
mod modules;
mod mount;
mod names;
mod obstacle;
mod overlap;
mod parts;
mod plug;
mod rib_loads;
mod shapes;
mod stations;
mod unit;

#[cfg(test)]
mod tests;

use draft::Draft;
pub use findings::Fault;
use findings::{Field, Findings};
use leads::Ends;
use names::Names;

/// How far a unit may stand proud when the job does not say, mm: what most
/// people accept with a trim ring. Common practice, no source.
const PROUD_LIMIT: f64 = 3.0;

/// How steeply a unit may be tilted on its way in when the job does not say,
/// degrees. Common practice, no source.
const ENTER_TILT: f64 = 10.0;

/// A job in plain numbers, with its alternatives.
#[derive(Clone, Debug, PartialEq)]
pub struct Inlined {
    /// The job itself.
    pub job: Job,
    /// The same job with something changed, in the order of the file.
    pub alternatives: Vec<Alternative>,
    /// What the answer goes on in spite of.
    pub warnings: Vec<Fault>,
}

/// The same job with something changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// Short name, unique among the alternatives.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The whole job as it then stands.
    pub job: Job,
}

/// Turns a job as written into plain numbers.
///
/// # Errors
/// Everything wrong with it, found in one pass, with the warnings.
pub fn inline(file: &JobFile, library: &Library) -> Result<Inlined, Vec<Fault>> {
    inline_with(file, &file.alternatives, library)
}

/// The same of the job alone: its alternatives are neither read nor checked.
///
/// # Errors
/// Everything wrong with the job itself, with the warnings.
pub fn inline_alone(file: &JobFile, library: &Library) -> Result<Inlined, Vec<Fault>> {
    inline_with(file, &[], library)
}

fn inline_with(
    file: &JobFile,
    others: &[AlternativeFile],
    library: &Library,
) -> Result<Inlined, Vec<Fault>> {
    let mut findings = Findings::default();
    if file.format != FORMAT {
        let found = format!("{}", file.format);
        findings.error(&Field::top("format"), found, format!("{FORMAT}"));
    }
    check_alternative_ids(others, &mut findings);
    let job = plain_job(&Draft::job(file), library, &mut findings);
    let (mut faults, unmeasured) = findings.into_parts();
    let job = job.map(|job| Job { unmeasured, ..job });

    let mut alternatives = Vec::new();
    for (index, other) in others.iter().enumerate() {
        let at = Field::top("alternatives").item(index);
        let mut findings = Findings::default();
        let draft = Draft::alternative(file, other, &at, &mut findings);
        let job = plain_job(&draft, library, &mut findings);
        let (found, unmeasured) = findings.into_parts();
        // What is wrong with the job itself has been said once.
        let news: Vec<Fault> = found
            .into_iter()
            .filter(|fault| !faults.iter().any(|said| is_the_same(said, fault)))
            .map(|fault| in_alternative(fault, &other.id, &at))
            .collect();
        faults.extend(news);
        if let Some(job) = job {
            alternatives.push(Alternative {
                id: other.id.clone(),
                name: other.name.clone(),
                job: Job { unmeasured, ..job },
            });
        }
    }
    match job {
        Some(job)
            if faults
                .iter()
                .all(|fault| fault.severity == Severity::Warning) =>
        {
            Ok(Inlined {
                job,
                alternatives,
                warnings: faults,
            })
        }
        _ => Err(faults),
    }
}

/// Whether two faults are one, though what is allowed may have grown.
fn is_the_same(one: &Fault, other: &Fault) -> bool {
    one.field == other.field && one.found == other.found
}

/// Says of a fault that it only shows with an alternative put in, where its
/// field does not say so.
fn in_alternative(fault: Fault, id: &str, at: &Field) -> Fault {
    if fault.field.starts_with(at.as_str()) {
        return fault;
    }
    Fault {
        found: format!("{} (in the alternative {})", fault.found, quoted(id)),
        ..fault
    }
}

fn check_alternative_ids(others: &[AlternativeFile], findings: &mut Findings) {
    let mut ids = BTreeSet::new();
    for (index, other) in others.iter().enumerate() {
        let at = Field::top("alternatives").item(index);
        if other.id.trim().is_empty() {
            findings.error(&at.key("id"), "no id", "a short name");
        } else if !ids.insert(&other.id) {
            findings.error(
                &at.key("id"),
                format!("{} again", quoted(&other.id)),
                "an id used once among the alternatives",
            );
        }
    }
}

/// One job in plain numbers; `None` when something is missing, which is then among the faults.
fn plain_job(draft: &Draft<'_>, library: &Library, findings: &mut Findings) -> Option<Job> {
    let mut names = Names::default();
    let (unit_use, unit_at) = &draft.unit;
    let (mount_use, mount_at) = &draft.mount;
    let unit_part = parts::resolve(unit_use, unit_at, library, findings);
    let mount_part = parts::resolve(mount_use, mount_at, library, findings);

    let used: Vec<&str> = draft
        .leads
        .iter()
        .filter_map(|lead| lead.file.end.factory_plug.as_deref())
        .collect();
    let cavity = cavity::cavity(draft.cavity, &used, library, &mut names, findings);
    let mount = mount_part.and_then(|part| mount::mount(&part, mount_at, &mut names, findings));

    let places: Vec<&str> = draft
        .cavity
        .spaces
        .iter()
        .map(|space| space.id.as_str())
        .chain(draft.cavity.pockets.iter().map(|pocket| pocket.id.as_str()))
        .collect();
    let mut modules = modules::modules(&draft.modules, &places, library, &mut names, findings);
    let remote_use = unit_part
        .as_ref()
        .and_then(|part| part.remote_module.as_ref());
    let remote = remote_use.and_then(|remote| {
        let at = unit_at.key("remote_module");
        let part = parts::resolve(remote, &at, library, findings)?;
        Some(modules::remote_module(
            &part, &at, &places, &mut names, findings,
        ))
    });
    let remote_id = remote.as_ref().map(|module| module.id.clone());
    modules.extend(remote);

    let ends = Ends {
        unit: unit_part.as_ref(),
        exits: draft.cavity.exits.iter().map(|e| e.id.as_str()).collect(),
        modules: draft
            .modules
            .iter()
            .map(|module| module.file.id.as_str())
            .chain(remote_id.as_deref())
            .collect(),
        factory_plugs: draft
            .cavity
            .factory_plugs
            .iter()
            .map(|plug| plug.id.as_str())
            .collect(),
    };
    let rules = draft.file.bend_rules.into();
    let leads = leads::leads(&draft.leads, &ends, rules, library, &mut names, findings);
    let makeups = looms::makeups(draft, library, findings);
    let unit = unit_part
        .as_ref()
        .map(|part| unit::unit(part, remote_id.clone(), unit_at, findings));
    let cutting = cutting::cutting(&draft.file.cutting, &cavity, library, findings);
    let trims = cutting::trims(draft, &cavity, &cutting, findings);
    let rib_loads = rib_loads::rib_loads(draft.file, &cavity, findings);
    let proud_limit = proud_limit(draft.file, findings);
    let enter_tilt = enter_tilt(draft.file, findings);
    if draft.name.trim().is_empty() {
        findings.error(
            &Field::top("name"),
            "no name",
            "what the installer calls the job",
        );
    }
    let job = Job {
        name: draft.name.clone(),
        cavity,
        unit: unit?,
        mount: mount?,
        leads,
        modules,
        makeups,
        trims,
        rib_loads,
        cutting,
        proud_limit,
        enter_tilt,
        rules,
        unmeasured: Vec::new(),
    };
    overlap::check(&job, draft, findings);
    Some(job)
}

fn proud_limit(file: &JobFile, findings: &mut Findings) -> f64 {
    let limit = file.proud_limit_mm.unwrap_or(PROUD_LIMIT);
    if !(0.0..=100.0).contains(&limit) {
        findings.error(
            &Field::top("proud_limit_mm"),
            format!("{limit}"),
            "0 to 100 mm",
        );
    }
    limit
}

/// In radians.
fn enter_tilt(file: &JobFile, findings: &mut Findings) -> f64 {
    let tilt = file.enter_tilt_deg.unwrap_or(ENTER_TILT);
    if !(0.0..=30.0).contains(&tilt) {
        findings.error(
            &Field::top("enter_tilt_deg"),
            format!("{tilt}"),
            "0 to 30 degrees",
        );
    }
    tilt.to_radians()
}
