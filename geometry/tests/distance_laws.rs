//! Laws every distance obeys, and solids placed as awkwardly as can be.

use std::f64::consts::FRAC_PI_4;

use geometry::{Outline, Plane, Pose, Solid, nearest, signed_distance};
use glam::{DQuat, DVec2, DVec3};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

mod proof;
mod random_solids;

use random_solids::{KINDS, Kind, Seeded, solid};

fn any_solid() -> impl Strategy<Value = Solid> {
    let shift = [-60.0..60.0f64, -60.0..60.0, -60.0..60.0];
    (any::<u64>(), shift).prop_map(|(seed, shift)| {
        let mut seeded = Seeded(seed);
        let kind = KINDS[seeded.below(5)];
        solid(kind, &mut seeded).shifted(DVec3::from(shift))
    })
}

fn any_pose() -> impl Strategy<Value = Pose> {
    any::<u64>().prop_map(|seed| {
        let mut seeded = Seeded(seed);
        Pose {
            turn: seeded.turn(),
            shift: seeded.point(500.0),
        }
    })
}

/// An outline with re-entrant corners: a star of random spokes.
fn any_star() -> impl Strategy<Value = Outline> {
    prop::collection::vec(5.0..40.0f64, 5..12).prop_map(|spokes| {
        let step = std::f64::consts::TAU / spokes.len() as f64;
        let corner = |(i, r): (usize, &f64)| DVec2::from_angle(step * i as f64) * *r;
        let corners = spokes.iter().enumerate().map(corner).collect();
        Outline::new(corners).expect("spokes in order make an outline")
    })
}

/// The accuracy promised, mm.
const RIGHT: f64 = 1e-8;

fn settings() -> ProptestConfig {
    ProptestConfig {
        cases: 2_000,
        rng_seed: RngSeed::Fixed(11),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(settings())]

    #[test]
    fn it_does_not_matter_which_comes_first(a in any_solid(), b in any_solid()) {
        let (there, back) = (nearest(&a, &b), nearest(&b, &a));
        prop_assert!((there.distance - back.distance).abs() <= RIGHT);
        prop_assert_eq!(there.distance, signed_distance(&a, &b));
    }

    #[test]
    fn moving_both_moves_nothing(a in any_solid(), b in any_solid(), pose in any_pose()) {
        let here = signed_distance(&a, &b);
        let there = signed_distance(&a.posed(&pose), &b.posed(&pose));
        prop_assert!((here - there).abs() <= RIGHT, "{} {}", here, there);
    }

    #[test]
    fn a_distance_changes_no_faster_than_the_place(
        a in any_solid(), b in any_solid(), step in [-9.0..9.0f64, -9.0..9.0, -9.0..9.0]
    ) {
        let step = DVec3::from(step);
        let change = signed_distance(&a, &b.shifted(step)) - signed_distance(&a, &b);
        prop_assert!(change.abs() <= step.length() + RIGHT);
    }

    #[test]
    fn shifting_along_the_direction_found_parts_or_joins(a in any_solid(), b in any_solid()) {
        let found = nearest(&a, &b);
        let touching = b.shifted(-found.distance * found.direction);
        let left = signed_distance(&a, &touching);
        prop_assert!((-RIGHT..=1e-4).contains(&left), "{left}");
        if found.distance < 0.0 {
            prop_assert!(left.abs() <= RIGHT);
        }
    }

    #[test]
    fn a_re_entrant_prism_is_as_near_as_its_nearest_piece(
        star in any_star(), other in any_solid(), pose in any_pose()
    ) {
        let star = Solid::prism(&star, Plane::AcrossDepth, [-8.0, 8.0]);
        let near = Pose { shift: pose.shift * 0.05, ..pose };
        let star = star.posed(&near);
        let pieces = star.pieces().into_iter().map(|piece| signed_distance(&piece, &other));
        let least = pieces.fold(f64::INFINITY, f64::min);
        prop_assert!((signed_distance(&star, &other) - least).abs() <= RIGHT);
        // Two stars: every piece with every piece.
        let turned = star.turned_about_centre(near.turn).shifted(DVec3::X * 70.0);
        let (ours, theirs) = (star.pieces(), turned.pieces());
        let every = ours.iter().flat_map(|a| theirs.iter().map(|b| signed_distance(a, b)));
        let least = every.fold(f64::INFINITY, f64::min);
        prop_assert!((signed_distance(&star, &turned) - least).abs() <= RIGHT);
    }
}

/// The same block three ways.
fn block_three_ways(half: DVec3) -> [Solid; 3] {
    let corners =
        [(-1., -1.), (1., -1.), (1., 1.), (-1., 1.)].map(|c| half.truncate() * DVec2::from(c));
    let outline = Outline::new(corners.to_vec()).expect("a rectangle");
    let block = Solid::block(-half, half);
    let prism = Solid::prism(&outline, Plane::AcrossDepth, [-half.z, half.z]);
    let hull = Solid::hull(block.corners());
    [block, prism, hull]
}

/// Solids of whole millimetres on whole millimetres, square to each other or
/// turned by an eighth, or a hair off: faces in one plane, edges in one line, corners in one
/// point, axes through centres, no thickness, no length.
fn awkward(seeded: &mut Seeded, kind: Kind) -> Solid {
    let size = |seeded: &mut Seeded| [0.0, 1.0, 2.0, 2.0, 5.0][seeded.below(5)];
    let solid = match kind {
        Kind::Block => {
            let half = DVec3::new(size(seeded), size(seeded), size(seeded));
            Solid::block(-half, half)
        }
        Kind::Cylinder => {
            let end = DVec3::Z * size(seeded);
            Solid::cylinder(-end, end, 2.0 * size(seeded))
        }
        Kind::Capsule => {
            let end = DVec3::Z * size(seeded);
            Solid::capsule(-end, end, 2.0 * size(seeded))
        }
        Kind::Prism => {
            let corners = [(0., 0.), (4., 0.), (4., 2.), (2., 4.), (0., 4.)].map(DVec2::from);
            let outline = Outline::new(corners.to_vec()).expect("a house");
            let long = size(seeded);
            Solid::prism(&outline, Plane::AcrossDepth, [-long, long])
        }
        Kind::Hull => {
            let count = 1 + seeded.below(6);
            let whole = |seeded: &mut Seeded| seeded.below(7) as f64 - 3.0;
            let corner = |_| DVec3::new(whole(seeded), whole(seeded), whole(seeded));
            Solid::hull((0..count).map(corner).collect())
        }
    };
    let axes = [DVec3::X, DVec3::Y, DVec3::Z];
    let eighths = [0.0, 0.0, 2.0, 2.0, 1.0, 4.0][seeded.below(6)];
    let turn = DQuat::from_axis_angle(axes[seeded.below(3)], eighths * FRAC_PI_4);
    let place = DVec3::from_array([(); 3].map(|()| seeded.below(9) as f64 - 4.0));
    // Now and then a hair off, down to what rounding does.
    let hair = |seeded: &mut Seeded| match seeded.below(3) {
        0 => 0.1f64.powi(4 + seeded.below(13) as i32),
        _ => 0.0,
    };
    let tilt = DQuat::from_axis_angle(axes[seeded.below(3)], hair(seeded));
    let place = place + axes[seeded.below(3)] * hair(seeded);
    solid.turned_about_centre(tilt * turn).shifted(place)
}

#[test]
fn awkward_places_are_measured_right() {
    let mut seeded = Seeded(3);
    let mut touching = 0;
    for number in 0..100_000 {
        let kind_a = KINDS[seeded.below(5)];
        let a = awkward(&mut seeded, kind_a);
        let kind_b = KINDS[seeded.below(5)];
        let b = awkward(&mut seeded, kind_b);
        let found = nearest(&a, &b);
        let pair = || format!("pair {number}: {a:?} and {b:?}: {found:?}");
        assert!(
            found.distance.is_finite() && found.direction.is_normalized(),
            "{}",
            pair()
        );
        // The width along the direction is free: the distance is no less.
        let width = proof::width(&a, &b, found.direction);
        assert!(
            (width - found.distance).abs() <= 1e-6,
            "{width}, {}",
            pair()
        );
        if found.distance > 0.0 {
            // Points that far apart lie in both: the distance is no more. Across
            // tiny gaps between round surfaces they may sit askew.
            let between = found.on_a.distance(found.on_b);
            let askew = if found.distance < 1e-3 { 1e-5 } else { RIGHT };
            assert!(
                (between - found.distance).abs() <= askew,
                "{between}, {}",
                pair()
            );
            assert!(proof::outside(&a, found.on_a) <= 1e-8, "{}", pair());
            assert!(proof::outside(&b, found.on_b) <= 1e-8, "{}", pair());
        } else {
            // Every direction overlaps by as much, wherever that can be proved.
            let proved = proof::overlaps_by(&a, &b, -found.distance - 1e-6, 3_000);
            assert_ne!(proved, Some(false), "{}", pair());
        }
        touching += usize::from(found.distance.abs() < 1e-12);
    }
    assert!(touching > 2_500, "only {touching} pairs touch");
}

#[test]
fn a_block_is_the_same_block_as_a_prism_or_a_hull() {
    let mut seeded = Seeded(5);
    for _ in 0..20_000 {
        let half = DVec3::from_array([(); 3].map(|()| 1.0 + seeded.below(3) as f64));
        let kind = KINDS[seeded.below(5)];
        let other = awkward(&mut seeded, kind);
        let [block, prism, hull] = block_three_ways(half).map(|s| signed_distance(&s, &other));
        assert!(
            (block - prism).abs() <= 1e-9,
            "{block} {prism} {half} {other:?}"
        );
        assert!(
            (block - hull).abs() <= 1e-9,
            "{block} {hull} {half} {other:?}"
        );
    }
}

#[test]
fn figures_one_can_check_by_hand() {
    let at = |x: f64, y: f64, z: f64| DVec3::new(x, y, z);
    let bar = |from, to, d| Solid::cylinder(from, to, d);
    let cable = |from, to, d| Solid::capsule(from, to, d);
    let cube = Solid::block(at(-5., -5., -5.), at(5., 5., 5.));
    let plate = Solid::block(at(-5., -5., 0.), at(5., 5., 0.));
    let triangle = Solid::hull(vec![at(-5., -5., 0.), at(5., -5., 0.), at(0., 5., 0.)]);
    let upright = bar(at(0., 0., -20.), at(0., 0., 20.), 6.0);
    for (what, a, b, wanted) in [
        ("one in the other, same centre", &cube, &cube, -10.0),
        ("a plate in a cube", &cube, &plate, -5.0),
        ("a plate in itself", &plate, &plate, 0.0),
        ("a triangle in the plate's plane", &plate, &triangle, 0.0),
        ("a triangle in a cube", &cube, &triangle, -5.0),
        ("a bar in itself", &upright, &upright, -6.0),
        ("a bar through a cube", &cube, &upright, -8.0),
        ("a bar through a plate", &plate, &upright, -8.0),
        (
            "two bars side by side",
            &upright,
            &upright.shifted(at(9., 0., 0.)),
            3.0,
        ),
        (
            "two bars that touch",
            &upright,
            &upright.shifted(at(0., 6., 0.)),
            0.0,
        ),
        (
            "two bars, 1 deep",
            &upright,
            &upright.shifted(at(0., 5., 0.)),
            -1.0,
        ),
        (
            "two bars end to end, 1 deep",
            &upright,
            &upright.shifted(at(0., 0., 39.)),
            -1.0,
        ),
        (
            "bars across, 2 apart",
            &upright,
            &bar(at(-9., 8., 0.), at(9., 8., 0.), 6.0),
            2.0,
        ),
        (
            "cables that cross",
            &cable(at(-9., 0., 0.), at(9., 0., 0.), 4.0),
            &cable(at(0., -9., 0.), at(0., 9., 0.), 6.0),
            -5.0,
        ),
        (
            "a cable in itself",
            &cable(at(-9., 0., 0.), at(9., 0., 0.), 4.0),
            &cable(at(-9., 0., 0.), at(9., 0., 0.), 4.0),
            -4.0,
        ),
        (
            "two balls in one place",
            &cable(at(1., 1., 1.), at(1., 1., 1.), 4.0),
            &cable(at(1., 1., 1.), at(1., 1., 1.), 6.0),
            -5.0,
        ),
        (
            "a ball on a corner, 3-4-12",
            &cube,
            &cable(at(8., 9., 17.), at(8., 9., 17.), 6.0),
            10.0,
        ),
        (
            "a ball in the middle of a cube",
            &cube,
            &cable(at(0., 0., 0.), at(0., 0., 0.), 6.0),
            -8.0,
        ),
        (
            "a rim over a corner, 3-4",
            &upright,
            &Solid::block(at(6., -9., 24.), at(9., 9., 30.)),
            5.0,
        ),
    ] {
        let found = signed_distance(a, b);
        assert!(
            (found - wanted).abs() <= 1e-9,
            "{what}: {found}, wanted {wanted}"
        );
    }
}
