//! Notches and how the shop cuts them, with every default in its place.

use std::collections::BTreeSet;

use geometry::{Cavity, Cut, Cutting, Obstacle, Strip, Tool, Trim};
use glam::DVec2;

use super::draft::Draft;
use super::findings::{Field, Findings, Range};
use super::names::check_known;
use super::parts::resolve;
use crate::library::Library;
use crate::problem::quoted;
use crate::schema::{CuttingFile, PartUse, StripFile, ToolPart, TrimFile};

/// What cuts where the file names no tool.
const USUAL_TOOL: &str = "oscillating_saw";

/// What is taken where the file says nothing, mm: common practice, no source.
const STOP_HOLE: f64 = 8.0;
const EDGE_TRIM: f64 = 0.5;
const SNAP: f64 = 1.0;

/// Least share of stiffness to keep, percent: common practice, no source.
const KEEP: f64 = 60.0;

/// Strip stock where the file names none, mm and MPa: common practice, no source.
const STRIP: Strip = Strip {
    thickness: 3.0,
    height: 25.0,
    lap: 30.0,
    modulus: 2500.0,
};

/// How the shop cuts, in plain numbers.
pub(super) fn cutting(
    file: &CuttingFile,
    cavity: &Cavity,
    library: &Library,
    findings: &mut Findings,
) -> Cutting {
    let at = Field::top("cutting");
    let ids = || cavity.obstacles.iter().map(|it| it.id.as_str());
    for (index, id) in file.leave_alone.iter().enumerate() {
        let at = at.key("leave_alone").item(index);
        check_known(id, ids(), "obstacle", &at, findings);
    }
    let mut plain = |length: &Option<_>, key: &str, what: &str, range, default| {
        findings.plain_or(length.as_ref(), &at.key(key), what, range, default)
    };
    let stop_hole = plain(
        &file.stop_hole,
        "stop_hole",
        "stop hole",
        Range::STOP_HOLE,
        STOP_HOLE,
    );
    let edge_trim = plain(
        &file.edge_trim,
        "edge_trim",
        "edge trim",
        Range::EDGE_TRIM,
        EDGE_TRIM,
    );
    let snap = plain(&file.snap, "snap", "step of notches", Range::SNAP, SNAP);
    let keep = file.keep_stiffness_percent.unwrap_or(KEEP);
    if !(0.0..=100.0).contains(&keep) {
        let at = at.key("keep_stiffness_percent");
        findings.error(&at, format!("{keep}"), "0 to 100 percent");
    }
    Cutting {
        tool: tool(file.tool.as_ref(), &at.key("tool"), library, findings),
        stop_hole,
        edge_trim,
        snap,
        keep_stiffness: 0.01 * keep,
        asked: file.ask_agreed,
        left_alone: file.leave_alone.clone(),
        strip: strip(&file.strip, STRIP, &at.key("strip"), findings),
    }
}

fn strip(file: &StripFile, usual: Strip, at: &Field, findings: &mut Findings) -> Strip {
    let mut plain = |length: &Option<_>, key: &str, range, usual| {
        let what = format!("{key} of the strip");
        findings.plain_or(length.as_ref(), &at.key(key), &what, range, usual)
    };
    let strip = Strip {
        thickness: plain(&file.thickness, "thickness", Range::LAYER, usual.thickness),
        height: plain(&file.height, "height", Range::SIZE, usual.height),
        lap: plain(&file.lap, "lap", Range::ROOM, usual.lap),
        modulus: file.e_modulus_mpa.unwrap_or(usual.modulus),
    };
    if !(1.0..=300_000.0).contains(&strip.modulus) {
        findings.error(
            &at.key("e_modulus_mpa"),
            format!("{}", strip.modulus),
            "1 to 300000 MPa",
        );
    }
    strip
}

fn tool(
    part: Option<&PartUse<ToolPart>>,
    at: &Field,
    library: &Library,
    findings: &mut Findings,
) -> Tool {
    let usual = PartUse::Named(USUAL_TOOL.to_owned());
    let part = resolve(part.unwrap_or(&usual), at, library, findings);
    let Some(part) = part else {
        // It is among the faults; this only stands where a tool has to stand.
        return Tool {
            name: String::new(),
            works: geometry::Works::EndFirst,
            shank: DVec2::ONE,
            reach: 1.0,
            kerf: 0.0,
            blade: DVec2::ONE,
            behind: 0.0,
        };
    };
    let name = &part.name;
    let mut plain = |length: &_, at: &Field, what: &str, range| {
        findings.plain(length, at, &format!("{what} of the {name}"), range)
    };
    let mut two = |lengths: &[_; 2], key: &str| {
        let at = at.key(key);
        DVec2::new(
            plain(&lengths[0], &at.item(0), "width", Range::TOOL),
            plain(&lengths[1], &at.item(1), "height", Range::TOOL),
        )
    };
    let (shank, blade) = (two(&part.shank, "shank"), two(&part.blade, "blade"));
    let reach = plain(&part.reach, &at.key("reach"), "reach", Range::TOOL);
    let kerf = plain(&part.kerf, &at.key("kerf"), "kerf", Range::KERF);
    Tool {
        name: part.name.clone(),
        works: part.works.into(),
        shank,
        reach,
        kerf,
        blade,
        behind: findings.plain_or(
            part.behind.as_ref(),
            &at.key("behind"),
            "room behind the cut",
            Range::ROOM,
            0.0,
        ),
    }
}

/// Every notch of the job in plain numbers.
///
/// Only what keeps a notch from being one is a fault here; whether it goes too
/// far is the answer's to say. A notch in what is never cut is refused.
pub(super) fn trims(
    draft: &Draft<'_>,
    cavity: &Cavity,
    cutting: &Cutting,
    findings: &mut Findings,
) -> Vec<Trim> {
    let mut trims: Vec<Trim> = Vec::new();
    for (index, file) in draft.file.trims.iter().enumerate() {
        let at = Field::top("trims").item(index);
        let ids = cavity.obstacles.iter().map(|it| it.id.as_str());
        check_known(&file.rib, ids, "obstacle", &at.key("rib"), findings);
        let trim = trim(file, &at, cutting, findings);
        let rib = cavity.obstacles.iter().find(|it| it.id == file.rib);
        if let Some(rib) = rib {
            check_rib(rib, &at, findings);
        }
        trims.push(trim);
    }
    check_meeting(&trims, findings);
    trims
}

fn trim(file: &TrimFile, at: &Field, cutting: &Cutting, findings: &mut Findings) -> Trim {
    let rib = &file.rib;
    let mut plain = |length: &_, at: &Field, what: &str, range| {
        findings.plain(length, at, &format!("{what} of the notch in {rib}"), range)
    };
    let along = [0, 1].map(|end| {
        let at = at.key("along").item(end);
        plain(&file.along[end], &at, "end", Range::COORDINATE)
    });
    let depth = plain(&file.depth, &at.key("depth"), "depth", Range::SIZE);
    let radius = file.radius.as_ref().map_or(0.5 * cutting.stop_hole, |it| {
        plain(it, &at.key("radius"), "corner radius", Range::ROOM)
    });
    if along[0] >= along[1] {
        findings.error(
            &at.key("along"),
            format!("{} to {}", along[0], along[1]),
            "where it begins, then where it ends, further on",
        );
    }
    let doubler = file.doubler.as_ref();
    Trim {
        rib: file.rib.clone(),
        edge: file.edge.into(),
        along,
        depth,
        radius,
        locked: file.locked,
        doubler: doubler.map(|it| strip(it, cutting.strip, &at.key("doubler"), findings)),
    }
}

/// A notch is cut only where the rib allows any.
fn check_rib(rib: &Obstacle, at: &Field, findings: &mut Findings) {
    let why = match rib.cut() {
        Cut::Never if rib.kind.is_never_cut() => format!("a {} is never cut", rib.kind.word()),
        Cut::Never => "its cut is never, or not stated".to_owned(),
        Cut::Allowed(_) | Cut::Ask(_) => return,
    };
    findings.error(
        &at.key("rib"),
        format!("{}: {why}", quoted(&rib.id)),
        "an obstacle whose cut is allowed or ask",
    );
}

/// Two notches of one edge do not overlap.
fn check_meeting(trims: &[Trim], findings: &mut Findings) {
    let mut said = BTreeSet::new();
    for (index, trim) in trims.iter().enumerate() {
        let meets = |other: &Trim| {
            (other.rib == trim.rib && other.edge == trim.edge)
                && other.along[0] <= trim.along[1]
                && trim.along[0] <= other.along[1]
        };
        let Some(first) = trims[..index].iter().position(meets) else {
            continue;
        };
        if said.insert(index) {
            findings.error(
                &Field::top("trims").item(index).key("along"),
                format!("a notch that meets trims[{first}]"),
                "notches of one edge with something left between them",
            );
        }
    }
}
