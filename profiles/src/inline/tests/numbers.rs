//! Names, defaults and `?` as they come out in numbers.

use approx::assert_abs_diff_eq;
use geometry::{
    BendLine, Cut, ExitShape, Hold, LeadEnd, LeadStart, Measure, ModulePlace, NoseSeat, PlugStyle,
    RuleSet, Run, Section, SlackGoes,
};
use glam::{DVec2, DVec3};

use super::numbers;

#[test]
fn what_is_left_out_takes_the_defaults_of_the_schema() {
    let job = numbers(&[]).job;
    assert_eq!(job.proud_limit, 3.0);
    assert_eq!(job.rules, RuleSet::Published);
    assert_eq!(job.unmeasured, [""; 0]);
    let cavity = &job.cavity;
    assert_eq!(cavity.opening.corner_radius, 0.0);
    assert_eq!(cavity.seat_plane, Measure::exact(0.0));
    assert_eq!(cavity.finished_face, Measure::exact(0.0));
    assert_eq!((cavity.wall_clear, cavity.slide_gap), (2.0, 0.0));
    assert_eq!(cavity.stations[0].to_next, Run::Blended);
    assert_eq!(cavity.obstacles[0].clear, 3.0);
    assert_eq!(cavity.obstacles[0].cut_keep_out, 10.0);
    assert_eq!(cavity.obstacles[1].cut_as_stated, Cut::Never);
    assert_eq!(cavity.exits[0].run_beyond, 0.0);
    let plug = &cavity.factory_plugs[0];
    assert_eq!((plug.tail, plug.pulls_out, plug.clear), (0.0, 0.0, 2.0));
    assert_eq!(job.unit.offset, DVec2::ZERO);
    let lead = &job.leads[0];
    assert_eq!(lead.cables, 1);
    assert_eq!((lead.length, lead.beyond), (None, None));
    assert_eq!(lead.cable.turn_plus_minus, 3.0);
    assert_eq!(lead.cable.straight_run, 0.0);
    assert_eq!(
        (lead.slack.goes, lead.slack.joint_waste),
        (SlackGoes::Stow, 0.0)
    );
    assert_eq!(
        (lead.service_reach.pull_out, lead.service_reach.required),
        (120.0, false)
    );
    assert_eq!(job.modules[0].clear, 3.0);
}

#[test]
fn a_strain_relief_is_as_thick_as_the_smaller_side_of_its_plug() {
    let job = numbers(&[]).job;
    assert_eq!(
        job.leads[2].plug.style,
        PlugStyle::Straight {
            body: Measure::exact(12.0),
            relief: 6.0,
            relief_diameter: 8.0
        }
    );
}

#[test]
fn names_become_parts_places_and_ends() {
    let job = numbers(&[]).job;
    assert_eq!(job.unit.depth, Measure::within(110.0, 0.5));
    assert_eq!(job.cavity.obstacles[0].material.e_modulus, Some(2500.0));
    assert_eq!(job.cavity.exits[0].direction, DVec3::NEG_Z);
    assert_eq!(
        job.cavity.exits[1].shape,
        ExitShape::Rectangle(DVec2::new(40.0, 20.0))
    );
    let used: Vec<bool> = job.cavity.factory_plugs.iter().map(|p| p.used).collect();
    assert_eq!(used, [true, false]);
    assert_eq!(job.leads[0].from, LeadStart::Socket("main".to_owned()));
    assert_eq!(job.leads[0].end, LeadEnd::FactoryPlug("F1".to_owned()));
    assert_eq!(job.leads[2].from, LeadStart::Module("M1".to_owned()));
    assert_eq!(job.leads[2].end, LeadEnd::Module("M2".to_owned()));
    let PlugStyle::Straight { body, .. } = job.leads[1].plug.style else {
        panic!("the aerial plug is straight")
    };
    assert_eq!(body, Measure::within(30.0, 1.0));
    assert!(
        matches!(job.mount.hold, Hold::KitPocket { side_room: None, ref tabs, .. } if tabs.is_empty())
    );
    assert_eq!(job.unit.nose.seat, NoseSeat::Laps);
}

#[test]
fn a_bend_rule_is_measured_at_the_inside_unless_it_says_otherwise() {
    let coax = &numbers(&[]).job.leads[1].cable;
    assert_eq!(coax.published.measured, BendLine::Inside);
    // 6 x 2.8 inside, and 4 x 2.8 at the centreline.
    assert_abs_diff_eq!(coax.published.centreline(2.8), 18.2, epsilon = 1e-12);
    assert_abs_diff_eq!(coax.shop.centreline(2.8), 11.2, epsilon = 1e-12);
    assert_abs_diff_eq!(coax.fold_radius, 18.2, epsilon = 1e-12);
    let shop = numbers(&[("name: small job\n", "name: small job\nbend_rules: shop\n")]);
    assert_abs_diff_eq!(shop.job.leads[1].cable.fold_radius, 11.2, epsilon = 1e-12);
}

#[test]
fn an_outline_of_a_station_comes_out_counter_clockwise() {
    let clockwise = numbers(&[(
        "[[-96, -60], [96, -60], [96, 56], [-96, 56]]",
        "[[-96, 56], [96, 56], [96, -60], [-96, -60]]",
    )]);
    for job in [numbers(&[]).job, clockwise.job] {
        let Section::Outline(corners) = &job.cavity.stations[1].section else {
            panic!("the second station is an outline")
        };
        assert_eq!(corners[0], DVec2::new(-96.0, -60.0));
        assert_eq!(corners[1], DVec2::new(96.0, -60.0));
    }
}

#[test]
fn a_depth_from_another_datum_is_brought_to_the_back_of_the_nose() {
    let changes = "unit:
  use: short_110
  with: { chassis.datum: flange, chassis.datum_behind_nose: 4, chassis.depth: 106 ± 1 }";
    let job = numbers(&[("unit: short_110", changes)]).job;
    assert_eq!(job.unit.depth, Measure::within(106.0, 1.0).plus(4.0));
}

#[test]
fn a_pinned_module_is_known_by_its_size_as_it_lies() {
    // 60 x 40 x 18, lying 60 across, 40 deep and 18 high.
    let job = numbers(&[]).job;
    assert_eq!(job.modules[0].size, [60.0, 40.0, 18.0].map(Measure::exact));
    let standing = "{ across: [-20, -2], depth: [150, 190.3], up: [-59, 1] }";
    let pinned = "{ across: [-20, 40], depth: [150, 190], up: [-59, -41] }";
    let job = numbers(&[(pinned, standing)]).job;
    assert_eq!(job.modules[0].size, [18.0, 40.0, 60.0].map(Measure::exact));
    let ModulePlace::Pinned(faces) = job.modules[0].place else {
        panic!("it is pinned")
    };
    assert_eq!(faces[1], [Measure::exact(150.0), Measure::exact(190.3)]);
}

#[test]
fn a_bare_question_mark_spans_what_is_usual_and_is_named() {
    let job = numbers(&[
        ("width: 184 ± 0.5, height: 106", "width: '?', height: '?'"),
        ("depth: [210 ± 2, 213 ± 2]", "depth: ['?', 260]"),
        (
            "mount: kit_pocket",
            "mount: { use: kit_pocket, with: { setback: '?' } }",
        ),
        (
            "unit: short_110",
            "unit: { use: short_110, with: { chassis.depth: '?' } }",
        ),
        (
            "plug: main_20way",
            "plug: { use: main_20way, with: { width: '?', height: '?', straight.body: '?' } }",
        ),
        ("cable: rg174", "cable: { use: rg174, with: { od: '?' } }"),
        ("diameter: 16", "diameter: '? 10..30'"),
        (
            "along: [60, 62] }",
            "along: [60, 62] }\n    joined_to: [R1]",
        ),
        ("to: [90, 230, 49]", "to: [90, 270, 49]"),
    ])
    .job;
    let span = |measure: Measure| (measure.low(), measure.high(), measure.is_measured());
    assert_eq!(span(job.cavity.opening.width), (180.0, 186.0, false));
    assert_eq!(span(job.cavity.opening.height), (100.0, 113.0, false));
    assert_eq!(span(job.mount.setback), (-2.0, 5.0, false));
    assert_eq!(span(job.unit.depth), (75.0, 180.0, false));
    let plug = &job.leads[0].plug;
    assert_eq!(span(plug.width), (8.0, 42.0, false));
    assert_eq!(span(plug.height), (8.0, 42.0, false));
    let PlugStyle::Straight { body, .. } = plug.style else {
        panic!("the main plug is straight")
    };
    assert_eq!(span(body), (18.0, 38.0, false));
    assert_eq!(span(job.leads[1].cable.od), (2.5, 14.0, false));
    let geometry::Form::Block { depth, .. } = &job.cavity.obstacles[0].form else {
        panic!("the rib is a box")
    };
    assert_eq!(span(depth[0]), (140.0, 260.0, false));
    assert_eq!(
        job.unmeasured,
        [
            "width of the opening",
            "height of the opening",
            "depth of the rear rib",
            "diameter of the coolant pipe",
            "setback of the kit pocket",
            "plug width of the main plug",
            "plug height of the main plug",
            "plug body of the main plug",
            "outside diameter of the aerial lead",
            "depth of the chassis",
        ]
    );
}

#[test]
fn an_alternative_is_the_whole_job_with_its_changes() {
    let inlined = numbers(&[]);
    let [other] = &inlined.alternatives[..] else {
        panic!("there is one alternative")
    };
    assert_eq!(
        (other.id.as_str(), other.name.as_str()),
        ("other", "shallow unit")
    );
    assert_eq!(other.job.name, "small job: shallow unit");
    assert_eq!(other.job.unit.depth.value(), 75.0);
    assert!(matches!(
        other.job.leads[1].plug.style,
        PlugStyle::RightAngle { .. }
    ));
    assert_eq!(
        other.job.modules[0].place,
        ModulePlace::Movable(vec!["PK".to_owned()])
    );
    // The box that comes with the unit is one more module, free to go to every named place.
    assert_eq!(other.job.modules.len(), 3);
    let named = ["GB", "PK"].map(str::to_owned).to_vec();
    assert_eq!(other.job.modules[2].place, ModulePlace::Movable(named));
    assert_eq!(
        other.job.unit.remote_module.as_deref(),
        Some(other.job.modules[2].id.as_str())
    );
    assert_eq!(inlined.job.unit.remote_module, None);
    assert_eq!(inlined.job.modules.len(), 2);
    assert_eq!(other.job.cavity, inlined.job.cavity);
}

#[test]
fn an_alternative_may_leave_out_leads_and_bring_others() {
    let leads = "\
move_modules: { M1: [PK] }
  without: [L2]
  leads:
  - { id: L4, name: other lead, socket: hdmi, plug: hdmi_a, cable: hdmi_slim, end: { exit: left } }";
    let inlined = numbers(&[
        ("move_modules: { M1: [PK] }", leads),
        ("  plugs: { L2: aerial_right_angle }\n", ""),
    ]);
    let ids: Vec<&str> = inlined.alternatives[0]
        .job
        .leads
        .iter()
        .map(|lead| lead.id.as_str())
        .collect();
    assert_eq!(ids, ["L1", "L3", "L4"]);
}
