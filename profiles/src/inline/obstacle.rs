//! Obstacles: what they are, their shape, and how far they may be cut.

use geometry::{Cut, CutLimits, Form, Kind, Material, MaterialFamily, Obstacle};

use super::findings::{Field, Findings, Range};
use super::names::check_known;
use super::shapes::{SOLID_DEPTH, corners, faces, span, turns};
use crate::length::Length;
use crate::library::Library;
use crate::schema::{CutFile, CylinderFile, MaterialPart, ObstacleFile, OutlineFile, PlaneFile};

/// An obstacle in plain numbers; `None` when it has no shape, which is then among the faults.
pub(super) fn obstacle(
    file: &ObstacleFile,
    at: &Field,
    library: &Library,
    findings: &mut Findings,
) -> Option<Obstacle> {
    let name = &file.name;
    let mut room = |length: &Option<Length>, key: &str, what: &str, default| {
        let what = format!("{what} of the {name}");
        findings.plain_or(length.as_ref(), &at.key(key), &what, Range::ROOM, default)
    };
    let clear = room(&file.clear, "clear", "clear", 3.0);
    let cut_keep_out = room(&file.cut_keep_out, "cut_keep_out", "cut keep-out", 10.0);
    let material = material(
        file.material.as_deref(),
        &at.key("material"),
        library,
        findings,
    );
    let cut_as_stated = cut(file, at, findings);
    let form = form(file, at, findings)?;
    Some(Obstacle {
        id: file.id.clone(),
        name: name.clone(),
        kind: file.kind.into(),
        material,
        form,
        clear,
        cut_keep_out,
        cut_as_stated,
        joined_to: file.joined_to.clone(),
    })
}

fn material(
    name: Option<&str>,
    at: &Field,
    library: &Library,
    findings: &mut Findings,
) -> Material {
    let part = name.and_then(|id| {
        check_known(id, library.ids::<MaterialPart>(), "material", at, findings);
        library.get::<MaterialPart>(id)
    });
    match part {
        Some(part) => Material {
            name: part.name.clone(),
            family: part.family.into(),
            e_modulus: part.e_modulus_mpa,
        },
        None => Material {
            name: "material not known".to_owned(),
            family: MaterialFamily::Unknown,
            e_modulus: None,
        },
    }
}

/// Whether it may be cut, as the file states it, with its limits.
fn cut(file: &ObstacleFile, at: &Field, findings: &mut Findings) -> Cut {
    if file.cut == CutFile::Never {
        return Cut::Never;
    }
    let kind = Kind::from(file.kind);
    if kind.is_never_cut() {
        findings.warning(
            &at.key("cut"),
            format!("{} on a {}", cut_word(file.cut), kind.word()),
            "never: it is never cut whatever the file says",
        );
    }
    let name = &file.name;
    let mut limit = |length: &Option<Length>, key: &str, what: &str, range| {
        let what = format!("{what} of the {name}");
        findings.plain_or(length.as_ref(), &at.key(key), &what, range, 0.0)
    };
    let limits = CutLimits {
        cut_from: file.cut_from.iter().map(|edge| (*edge).into()).collect(),
        max_depth: limit(&file.max_depth, "max_depth", "deepest notch", Range::SIZE),
        min_from_ends: limit(
            &file.min_from_ends,
            "min_from_ends",
            "uncut ends",
            Range::ROOM,
        ),
        min_web: limit(&file.min_web, "min_web", "least web", Range::ROOM),
    };
    if !kind.is_never_cut() && (limits.cut_from.is_empty() || file.max_depth.is_none()) {
        let missing = match (limits.cut_from.is_empty(), file.max_depth.is_none()) {
            (true, true) => "cut_from and max_depth",
            (true, false) => "cut_from",
            _ => "max_depth",
        };
        findings.warning(
            &at.key("cut"),
            format!("{} without {missing}", cut_word(file.cut)),
            "cut_from and max_depth; it is not cut without",
        );
        return Cut::Never;
    }
    match file.cut {
        CutFile::Never => Cut::Never,
        CutFile::Ask => Cut::Ask(limits),
        CutFile::Allowed => Cut::Allowed(limits),
    }
}

fn cut_word(cut: CutFile) -> &'static str {
    match cut {
        CutFile::Never => "never",
        CutFile::Ask => "ask",
        CutFile::Allowed => "allowed",
    }
}

/// Its shape: exactly one of a box, a round bar, a pushed outline.
fn form(file: &ObstacleFile, at: &Field, findings: &mut Findings) -> Option<Form> {
    match (&file.block, &file.cylinder, &file.outline) {
        (Some(block), None, None) => {
            let at = at.key("box");
            let [across, depth, up] = faces(block, &at, &file.name, findings);
            Some(Form::Block {
                across,
                depth,
                up,
                turned: turns(block.turned_deg, &at.key("turned_deg"), findings),
            })
        }
        (None, Some(bar), None) => Some(cylinder(bar, &at.key("cylinder"), &file.name, findings)),
        (None, None, Some(pushed)) => outline(pushed, &at.key("outline"), &file.name, findings),
        (block, bar, pushed) => {
            let given = [
                (block.is_some(), "box"),
                (bar.is_some(), "cylinder"),
                (pushed.is_some(), "outline"),
            ];
            let found: Vec<&str> = given.iter().filter(|g| g.0).map(|g| g.1).collect();
            let found = if found.is_empty() {
                "no shape".to_owned()
            } else {
                found.join(" and ")
            };
            findings.error(at, found, "exactly one of box, cylinder, outline");
            None
        }
    }
}

fn cylinder(file: &CylinderFile, at: &Field, name: &str, findings: &mut Findings) -> Form {
    let ranges = [Range::COORDINATE, SOLID_DEPTH, Range::COORDINATE];
    let words = ["place across", "depth", "place upward"];
    let mut end = |lengths: &[Length; 3], key: &str| {
        [0, 1, 2].map(|axis| {
            let what = format!("{} of the {name}", words[axis]);
            findings.measure(&lengths[axis], &at.key(key).item(axis), &what, ranges[axis])
        })
    };
    let (from, to) = (end(&file.from, "from"), end(&file.to, "to"));
    if (0..3).all(|axis| from[axis].value() == to[axis].value()) {
        findings.error(
            &at.key("to"),
            "the same point as from",
            "the centre of the other end: a bar has a length",
        );
    }
    Form::Cylinder {
        from,
        to,
        diameter: findings.measure(
            &file.diameter,
            &at.key("diameter"),
            &format!("diameter of the {name}"),
            Range::SIZE,
        ),
    }
}

fn outline(file: &OutlineFile, at: &Field, name: &str, findings: &mut Findings) -> Option<Form> {
    let what = format!("outline of the {name}");
    let corners = corners(&file.corners, &at.key("corners"), &what, findings);
    let (words, range) = match file.plane {
        PlaneFile::AcrossUp => (["depth", "far face"], SOLID_DEPTH),
        PlaneFile::AcrossDepth => (["lower face", "upper face"], Range::COORDINATE),
        PlaneFile::DepthUp => (["left face", "right face"], Range::COORDINATE),
    };
    let along = span(&file.along, &at.key("along"), words, name, range, findings);
    let turned = turns(file.turned_deg, &at.key("turned_deg"), findings);
    Some(Form::Outline {
        plane: file.plane.into(),
        corners: corners?,
        along,
        turned,
    })
}
