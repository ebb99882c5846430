//! Laws of centrelines, on random corners, and their clearances against dense
//! sampling and a general-purpose collision library (parry3d-f64).

use approx::assert_abs_diff_eq;
use geometry::{
    Near, Outline, Path, PathFault, Piece, Plane, Solid, closer_than, path_to_path, path_to_solid,
    paths_closer_than, signed_distance,
};
use glam::{DVec2, DVec3};
use parry3d_f64::math::{Pose3, Vec3};
use parry3d_f64::query;
use parry3d_f64::shape::Segment;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

mod random_solids;

use random_solids::{KINDS, Kind, Seeded, parry, solid};

/// How far apart samples are, mm.
const STEP: f64 = 0.05;

/// What a certified figure may be off, mm.
const CERTIFIED: f64 = 1e-6;

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(23),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// A random centreline that its corners allow.
fn path(seeded: &mut Seeded, reach: f64) -> Path {
    loop {
        let count = 2 + seeded.below(4);
        let corners: Vec<DVec3> = (0..count).map(|_| seeded.point(reach)).collect();
        let radii: Vec<f64> = (2..count)
            .map(|_| seeded.within(2.0, 0.6 * reach))
            .collect();
        if let Ok(path) = Path::through_with(&corners, &radii) {
            return path;
        }
    }
}

/// Places along a path, every `STEP`, with both ends.
fn places(path: &Path) -> impl Iterator<Item = f64> {
    let length = path.length();
    let count = (length / STEP).ceil() as usize;
    (0..=count).map(move |i| length * i as f64 / count as f64)
}

/// The least of a figure near a sampled place, by golden section.
fn refined(figure: impl Fn(f64) -> f64, around: f64) -> f64 {
    let ratio = 0.5 * (5f64.sqrt() - 1.0);
    let (mut low, mut high) = (around - STEP, around + STEP);
    for _ in 0..60 {
        let width = ratio * (high - low);
        if figure(high - width) < figure(low + width) {
            high = low + width;
        } else {
            low = high - width;
        }
    }
    figure(0.5 * (low + high))
}

/// Whether the certified figure is the least one: no sample lies lower, and
/// the place it names has it.
fn holds(path: &Path, near: &Near, figure: impl Fn(f64) -> f64) -> Result<(), TestCaseError> {
    let samples = places(path).map(|along| (figure(along), along));
    let (sampled, along) = samples.min_by(|a, b| a.0.total_cmp(&b.0)).expect("samples");
    let sampled = sampled.min(refined(&figure, along));
    prop_assert!(
        near.distance <= sampled + CERTIFIED,
        "certified {}, sampled {sampled}",
        near.distance
    );
    prop_assert!((figure(near.at) - near.distance).abs() <= CERTIFIED);
    prop_assert!(path.point_at(near.at).distance(near.point) < 1e-9);
    Ok(())
}

fn ball(point: DVec3) -> Solid {
    Solid::capsule(point, point, 0.0)
}

/// The distance from a point to a piece, straight from the definitions.
fn to_piece(point: DVec3, piece: &Piece) -> f64 {
    match *piece {
        Piece::Line { from, to } => {
            let along = (to - from).normalize();
            let place = (point - from).dot(along).clamp(0.0, from.distance(to));
            point.distance(from + along * place)
        }
        Piece::Arc {
            from,
            to,
            centre,
            normal,
            radius,
            angle,
        } => {
            let flat = (point - centre).reject_from(normal);
            let out = (from - centre) / radius;
            let turn = normal.cross(out).dot(flat).atan2(out.dot(flat));
            if turn.rem_euclid(std::f64::consts::TAU) <= angle {
                (point - centre).dot(normal).hypot(flat.length() - radius)
            } else {
                point.distance(from).min(point.distance(to))
            }
        }
    }
}

fn to_path(point: DVec3, path: &Path) -> f64 {
    let each = path.pieces.iter().map(|piece| to_piece(point, piece));
    each.fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(settings(2000))]

    #[test]
    fn rounded_corners_are_a_path_or_name_the_corner(seed in any::<u64>(), radius in 1.0..60.0) {
        let mut seeded = Seeded(seed);
        let count = 2 + seeded.below(5);
        let corners: Vec<DVec3> = (0..count).map(|_| seeded.point(150.0)).collect();
        match Path::through(&corners, radius) {
            Ok(path) => {
                prop_assert_eq!(path.check(radius), Ok(()));
                prop_assert_eq!(path.start(), corners[0]);
                prop_assert_eq!(path.end(), corners[count - 1]);
                let straight: f64 = corners.windows(2).map(|leg| leg[0].distance(leg[1])).sum();
                prop_assert!(path.length() <= straight + 1e-9);
                let sharper = path.check(radius + 0.001);
                prop_assert_eq!(sharper.is_ok(), path.least_radius().is_none());
            }
            // The corner named is one that fits when its legs are longer by that.
            Err(PathFault::LegTooShort { corner, by }) => {
                prop_assert!(by > 0.0 && (1..count - 1).contains(&corner));
            }
            Err(other) => prop_assert!(false, "{}", other),
        }
    }

    #[test]
    fn the_way_back_is_as_long_and_as_near(seed in any::<u64>()) {
        let mut seeded = Seeded(seed);
        let (one, two) = (path(&mut seeded, 100.0), path(&mut seeded, 100.0));
        let back = one.reversed();
        prop_assert_eq!(back.check(2.0), Ok(()));
        prop_assert!((back.length() - one.length()).abs() < 1e-9);
        let obstacle = solid(KINDS[seeded.below(KINDS.len())], &mut seeded);
        for (there, again) in [
            (path_to_solid(&one, &obstacle), path_to_solid(&back, &obstacle)),
            (path_to_path(&one, &two), path_to_path(&back, &two)),
            (path_to_path(&one, &two), path_to_path(&two, &one)),
        ] {
            let (there, again) = (there.unwrap().distance, again.unwrap().distance);
            prop_assert!((there - again).abs() <= CERTIFIED, "{there} or {again}");
        }
    }

    #[test]
    fn too_near_is_what_is_nearer(seed in any::<u64>(), shift in -3.0..3.0f64) {
        let mut seeded = Seeded(seed);
        let (one, two) = (path(&mut seeded, 100.0), path(&mut seeded, 100.0));
        let obstacle = solid(KINDS[seeded.below(KINDS.len())], &mut seeded);
        let near = path_to_solid(&one, &obstacle).unwrap().distance;
        for least in [near + shift, near] {
            prop_assert_eq!(closer_than(&one, &obstacle, least).is_some(), least > near);
        }
        let near = path_to_path(&one, &two).unwrap().distance;
        for least in [near + shift, near] {
            prop_assert_eq!(paths_closer_than(&one, &two, least).is_some(), least > near);
        }
    }
}

proptest! {
    #![proptest_config(settings(1000))]

    #[test]
    fn no_sample_is_nearer_to_a_solid(seed in any::<u64>()) {
        let mut seeded = Seeded(seed);
        let path = path(&mut seeded, 60.0);
        let kind = KINDS[seeded.below(KINDS.len())];
        let way = seeded.direction() * seeded.within(0.0, 90.0);
        let obstacle = solid(kind, &mut seeded).shifted(way);
        let near = path_to_solid(&path, &obstacle).unwrap();
        holds(&path, &near, |along| signed_distance(&ball(path.point_at(along)), &obstacle))?;
        prop_assert!((near.point.distance(near.on_other) - near.distance.abs()).abs() < 1e-5);
    }

    #[test]
    fn no_sample_is_nearer_to_a_path(seed in any::<u64>()) {
        let mut seeded = Seeded(seed);
        let one = path(&mut seeded, 60.0);
        let two = path(&mut seeded, 60.0);
        let near = path_to_path(&one, &two).unwrap();
        holds(&one, &near, |along| to_path(one.point_at(along), &two))?;
        let other = two.point_at(near.at_other.expect("a place on the other path"));
        prop_assert!(other.distance(near.on_other) < 1e-9);
        prop_assert!((near.point.distance(other) - near.distance).abs() < 1e-9);
    }

    #[test]
    fn lines_are_as_far_as_the_collision_library_says(seed in any::<u64>()) {
        let mut seeded = Seeded(seed);
        let (from, to) = (seeded.point(120.0), seeded.point(120.0));
        let path = Path { pieces: vec![Piece::Line { from, to }] };
        let kind = [Kind::Block, Kind::Capsule, Kind::Prism][seeded.below(3)];
        let obstacle = solid(kind, &mut seeded);
        let ours = path_to_solid(&path, &obstacle).unwrap().distance;
        let vec = |v: DVec3| Vec3::new(v.x, v.y, v.z);
        let line = Segment::new(vec(from), vec(to));
        let (place, theirs) = parry(&obstacle);
        let theirs = query::distance(&Pose3::IDENTITY, &line, &place, &*theirs).unwrap().distance;
        prop_assert!((ours.max(0.0) - theirs).abs() < 1e-5, "{ours} here, {theirs} there");
    }
}

/// Arcs about one axis are equally far apart all along.
#[test]
fn arcs_about_one_axis_keep_their_distance() {
    let arc = |radius: f64, height: f64, angle: f64| Path {
        pieces: vec![Piece::arc(
            DVec3::new(radius, 0., height),
            DVec3::Y,
            -DVec3::X,
            radius,
            angle,
        )],
    };
    for (radius, height, expected) in [(36., 0., 6.), (30., 7., 7.), (34., 3., 5.), (30., 0., 0.)] {
        let near = path_to_path(&arc(30., 0., 3.0), &arc(radius, height, 6.0)).unwrap();
        assert_abs_diff_eq!(near.distance, expected, epsilon = 1e-12);
    }
    // Round a bar, and round nothing but the bar's axis.
    let bar = Solid::cylinder(DVec3::Z * -20.0, DVec3::Z * 20.0, 44.0);
    let near = path_to_solid(&arc(30., 0., 3.0), &bar).unwrap();
    assert_abs_diff_eq!(near.distance, 8.0, epsilon = 1e-9);
    let axis = Path::through(&[DVec3::Z * -20.0, DVec3::Z * 20.0], 1.0).unwrap();
    let near = path_to_path(&arc(30., 0., 3.0), &axis).unwrap();
    assert_abs_diff_eq!(near.distance, 30.0, epsilon = 1e-12);
}

/// Two linked half turns: each passes through the other's middle.
#[test]
fn linked_turns_are_a_radius_apart() {
    let one = Path {
        pieces: vec![Piece::arc(DVec3::X * 30.0, DVec3::Y, -DVec3::X, 30.0, 3.1)],
    };
    let two = Path {
        pieces: vec![Piece::arc(DVec3::Y * 55.0, DVec3::Z, -DVec3::Y, 30.0, 3.1)],
    };
    // In the common plane x = 0 the arcs pass at (30, 0) and (-5 .. 55).
    let near = path_to_path(&one, &two).unwrap();
    let sampled = (0..=40_000).map(|i| {
        let along = two.length() * f64::from(i) / 4e4;
        to_path(two.point_at(along), &one)
    });
    let sampled = sampled.fold(f64::INFINITY, f64::min);
    assert_abs_diff_eq!(near.distance, sampled, epsilon = 1e-5);
}

/// A bend that dips into a block is as deep as its lowest point.
#[test]
fn a_bend_into_a_block_is_as_deep_as_it_dips() {
    let block = Solid::block(DVec3::new(-90., -40., -90.), DVec3::new(90., 0., 90.));
    let dip = |height: f64| {
        let arc = Piece::arc(DVec3::new(-30., height, 0.), -DVec3::Y, DVec3::X, 30.0, 3.1);
        path_to_solid(&Path { pieces: vec![arc] }, &block).unwrap()
    };
    assert_abs_diff_eq!(dip(32.5).distance, 2.5, epsilon = 1e-9);
    assert_abs_diff_eq!(dip(24.0).distance, -6.0, epsilon = 1e-9);
    assert_abs_diff_eq!(dip(24.0).point, DVec3::new(0., -6., 0.), epsilon = 1e-6);
}

/// A bend that reaches into the notch of a prism is near to its flanks only.
#[test]
fn a_bend_in_a_notch_is_near_to_its_flanks() {
    let corners = [
        (-40., 0.),
        (-15., 0.),
        (-15., 30.),
        (15., 30.),
        (15., 0.),
        (40., 0.),
        (40., 50.),
        (-40., 50.),
    ];
    let outline = Outline::new(corners.map(DVec2::from).to_vec()).unwrap();
    let notched = Solid::prism(&outline, Plane::AcrossDepth, [-20.0, 20.0]);
    let bend = |across: f64, depth: f64| {
        let start = DVec3::new(across - 9.0, depth - 9.0, 0.0);
        let arc = Piece::arc(start, DVec3::Y, DVec3::X, 9.0, 3.1);
        path_to_solid(&Path { pieces: vec![arc] }, &notched).unwrap()
    };
    assert_abs_diff_eq!(bend(0.0, 20.0).distance, 6.0, epsilon = 1e-9);
    assert_abs_diff_eq!(bend(-2.5, 20.0).distance, 3.5, epsilon = 1e-6);
    assert_abs_diff_eq!(bend(0.0, 26.0).distance, 4.0, epsilon = 1e-9);
    // Before the notch it is as far as its flanks' corners.
    assert_abs_diff_eq!(
        bend(0.0, -6.0).distance,
        15f64.hypot(15.0) - 9.0,
        epsilon = 1e-6
    );
}

/// What is not a number ends the search instead of keeping it going.
#[test]
fn a_path_of_no_numbers_is_near_to_nothing() {
    let arc = Piece::arc(DVec3::NAN, DVec3::Y, DVec3::X, 9.0, 3.1);
    let lost = Path { pieces: vec![arc] };
    let block = Solid::block(DVec3::ZERO, DVec3::ONE);
    let line = Path::through(&[DVec3::ZERO, DVec3::ONE], 1.0).unwrap();
    assert_eq!(path_to_solid(&lost, &block), None);
    assert_eq!(path_to_path(&lost, &line), None);
    assert_eq!(path_to_path(&line, &lost), None);
}
