//! What can be wrong with a cavity and the solids in it.

use super::{check, numbers, said};
use crate::problem::Severity;

#[test]
fn numbers_beyond_all_bounds() {
    check(
        "format: 1",
        "format: 1\nproud_limit_mm: -1",
        &["proud_limit_mm: found -1; allowed: 0 to 100 mm"],
    );
    check(
        "format: 1",
        "format: 1\nenter_tilt_deg: 45",
        &["enter_tilt_deg: found 45; allowed: 0 to 30 degrees"],
    );
    check(
        "width: 184 ± 0.5",
        "width: -184",
        &["cavity.opening.width: found \"-184\"; allowed: more than 0, up to 3000 mm"],
    );
    check(
        "width: 184 ± 0.5",
        "width: 3 ± 4",
        &["cavity.opening.width: found \"3 ± 4\"; allowed: a band that does not reach below 0 mm"],
    );
    check(
        "height: 106 }",
        "height: 106, corner_radius: 60 }",
        &[
            "cavity.opening.corner_radius: found 60 mm; allowed: up to 53 mm, half the opening's smaller side",
        ],
    );
    check(
        "centre: [0, 180, -60]",
        "centre: [0, 18000, -60]",
        &["cavity.exits[0].centre[1]: found \"18000\"; allowed: -3000 to 3000 mm"],
    );
    check(
        "closed: true",
        "closed: true\n  face_rake: { top_in_deg: 90 }",
        &["cavity.face_rake.top_in_deg: found 90 degrees; allowed: -60 to 60 degrees"],
    );
    check(
        "width: 184 ± 0.5",
        "width: 184 ± 0.5, corner_radius: '?'",
        &[
            "cavity.opening.corner_radius: found a bare ?; allowed: ? with its span, as ? 20..30: nothing usual is known of this measure",
        ],
    );
}

#[test]
fn ids_given_twice() {
    check(
        "id: P1",
        "id: R1",
        &[
            "cavity.obstacles[1].id: found \"R1\" again, as in cavity.obstacles[0]; allowed: an id used once in the job",
        ],
    );
    check(
        "id: L2\n",
        "id: GB\n",
        &[
            "leads[1].id: found \"GB\" again, as in cavity.spaces[0]; allowed: an id used once in the job",
            "alternatives[0].plugs.L2: found lead \"L2\"; allowed: L1, GB, L3",
        ],
    );
    check(
        "id: F2",
        "id: chassis",
        &[
            "cavity.factory_plugs[1].id: found \"chassis\"; allowed: another name: answers use this one for a part every job has",
        ],
    );
}

#[test]
fn stations_out_of_order_or_not_whole() {
    check(
        "at: 100 ± 2",
        "at: 251 ± 2",
        &[
            "cavity.stations[2].at: found \"250\"; allowed: a depth beyond the station before it, at 251",
        ],
    );
    check(
        "{ at: 250, left: 96, right: 96, up: 56, down: 60 }",
        "{ at: 250 }",
        &[
            "cavity.stations[2]: found neither sides nor an outline; allowed: all of left, right, up, down, or else outline",
        ],
    );
    check(
        "{ at: 250, left: 96, right: 96, up: 56, down: 60 }",
        "{ at: 250, left: 96, up: 56 }",
        &[
            "cavity.stations[2]: found sides without right, down; allowed: all of left, right, up, down, or else outline",
        ],
    );
    check(
        "at: 100 ± 2, outline",
        "at: 100 ± 2, left: 4, outline",
        &[
            "cavity.stations[1]: found sides and an outline; allowed: all of left, right, up, down, or else outline",
        ],
    );
    check(
        "[[-96, -60], [96, -60], [96, 56], [-96, 56]]",
        "[[-96, -60], [96, -60], [0, 56]]",
        &[
            "cavity.stations[1]: found 3 corners after a station with 4; allowed: the same number of corners, or to_next: stepped at the station before",
            "cavity.stations[2]: found 4 corners after a station with 3; allowed: the same number of corners, or to_next: stepped at the station before",
        ],
    );
    check(
        "[[-96, -60], [96, -60], [96, 56], [-96, 56]]",
        "[[-96, -60], [96, 56], [96, -60], [-96, 56]]",
        &[
            "cavity.stations[1].outline: found sides 1-2 and 3-4 that cross or touch; allowed: sides that meet only where one ends and the next begins",
        ],
    );
}

#[test]
fn shapes_that_are_none() {
    check(
        "depth: [210 ± 2, 213 ± 2]",
        "depth: [213 ± 2, 210 ± 2]",
        &[
            "cavity.obstacles[0].box.depth: found \"213 ± 2\" to \"210 ± 2\"; allowed: the smaller first, and something between the two",
        ],
    );
    check(
        "to: [90, 230, 49]",
        "to: [-90, 230, 49]",
        &[
            "cavity.obstacles[1].cylinder.to: found the same point as from; allowed: the centre of the other end: a bar has a length",
        ],
    );
    check(
        "diameter: 16 }",
        "diameter: 16 }\n    box: { across: [0, 1], depth: [300, 301], up: [0, 1] }",
        &[
            "cavity.obstacles[1]: found box and cylinder; allowed: exactly one of box, cylinder, outline",
        ],
    );
    check(
        "    cylinder: { from: [-90, 230, 49], to: [90, 230, 49], diameter: 16 }\n",
        "",
        &["cavity.obstacles[1]: found no shape; allowed: exactly one of box, cylinder, outline"],
    );
    check(
        "[[213, -10], [240, -10], [213, 20]]",
        "[[213, -10], [240, -10]]",
        &["cavity.obstacles[2].outline.corners: found 2 corners; allowed: three corners or more"],
    );
    check(
        "direction: [0, 0, -2], diameter: 30",
        "direction: [0, 0, 0], diameter: 30, width: 3",
        &[
            "cavity.exits[0]: found diameter and width; allowed: exactly one of diameter, width with height, corners",
            "cavity.exits[0].direction: found [0.0, 0.0, 0.0]; allowed: a direction that leads somewhere",
        ],
    );
    check(
        "up: [-58, -20] }",
        "up: [-58, -20], turned_deg: [0, 0, 5] }",
        &[
            "cavity.pockets[0].box.turned_deg: found [0.0, 0.0, 5.0]; allowed: no turn: a pocket stands square",
        ],
    );
    check(
        "depth: [210 ± 2, 213 ± 2]",
        "depth: ['?', 190]",
        &[
            "cavity.obstacles[0].box.depth: found \"?\" to \"190\"; allowed: ? with a span whose middle leaves something between the two, as ? 180..200",
        ],
    );
}

/// Half said is not said: it is not cut, and the rest is answered.
#[test]
fn cuts_without_limits_are_warnings_and_not_made() {
    for (left_out, stays, lacking) in [
        (
            "    cut_from: [lower]\n    max_depth: 12\n",
            "",
            "cut_from and max_depth",
        ),
        ("    max_depth: 12\n", "", "max_depth"),
    ] {
        let inlined = numbers(&[(left_out, stays)]);
        assert_eq!(
            said(&inlined.warnings),
            [format!(
                "cavity.obstacles[0].cut: found ask without {lacking}; allowed: cut_from and max_depth; it is not cut without"
            )]
        );
        assert_eq!(*inlined.job.cavity.obstacles[0].cut(), geometry::Cut::Never);
    }
}

#[test]
fn a_cut_on_what_is_never_cut_is_a_warning() {
    let inlined = numbers(&[("kind: coolant_pipe", "kind: coolant_pipe\n    cut: allowed")]);
    assert!(
        inlined
            .warnings
            .iter()
            .all(|fault| fault.severity == Severity::Warning)
    );
    assert_eq!(
        said(&inlined.warnings),
        [
            "cavity.obstacles[1].cut: found allowed on a coolant pipe; allowed: never: it is never cut whatever the file says",
        ]
    );
    assert_eq!(*inlined.job.cavity.obstacles[1].cut(), geometry::Cut::Never);
}

#[test]
fn solids_in_the_same_place() {
    check(
        "at: [60, 200, -40]",
        "at: [30, 180, -50]",
        &[
            "cavity.factory_plugs[1]: found the spare factory plug lying 10.00 mm in the data module (\"M1\"); allowed: solids beside each other, or joined_to where one grows from the other",
        ],
    );
    check(
        "depth: [210 ± 2, 213 ± 2]",
        "depth: [210 ± 2, 214 ± 2]",
        &[
            "cavity.obstacles[2]: found the gusset lying 1.00 mm in the rear rib (\"R1\"); allowed: solids beside each other, or joined_to where one grows from the other",
        ],
    );
    let joined = numbers(&[
        ("depth: [210 ± 2, 213 ± 2]", "depth: [210 ± 2, 214 ± 2]"),
        (
            "along: [60, 62] }",
            "along: [60, 62] }\n    joined_to: [R1]",
        ),
    ]);
    assert_eq!(joined.job.cavity.obstacles[2].joined_to, ["R1"]);
}
