//! Modules that may go anywhere in the cavity: cavities with a known only
//! place, what is said when there is none, and places in random cavities
//! before the independent judge.

use acceptance::hidden::modules_anywhere;
use acceptance::jobs::{add_lead, bare, block, mm};
use acceptance::random_jobs::random_job;
use acceptance::referee::{Rule, judge};
use geometry::seating::{FreePlace, places};
use geometry::{
    CAVITY, Job, Kind, Miss, Module, ModulePlace, ModuleSeat, Run, Section, Station, Verdict,
};
use glam::DVec3;
use seatwell::answer::PlainJob;
use serde_json::json;

/// A cavity of 200 x 120 mm, 260 deep and closed, a chassis of 180 x 100 x 150
/// in it, and a module of 95 x 25 x 60 that may go anywhere. Walls ask for 2 mm,
/// the module for 3.
fn cavity() -> Job {
    let mut job = bare([184.0, 104.0], [180.0, 100.0, 150.0], 0.0);
    let station = |at: f64| Station {
        at: mm(at),
        section: Section::Sides {
            left: mm(100.0),
            right: mm(100.0),
            up: mm(60.0),
            down: mm(60.0),
        },
        to_next: Run::Blended,
    };
    job.cavity.stations = vec![station(0.0), station(260.0)];
    job.cavity.closed = true;
    job.modules.push(Module {
        id: "M1".into(),
        name: "data module".into(),
        size: [mm(95.0), mm(25.0), mm(60.0)],
        clear: 3.0,
        place: ModulePlace::Movable(vec![CAVITY.into()]),
        lead_length: None,
    });
    job
}

/// All room behind the unit filled with ducts, which hold no module, but for a
/// slot on the floor by the left wall: 62.2 wide, 97.2 deep to the 2 mm that
/// the back wall asks for, 25.6 high.
fn with_slot(width: f64) -> Job {
    let mut job = cavity();
    let right = -100.0 + width;
    let (front, top) = (258.0 - 97.2, -60.0 + 25.6);
    let ducts = [
        ("beside", [right, 152.0, -60.0], [100.0, 260.0, 60.0]),
        ("above", [-100.0, 152.0, top], [right, 260.0, 60.0]),
        ("before", [-100.0, 152.0, -60.0], [right, front, top]),
    ];
    for (id, low, high) in ducts {
        job.cavity.obstacles.push(block(id, Kind::Duct, low, high));
    }
    job
}

fn found(job: &Job) -> Result<Vec<FreePlace>, Option<Miss>> {
    places(job, 0, 0.0)
}

#[test]
fn the_only_place_is_found_in_the_only_way_round() {
    let job = with_slot(62.2);
    let places = found(&job).expect("it fits the slot");
    assert_eq!(places.len(), 1);
    let bounds = places[0].block.bounds();
    assert!((bounds.size() - DVec3::new(60.0, 95.0, 25.0)).length() < 1e-9);
    assert_eq!(places[0].mount, DVec3::NEG_Z);
    let gap = bounds.min.z + 60.0;
    assert!((0.0..=0.5).contains(&gap), "{gap} off the floor");
    assert!(bounds.min.x >= -98.0 - 1e-9 && bounds.max.x <= -37.8 + 1e-9);
}

#[test]
fn a_millimetre_less_and_the_closest_miss_is_named() {
    let job = with_slot(61.2);
    let miss = found(&job).expect_err("no room").expect("a miss");
    assert!((miss.short - 0.8).abs() < 1e-6, "{miss:?}");
    assert!(miss.place.starts_with("floor"), "{miss:?}");
    assert!(
        miss.against == "beside" || miss.against.starts_with("left wall"),
        "{miss:?}"
    );
    // The same through the whole answer: blocked, and why.
    let routed = geometry::routed(&job, &mut |_| true);
    assert_eq!(routed.verdict, Verdict::Blocked);
    let left = &routed.left_over[0];
    assert_eq!(left.id, "M1");
    assert_eq!(left.closest_miss.as_ref(), Some(&miss));
}

#[test]
fn a_duct_holds_no_module_and_a_rib_does() {
    // Ducts all over: floor, roof and walls are out of reach behind them.
    let mut job = cavity();
    for (number, (low, high)) in [
        ([-100.0, 152.0, -60.0], [100.0, 260.0, -50.0]),
        ([-100.0, 152.0, 50.0], [100.0, 260.0, 60.0]),
        ([-100.0, 152.0, -50.0], [-90.0, 260.0, 50.0]),
        ([90.0, 152.0, -50.0], [100.0, 260.0, 50.0]),
        ([-90.0, 255.0, -50.0], [90.0, 260.0, 50.0]),
    ]
    .into_iter()
    .enumerate()
    {
        let duct = block(&format!("duct {number}"), Kind::Duct, low, high);
        job.cavity.obstacles.push(duct);
    }
    let nowhere = found(&job);
    assert!(nowhere.is_err(), "{nowhere:?}");
    let rib = block("rib", Kind::Rib, [-60.0, 165.0, -3.0], [60.0, 250.0, 0.0]);
    job.cavity.obstacles.push(rib);
    let places = found(&job).expect("on the rib or under it");
    assert!(places.iter().all(|it| it.mount.z.abs() == 1.0));
}

#[test]
fn a_module_larger_than_the_opening_does_not_get_in() {
    let mut job = cavity();
    job.modules[0].size = [mm(110.0), mm(106.0), mm(105.0)];
    let miss = found(&job).expect_err("too large").expect("a miss");
    // 105 through 104.
    assert_eq!(
        (miss.against.as_str(), miss.short),
        ("opening in the dash", 1.0)
    );
}

#[test]
fn a_lead_that_does_not_reach_keeps_it_near() {
    let mut job = cavity();
    add_lead(
        &mut job,
        "usb",
        [70.0, 30.0],
        [16.0, 8.0, 20.0],
        4.0,
        4.0,
        5.0,
    );
    job.leads[0].end = geometry::LeadEnd::Module("M1".into());
    let near = |job: &Job| -> Vec<f64> {
        let start = DVec3::new(70.0, 170.0, 30.0);
        let places = found(job).expect("there is room");
        (places.iter())
            .map(|it| {
                let bounds = it.block.bounds();
                start.distance(start.clamp(bounds.min, bounds.max))
            })
            .collect()
    };
    let furthest = near(&job).into_iter().fold(0.0, f64::max);
    let reach = 0.5 * furthest;
    job.modules[0].lead_length = Some(reach);
    assert!(near(&job).iter().all(|gap| *gap <= reach));
    // And no lead at all reaches from the socket past the end of its plug's run.
    job.modules[0].lead_length = Some(1.0);
    let miss = found(&job).expect_err("too short").expect("a miss");
    assert_eq!(miss.against, "length of the usb");
    job.modules[0].lead_length = Some(furthest);
    // The whole answer: laid, and the module is fixed to something.
    let routed = geometry::routed(&job, &mut |_| true);
    assert_eq!(routed.proud, Some(0.0), "{routed:?}");
    assert_eq!(routed.routes.len(), 1);
    assert!(routed.modules[0].mounted_on.is_some());
    assert!(matches!(routed.modules[0].place, ModuleSeat::Cavity { .. }));
}

/// A lead that starts at a module stays where it is: however little room there
/// is behind the module, pulling the unit out gives it no more.
#[test]
fn the_lead_of_a_module_holds_no_unit_out() {
    let mut job = cavity();
    let (low, high) = ([-20.0, 170.0, -12.0], [75.0, 195.0, 13.0]);
    job.modules[0].size = [mm(95.0), mm(25.0), mm(25.0)];
    let faces = [0, 1, 2].map(|axis| [mm(low[axis]), mm(high[axis])]);
    job.modules[0].place = ModulePlace::Pinned(faces);
    // All its sides but the one toward the back are covered.
    let about = [
        ("left", [-65.0, 170.0, -20.0], [-22.0, 195.0, 20.0]),
        ("right", [77.0, 170.0, -20.0], [99.0, 195.0, 20.0]),
        ("above", [-30.0, 160.0, 16.0], [85.0, 195.0, 55.0]),
        ("below", [-30.0, 160.0, -55.0], [85.0, 195.0, -16.0]),
        ("before", [-30.0, 158.0, -20.0], [85.0, 166.0, 20.0]),
        ("beam", [-60.0, 220.0, -50.0], [95.0, 230.0, 50.0]),
    ];
    for (id, low, high) in about {
        job.cavity.obstacles.push(block(id, Kind::Duct, low, high));
    }
    add_lead(
        &mut job,
        "tail",
        [0.0, 0.0],
        [10.0, 10.0, 5.0],
        6.0,
        5.0,
        0.0,
    );
    job.leads[0].from = geometry::LeadStart::Module("M1".into());
    job.leads[0].end = geometry::LeadEnd::Exit("back".into());
    job.cavity.exits.push(geometry::Exit {
        id: "back".into(),
        name: "hole in the back".into(),
        centre: DVec3::new(-80.0, 260.0, 0.0),
        direction: DVec3::Y,
        shape: geometry::ExitShape::Round(20.0),
        run_beyond: 0.0,
    });
    let routed = geometry::routed(&job, &mut |_| false);
    assert_eq!(routed.lower_bound, geometry::fit(&job).proud_lower_bound);
}

/// What the judge says of a module there.
fn judged(job: &Job, low: DVec3, size: DVec3, face: DVec3) -> Vec<String> {
    let plain = serde_json::to_value(PlainJob::of(job)).expect("JSON");
    let answer = json!({ "proud_mm": 0.0, "routes": [], "modules": [{
        "module": "M1", "centre": (low + 0.5 * size).to_array(), "size_mm": size.to_array(),
        "mounted_on": { "face": face.to_array() },
    }] });
    let faults = judge(&plain, &answer).into_iter();
    faults
        .filter(|fault| matches!(fault.rule, Rule::Module | Rule::Unreadable))
        .map(|fault| fault.against)
        .collect()
}

#[test]
fn the_judge_finds_a_module_loose_in_the_way_or_out_of_the_cavity() {
    let job = cavity();
    let size = DVec3::new(95.0, 60.0, 25.0);
    let floor = DVec3::NEG_Z;
    // On the floor behind the unit, 0.4 off it.
    let low = DVec3::new(-40.0, 180.0, -59.6);
    assert_eq!(judged(&job, low, size, floor), Vec::<String>::new());
    // Loose: 4 mm off the floor. On its side: nothing at that face.
    let lifted = low + 4.0 * DVec3::Z;
    assert_eq!(
        judged(&job, lifted, size, floor),
        ["something firm at the face it is fixed by"]
    );
    assert_eq!(
        judged(&job, low, size, DVec3::X),
        ["something firm at the face it is fixed by"]
    );
    // 1 mm off the back wall, which asks for 2; beyond it; under the unit.
    let back = low.with_y(259.0 - 60.0);
    assert!(!judged(&job, back, size, floor).is_empty());
    let beyond = low.with_y(300.0);
    assert!(!judged(&job, beyond, size, floor).is_empty());
    let flat = DVec3::new(95.0, 60.0, 8.0);
    let under = judged(&job, low.with_y(60.0), flat, floor);
    assert!(under.iter().any(|it| it == "chassis"), "{under:?}");
    // In front of where the unit ends up, but in its way.
    let mut shallow = cavity();
    shallow.mount.setback = mm(60.0);
    let before = judged(
        &shallow,
        DVec3::new(-40.0, 10.0, -59.6),
        DVec3::new(95.0, 40.0, 25.0),
        floor,
    );
    assert!(
        before.iter().any(|it| it == "chassis on its way in"),
        "{before:?}"
    );
}

/// What is called a place is one, in cavities nobody built a place into.
#[test]
fn places_in_random_cavities_stand_before_the_judge() {
    let (mut judged, mut modules) = (0, 0);
    for seed in 0.. {
        let (_, job) = random_job(seed);
        if job.modules.is_empty() {
            continue;
        }
        if modules == 100 {
            break;
        }
        modules += 1;
        let job = modules_anywhere(&job);
        let Ok(places) = found(&job) else { continue };
        let plain = serde_json::to_value(PlainJob::of(&job)).expect("JSON");
        for place in places {
            judged += 1;
            let bounds = place.block.bounds();
            let answer = json!({ "proud_mm": 0.0, "routes": [], "modules": [{
                "module": "M1", "centre": bounds.middle().to_array(),
                "size_mm": bounds.size().to_array(),
                "mounted_on": { "face": place.mount.to_array() },
            }] });
            let faults: Vec<_> = judge(&plain, &answer)
                .into_iter()
                .filter(|fault| matches!(fault.rule, Rule::Module | Rule::Unreadable))
                .collect();
            assert_eq!(faults, [], "seed {seed}: {place:?}");
        }
    }
    assert!(judged >= 200, "only {judged} places to judge");
}
