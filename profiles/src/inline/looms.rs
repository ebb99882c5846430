//! How the looms are made up, in plain numbers.

use std::collections::BTreeMap;

use geometry::{Makeup, Taped};

use super::draft::Draft;
use super::findings::{Field, Findings, Range};
use super::names::check_known;
use super::parts::resolve;
use crate::library::Library;
use crate::problem::quoted;
use crate::schema::{LeadFile, LoomFile, PartUse, TapedFile, WrapPart};

/// Most layers of one wrap.
const MOST_LAYERS: u32 = 20;

/// Every loom of a job in plain numbers.
pub(super) fn makeups(
    draft: &Draft<'_>,
    library: &Library,
    findings: &mut Findings,
) -> Vec<Makeup> {
    let exits = || draft.cavity.exits.iter().map(|exit| exit.id.as_str());
    let mut taken = BTreeMap::new();
    let mut taped = Taping::of(draft);
    draft
        .file
        .looms
        .iter()
        .enumerate()
        .map(|(index, file)| {
            let at = Field::top("looms").item(index);
            check_known(&file.exit, exits(), "exit", &at.key("exit"), findings);
            if let Some(first) = taken.get(&file.exit) {
                findings.error(
                    &at.key("exit"),
                    format!("{} again, as in looms[{first}]", quoted(&file.exit)),
                    "one loom for each exit",
                );
            } else {
                taken.insert(&file.exit, index);
            }
            makeup(file, &at, &mut taped, library, findings)
        })
        .collect()
}

fn makeup<'a>(
    file: &'a LoomFile,
    at: &Field,
    taping: &mut Taping<'a>,
    library: &Library,
    findings: &mut Findings,
) -> Makeup {
    let taped = file
        .taped
        .iter()
        .enumerate()
        .map(|(index, tape)| {
            let at = at.key("taped").item(index);
            check_tape(tape, &at, findings);
            Taped {
                name: tape.name.clone(),
                leads: taping.leads(tape, &file.exit, &at, findings),
                wrap: wrap(tape.wrap.as_ref(), &at.key("wrap"), library, findings),
            }
        })
        .filter(|taped| !taped.leads.is_empty())
        .collect();
    Makeup {
        exit: file.exit.clone(),
        wrap: wrap(file.wrap.as_ref(), &at.key("wrap"), library, findings),
        taped,
    }
}

/// A tape has a name, and something to hold together.
fn check_tape(tape: &TapedFile, at: &Field, findings: &mut Findings) {
    if tape.name.trim().is_empty() {
        findings.error(&at.key("name"), "no name", "what the installer calls it");
    }
    let found = match tape.leads.len() {
        0 => "no lead",
        1 => "one lead",
        _ => return,
    };
    findings.error(&at.key("leads"), found, "two leads or more");
}

/// Which leads may be taped, and which already are.
struct Taping<'a> {
    /// The leads of the job as it stands here.
    here: Vec<&'a LeadFile>,
    /// Every lead of the file, those of its alternatives with them.
    anywhere: Vec<&'a str>,
    /// The leads taped so far, each with the tape that holds it.
    taken: BTreeMap<&'a str, Field>,
}

impl<'a> Taping<'a> {
    fn of(draft: &Draft<'a>) -> Taping<'a> {
        let file = draft.file;
        let others = file.alternatives.iter().flat_map(|other| &other.leads);
        let mut anywhere: Vec<&str> = Vec::new();
        for lead in file.leads.iter().chain(others) {
            if !anywhere.contains(&lead.id.as_str()) {
                anywhere.push(&lead.id);
            }
        }
        Taping {
            here: draft.leads.iter().map(|lead| lead.file).collect(),
            anywhere,
            taken: BTreeMap::new(),
        }
    }

    /// The leads of a tape that are in the job here.
    fn leads(
        &mut self,
        tape: &'a TapedFile,
        exit: &str,
        at: &Field,
        findings: &mut Findings,
    ) -> Vec<String> {
        let mut leads = Vec::new();
        for (index, id) in tape.leads.iter().enumerate() {
            let field = at.key("leads").item(index);
            if !check_known(id, self.anywhere.iter().copied(), "lead", &field, findings) {
                continue;
            }
            if let Some(first) = self.taken.get(id.as_str()) {
                let found = format!("{} again, as in {}", quoted(id), first.as_str());
                findings.error(&field, found, "each lead in one tape only");
                continue;
            }
            self.taken.insert(id, at.clone());
            let Some(lead) = self.here.iter().find(|lead| lead.id == *id) else {
                continue;
            };
            check_leaves_by(exit, lead, &field, findings);
            leads.push(id.clone());
        }
        leads
    }
}

/// A loom holds what leaves by its exit.
fn check_leaves_by(exit: &str, lead: &LeadFile, at: &Field, findings: &mut Findings) {
    let goes = match &lead.end.exit {
        Some(own) if own == exit => return,
        Some(own) => format!("leaves by {}", quoted(own)),
        None => "ends in the cavity".to_owned(),
    };
    findings.error(
        at,
        format!("{}, which {goes}", quoted(&lead.id)),
        format!("a lead that leaves by {}", quoted(exit)),
    );
}

/// Thickness of a wrap with all its layers, mm; 0 without one.
fn wrap(
    part: Option<&PartUse<WrapPart>>,
    at: &Field,
    library: &Library,
    findings: &mut Findings,
) -> f64 {
    let Some(part) = part.and_then(|part| resolve(part, at, library, findings)) else {
        return 0.0;
    };
    if !(1..=MOST_LAYERS).contains(&part.layers) {
        findings.error(
            &at.key("layers"),
            format!("{} layers", part.layers),
            format!("1 to {MOST_LAYERS} layers"),
        );
    }
    let layer = findings.plain(
        &part.thickness,
        &at.key("thickness"),
        &format!("thickness of the {}", part.name),
        Range::LAYER,
    );
    f64::from(part.layers) * layer
}
