//! Laws a routed lead obeys, in small scenes made for each.

use geometry::routing::{
    Bulge, Effort, Kept, NoWay, Progress, Surroundings, Task, route_one, route_together, verify,
};
use geometry::space::FreeSpace;
use geometry::{Bounds, Solid};
use glam::{DQuat, DVec3};

use crate::random_cavities::{around_answer, cavity};
use crate::random_solids::{KINDS, Seeded, solid};

/// A lead from one pose to another, without straight runs.
fn lead(from: DVec3, from_way: DVec3, to: DVec3, to_way: DVec3) -> Task {
    Task {
        od: 5.0,
        radius: 30.0,
        from,
        from_way,
        straight_from: 0.0,
        to,
        to_way,
        straight_to: 0.0,
        length: None,
        lumps: Vec::new(),
        through: Vec::new(),
        cluster: None,
    }
}

/// The space in a cube of 300 mm.
fn free(solids: &[Kept]) -> FreeSpace {
    free_within(150.0, solids)
}

fn free_within(half: f64, solids: &[Kept]) -> FreeSpace {
    let solids: Vec<(Solid, f64)> = (solids.iter())
        .map(|kept| (kept.solid.clone(), kept.clear))
        .collect();
    let bounds = Bounds {
        min: DVec3::splat(-half),
        max: DVec3::splat(half),
    };
    FreeSpace::of(&solids, &bounds, 2.0, 1)
}

fn kept(solid: Solid) -> Kept {
    Kept {
        solid,
        clear: 2.0,
        not_for: None,
    }
}

/// Closed forms of L. E. Dubins, "On curves of minimal length with a constraint
/// on average curvature", American Journal of Mathematics 79 (1957) 497-516,
/// for a radius of 1: start heading, goal, goal heading, length (computed from
/// the formulas, end poses integrated again).
const SHORTEST: [(f64, [f64; 2], f64, f64); 14] = {
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};
    [
        (0.0, [4.0, 0.0], 0.0, 4.0),
        (0.0, [0.0, 2.0], PI, PI),
        (0.0, [4.0, 4.0], FRAC_PI_2, 5.813_437_014),
        (0.0, [4.0, 4.0], 0.0, 5.854_590_436),
        (0.0, [2.0, 2.0], 0.0, PI),
        (0.0, [-4.0, 0.0], 0.0, 10.283_185_307),
        (0.0, [4.0, 0.0], PI, 7.652_891_820),
        (0.0, [3.0, -2.0], -FRAC_PI_2, 3.806_864_304),
        (FRAC_PI_2, [3.0, 0.0], -FRAC_PI_2, 4.141_592_654),
        (0.0, [1.0, 0.0], FRAC_PI_2, 6.999_391_198),
        (0.0, [0.0, -6.0], PI, 7.141_592_654),
        (0.0, [0.0, 1.0], 0.0, 7.283_185_307),
        (FRAC_PI_4, [5.0, 5.0], -3.0 * FRAC_PI_4, 10.497_435_741),
        (0.0, [0.0, 0.0], PI, 7.330_382_858),
    ]
};

#[test]
fn in_free_space_a_lead_is_as_short_as_the_closed_form() {
    let free = free_within(300.0, &[]);
    let around = Surroundings {
        free: &free,
        fixed: &[],
        movable: Vec::new(),
    };
    let turn = DQuat::from_axis_angle(DVec3::new(1., -2., 0.5).normalize(), 0.9);
    for (heading, [x, y], goal, length) in SHORTEST {
        let way = |angle: f64| turn * DVec3::new(angle.cos(), angle.sin(), 0.0);
        let to = 30.0 * (turn * DVec3::new(x, y, 0.0)) - 20.0;
        let task = lead(DVec3::splat(-20.0), way(heading), to, way(goal));
        let path = route_one(&around, &task, &Effort::default());
        let found = path
            .unwrap_or_else(|why| panic!("{x} {y} {goal}: {why:?}"))
            .length()
            / 30.0;
        assert!(
            found > length - 1e-6,
            "{x} {y} {goal}: {found} under {length}"
        );
        assert!(
            found < 1.03 * length,
            "{x} {y} {goal}: {found} for {length}"
        );
    }
}

#[test]
fn the_same_leads_have_the_same_routes() {
    for seed in [3, 8] {
        let (cavity, _) = around_answer(seed, 10, 10);
        let solve = || {
            let around = cavity.around();
            route_together(&around, &cavity.tasks, &Effort::default(), &mut |_| true)
        };
        let (one, other) = (solve(), solve());
        assert_eq!(one.routes, other.routes);
        assert_eq!(one.work, other.work);
    }
}

#[test]
fn straight_runs_that_cannot_work_are_told_before_any_search() {
    let free = free(&[]);
    let around = Surroundings {
        free: &free,
        fixed: &[kept(Solid::block(
            DVec3::new(-5., 60., -5.),
            DVec3::new(5., 70., 5.),
        ))],
        movable: Vec::new(),
    };
    let straight = |from: DVec3, way: DVec3| Task {
        straight_from: 20.0,
        ..lead(from, way, DVec3::new(100., 100., 100.), DVec3::X)
    };
    let tasks = [
        straight(DVec3::new(-50., 0., 0.), DVec3::X),
        straight(DVec3::new(-40., -10., 3.), DVec3::Y),
        straight(DVec3::new(0., 50., 0.), DVec3::Y),
    ];
    let routing = route_together(&around, &tasks, &Effort::default(), &mut |_| true);
    let Err(NoWay::RunsCross { other: 1, by }) = routing.routes[0] else {
        panic!("{:?}", routing.routes[0]);
    };
    assert!((by - 2.0).abs() < 1e-5);
    assert!(matches!(
        routing.routes[1],
        Err(NoWay::RunsCross { other: 0, .. })
    ));
    let Err(NoWay::RunBlocked { solid: 0, by, .. }) = routing.routes[2] else {
        panic!("{:?}", routing.routes[2]);
    };
    // It ends inside the block, 4.5 mm short of the room it needs on the outside.
    assert!(by > 4.5);
    assert_eq!(routing.work, 0);
}

#[test]
fn a_lead_that_is_too_short_says_by_how_much() {
    let free = free(&[]);
    let around = Surroundings {
        free: &free,
        fixed: &[],
        movable: Vec::new(),
    };
    let task = Task {
        length: Some(95.0),
        ..lead(DVec3::ZERO, DVec3::X, DVec3::X * 100.0, DVec3::X)
    };
    let Err(NoWay::TooShort { by }) = route_one(&around, &task, &Effort::default()) else {
        panic!("95 mm do not reach 100 mm");
    };
    assert!((by - 5.0).abs() < 1e-9);
}

#[test]
fn a_closed_room_is_found_closed() {
    // Six plates around the start, 5 mm thick, no gap.
    let mut plates = Vec::new();
    for axis in [DVec3::X, DVec3::Y, DVec3::Z] {
        for side in [-1.0, 1.0] {
            let middle = 55.0 * side * axis;
            let half = DVec3::splat(60.0) * (DVec3::ONE - axis) + 5.0 * axis;
            plates.push(kept(Solid::block(middle - half, middle + half)));
        }
    }
    let free = free(&plates);
    let around = Surroundings {
        free: &free,
        fixed: &plates,
        movable: Vec::new(),
    };
    let task = lead(DVec3::ZERO, DVec3::X, DVec3::new(110., 0., 0.), DVec3::X);
    let found = route_one(&around, &task, &Effort::default());
    assert_eq!(found, Err(NoWay::Exhausted));
}

#[test]
fn a_lead_passes_the_points_it_is_pinned_to() {
    let wall = kept(Solid::block(
        DVec3::new(-5., -150., -150.),
        DVec3::new(5., 150., 0.),
    ));
    let fixed = [wall];
    let free = free(&fixed);
    let around = Surroundings {
        free: &free,
        fixed: &fixed,
        movable: Vec::new(),
    };
    let task = Task {
        through: vec![DVec3::new(-40., 50., 20.), DVec3::new(30., -60., 40.)],
        ..lead(
            DVec3::new(-100., 0., -30.),
            DVec3::X,
            DVec3::new(100., 0., -30.),
            DVec3::X,
        )
    };
    let path = route_one(&around, &task, &Effort::default()).unwrap();
    assert_eq!(verify(&around, &[task], &[Some(path)]), []);
}

#[test]
fn leads_with_lumps_keep_room_for_them() {
    let (mut routed, mut asked) = (0, 0);
    for seed in 0..6 {
        let mut cavity = cavity(seed, 8, 4);
        for (number, task) in cavity.tasks.iter_mut().enumerate() {
            task.lumps = vec![Bulge {
                at: task.straight_from + 30.0 + 8.0 * number as f64,
                length: 25.0,
                diameter: task.od + 7.0,
            }];
        }
        let around = cavity.around();
        let routing = route_together(&around, &cavity.tasks, &Effort::default(), &mut |_| true);
        let paths: Vec<_> = routing.routes.iter().map(|it| it.clone().ok()).collect();
        assert_eq!(verify(&around, &cavity.tasks, &paths), []);
        routed += paths.iter().flatten().count();
        asked += paths.len();
    }
    assert!(routed * 10 >= asked * 9, "{routed} of {asked}");
}

#[test]
fn solids_of_every_kind_are_kept_clear_of() {
    let mut seeded = Seeded(11);
    let (mut routed, scenes) = (0, 20);
    for _ in 0..scenes {
        let solids: Vec<Kept> = (0..12)
            .map(|number| {
                kept(solid(KINDS[number % KINDS.len()], &mut seeded).shifted(seeded.point(70.0)))
            })
            .collect();
        let (fixed, movable) = solids.split_at(6);
        let free = free(fixed);
        let around = Surroundings {
            free: &free,
            fixed,
            movable: movable.to_vec(),
        };
        let task = lead(
            DVec3::new(-140., 0., 0.),
            DVec3::X,
            DVec3::new(140., 30., 20.),
            DVec3::X,
        );
        match route_one(&around, &task, &Effort::default()) {
            Ok(path) => {
                routed += 1;
                assert_eq!(verify(&around, &[task], &[Some(path)]), []);
            }
            Err(NoWay::RunBlocked { .. }) => {}
            Err(why) => assert_ne!(why, NoWay::Exhausted),
        }
    }
    assert!(routed * 10 >= scenes * 9, "{routed} of {scenes}");
}

#[test]
fn the_grid_does_not_decide() {
    for seed in [1, 4] {
        let (mut cavity, _) = around_answer(seed, 8, 8);
        for step in [1.5, 2.0, 3.0] {
            cavity.survey(step);
            let around = cavity.around();
            let routing = route_together(&around, &cavity.tasks, &Effort::default(), &mut |_| true);
            assert!(
                routing.routes.iter().all(Result::is_ok),
                "seed {seed}, {step} mm"
            );
        }
    }
}

#[test]
fn a_search_that_is_stopped_keeps_what_it_has() {
    let (cavity, _) = around_answer(2, 10, 10);
    let around = cavity.around();
    let mut told = Vec::new();
    let routing = route_together(
        &around,
        &cavity.tasks,
        &Effort::default(),
        &mut |progress| {
            told.push(progress);
            told.len() < 4
        },
    );
    assert_eq!(told.len(), 4);
    assert!(told.iter().all(|it: &Progress| it.leads == 10));
    let paths: Vec<_> = routing.routes.iter().map(|it| it.clone().ok()).collect();
    assert!((1..=4).contains(&paths.iter().flatten().count()));
    assert_eq!(verify(&around, &cavity.tasks, &paths), []);
}

#[test]
fn a_lead_goes_through_a_gap_hardly_wider_than_it() {
    // Od 5 and 2 mm of clear on either side: 9 mm; the gap has 10.
    for number in 0..24 {
        let at = -40.0 + 3.7 * f64::from(number);
        let (low, high) = (DVec3::new(-150., -4., -150.), DVec3::new(150., 4., 150.));
        let fixed = [
            kept(Solid::block(low, DVec3::new(at - 5.0, high.y, high.z))),
            kept(Solid::block(DVec3::new(at + 5.0, low.y, low.z), high)),
        ];
        let free = free(&fixed);
        let around = Surroundings {
            free: &free,
            fixed: &fixed,
            movable: Vec::new(),
        };
        let task = lead(
            DVec3::new(10., -100., 0.),
            DVec3::Y,
            DVec3::new(-20., 100., 30.),
            DVec3::Y,
        );
        let path = route_one(&around, &task, &Effort::default());
        let path = path.unwrap_or_else(|why| panic!("gap at {at}: {why:?}"));
        assert_eq!(verify(&around, &[task], &[Some(path)]), []);
    }
}

#[test]
fn a_lead_turns_in_the_room_its_rule_gives_it() {
    // Behind the plug a plate: a quarter turn of 30 mm and half of 5 mm, and
    // 2 mm of clear; half a millimetre less is too little.
    for (spare, works) in [(0.1, true), (0.5, true), (-0.5, false)] {
        let plate = 34.5 + spare;
        let fixed = [
            kept(Solid::block(
                DVec3::new(-150., plate, -150.),
                DVec3::new(150., plate + 3.0, 150.),
            )),
            kept(Solid::block(
                DVec3::new(-150., -60., -150.),
                DVec3::new(-20., 0., 150.),
            )),
        ];
        let free = free(&fixed);
        let around = Surroundings {
            free: &free,
            fixed: &fixed,
            movable: Vec::new(),
        };
        for to in [
            DVec3::new(100., 20., 25.),
            DVec3::new(-100., 17., -40.),
            DVec3::new(60., 10., 90.),
        ] {
            let way = DVec3::new(to.x, 0.0, 0.0).normalize();
            let found = route_one(
                &around,
                &lead(DVec3::ZERO, DVec3::Y, to, way),
                &Effort::default(),
            );
            assert_eq!(found.is_ok(), works, "{spare} {to}: {found:?}");
        }
    }
}
