//! Where a sliding solid stops, held against distances along its way.

use geometry::{Outline, Plane, Solid, signed_distance, stop_along};
use glam::{DVec2, DVec3};

mod random_solids;

use random_solids::{KINDS, Seeded, solid};

/// The distance with the moving solid `travel` out from its seat.
fn apart(moving: &Solid, fixed: &Solid, direction: DVec3, travel: f64) -> f64 {
    signed_distance(&moving.shifted(-direction * travel), fixed)
}

/// Checks one answer; returns whether the two met.
fn check(moving: &Solid, fixed: &Solid, direction: DVec3, clear: f64, places: usize) -> bool {
    let told = || format!("{moving:?} to {fixed:?} along {direction}, clear {clear}");
    let (mine, theirs) = (moving.bounds(), fixed.bounds());
    let reach = mine.joined(&theirs).size().length() + 2.0 * clear;
    let met = stop_along(moving, fixed, direction, clear);
    let until = met.map_or(-reach, |meeting| meeting.travel);
    // All the way in it keeps clear.
    for place in 0..=places {
        let travel = until + (reach - until) * place as f64 / places as f64;
        let distance = apart(moving, fixed, direction, travel);
        assert!(
            distance >= clear - 1e-8,
            "{distance} at {travel}, {}",
            told()
        );
    }
    let Some(meeting) = met else { return false };
    let told = || format!("{meeting:?}, {}", told());
    let distance = apart(moving, fixed, direction, meeting.travel);
    assert!((distance - clear).abs() <= 1e-8, "{distance}, {}", told());
    // A little further in it does not, unless it only grazes.
    let closing = (distance - apart(moving, fixed, direction, meeting.travel - 1e-3)) / 1e-3;
    if closing.abs() > 1e-3 {
        assert!(closing > 0.0, "{closing}, {}", told());
        let nearer = apart(moving, fixed, direction, meeting.travel - 1e-7 / closing);
        assert!(nearer < clear, "{nearer}, {}", told());
    }
    // The points are where the nearest points are.
    let there = meeting.on_moving - direction * meeting.travel;
    let between = there.distance(meeting.on_fixed);
    assert!((between - clear).abs() <= 1e-4, "{between}, {}", told());
    true
}

#[test]
fn it_keeps_clear_until_it_stops_and_not_beyond() {
    let mut seeded = Seeded(21);
    let mut met = 0;
    for _ in 0..4_000 {
        let moving = solid(KINDS[seeded.below(5)], &mut seeded);
        let fixed = solid(KINDS[seeded.below(5)], &mut seeded).shifted(seeded.point(80.0));
        let clear = [0.0, 0.0, 1.5, 10.0][seeded.below(4)];
        let direction = match seeded.below(3) {
            0 => seeded.direction(),
            1 => DVec3::Y,
            _ => -DVec3::X,
        };
        met += usize::from(check(&moving, &fixed, direction, clear, 60));
    }
    assert!((800..3_200).contains(&met), "{met} of 4000 met");
}

#[test]
fn a_re_entrant_solid_stops_at_its_first_piece() {
    let mut seeded = Seeded(22);
    let corners = [
        (0., 0.),
        (40., 0.),
        (40., 30.),
        (30., 30.),
        (30., 10.),
        (10., 10.),
        (10., 30.),
        (0., 30.),
    ];
    let channel = Outline::new(corners.map(DVec2::from).to_vec()).expect("a channel");
    let channel = Solid::prism(&channel, Plane::AcrossDepth, [-10.0, 10.0]);
    let mut met = 0;
    for _ in 0..500 {
        let moving = solid(KINDS[seeded.below(5)], &mut seeded);
        let fixed = channel
            .turned_about_centre(seeded.turn())
            .shifted(seeded.point(60.0));
        met += usize::from(check(&moving, &fixed, DVec3::Y, 2.0, 60));
        met += usize::from(check(&fixed, &moving, DVec3::Y, 0.0, 60));
    }
    assert!(met > 200, "{met}");
    // A small block goes right into the channel's mouth.
    let small = Solid::block(DVec3::new(15., 0., -5.), DVec3::new(25., 5., 5.));
    let meeting = stop_along(&small, &channel, -DVec3::Y, 1.0).expect("it reaches the bottom");
    assert!((meeting.travel - 11.0).abs() < 1e-9, "{meeting:?}");
    // One as wide as the mouth glides in, one a hair wider stops outside.
    let wide = |half: f64| {
        Solid::block(
            DVec3::new(20. - half, 0., -5.),
            DVec3::new(20. + half, 5., 5.),
        )
    };
    let meeting = stop_along(&wide(10.0), &channel, -DVec3::Y, 0.0).expect("the bottom");
    assert!((meeting.travel - 10.0).abs() < 1e-9, "{meeting:?}");
    let meeting = stop_along(&wide(10.001), &channel, -DVec3::Y, 0.0).expect("the legs");
    assert!((meeting.travel - 30.0).abs() < 1e-9, "{meeting:?}");
}

#[test]
fn whole_millimetres_along_an_axis() {
    let mut seeded = Seeded(23);
    let mut met = [0, 0];
    let whole = |seeded: &mut Seeded, count: usize| {
        DVec3::from_array([(); 3].map(|()| seeded.below(count) as f64))
    };
    for _ in 0..4_000 {
        let pick = |seeded: &mut Seeded| {
            let half = whole(seeded, 4);
            let solid = match seeded.below(4) {
                0 => Solid::block(-half, half),
                1 => Solid::cylinder(DVec3::Z * -half.x, DVec3::Z * half.x, 2.0 * half.y),
                2 => Solid::capsule(DVec3::Y * -half.x, DVec3::Y * half.x, 2.0 * half.y),
                _ => Solid::hull(vec![-half, half, DVec3::new(half.y, -half.z, half.x)]),
            };
            solid.shifted(whole(seeded, 9) - 4.0)
        };
        let (moving, fixed) = (pick(&mut seeded), pick(&mut seeded));
        let direction = [DVec3::X, DVec3::Y, -DVec3::Z][seeded.below(3)];
        let clear = seeded.below(3) as f64;
        let answer = check(&moving, &fixed, direction, clear, 200);
        met[usize::from(answer)] += 1;
        // What the quick way says of upright blocks the general one says too:
        // a hair's turn about the line of travel, and back with the answer.
        let turn = glam::DQuat::from_axis_angle(direction, 1e-13);
        let turned = |s: &Solid| {
            s.posed(&geometry::Pose {
                turn,
                shift: DVec3::ZERO,
            })
        };
        let general = stop_along(&turned(&moving), &turned(&fixed), direction, clear);
        let quick = stop_along(&moving, &fixed, direction, clear);
        match (quick, general) {
            (None, None) => {}
            (Some(a), Some(b)) => assert!(
                (a.travel - b.travel).abs() <= 1e-7,
                "{a:?} {b:?}, {moving:?}, {fixed:?}, {direction}, {clear}"
            ),
            other => panic!("{other:?}: {moving:?}, {fixed:?}, {direction}, {clear}"),
        }
    }
    assert!(met[0] > 1_000 && met[1] > 1_000, "{met:?}");
}
