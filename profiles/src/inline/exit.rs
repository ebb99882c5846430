//! Exits of the cavity in plain numbers.

use geometry::{Exit, ExitShape, Outline};
use glam::DVec2;

use super::findings::{Field, Findings, Range};
use super::shapes::{direction, outline, point};
use crate::length::Length;
use crate::schema::ExitFile;

/// An exit in plain numbers.
pub(super) fn exit(file: &ExitFile, at: &Field, findings: &mut Findings) -> Exit {
    let name = &file.name;
    // Any shape will do for one that is among the faults: the job is refused.
    let shape = shape(file, at, findings).unwrap_or(ExitShape::Round(1.0));
    Exit {
        id: file.id.clone(),
        name: name.clone(),
        centre: point(
            &file.centre,
            &at.key("centre"),
            &format!("centre of the {name}"),
            findings,
        ),
        direction: direction(file.direction, &at.key("direction"), findings),
        shape,
        run_beyond: findings.plain_or(
            file.run_beyond.as_ref(),
            &at.key("run_beyond"),
            &format!("run beyond the {name}"),
            Range::ROOM,
            0.0,
        ),
    }
}

/// A round hole, a rectangular one, or one by its corners; `None` when the
/// file says none of them or more than one, which is then among the faults.
fn shape(file: &ExitFile, at: &Field, findings: &mut Findings) -> Option<ExitShape> {
    let name = &file.name;
    let mut size = |length: &Length, key: &str| {
        let what = format!("{key} of the {name}");
        findings.plain(length, &at.key(key), &what, Range::SIZE)
    };
    match (&file.diameter, &file.width, &file.height, &file.corners[..]) {
        (Some(diameter), None, None, []) => Some(ExitShape::Round(size(diameter, "diameter"))),
        (None, Some(width), Some(height), []) => {
            let size = DVec2::new(size(width, "width"), size(height, "height"));
            Some(ExitShape::Rectangle(size))
        }
        (None, None, None, [_, ..]) => by_corners(file, &at.key("corners"), findings),
        (diameter, width, height, corners) => {
            let given = [
                (diameter.is_some(), "diameter"),
                (width.is_some(), "width"),
                (height.is_some(), "height"),
                (!corners.is_empty(), "corners"),
            ];
            let found: Vec<&str> = given.iter().filter(|g| g.0).map(|g| g.1).collect();
            let found = if found.is_empty() {
                "no size".to_owned()
            } else {
                found.join(" and ")
            };
            let allowed = "exactly one of diameter, width with height, corners";
            findings.error(at, found, allowed);
            None
        }
    }
}

/// A hole by its corners, which go round its centre.
fn by_corners(file: &ExitFile, at: &Field, findings: &mut Findings) -> Option<ExitShape> {
    let what = format!("corner of the {}", file.name);
    let outline = outline(&file.corners, at, &what, findings)?;
    if !holds_its_centre(&outline) {
        findings.error(
            at,
            "corners that leave the exit's centre outside",
            "corners about its centre, which leads pass: [0, 0] lies between them",
        );
        return None;
    }
    Some(ExitShape::Polygon(outline.corners().to_vec()))
}

/// Whether the centre, where leads pass, lies in the hole.
fn holds_its_centre(outline: &Outline) -> bool {
    outline.pieces().iter().any(|piece| {
        let next = piece.iter().cycle().skip(1);
        piece
            .iter()
            .zip(next)
            .all(|(corner, next)| (*next - *corner).perp_dot(-*corner) >= 0.0)
    })
}
