//! The cavity's walls: cross-sections by rising depth.

use geometry::{Run, Section, Station};

use super::findings::{Field, Findings, Range, written};
use super::shapes::corners;
use crate::schema::StationFile;

/// What a distance to a side wall may be, and where it lies when it could not be
/// measured, mm: from the edge of the usual opening to well beside it. Common
/// practice, no source.
const WALL_BESIDE: Range = Range::SIZE.or_within(91.0, 120.0);

/// The same for the roof and the floor, mm. Common practice, no source.
const WALL_ABOVE: Range = Range::SIZE.or_within(53.0, 80.0);

/// Stations by rising depth, each a whole cross-section that blends with the next.
pub(super) fn stations(files: &[StationFile], at: &Field, findings: &mut Findings) -> Vec<Station> {
    let mut stations: Vec<Station> = Vec::new();
    for (index, file) in files.iter().enumerate() {
        let at = at.item(index);
        let depth = findings.measure(
            &file.at,
            &at.key("at"),
            &format!("depth of station {}", index + 1),
            Range::ROOM,
        );
        let Some(section) = section(file, &at, index, findings) else {
            continue;
        };
        let station = Station {
            at: depth,
            section,
            to_next: file.to_next.into(),
        };
        if let Some(before) = stations.last() {
            check_follows(before, &station, file, &at, findings);
        }
        stations.push(station);
    }
    stations
}

fn check_follows(
    before: &Station,
    station: &Station,
    file: &StationFile,
    at: &Field,
    findings: &mut Findings,
) {
    if station.at.value() <= before.at.value() {
        findings.error(
            &at.key("at"),
            written(&file.at),
            format!(
                "a depth beyond the station before it, at {}",
                before.at.value()
            ),
        );
    }
    let [corners_before, corners] = [before, station].map(|station| match &station.section {
        Section::Sides { .. } => 4,
        Section::Outline(corners) => corners.len(),
    });
    if before.to_next == Run::Blended && corners_before != corners {
        findings.error(
            at,
            format!("{corners} corners after a station with {corners_before}"),
            "the same number of corners, or to_next: stepped at the station before",
        );
    }
}

/// The cross-section of a station: four sides, or an outline.
fn section(
    file: &StationFile,
    at: &Field,
    index: usize,
    findings: &mut Findings,
) -> Option<Section> {
    let sides = [
        ("left", &file.left),
        ("right", &file.right),
        ("up", &file.up),
        ("down", &file.down),
    ];
    let given = sides.iter().filter(|(_, side)| side.is_some()).count();
    let allowed = "all of left, right, up, down, or else outline";
    if given > 0 && !file.outline.is_empty() {
        findings.error(at, "sides and an outline", allowed);
        return None;
    }
    if given == 0 && file.outline.is_empty() {
        findings.error(at, "neither sides nor an outline", allowed);
        return None;
    }
    if !file.outline.is_empty() {
        let what = format!("outline of station {}", index + 1);
        let corners = corners(&file.outline, &at.key("outline"), &what, findings)?;
        return Some(Section::Outline(corners));
    }
    let missing: Vec<&str> = sides
        .iter()
        .filter(|(_, side)| side.is_none())
        .map(|(key, _)| *key)
        .collect();
    if !missing.is_empty() {
        findings.error(at, format!("sides without {}", missing.join(", ")), allowed);
        return None;
    }
    let [left, right, up, down] = sides.map(|(key, side)| {
        let side = side.as_ref().expect("none is missing");
        let what = format!("distance {key} of station {}", index + 1);
        let range = match key {
            "left" | "right" => WALL_BESIDE,
            _ => WALL_ABOVE,
        };
        findings.measure(side, &at.key(key), &what, range)
    });
    Some(Section::Sides {
        left,
        right,
        up,
        down,
    })
}
