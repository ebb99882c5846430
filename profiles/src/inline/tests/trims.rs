//! Notches, and how the shop cuts them.

use approx::assert_abs_diff_eq;
use geometry::{Acts, Edge, Works};

use super::{check, inlined, numbers};

fn notches(list: &str) -> String {
    format!("trims:\n{list}leads:\n")
}

#[test]
fn a_notch_has_its_numbers_and_the_shops_habits() {
    let one = "- { rib: R1, edge: lower, along: [30, 2.25 in], depth: 12.5, locked: true, doubler: { lap: 20 } }\n";
    let rest = "cutting: { tool: { use: flush_cutters, with: { reach: 80 } }, stop_hole: 6, snap: 1/32 in, keep_stiffness_percent: 75, leave_alone: [G1], strip: { thickness: 2 } }\n";
    let text = notches(&format!("{one}{rest}"));
    let job = numbers(&[("leads:\n- id: L1", &format!("{text}- id: L1"))]).job;
    let [trim] = &job.trims[..] else {
        panic!("there is one notch")
    };
    assert_eq!((trim.rib.as_str(), trim.edge), ("R1", Edge::Lower));
    assert_abs_diff_eq!(trim.along[1], 57.15, epsilon = 1e-9);
    assert_eq!((trim.depth, trim.radius, trim.locked), (12.5, 3.0, true));
    let strip = trim.doubler.expect("it has a doubler");
    assert_eq!(
        (strip.thickness, strip.height, strip.lap),
        (2.0, 25.0, 20.0)
    );
    let cutting = &job.cutting;
    assert_eq!(cutting.tool.name, "flush cutters");
    assert_eq!(cutting.tool.works, Works::RoundTheEdge);
    assert_eq!((cutting.tool.reach, cutting.edge_trim), (80.0, 0.5));
    assert_abs_diff_eq!(cutting.snap, 25.4 / 32.0, epsilon = 1e-9);
    assert_eq!(cutting.keep_stiffness, 0.75);
    assert_eq!(cutting.left_alone, ["G1"]);
}

#[test]
fn a_shop_that_says_nothing_cuts_as_is_usual() {
    let job = numbers(&[]).job;
    assert_eq!(job.trims, []);
    assert_eq!(job.cutting.tool.name, "oscillating saw");
    assert_eq!((job.cutting.stop_hole, job.cutting.snap), (8.0, 1.0));
    assert_eq!(
        (job.cutting.keep_stiffness, job.cutting.asked),
        (0.6, false)
    );
}

/// What is said of one notch.
#[track_caller]
fn said_of(notch: &str, expected: &[&str]) {
    let text = notches(&format!("- {{ {notch} }}\n"));
    check("leads:\n- id: L1", &format!("{text}- id: L1"), expected);
}

#[test]
fn what_is_never_cut_has_no_notch() {
    said_of(
        "rib: P1, edge: lower, along: [0, 20], depth: 5",
        &[
            "trims[0].rib: found \"P1\": a coolant pipe is never cut; allowed: an obstacle whose cut is allowed or ask",
        ],
    );
    said_of(
        "rib: G1, edge: lower, along: [0, 20], depth: 5",
        &[
            "trims[0].rib: found \"G1\": its cut is never, or not stated; allowed: an obstacle whose cut is allowed or ask",
        ],
    );
}

#[test]
fn a_notch_that_is_none() {
    said_of(
        "rib: R1, edge: lower, along: [20, 10], depth: 5",
        &[
            "trims[0].along: found 20 to 10; allowed: where it begins, then where it ends, further on",
        ],
    );
    said_of(
        "rib: R1, edge: lower, along: [0, 20], depth: 0",
        &["trims[0].depth: found \"0\"; allowed: more than 0, up to 3000 mm"],
    );
    let meeting = notches(
        "- { rib: R1, edge: lower, along: [0, 20], depth: 5 }\n- { rib: R1, edge: lower, along: [20, 30], depth: 5 }\n",
    );
    check(
        "leads:\n- id: L1",
        &format!("{meeting}- id: L1"),
        &[
            "trims[1].along: found a notch that meets trims[0]; allowed: notches of one edge with something left between them",
        ],
    );
}

#[test]
fn habits_out_of_range() {
    let with = |habit: &str| format!("cutting: {{ {habit} }}\nleads:\n- id: L1");
    for (habit, expected) in [
        (
            "keep_stiffness_percent: 120",
            "cutting.keep_stiffness_percent: found 120; allowed: 0 to 100 percent",
        ),
        (
            "snap: 0.1",
            "cutting.snap: found \"0.1\"; allowed: 0.5 to 25.4 mm",
        ),
        (
            "strip: { e_modulus_mpa: 0 }",
            "cutting.strip.e_modulus_mpa: found 0; allowed: 1 to 300000 MPa",
        ),
    ] {
        check("leads:\n- id: L1", &with(habit), &[expected]);
    }
}

fn loads(list: &str) -> String {
    format!("rib_loads:\n{list}leads:\n- id: L1")
}

#[test]
fn what_hangs_on_a_rib_is_read() {
    let list = "- { rib: R1, along: 1 in, acts: in_plane, force_n: 12 }\n- { rib: R1, along: -40, acts: out_of_plane, force_n: -3.5 }\n";
    let job = numbers(&[("leads:\n- id: L1", &loads(list))]).job;
    let [one, other] = &job.rib_loads[..] else {
        panic!("there are two loads")
    };
    assert_eq!(
        (one.rib.as_str(), one.acts, one.force),
        ("R1", Acts::InPlane, 12.0)
    );
    assert_abs_diff_eq!(one.along, 25.4, epsilon = 1e-9);
    assert_eq!((other.acts, other.force), (Acts::OutOfPlane, -3.5));
    assert_eq!(numbers(&[]).job.rib_loads, []);
}

/// What is said of one load.
#[track_caller]
fn said_of_load(load: &str, expected: &[&str]) {
    check(
        "leads:\n- id: L1",
        &loads(&format!("- {{ {load} }}\n")),
        expected,
    );
}

#[test]
fn a_load_that_is_none() {
    said_of_load(
        "rib: R1, along: 97, acts: in_plane, force_n: 5",
        &["rib_loads[0].along: found 97; allowed: -96 to 96 mm, between the ends of \"R1\""],
    );
    for force in ["0", "2500"] {
        said_of_load(
            &format!("rib: R1, along: 0, acts: in_plane, force_n: {force}"),
            &[&format!(
                "rib_loads[0].force_n: found {force}; allowed: -2000 to 2000 N, but not 0"
            )],
        );
    }
    said_of_load(
        "rib: P1, along: 0, acts: in_plane, force_n: 5",
        &["rib_loads[0].rib: found \"P1\": it is not a flat part; allowed: a flat obstacle"],
    );
}

/// A load on what is never cut is no fault, but it is said that it counts for nothing.
#[test]
fn a_load_on_what_is_never_cut_is_warned_of() {
    let list = loads("- { rib: R1, along: 0, acts: in_plane, force_n: 5 }\n");
    let never = (
        "cut: ask\n    cut_from: [lower]\n    max_depth: 12",
        "cut: never",
    );
    let read = inlined(&[("leads:\n- id: L1", &list), never]);
    let warnings = read.unwrap_or_else(|faults| panic!("{faults:#?}")).warnings;
    let found: Vec<&str> = warnings.iter().map(|it| it.found.as_str()).collect();
    assert_eq!(
        found,
        ["\"R1\": it is never cut, so nothing is computed from it"]
    );
}
