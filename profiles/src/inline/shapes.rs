//! Shapes: points, directions, boxes by their faces, outlines.

use geometry::{Measure, Outline, OutlineFault};
use glam::{DVec2, DVec3};

use super::findings::{Field, Findings, Range, written};
use crate::length::Length;
use crate::schema::BoxFile;

/// The span that a depth of a solid takes which could not be measured, mm: the
/// nearest hard thing behind a dash face usually lies 160 to 230 deep, in a
/// tight dash from 140, in a deep one beyond 250. Common practice, no source.
pub(super) const SOLID_DEPTH: Range = Range::COORDINATE.or_within(140.0, 260.0);

/// A point, mm.
pub(super) fn point(file: &[Length; 3], at: &Field, what: &str, findings: &mut Findings) -> DVec3 {
    let measured = three(file, at, what, Range::COORDINATE, findings);
    DVec3::from_array(measured.map(|length| length.value()))
}

/// Three lengths of one kind.
pub(super) fn three(
    file: &[Length; 3],
    at: &Field,
    what: &str,
    range: Range,
    findings: &mut Findings,
) -> [Measure; 3] {
    [0, 1, 2].map(|axis| findings.measure(&file[axis], &at.item(axis), what, range))
}

/// Two lengths of one kind, their ± left aside, mm.
pub(super) fn pair(
    file: &[Length; 2],
    at: &Field,
    what: &str,
    range: Range,
    findings: &mut Findings,
) -> DVec2 {
    DVec2::from_array([0, 1].map(|axis| findings.plain(&file[axis], &at.item(axis), what, range)))
}

/// A direction as a unit vector.
pub(super) fn direction(file: [f64; 3], at: &Field, findings: &mut Findings) -> DVec3 {
    let direction = DVec3::from_array(file).try_normalize();
    direction.unwrap_or_else(|| {
        findings.error(at, format!("{file:?}"), "a direction that leads somewhere");
        DVec3::Y
    })
}

/// Turns in degrees about (across, depth, up).
pub(super) fn turns(file: [f64; 3], at: &Field, findings: &mut Findings) -> DVec3 {
    if file.iter().any(|turn| !(-360.0..=360.0).contains(turn)) {
        findings.error(at, format!("{file:?}"), "turns from -360 to 360 degrees");
    }
    DVec3::from_array(file)
}

/// The two faces of a box along (across, depth, up), each pair in order.
pub(super) fn faces(
    file: &BoxFile,
    at: &Field,
    name: &str,
    findings: &mut Findings,
) -> [[Measure; 2]; 3] {
    let axes = [
        (
            &file.across,
            "across",
            ["left face", "right face"],
            Range::COORDINATE,
        ),
        (&file.depth, "depth", ["depth", "far face"], SOLID_DEPTH),
        (
            &file.up,
            "up",
            ["lower face", "upper face"],
            Range::COORDINATE,
        ),
    ];
    axes.map(|(ends, key, words, range)| span(ends, &at.key(key), words, name, range, findings))
}

/// Two places along one axis, the first before the second.
///
/// * `words`: what the two are called, as "left face" and "right face"
/// * `name`: what they belong to
pub(super) fn span(
    file: &[Length; 2],
    at: &Field,
    words: [&str; 2],
    name: &str,
    range: Range,
    findings: &mut Findings,
) -> [Measure; 2] {
    let ends = [0, 1].map(|end| {
        let what = format!("{} of the {name}", words[end]);
        findings.measure(&file[end], &at.item(end), &what, range)
    });
    if ends[0].value() >= ends[1].value() {
        let found = format!("{} to {}", written(&file[0]), written(&file[1]));
        let allowed = if ends.iter().all(Measure::is_measured) {
            "the smaller first, and something between the two"
        } else {
            "? with a span whose middle leaves something between the two, as ? 180..200"
        };
        findings.error(at, found, allowed);
    }
    ends
}

/// The corners of an outline, mm: at least three, its sides not crossing.
pub(super) fn corners(
    file: &[[Length; 2]],
    at: &Field,
    what: &str,
    findings: &mut Findings,
) -> Option<Vec<DVec2>> {
    outline(file, at, what, findings).map(|outline| outline.corners().to_vec())
}

/// An outline by its corners, mm.
pub(super) fn outline(
    file: &[[Length; 2]],
    at: &Field,
    what: &str,
    findings: &mut Findings,
) -> Option<Outline> {
    let corners: Vec<DVec2> = file
        .iter()
        .enumerate()
        .map(|(index, corner)| pair(corner, &at.item(index), what, Range::COORDINATE, findings))
        .collect();
    match Outline::new(corners) {
        Ok(outline) => Some(outline),
        Err(fault) => {
            let (found, allowed) = outline_fault(fault, file.len());
            findings.error(at, found, allowed);
            None
        }
    }
}

/// An outline's fault with its corners counted from 1, as a person does.
fn outline_fault(fault: OutlineFault, count: usize) -> (String, &'static str) {
    let side = |first: usize| format!("{}-{}", first + 1, (first + 1) % count + 1);
    match fault {
        OutlineFault::TooFewCorners => (format!("{count} corners"), "three corners or more"),
        OutlineFault::NotFinite(corner) => (
            format!("corner {} nowhere", corner + 1),
            "corners at finite distances",
        ),
        OutlineFault::Repeated(corner) => (
            format!("corners {} in one place", side(corner)),
            "each corner in a place of its own",
        ),
        OutlineFault::Crosses(one, other) => (
            format!(
                "sides {} and {} that cross or touch",
                side(one),
                side(other)
            ),
            "sides that meet only where one ends and the next begins",
        ),
        OutlineFault::NoArea => (
            "an outline that encloses nothing".to_owned(),
            "an outline with an area",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lengths(corners: &[[f64; 2]]) -> Vec<[Length; 2]> {
        corners
            .iter()
            .map(|corner| corner.map(Length::mm))
            .collect()
    }

    #[test]
    fn crossing_sides_are_named_as_a_person_counts() {
        let mut findings = Findings::default();
        let bow_tie = lengths(&[[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]]);
        let at = Field::top("outline");
        assert_eq!(corners(&bow_tie, &at, "outline", &mut findings), None);
        let (faults, _) = findings.into_parts();
        assert_eq!(faults[0].found, "sides 1-2 and 3-4 that cross or touch");
    }

    #[test]
    fn an_outline_comes_out_counter_clockwise() {
        let mut findings = Findings::default();
        let clockwise = lengths(&[[0.0, 0.0], [0.0, 10.0], [10.0, 10.0], [10.0, 0.0]]);
        let at = Field::top("outline");
        let found = corners(&clockwise, &at, "outline", &mut findings).expect("a square");
        assert_eq!(found[0], DVec2::new(10.0, 0.0));
        assert!(findings.into_parts().0.is_empty());
    }

    #[test]
    fn a_box_the_wrong_way_round_is_refused() {
        let mut findings = Findings::default();
        let ends = ["214.5 ± 2", "212 ± 2"].map(|text| Length::parse(text).expect("a length"));
        let at = Field::top("depth");
        span(
            &ends,
            &at,
            ["depth", "far face"],
            "rib",
            SOLID_DEPTH,
            &mut findings,
        );
        let (faults, _) = findings.into_parts();
        assert_eq!(faults[0].found, "\"214.5 ± 2\" to \"212 ± 2\"");
    }
}
