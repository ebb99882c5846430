//! Interface modules in plain numbers.

use geometry::{CAVITY, Measure, Module, ModulePlace};

use super::cavity::square_box;
use super::draft::DraftModule;
use super::findings::{Field, Findings, Range};
use super::names::{Names, check_known};
use super::parts::resolve;
use super::shapes::three;
use crate::library::Library;
use crate::schema::{BoxFile, ModulePart};

/// How far a pinned module's box may differ from the module's own size where
/// neither states a larger ±, mm.
const SIZE_TOLERANCE: f64 = 0.5;

/// Every module in plain numbers; one that is not whole is left out and among the faults.
///
/// * `places`: ids of the spaces and pockets a module may go to
pub(super) fn modules(
    drafts: &[DraftModule<'_>],
    places: &[&str],
    library: &Library,
    names: &mut Names,
    findings: &mut Findings,
) -> Vec<Module> {
    drafts
        .iter()
        .filter_map(|draft| {
            names.give(&draft.file.id, &draft.file.name, &draft.at, findings);
            module(draft, places, library, findings)
        })
        .collect()
}

fn module(
    draft: &DraftModule<'_>,
    places: &[&str],
    library: &Library,
    findings: &mut Findings,
) -> Option<Module> {
    let DraftModule { file, at, moved_to } = draft;
    let name = &file.name;
    let lead_length = file.lead_length.as_ref().map(|length| {
        let what = format!("length of lead to the {name}");
        findings.plain(length, &at.key("lead_length"), &what, Range::RUN)
    });
    let part_at = at.key("part");
    let part = resolve(&file.part, &part_at, library, findings)?;
    let (size, clear) = body(&part, name, &part_at, findings);
    let may_go_to = match moved_to {
        Some((ids, at)) => Some((*ids, at.clone())),
        None if file.pinned.is_none() => Some((&file.may_go_to, at.key("may_go_to"))),
        None => None,
    };
    if file.pinned.is_some() && !file.may_go_to.is_empty() {
        findings.error(
            &at.key("may_go_to"),
            "places to go to beside pinned",
            "one of the two: it stays, or it may move",
        );
    }
    let (size, place) = match (may_go_to, &file.pinned) {
        (None, Some(pinned)) => {
            let (size, place) = pin(pinned, size, name, &at.key("pinned"), findings);
            (size, place)
        }
        (to, _) => {
            let (ids, at) = to.unwrap_or((&file.may_go_to, at.key("may_go_to")));
            for (index, id) in ids.iter().enumerate() {
                let at = at.item(index);
                let known = places.iter().copied().chain([CAVITY]);
                check_known(id, known, "space or pocket", &at, findings);
            }
            (size, movable(ids, places))
        }
    };
    Some(Module {
        id: file.id.clone(),
        name: name.clone(),
        size,
        clear,
        place,
        lead_length,
    })
}

/// Where a module may go: as stated; to every space and pocket when nothing is.
/// The open cavity is looked at only where it is asked for.
fn movable(stated: &[String], places: &[&str]) -> ModulePlace {
    if stated.is_empty() {
        let named = places.iter().map(|place| (*place).to_owned());
        return ModulePlace::Movable(named.collect());
    }
    ModulePlace::Movable(stated.to_vec())
}

/// The module that comes with a unit: it may go to every space and pocket.
pub(super) fn remote_module(
    part: &ModulePart,
    at: &Field,
    places: &[&str],
    names: &mut Names,
    findings: &mut Findings,
) -> Module {
    names.give(&part.id, &part.name, at, findings);
    let (size, clear) = body(part, &part.name, at, findings);
    Module {
        id: part.id.clone(),
        name: part.name.clone(),
        size,
        clear,
        place: movable(&[], places),
        lead_length: None,
    }
}

/// Its three sizes and its clear.
fn body(part: &ModulePart, name: &str, at: &Field, findings: &mut Findings) -> ([Measure; 3], f64) {
    let size = three(
        &part.size,
        &at.key("size"),
        &format!("size of the {name}"),
        Range::SIZE,
        findings,
    );
    let clear = findings.plain_or(
        part.clear.as_ref(),
        &at.key("clear"),
        &format!("clear of the {name}"),
        Range::ROOM,
        3.0,
    );
    (size, clear)
}

/// A module where it stays, its size in the order it lies there.
fn pin(
    file: &BoxFile,
    size: [Measure; 3],
    name: &str,
    at: &Field,
    findings: &mut Findings,
) -> ([Measure; 3], ModulePlace) {
    let faces = square_box(file, at, name, "pinned module", findings);
    let size = lying(size, &faces).unwrap_or_else(|| {
        let found = faces.map(|face| short(face[1].value() - face[0].value()));
        let own = size.map(|side| short(side.value()));
        findings.error(
            at,
            format!("a box of {} mm", found.join(" x ")),
            format!(
                "the module's own {} mm, lying any way round",
                own.join(" x ")
            ),
        );
        size
    });
    (size, ModulePlace::Pinned(faces))
}

/// The sizes in the order in which they best match the box; `None` when none matches.
fn lying(size: [Measure; 3], faces: &[[Measure; 2]; 3]) -> Option<[Measure; 3]> {
    const WAYS: [[usize; 3]; 6] = [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ];
    let off = |side: &Measure, face: &[Measure; 2]| {
        (face[1].value() - face[0].value() - side.value()).abs()
    };
    let tolerance = |side: &Measure, face: &[Measure; 2]| {
        SIZE_TOLERANCE
            .max(side.plus_minus())
            .max(face[0].plus_minus())
            .max(face[1].plus_minus())
    };
    WAYS.iter()
        .map(|way| way.map(|from| size[from]))
        .filter(|lying| {
            lying
                .iter()
                .zip(faces)
                .all(|(side, face)| off(side, face) <= tolerance(side, face) + 1e-9)
        })
        .min_by(|a, b| {
            let total = |lying: &[Measure; 3]| -> f64 {
                lying
                    .iter()
                    .zip(faces)
                    .map(|(side, face)| off(side, face))
                    .sum()
            };
            total(a).total_cmp(&total(b))
        })
}

/// A length for a message, to a hundredth of a mm.
fn short(value: f64) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}
