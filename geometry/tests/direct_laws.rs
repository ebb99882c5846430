//! Laws of the direct way from pose to pose, on random poses.

use std::f64::consts::{PI, TAU};

use geometry::Path;
use geometry::bends::{direct, dubins, laid, planar};
use glam::{DQuat, DVec2, DVec3};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

mod random_solids;

use random_solids::Seeded;

const RADIUS: f64 = 30.0;

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(31),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Whether a path leads from pose to pose and bends no tighter than it may.
fn leads(path: &Path, from: [DVec3; 2], to: [DVec3; 2]) -> Result<(), TestCaseError> {
    prop_assert_eq!(path.check(RADIUS), Ok(()));
    prop_assert!(path.start().distance(from[0]) < 1e-9);
    prop_assert!(path.end().distance(to[0]) < 1e-9);
    prop_assert!(path.start_direction().distance(from[1]) < 1e-6);
    prop_assert!(path.end_direction().distance(to[1]) < 1e-6);
    prop_assert!(path.length() >= from[0].distance(to[0]) - 1e-9);
    Ok(())
}

proptest! {
    #![proptest_config(settings(2000))]

    #[test]
    fn there_is_a_way_from_any_pose_to_any_other(seed in any::<u64>(), reach in 5.0..200.0) {
        let mut seeded = Seeded(seed);
        let from = [seeded.point(reach), seeded.direction()];
        let to = [seeded.point(reach), seeded.direction()];
        let path = direct(from[0], from[1], to[0], to[1], RADIUS);
        let path = path.expect("a way in free space");
        leads(&path, from, to)?;
        // It never does more than loop at both ends.
        let most = from[0].distance(to[0]) + 2.0 * TAU * RADIUS;
        prop_assert!(path.length() <= most, "{} of {most}", path.length());
    }

    #[test]
    fn in_a_plane_it_is_the_shortest_flat_path(
        goal in (-200.0..200.0f64, -200.0..200.0f64),
        heading in -PI..PI,
        seed in any::<u64>(),
    ) {
        let mut seeded = Seeded(seed);
        let (turn, shift) = (seeded.turn(), seeded.point(300.0));
        let goal = DVec2::from(goal);
        let flat = dubins(DVec2::ZERO, 0.0, goal, heading, RADIUS).unwrap();
        let place = |at: DVec2| shift + turn * at.extend(0.0);
        let way = |heading: f64| turn * DVec2::from_angle(heading).extend(0.0);
        let (from, to) = ([place(DVec2::ZERO), way(0.0)], [place(goal), way(heading)]);
        let path = direct(from[0], from[1], to[0], to[1], RADIUS).unwrap();
        leads(&path, from, to)?;
        prop_assert!((path.length() - flat.length).abs() < 1e-7);
    }

    #[test]
    fn a_hair_out_of_the_plane_it_is_hardly_longer(
        goal in (-200.0..200.0f64, -200.0..200.0f64),
        heading in -PI..PI,
        tilt in 1e-5..1e-3f64,
    ) {
        let goal = DVec2::from(goal);
        let flat = dubins(DVec2::ZERO, 0.0, goal, heading, RADIUS).unwrap();
        // Turns of more than half a circle may have no counterpart out of the plane.
        let [first, _, last] = flat.segments;
        if !flat.word.has_straight() || first.max(last) > PI {
            return Ok(());
        }
        let end = goal.extend(RADIUS * tilt);
        let onward = DVec2::from_angle(heading).extend(-tilt);
        let onward: DVec3 = onward.normalize();
        prop_assert_eq!(planar(DVec3::ZERO, DVec3::X, end, onward, RADIUS), None);
        let path = direct(DVec3::ZERO, DVec3::X, end, onward, RADIUS).unwrap();
        leads(&path, [DVec3::ZERO, DVec3::X], [end, onward])?;
        prop_assert!(path.length() <= 1.03 * flat.length, "{} of {}", path.length(), flat.length);
    }

    #[test]
    fn no_flat_path_of_other_turns_is_shorter(
        turns in (0.0..6.2f64, 0.0..150.0f64, 0.0..6.2f64),
        sides in (any::<bool>(), any::<bool>()),
    ) {
        use geometry::bends::Stretch::{Left, Right, Straight};
        let turn = |left: bool, angle: f64| if left { Left(angle) } else { Right(angle) };
        let other = [turn(sides.0, turns.0), Straight(turns.1), turn(sides.1, turns.2)];
        let path = laid(DVec3::ZERO, DVec3::X, DVec3::Y, RADIUS, &other);
        let heading = path.end_direction().truncate().to_angle();
        let flat = dubins(DVec2::ZERO, 0.0, path.end().truncate(), heading, RADIUS).unwrap();
        prop_assert!(flat.length <= path.length() + 1e-7);
        // Back from the goal it is as long.
        let back = dubins(path.end().truncate(), heading + PI, DVec2::ZERO, PI, RADIUS).unwrap();
        prop_assert!((back.length - flat.length).abs() < 1e-7);
    }
}

/// Where the plane is not given by the poses, any will do.
#[test]
fn poses_in_one_line_have_a_way() {
    let turn = DQuat::from_axis_angle(DVec3::new(1., 2., 3.).normalize(), 1.0);
    for (along, side) in [
        (100.0, 1.0),
        (100.0, -1.0),
        (-100.0, 1.0),
        (-10.0, -1.0),
        (0.0, -1.0),
    ] {
        let [ahead, onward] = [turn * DVec3::X, turn * DVec3::X * side];
        let end = turn * DVec3::X * along;
        let path = direct(DVec3::ZERO, ahead, end, onward, RADIUS).unwrap();
        assert_eq!(path.check(RADIUS), Ok(()));
        let heading = if side > 0.0 { 0.0 } else { PI };
        let flat = dubins(DVec2::ZERO, 0.0, DVec2::X * along, heading, RADIUS).unwrap();
        assert!((path.length() - flat.length).abs() < 1e-9);
    }
    assert_eq!(direct(DVec3::X, DVec3::Y, DVec3::X, DVec3::Y, RADIUS), None);
    assert_eq!(direct(DVec3::X, DVec3::Y, DVec3::Z, DVec3::Y, 0.0), None);
}
