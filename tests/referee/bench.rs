//! One straight lead on a bare bench, its figures worked by hand.

use acceptance::jobs::{bare, block};
use acceptance::referee::{Rule, TOLERANCE, Violation, judge};
use geometry::job::{Cut, CutLimits, Edge, Kind, Trim};
use seatwell::answer::PlainJob;
use serde_json::{Value, json};

/// A chassis 100 deep, a plug 30 long in the middle of its back, a cable 6
/// across out of the plug at depth 130, an exit ahead at depth 200.
fn plain(fixed: Value) -> Value {
    let block = |centre: [f64; 3], half: [f64; 3]| {
        json!({ "block": {
            "centre": centre, "half_mm": half, "axes": [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
        } })
    };
    json!({
        "bend_rules": "published",
        "cavity": { "wall_clear_mm": 2.0, "slide_gap_mm": 0.0, "stations": [] },
        "walls": [],
        "fixed": fixed,
        "sliding": [
            { "id": "chassis", "class": "chassis", "solid": block([0., 50., 0.], [80., 50., 40.]) },
            { "id": "L", "class": "plug", "solid": block([0., 115., 0.], [8., 15., 5.]) },
        ],
        "unit": {
            "vent_air_mm": 10.0, "vents": [],
            "sockets": [{ "id": "S", "face": "rear", "at_mm": [0, 0], "stands_out_mm": 0 }],
        },
        "leads": [{
            "id": "L", "from": { "socket": "S" }, "end": { "exit": "E" }, "cables": 1,
            "plug": { "style": { "straight": { "body_mm": 30, "relief_mm": 0 } }, "width_mm": 16, "height_mm": 10 },
            "od_mm": 6.0, "straight_run_mm": 10.0, "length_mm": 110.0,
            "published": { "stated": { "times_od": 4 }, "measured": "inside" },
            "slack": { "joint_waste_mm": 5 }, "lumps": [],
        }],
        "modules": [], "spaces": [], "pockets": [], "factory_plugs": [],
        "exits": [{
            "id": "E", "centre": [0, 200, 0], "direction": [0, 1, 0],
            "width_axis": [1, 0, 0], "height_axis": [0, 0, 1],
            "shape": { "round": { "diameter_mm": 7 } },
        }],
    })
}

fn answer() -> Value {
    let path = json!([{ "line": [[0, 130, 0], [0, 210, 0]] }]);
    json!({ "proud_mm": 0, "modules": [], "routes": [{ "lead": "L", "path": path }] })
}

fn judged(fixed: Value) -> Vec<Violation> {
    judge(&plain(fixed), &answer())
}

/// A solid that the lead passes at a depth of 165; `edge` is how far its
/// surface is from the lead's middle, mm.
fn solids(edge: f64) -> Vec<(&'static str, Value)> {
    let side = |x: f64, y: f64| [x + edge, 165.0 + y, 0.0];
    let slant = 0.5f64.sqrt();
    let notch = [
        [-20., -8.],
        [20., -8.],
        [20., 20.],
        [edge, 20.],
        [edge, -edge],
        [-edge, -edge],
        [-edge, 20.],
        [-20., 20.],
    ];
    vec![
        (
            "block",
            json!({ "block": {
            "centre": side(7., 0.), "half_mm": [7, 4, 9], "axes": [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
        } }),
        ),
        (
            "block on its corner",
            json!({ "block": {
            "centre": side(5. * slant * 2., 0.), "half_mm": [5, 5, 9],
            "axes": [[slant, slant, 0], [-slant, slant, 0], [0, 0, 1]],
        } }),
        ),
        (
            "cylinder",
            json!({ "cylinder": {
            "centre": side(12., 0.), "axis": [0, 0, 1], "radius_mm": 12, "half_length_mm": 30,
        } }),
        ),
        (
            "end of a cylinder",
            json!({ "cylinder": {
            "centre": side(12., 0.), "axis": [1, 0, 0], "radius_mm": 5, "half_length_mm": 12,
        } }),
        ),
        (
            "capsule",
            json!({ "capsule": {
            "centre": side(14., 0.), "axis": [1, 0, 0], "radius_mm": 5, "half_length_mm": 9,
        } }),
        ),
        (
            "hull",
            json!({ "hull": { "corners": [
            side(0., 0.), side(9., 6.), side(9., -6.), [edge + 9., 165., 8.], [edge + 9., 165., -8.],
        ] } }),
        ),
        // A channel open upward, the lead in it.
        (
            "channel",
            json!({ "prism": {
            "centre": [0, 165, 0], "axes": [[1, 0, 0], [0, 0, 1], [0, -1, 0]],
            "outline": notch, "half_length_mm": 5,
        } }),
        ),
    ]
}

#[test]
fn the_straight_lead_is_legal() {
    assert_eq!(judged(json!([])), []);
}

#[test]
fn every_shape_is_measured_to_the_tolerance() {
    // 3 of the cable and 2 of the solid.
    for (name, solid) in solids(5.0) {
        let fixed = json!([{ "id": "O", "class": "obstacle", "clear_mm": 2.0, "solid": solid }]);
        assert_eq!(judged(fixed), [], "{name} at the room it asks");
    }
    for (name, solid) in solids(4.8) {
        let fixed = json!([{ "id": "O", "class": "obstacle", "clear_mm": 2.0, "solid": solid }]);
        let found = judged(fixed);
        let one = found
            .iter()
            .find(|it| it.rule == Rule::Clearance && it.against == "O");
        let by = one
            .unwrap_or_else(|| panic!("{name} is 0.2 too near: {found:?}"))
            .by;
        assert!((by - 0.2).abs() < TOLERANCE, "{name}: {by}");
    }
}

/// A rib across the lead's way, notched 16 wide up to 7 above the lead's
/// middle; the trim on its edge brings that to 6.5, so 3.5 beside the cable.
#[test]
fn a_notched_rib_is_measured_as_cut() {
    let mut job = bare([184.0, 106.0], [160.0, 80.0, 100.0], 0.0);
    let mut rib = block("R", Kind::Rib, [-60., 164., -9.], [60., 166.5, 31.]);
    rib.cut_as_stated = Cut::Allowed(CutLimits {
        cut_from: vec![Edge::Lower],
        max_depth: 20.0,
        min_from_ends: 10.0,
        min_web: 10.0,
    });
    job.cavity.obstacles.push(rib);
    job.cutting.edge_trim = 0.5;
    let mut found = |clear: f64, notched: bool| {
        job.cavity.obstacles[0].clear = clear;
        job.trims.clear();
        if notched {
            job.trims.push(Trim {
                rib: "R".into(),
                edge: Edge::Lower,
                along: [-8.0, 8.0],
                depth: 16.0,
                radius: 3.0,
                locked: false,
                doubler: None,
            });
        }
        let plain = serde_json::to_value(PlainJob::of(&job)).expect("plain jobs are JSON");
        judged(plain["fixed"].clone())
    };
    assert_eq!(found(3.5, true), []);
    let near = found(3.7, true);
    assert_eq!(
        (near[0].rule, near[0].against.as_str()),
        (Rule::Clearance, "R")
    );
    assert!((near[0].by - 0.2).abs() < TOLERANCE, "{near:?}");
    assert!(!found(0.0, false).is_empty());
}

#[test]
fn figures_worked_by_hand() {
    let fault = |change: &dyn Fn(&mut Value, &mut Value)| {
        let (mut plain, mut answer) = (plain(json!([])), answer());
        change(&mut plain, &mut answer);
        judge(&plain, &answer)
    };
    // Plug 30, route to the plane of the exit 70, joint 5: 105 of 110.
    let found = fault(&|plain, _| plain["leads"][0]["length_mm"] = json!(104.0));
    assert_eq!((found[0].rule, found.len()), (Rule::TooShort, 1));
    assert!((found[0].by - 1.0).abs() < 1e-9);
    assert_eq!(
        fault(&|plain, _| plain["leads"][0]["length_mm"] = json!(105.0)),
        []
    );
    let slack = |slack: f64| fault(&|_, answer| answer["routes"][0]["slack_mm"] = json!(slack));
    assert_eq!(slack(5.0), []);
    assert_eq!(slack(6.0)[0].rule, Rule::Misstated);
    // A hole of 5.9 does not take a cable of 6.
    let hole = |size: f64| {
        fault(&|plain, _| plain["exits"][0]["shape"]["round"]["diameter_mm"] = json!(size))
    };
    assert_eq!(hole(5.95), []);
    assert_eq!(hole(5.8)[0].rule, Rule::End);
    // Two cables of 6 side by side are 12.
    let found = fault(&|plain, _| plain["leads"][0]["cables"] = json!(2));
    assert_eq!(found[0].rule, Rule::End);
    assert!((found[0].by - 2.5).abs() < 1e-9);
    // The unit stands 3 proud and its lead starts where it did.
    let found = fault(&|_, answer| answer["proud_mm"] = json!(3.0));
    assert_eq!(found[0].rule, Rule::Start);
    assert!((found[0].by - 3.0).abs() < 1e-9);
}

#[test]
fn two_cables_have_a_route_each() {
    let line = |x: f64| json!([{ "line": [[x, 130, 0], [x, 210, 0]] }]);
    let route = |cable: u32, x: f64| json!({ "lead": "L", "cable": cable, "path": line(x) });
    let mut plain = plain(json!([]));
    plain["leads"][0]["cables"] = json!(2);
    plain["exits"][0]["shape"]["round"]["diameter_mm"] = json!(20.0);
    let judged = |routes: [Value; 2]| {
        judge(&plain, &json!({ "proud_mm": 0, "routes": routes }))
            .iter()
            .map(|found| found.rule)
            .collect::<Vec<_>>()
    };
    assert_eq!(judged([route(1, -4.0), route(2, 4.0)]), []);
    assert_eq!(judged([route(1, -2.9), route(2, 2.9)]), [Rule::LeadToLead]);
    // The plug is 16 wide, a cable 6: its middle is at most 5 from the middle.
    assert_eq!(judged([route(1, -5.5), route(2, 4.0)]), [Rule::Start]);
    assert_eq!(judged([route(1, -4.0), route(1, 4.0)]), [Rule::Missing]);
}

#[test]
fn a_lump_is_as_thick_as_it_is() {
    let wall = json!({ "block": {
        "centre": [10, 165, 0], "half_mm": [4, 12, 9], "axes": [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
    } });
    let mut plain =
        plain(json!([{ "id": "O", "class": "obstacle", "clear_mm": 2.0, "solid": wall }]));
    assert_eq!(judge(&plain, &answer()), []);
    // 60 from the mating face is 30 from the plug; 10 thick asks 5 + 2 of the 6.
    plain["leads"][0]["lumps"] = json!([{ "size_mm": [20, 10, 12], "at_mm": 60 }]);
    let found = judge(&plain, &answer());
    assert!(
        found
            .iter()
            .any(|it| it.against == "O (lump)" && (it.by - 1.0).abs() < TOLERANCE),
        "{found:?}"
    );
}

#[test]
fn a_lead_ends_in_its_factory_plug() {
    let mut plain = plain(json!([]));
    plain["leads"][0]["end"] = json!({ "factory_plug": "F" });
    plain["leads"][0]["length_mm"] = Value::Null;
    let mut plug = |at: [f64; 3], pulls_out: f64| {
        plain["factory_plugs"] = json!([{
            "id": "F", "at": at, "direction": [0, -1, 0], "pulls_out_mm": pulls_out,
        }]);
        judge(&plain, &answer())
    };
    assert_eq!(plug([0., 210., 0.], 0.0), []);
    assert_eq!(plug([0., 240., 0.], 40.0), []);
    assert_eq!(plug([0., 240., 0.], 20.0)[0].rule, Rule::End);
    assert_eq!(plug([1., 210., 0.], 0.0)[0].rule, Rule::End);
}

#[test]
fn what_cannot_be_read_is_said() {
    let found = judge(&json!({}), &answer());
    assert_eq!(found[0].rule, Rule::Unreadable);
    let mut odd = answer();
    odd["routes"][0]["path"] = json!([{ "spline": [] }]);
    assert_eq!(judge(&plain(json!([])), &odd)[0].rule, Rule::Unreadable);
}
