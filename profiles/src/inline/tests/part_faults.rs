//! What can be wrong with parts, leads, modules and alternatives.

use super::{check, inlined};
use crate::library::Library;
use crate::schema::CablePart;

#[test]
fn a_unit_beyond_all_bounds_is_named_by_what_was_written() {
    check(
        "unit: short_110",
        "unit: { use: short_110, with: { chassis.depth: 1650 } }",
        &["unit.with.chassis.depth: found \"1650\"; allowed: more than 0, up to 500 mm"],
    );
    check(
        "unit: short_110",
        "unit: { use: short_110, with: { chassis.width: 700, mass_kg: -1 } }",
        &[
            "unit.with.chassis.width: found \"700\"; allowed: more than 0, up to 600 mm",
            "unit.with.mass_kg: found -1 kg; allowed: 0 kg or more",
        ],
    );
    check(
        "unit: short_110",
        "unit: { use: short_110, with: { chassis.datum_behind_nose: 3 } }",
        &[
            "unit.with.chassis.datum_behind_nose: found 3 mm with datum: nose_back; allowed: 0, or the datum that the depth is measured from",
        ],
    );
}

#[test]
fn names_that_do_not_exist() {
    let cables = Library::embedded().ids::<CablePart>().count();
    check(
        "unit: short_110",
        "unit: short_101",
        &[
            "unit: found unit \"short_101\", perhaps meant as \"short_110\"; allowed: floating_face, full_depth, shallow_75, short_110, short_88",
        ],
    );
    check(
        "material: pp_t20",
        "material: wood",
        &[
            "cavity.obstacles[0].material: found material \"wood\"; allowed: abs, am60b, foam, loom, pa6_gf30, pc_abs, pe, pp, pp_t20, steel",
        ],
    );
    check(
        "exit: down, run",
        "exit: dwon, run",
        &[
            "cavity.spaces[0].exit: found exit \"dwon\", perhaps meant as \"down\"; allowed: down, left",
        ],
    );
    check(
        "end: { exit: left }",
        "end: { exit: right }",
        &["leads[1].end.exit: found exit \"right\"; allowed: down, left"],
    );
    check(
        "end: { factory_plug: F1 }",
        "end: { factory_plug: F9 }",
        &["leads[0].end.factory_plug: found factory plug \"F9\"; allowed: F1, F2"],
    );
    check(
        "end: { module: M2 }",
        "end: { module: M9 }",
        &["leads[2].end.module: found module \"M9\"; allowed: M1, M2"],
    );
    check(
        "may_go_to: [GB]",
        "may_go_to: [GB, XX]",
        &["modules[1].may_go_to[1]: found space or pocket \"XX\"; allowed: GB, PK, cavity"],
    );
    check(
        "cable: rg174",
        "cable: rg_174",
        &[&format!(
            "leads[1].cable: found cable \"rg_174\", perhaps meant as \"rg174\"; allowed: one of the {cables} there are"
        )],
    );
    check(
        "along: [60, 62] }",
        "along: [60, 62] }\n    joined_to: [R2, G1]",
        &[
            "cavity.obstacles[2].joined_to[0]: found other obstacle \"R2\"; allowed: R1, P1",
            "cavity.obstacles[2].joined_to[1]: found other obstacle \"G1\"; allowed: R1, P1",
        ],
    );
    check(
        "socket: main",
        "socket: mian",
        &[
            "leads[0].socket: found socket \"mian\", perhaps meant as \"main\", on the short unit 110; allowed: main, aerial, hdmi, rca_front, usb, camera, mic",
            "leads[0].socket: found socket \"mian\", perhaps meant as \"main\", on the shallow unit 75 (in the alternative \"other\"); allowed: main, aerial, hdmi, rca_front",
        ],
    );
}

#[test]
fn changes_to_a_part_that_cannot_be_made() {
    check(
        "unit: short_110",
        "unit: { use: short_110, with: { sockets.hmdi.at.0: 3 } }",
        &[
            "unit.with.sockets.hmdi.at.0: found no \"hmdi\" in the list; allowed: main, aerial, hdmi, rca_front, usb, camera, mic of the part",
        ],
    );
    check(
        "{ straight.body: 30 ± 1 }",
        "{ straight.body: thirty }",
        &[
            "leads[1].plug.with.straight.body: found \"thirty\"; allowed: a length such as 182, 7 3/16, 18.2cm, 182 ± 0.5 or ?",
        ],
    );
}

#[test]
fn mounts_plugs_and_rules_of_two_kinds_or_none() {
    let mount = "mount: { id: m, name: my mount, setback: 0, sleeve: { wall: 1, depth: 90 }, kit_pocket: {} }";
    check(
        "mount: kit_pocket",
        mount,
        &[
            "mount: found sleeve and kit_pocket; allowed: exactly one of factory_brackets, sleeve, kit_pocket",
        ],
    );
    check(
        "mount: kit_pocket",
        "mount: { id: m, name: my mount, setback: 0 }",
        &[
            "mount: found nothing that holds the unit; allowed: exactly one of factory_brackets, sleeve, kit_pocket",
        ],
    );
    check(
        "straight: { body: 12, relief: 6 }",
        "mating_depth: 3",
        &[
            "leads[2].plug: found neither straight nor right_angle; allowed: exactly one of straight, right_angle",
        ],
    );
    check(
        "cable: rg174",
        "cable: { id: c, name: my cable, od: 3, published: {} }",
        &[
            "leads[1].cable.published: found neither times_od nor radius; allowed: exactly one of times_od, radius",
        ],
    );
    check(
        "cable: rg174",
        "cable: { id: c, name: my cable, od: 3, published: { times_od: 0 } }",
        &[
            "leads[1].cable.published.times_od: found 0; allowed: more than 0, up to 100 times the outside diameter",
        ],
    );
}

#[test]
fn leads_that_start_or_end_nowhere() {
    check(
        "socket: main",
        "cables: 0",
        &[
            "leads[0]: found neither socket nor module; allowed: exactly one of socket, module",
            "leads[0].cables: found 0; allowed: 1 or more",
        ],
    );
    check(
        "module: M1\n",
        "module: M1\n  socket: usb\n",
        &["leads[2]: found socket and module; allowed: exactly one of socket, module"],
    );
    check(
        "end: { exit: left }",
        "end: { exit: left, module: M1 }",
        &[
            "leads[1].end: found exit and module; allowed: exactly one of exit, module, factory_plug",
        ],
    );
    check(
        "end: { module: M2 }",
        "end: { module: M1 }",
        &["leads[2].end.module: found the module \"M1\" that carries it; allowed: another place"],
    );
    check(
        "socket: aerial",
        "socket: main",
        &[
            "leads[1].socket: found \"main\", where the main plug already plugs in; allowed: a socket of its own",
            "leads[1].plug: found a plug of family \"aerial\" in the main socket; allowed: a plug of family \"main_20way\"",
            "alternatives[0].plugs.L2: found a plug of family \"aerial\" in the main socket; allowed: a plug of family \"main_20way\"",
        ],
    );
}

#[test]
fn modules_in_two_places_or_of_another_size() {
    check(
        "up: [-59, -41] }",
        "up: [-59, -31] }",
        &[
            "modules[0].pinned: found a box of 60 x 40 x 28 mm; allowed: the module's own 60 x 40 x 18 mm, lying any way round",
        ],
    );
    check(
        "up: [-59, -41] }",
        "up: [-59, -41] }\n  may_go_to: [GB]",
        &[
            "modules[0].may_go_to: found places to go to beside pinned; allowed: one of the two: it stays, or it may move",
        ],
    );
}

#[test]
fn a_place_by_the_name_of_the_open_cavity() {
    check(
        "factory_plugs:",
        "- { id: cavity, name: left pocket, box: { across: [40, 96], depth: [180, 205], up: [-58, -20] } }\n  factory_plugs:",
        &[
            "cavity.pockets[1].id: found \"cavity\"; allowed: another name: a module that may go there may go anywhere in the cavity",
        ],
    );
}

#[test]
fn alternatives_that_change_what_is_not_there() {
    check(
        "plugs: { L2: aerial_right_angle }",
        "plugs: { L9: aerial_right_angle }",
        &["alternatives[0].plugs.L9: found lead \"L9\"; allowed: L1, L2, L3"],
    );
    check(
        "plugs: { L2: aerial_right_angle }",
        "without: [L9]",
        &["alternatives[0].without[0]: found lead \"L9\"; allowed: L1, L2, L3"],
    );
    check(
        "move_modules: { M1: [PK] }",
        "move_modules: { M9: [PK], M1: [XX] }",
        &[
            "alternatives[0].move_modules.M9: found module \"M9\"; allowed: M1, M2",
            "alternatives[0].move_modules.M1[0]: found space or pocket \"XX\"; allowed: GB, PK, cavity",
        ],
    );
    check(
        "unit: shallow_75",
        "unit: { use: shallow_75, with: { chassis.depth: -5 } }",
        &[
            "alternatives[0].unit.with.chassis.depth: found \"-5\"; allowed: more than 0, up to 500 mm",
        ],
    );
    check(
        "  unit: shallow_75",
        "  unit: floating_face\n  leads:\n  - { id: L4, name: RCA leads, socket: rca_front, plug: rca_pair, cable: rca_lead, end: { exit: left } }",
        &[
            "alternatives[0].leads[0].socket: found socket \"rca_front\", on the floating-face unit; allowed: main, aerial, usb, hdmi, camera",
        ],
    );
}

/// One pass finds what is wrong everywhere.
#[test]
fn everything_is_said_at_once() {
    let faults = inlined(&[
        ("height: 106 }", "height: 0 }"),
        ("kind: rib", "kind: rib\n    clear: -1"),
        ("cable: usb_2", "cable: usb_9"),
        ("name: second module", "name: ' '"),
    ])
    .expect_err("four things are wrong");
    let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "cavity.opening.height",
            "cavity.obstacles[0].clear",
            "modules[1].name",
            "leads[2].cable",
        ]
    );
}

#[test]
fn points_to_pass_lie_in_reach_and_follow_each_other() {
    let lead = |points: &str| format!("end: {{ exit: left }}\n  through: {points}");
    check(
        "end: { exit: left }",
        &lead("[[0, 9000, 0]]"),
        &["leads[1].through[0][1]: found \"9000\"; allowed: -3000 to 3000 mm"],
    );
    check(
        "end: { exit: left }",
        &lead("[[0, 150, 0], [0, 150, 0]]"),
        &[
            "leads[1].through[1]: found the same point once more; allowed: another point than the one before",
        ],
    );
    check(
        "end: { exit: left }",
        &lead("[[0, 1, 0], [0, 2, 0], [0, 3, 0], [0, 4, 0], [0, 5, 0], [0, 6, 0], [0, 7, 0]]"),
        &["leads[1].through: found 7 points; allowed: up to 6 points"],
    );
    check(
        "end: { exit: left }",
        &lead("[[?, 150, 0]]"),
        &[
            "leads[1].through[0][0]: found a bare ?; allowed: ? with its span, as ? 20..30: nothing usual is known of this measure",
        ],
    );
}
