//! Looms, open tails, straight runs and exits by their corners.

use approx::assert_abs_diff_eq;
use geometry::{ExitShape, WireTail};
use glam::DVec2;

use super::{check, numbers, said};

/// The small job with its main plug led out on the left too, to be taped.
const OUT_LEFT: (&str, &str) = ("end: { factory_plug: F1 }", "end: { exit: left }");

const LOOM: &str = "\
looms:
- exit: left
  wrap: cloth_tape
  taped:
  - { name: pair, leads: [L1, L2], wrap: { use: pvc_tape, with: { thickness: 0.2, layers: 3 } } }
modules:
";

#[test]
fn a_loom_has_its_layers_and_its_tapes_in_numbers() {
    let inlined = numbers(&[OUT_LEFT, ("modules:\n", LOOM)]);
    let [loom] = &inlined.job.makeups[..] else {
        panic!("there is one loom")
    };
    assert_eq!(loom.exit, "left");
    assert_abs_diff_eq!(loom.wrap, 2.0 * 0.27, epsilon = 1e-12);
    assert_eq!(loom.taped[0].name, "pair");
    assert_eq!(loom.taped[0].leads, ["L1", "L2"]);
    assert_abs_diff_eq!(loom.taped[0].wrap, 3.0 * 0.2, epsilon = 1e-12);
    assert_eq!(inlined.alternatives[0].job.makeups, inlined.job.makeups);
}

#[test]
fn without_a_wrap_nothing_goes_round() {
    let loom = "looms:\n- { exit: left, taped: [{ name: pair, leads: [L1, L2] }] }\nmodules:\n";
    let loom = &numbers(&[OUT_LEFT, ("modules:\n", loom)]).job.makeups[0];
    assert_eq!((loom.wrap, loom.taped[0].wrap), (0.0, 0.0));
}

#[test]
fn a_lead_that_an_alternative_leaves_out_drops_out_of_its_tape() {
    let unit = "  unit: shallow_75\n  plugs: { L2: aerial_right_angle }\n";
    let of = |without: &str| {
        let other = format!("  without: [{without}]\n");
        let changes = [OUT_LEFT, ("modules:\n", LOOM), (unit, &other)];
        numbers(&changes).alternatives[0].job.makeups[0]
            .taped
            .clone()
    };
    assert_eq!(of("L2")[0].leads, ["L1"]);
    assert_eq!(of("L1, L2"), []);
}

#[test]
fn a_lead_that_only_an_alternative_has_is_taped_there() {
    let loom = LOOM.replace("L1, L2", "L1, L4");
    let other = "  unit: shallow_75\n  leads:\n  - { id: L4, name: video, socket: hdmi, plug: hdmi_a, cable: hdmi_slim, end: { exit: left } }\n";
    let inlined = numbers(&[
        OUT_LEFT,
        ("modules:\n", &loom),
        ("  unit: shallow_75\n", other),
    ]);
    assert_eq!(inlined.job.makeups[0].taped[0].leads, ["L1"]);
    let other = &inlined.alternatives[0].job.makeups[0];
    assert_eq!(other.taped[0].leads, ["L1", "L4"]);
}

#[track_caller]
fn check_loom(looms: &str, expected: &[&str]) {
    check("modules:\n", &format!("{looms}modules:\n"), expected);
}

#[test]
fn looms_of_exits_that_are_not_there_or_twice() {
    check_loom(
        "looms: [{ exit: lfet }, { exit: left }, { exit: left, wrap: cloth_tpae }]\n",
        &[
            "looms[0].exit: found exit \"lfet\", perhaps meant as \"left\"; allowed: down, left",
            "looms[2].exit: found \"left\" again, as in looms[1]; allowed: one loom for each exit",
            "looms[2].wrap: found wrap \"cloth_tpae\", perhaps meant as \"cloth_tape\"; allowed: one of the 21 there are",
        ],
    );
}

#[test]
fn tapes_round_leads_that_cannot_be_in_them() {
    check_loom(
        "looms:
- exit: left
  taped:
  - { name: one, leads: [L2, L9] }
  - { name: two, leads: [L3, L2] }
  - { name: ' ', leads: [L1] }
- { exit: down, taped: [{ name: none, leads: [] }] }
",
        &[
            "looms[0].taped[0].leads[1]: found lead \"L9\"; allowed: L1, L2, L3",
            "looms[0].taped[1].leads[0]: found \"L3\", which ends in the cavity; allowed: a lead that leaves by \"left\"",
            "looms[0].taped[1].leads[1]: found \"L2\" again, as in looms[0].taped[0]; allowed: each lead in one tape only",
            "looms[0].taped[2].name: found no name; allowed: what the installer calls it",
            "looms[0].taped[2].leads: found one lead; allowed: two leads or more",
            "looms[0].taped[2].leads[0]: found \"L1\", which ends in the cavity; allowed: a lead that leaves by \"left\"",
            "looms[1].taped[0].leads: found no lead; allowed: two leads or more",
        ],
    );
    check_loom(
        "looms: [{ exit: down, taped: [{ name: pair, leads: [L2, L2] }] }]\n",
        &[
            "looms[0].taped[0].leads[0]: found \"L2\", which leaves by \"left\"; allowed: a lead that leaves by \"down\"",
            "looms[0].taped[0].leads[1]: found \"L2\" again, as in looms[0].taped[0]; allowed: each lead in one tape only",
        ],
    );
}

#[test]
fn wraps_of_no_layer_or_no_thickness() {
    check_loom(
        "looms: [{ exit: left, wrap: { use: cloth_tape, with: { layers: 0, thickness: 0 } } }]\n",
        &[
            "looms[0].wrap.with.layers: found 0 layers; allowed: 1 to 20 layers",
            "looms[0].wrap.with.thickness: found \"0\"; allowed: more than 0, up to 25 mm",
        ],
    );
}

const RG174: &str = "cable: rg174";

#[test]
fn the_straight_run_is_that_of_the_rules_in_force() {
    let run = |changes: &[_]| numbers(changes).job.leads[1].cable.straight_run;
    assert_abs_diff_eq!(run(&[]), 6.0 * 2.8, epsilon = 1e-12);
    let shop = ("name: small job\n", "name: small job\nbend_rules: shop\n");
    assert_eq!(run(&[shop]), 0.0);
    let own =
        "cable: { id: c, name: c, od: 3, published: { times_od: 6, straight_run_times_od: 2 } }";
    assert_eq!(
        run(&[shop, (RG174, own)]),
        6.0,
        "as published without a rule of its own"
    );
}

#[test]
fn straight_runs_that_cannot_be() {
    check(
        RG174,
        "cable: { id: c, name: c, od: 3, published: { times_od: 6, straight_run_times_od: -1 }, fold: { times_od: 2, straight_run_times_od: 1 } }",
        &[
            "leads[1].cable.published.straight_run_times_od: found -1; allowed: 0 to 100 times the outside diameter",
            "leads[1].cable.fold.straight_run_times_od: found a straight run; allowed: none: a fold lies behind no plug",
        ],
    );
}

#[test]
fn an_open_tail_has_its_wires() {
    let own = "cable: { id: c, name: c, od: 9, published: { radius: 5 }, wires: { count: 14, od: 1.9 ± 0.1 } }";
    let job = numbers(&[(RG174, own)]).job;
    let tail = WireTail { wires: 14, od: 1.9 };
    assert_eq!(job.leads[1].cable.tail, Some(tail));
    assert_eq!(job.leads[1].cable.od.value(), 9.0);
    assert_eq!(job.leads[2].cable.tail, None);
}

#[test]
fn tails_of_no_wire_of_too_many_or_of_more_than_they_hold() {
    let own = |wires: &str| {
        format!(
            "cable: {{ id: c, name: c, od: 9 ± 1, published: {{ radius: 5 }}, wires: {wires} }}"
        )
    };
    check(
        RG174,
        &own("{ count: 0, od: 0 }"),
        &[
            "leads[1].cable.wires.count: found 0 wires; allowed: 1 to 60 wires",
            "leads[1].cable.wires.od: found \"0\"; allowed: more than 0, up to 25 mm",
        ],
    );
    check(
        RG174,
        &own("{ count: 61, od: 1 }"),
        &["leads[1].cable.wires.count: found 61 wires; allowed: 1 to 60 wires"],
    );
    // 105 = 1.05 x 10^2 is the last that passes.
    let full = own("{ count: 42, od: 1.58 }");
    assert_eq!(numbers(&[(RG174, &full)]).warnings, []);
    let more = own("{ count: 43, od: 1.58 }");
    assert_eq!(
        said(&numbers(&[(RG174, &more)]).warnings),
        [
            "leads[1].cable.wires: found 43 wires of 1.58 mm in a tail of 10 mm; allowed: fewer or thinner wires, or a thicker tail: these cannot lie in it"
        ]
    );
}

const SLOT: &str = "width: 40, height: 20 }";

#[test]
fn an_exit_by_its_corners_goes_round_counter_clockwise() {
    let corners = "corners: [[-20, -10], [0, 12], [20 ± 1, -10]] }";
    let job = numbers(&[(SLOT, corners)]).job;
    let expected = [(20.0, -10.0), (0.0, 12.0), (-20.0, -10.0)].map(DVec2::from);
    assert_eq!(
        job.cavity.exits[1].shape,
        ExitShape::Polygon(expected.to_vec())
    );
}

#[test]
fn exits_whose_corners_make_no_hole() {
    for (corners, expected) in [
        (
            "corners: [[-20, -10], [0, 12]] }",
            "cavity.exits[1].corners: found 2 corners; allowed: three corners or more",
        ),
        (
            "corners: [[-20, -10], [20, 10], [20, -10], [-20, 10]] }",
            "cavity.exits[1].corners: found sides 1-2 and 3-4 that cross or touch; allowed: sides that meet only where one ends and the next begins",
        ),
        (
            "corners: [[-20, -10], [0, 0], [20, 10]] }",
            "cavity.exits[1].corners: found an outline that encloses nothing; allowed: an outline with an area",
        ),
        (
            "corners: [[10, -10], [20, -10], [20, 10]] }",
            "cavity.exits[1].corners: found corners that leave the exit's centre outside; allowed: corners about its centre, which leads pass: [0, 0] lies between them",
        ),
        (
            "width: 40, height: 20, corners: [[-20, -10], [0, 12], [20, -10]] }",
            "cavity.exits[1]: found width and height and corners; allowed: exactly one of diameter, width with height, corners",
        ),
        (
            "run_beyond: 20 }",
            "cavity.exits[1]: found no size; allowed: exactly one of diameter, width with height, corners",
        ),
    ] {
        check(SLOT, corners, &[expected]);
    }
}
