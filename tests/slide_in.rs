//! Ways in that are not straight: worked by hand, tried at many postures with
//! a general-purpose collision library (parry3d-f64, <https://parry.rs>), and
//! against a flood over a dense grid of postures.

use std::collections::BTreeSet;

use acceptance::chance::Chance;
use acceptance::jobs::{bare, block, mm};
use geometry::slide_in::{Rear, THINNEST, TiltAxis};
use geometry::{
    Barred, Hold, Job, Kind, Layout, Posture, Reading, SideBracket, SlideIn, TiltedWay, fit,
    lay_out, routed, slide_in,
};
use glam::{DQuat, DVec3};
use parry3d_f64::math::{Pose3, Rot3, Vec3};
use parry3d_f64::query;
use parry3d_f64::shape::{Cuboid, Cylinder, SharedShape};

/// Chassis 178 x 100 x 120 set 40 mm behind an opening of 184 x 106, a small
/// nose before it; a thin lip hangs down to `lip` from above, 30 mm in.
fn behind_a_lip(lip: f64) -> Job {
    let mut job = bare([184.0, 106.0], [178.0, 100.0, 120.0], 40.0);
    job.unit.nose.width = mm(120.0);
    job.unit.nose.height = mm(40.0);
    let low = [-150.0, 30.0, lip];
    job.cavity
        .obstacles
        .push(block("lip", Kind::Rib, low, [150.0, 31.0, 90.0]));
    job
}

fn way(job: &Job) -> Result<SlideIn, Barred> {
    slide_in(job, Reading::Nominal, 0.0).expect("it stands free at its seat")
}

fn tilted(job: &Job) -> TiltedWay {
    way(job).expect("a way in").tilted.expect("not straight")
}

/// How tilted a box of height `high` must be to pass between the lip's edge
/// and the opening's lower edge, radians: they are seen at `apart` from each
/// other, at `steep` to the upright, and the box is `apart x cos(steep - tilt)` wide there.
fn least_tilt(lip: f64, high: f64) -> Option<f64> {
    let (deep, up) = (30.0_f64, lip + 53.0);
    let (apart, steep) = (deep.hypot(up), deep.atan2(up));
    (high <= apart).then(|| steep - (high / apart).acos())
}

/// 30 mm in and 98 mm up make 102.49 mm at 17.02 degrees: 100 mm pass from
/// 17.02 - 12.64 = 4.37 degrees on.
#[test]
fn a_lip_is_passed_with_the_rear_low_and_no_more_than_it_takes() {
    let by_hand = least_tilt(45.0, 100.0).unwrap().to_degrees();
    assert!((by_hand - 4.37).abs() < 0.01, "{by_hand}");
    // With half a millimetre to spare on both sides: 101 mm pass from 7.24 on.
    let with_room = least_tilt(45.0, 101.0).unwrap().to_degrees();
    assert!((with_room - 7.24).abs() < 0.01, "{with_room}");
    let found = tilted(&behind_a_lip(45.0));
    assert_eq!(
        (found.axis, found.rear),
        (TiltAxis::Across, Some(Rear::Low))
    );
    let tilt = found.tilt.to_degrees();
    assert!((with_room..with_room + 0.6).contains(&tilt), "{tilt}");
    assert!(found.spare_at_least >= THINNEST / 2.0);
    // Its rear low, it comes level when its front has passed the lip.
    assert!(found.level_from < found.level_by && found.level_by <= 160.0);
    assert!(found.level_from > 100.0, "{found:?}");
}

/// 30 mm in and 93 up are 97.7 mm apart: no box of 100 passes at any tilt.
#[test]
fn a_bar_that_nothing_passes_is_named() {
    assert!(least_tilt(40.0, 100.0).is_none());
    let barred = way(&behind_a_lip(40.0)).expect_err("no way in");
    assert_eq!(barred.most_tilt, 10f64.to_radians());
    let by = barred.by.expect("something bars it");
    assert_eq!(by.piece, "chassis");
    assert!(by.spare < 0.0);
    assert!(["lip", "opening"].contains(&by.against_id.as_str()));
}

/// At 44, 30 in and 97 up make 101.53 mm at 17.19 degrees: from 7.2 on, and a
/// job that allows 5 has no way in.
#[test]
fn a_way_stays_within_the_tilt_the_job_allows() {
    let mut job = behind_a_lip(44.0);
    assert!((least_tilt(44.0, 100.0).unwrap().to_degrees() - 7.22).abs() < 0.02);
    assert!(tilted(&job).tilt.to_degrees() >= 7.2);
    job.enter_tilt = 5f64.to_radians();
    assert!(way(&job).is_err());
}

/// The lip only as low as the play in the opening: moved down, not tilted.
#[test]
fn play_in_the_opening_is_used_before_any_tilt() {
    let found = tilted(&behind_a_lip(49.0));
    assert_eq!((found.tilt, found.rear), (0.0, None));
    // The lip reaches 1 mm into its line.
    let past = found.way.iter().map(|it| it.aside).fold(0.0, f64::min);
    assert!(past < -1.0, "{past}");
}

/// Brackets with screw heads 185 wide through an opening of 184: one side first.
#[test]
fn screw_heads_wider_than_the_opening_go_in_one_side_first() {
    let job = wide_heads(2.0);
    assert!(fit(&job).proud.is_none(), "the quick rule goes straight in");
    let found = tilted(&job);
    assert_eq!(found.axis, TiltAxis::Up);
    assert!(matches!(found.rear, Some(Rear::Left | Rear::Right)));
    let laid = routed(&job, &mut |_| true);
    assert_eq!(laid.proud, Some(0.0));
    assert!(laid.slide_in.is_some_and(|way| !way.is_straight()));
    // 4 mm more on each side and even a corner first it is too wide.
    let wider = wide_heads(6.0);
    assert!(way(&wider).is_err());
    // In front of the opening is no place for it to stand.
    let laid = routed(&wider, &mut |_| true);
    assert_eq!((laid.proud, laid.slide_in), (None, None));
    assert!(laid.barred.is_some());
}

/// 178 + 2 x 1.5 + 2 x `head` wide, its heads 30 and 70 mm behind the front.
fn wide_heads(head: f64) -> Job {
    let mut job = bare([184.0, 106.0], [178.0, 100.0, 120.0], 2.0);
    let hole = |id: &str, depth: f64| geometry::Hole {
        id: id.into(),
        side: None,
        depth,
        up: 0.0,
        diameter: 5.0,
        slot: 0.0,
    };
    job.mount.hold = Hold::FactoryBrackets {
        bracket: SideBracket {
            thickness: mm(1.5),
            height: 60.0,
            length: 90.0,
        },
        holes: vec![hole("front", 32.0), hole("rear", 72.0)],
        screw_head_height: head,
        screw_head_diameter: 8.0,
    };
    job
}

#[test]
fn the_straight_way_is_taken_where_it_is_free() {
    let job = bare([184.0, 106.0], [178.0, 100.0, 120.0], 2.0);
    assert!(way(&job).unwrap().is_straight());
    // Not at a proud where the unit overlaps something.
    let mut held = job.clone();
    acceptance::jobs::wall_behind(&mut held, 115.0);
    assert!(slide_in(&held, Reading::Nominal, 3.0).is_none());
    assert!(slide_in(&held, Reading::Nominal, 7.0).is_some());
}

/// The quick rule stays with the straight way; the routed layer goes by the
/// seat and says how the unit gets there.
#[test]
fn the_routed_layer_sits_where_a_way_in_was_found() {
    let job = behind_a_lip(45.0);
    let quick = fit(&job);
    // The chassis' rear, 160 in, before the lip at 30.
    assert_eq!(quick.proud, Some(130.0));
    assert_eq!(quick.proud_lower_bound, 0.0);
    let laid = routed(&job, &mut |_| true);
    assert_eq!((laid.proud, laid.lower_bound), (Some(0.0), 0.0));
    assert_eq!(laid.slide_in, Some(way(&job).unwrap()));
    assert!(laid.barred.is_none());
    // Where there is none it stands before the lip, and says what bars it.
    let laid = routed(&behind_a_lip(40.0), &mut |_| true);
    assert_eq!((laid.proud, laid.lower_bound), (Some(130.0), 0.0));
    assert!(laid.slide_in.unwrap().is_straight());
    assert_eq!(laid.proof, geometry::Proof::SearchGaveUp);
    assert!(laid.barred.is_some());
}

/// A solid for the other library.
fn theirs(solid: &geometry::Solid) -> (Pose3, SharedShape) {
    let pose = solid.pose();
    let vec = |it: DVec3| Vec3::new(it.x, it.y, it.z);
    let turn = Rot3::from_xyzw(pose.turn.x, pose.turn.y, pose.turn.z, pose.turn.w);
    match solid.shape() {
        geometry::Shape::Block { half } => (
            Pose3::from_parts(vec(pose.shift), turn),
            SharedShape::new(Cuboid::new(vec(*half))),
        ),
        geometry::Shape::Cylinder {
            radius,
            half_length,
        } => {
            // Round bars run along its second axis there.
            let bar = Rot3::from_axis_angle(Vec3::X, std::f64::consts::FRAC_PI_2);
            (
                Pose3::from_parts(vec(pose.shift), turn * bar),
                SharedShape::new(Cylinder::new(*half_length, *radius)),
            )
        }
        other => panic!("not in these jobs: {other:?}"),
    }
}

/// The unit and what it must pass, as the other library sees them. Its own
/// reading of a posture: drawn out, turned about the middle of the opening, moved aside.
struct Judge {
    pieces: Vec<(bool, Pose3, SharedShape)>,
    fixed: Vec<(Pose3, SharedShape, f64)>,
    edges: Vec<(Pose3, SharedShape)>,
    axis: TiltAxis,
}

impl Judge {
    fn new(layout: &Layout, axis: TiltAxis) -> Judge {
        let pieces = layout.sliding.iter().map(|piece| {
            let (place, shape) = theirs(&piece.solid);
            (!piece.is_in_front(), place, shape)
        });
        let fixed = layout.fixed.iter().map(|fixed| {
            let (place, shape) = theirs(&fixed.solid);
            (place, shape, fixed.clear)
        });
        let half = layout.opening_half;
        let far = 400.0;
        let plate = |x: [f64; 2], z: [f64; 2]| {
            let half = Vec3::new(0.5 * (x[1] - x[0]), 0.0, 0.5 * (z[1] - z[0]));
            let at = Vec3::new(0.5 * (x[0] + x[1]), 0.0, 0.5 * (z[0] + z[1]));
            let place = Pose3::from_parts(at, Rot3::IDENTITY);
            (place, SharedShape::new(Cuboid::new(half)))
        };
        Judge {
            pieces: pieces.collect(),
            fixed: fixed.collect(),
            edges: vec![
                plate([-far, -half.x], [-far, far]),
                plate([half.x, far], [-far, far]),
                plate([-far, far], [half.y, far]),
                plate([-far, far], [-far, -half.y]),
            ],
            axis,
        }
    }

    /// Least room to spare at a posture, mm; 0 or less when something overlaps.
    fn spare(&self, at: &Posture) -> f64 {
        let (axis, aside) = match self.axis {
            TiltAxis::Across => (DVec3::X, DVec3::Z),
            TiltAxis::Up => (DVec3::Z, DVec3::X),
        };
        let turn = DQuat::from_axis_angle(axis, at.tilt);
        let shift = turn * DVec3::new(0.0, -at.proud, 0.0) + at.aside * aside;
        let moved = Pose3::from_parts(
            Vec3::new(shift.x, shift.y, shift.z),
            Rot3::from_xyzw(turn.x, turn.y, turn.z, turn.w),
        );
        let mut spare = f64::INFINITY;
        for (goes_in, place, shape) in &self.pieces {
            let place = moved * *place;
            let gap = |other: &Pose3, solid: &SharedShape| {
                query::distance(&place, &**shape, other, &**solid)
                    .expect("a supported pair")
                    .distance
            };
            for (other, solid, clear) in &self.fixed {
                spare = spare.min(gap(other, solid) - clear);
            }
            if *goes_in {
                for (other, solid) in &self.edges {
                    spare = spare.min(gap(other, solid));
                }
            }
        }
        spare
    }

    /// Whether everything is free all along, looked at every 0.1 mm or so.
    fn is_free(&self, from: &Posture, to: &Posture, least: f64) -> bool {
        let moves = (to.proud - from.proud).abs()
            + (to.aside - from.aside).abs()
            + 200.0 * (to.tilt - from.tilt).abs();
        let steps = (moves / 0.1).ceil().max(1.0) as usize;
        (0..=steps).all(|step| self.spare(&from.toward(to, step as f64 / steps as f64)) >= least)
    }
}

fn is_free_by_dense_sampling(job: &Job, found: &TiltedWay) {
    let judge = Judge::new(&lay_out(job, Reading::Nominal), found.axis);
    let (last, tilted) = found.way.split_last().expect("a way");
    assert_eq!((last.tilt, last.aside), (0.0, 0.0));
    for motion in tilted.windows(2) {
        let least = found.spare_at_least - 1e-6;
        assert!(judge.is_free(&motion[0], &motion[1], least), "{motion:?}");
    }
    // The last motion may end touching.
    assert!(judge.is_free(tilted.last().unwrap(), last, -1e-6));
    // It begins in front of the opening.
    let job_rear = lay_out(job, Reading::Nominal).chassis_rear;
    assert!(found.way[0].proud >= job_rear);
}

#[test]
fn ways_found_are_free_at_every_tenth_of_a_millimetre() {
    for lip in [49.0, 47.0, 46.0, 45.0, 44.0, 43.5] {
        let job = behind_a_lip(lip);
        is_free_by_dense_sampling(&job, &tilted(&job));
    }
    let heads = wide_heads(2.0);
    is_free_by_dense_sampling(&heads, &tilted(&heads));
}

/// Whether a flood over a grid of postures comes in: 6 mm of depth, one
/// degree, 0.75 mm aside; every step free at every tenth of a millimetre with
/// `least` to spare.
fn floods_in(job: &Job, axis: TiltAxis, least: f64) -> bool {
    let layout = lay_out(job, Reading::Nominal);
    let judge = Judge::new(&layout, axis);
    let rows = ((layout.chassis_rear + 24.0) / 6.0).ceil() as i32;
    let posture = |(row, tilt, aside): (i32, i32, i32)| Posture {
        proud: 6.0 * f64::from(row) + 1.5,
        tilt: f64::from(tilt).to_radians(),
        aside: 0.75 * f64::from(aside),
    };
    let mut open: Vec<(i32, i32, i32)> = (-10..=10).map(|tilt| (rows, tilt, 0)).collect();
    let mut seen: BTreeSet<(i32, i32, i32)> = open.iter().copied().collect();
    let mut closed: BTreeSet<(i32, i32, i32)> = BTreeSet::new();
    while let Some(node) = open.pop() {
        if node.0 == 0 && node.1 == 0 && node.2 == 0 {
            return true;
        }
        for step in [
            (-1, 0, 0),
            (0, -1, 0),
            (0, 1, 0),
            (0, 0, -1),
            (0, 0, 1),
            (1, 0, 0),
        ] {
            let next = (node.0 + step.0, node.1 + step.1, node.2 + step.2);
            let inside = (0..=rows).contains(&next.0) && next.1.abs() <= 10 && next.2.abs() <= 7;
            if !inside || seen.contains(&next) || closed.contains(&next) {
                continue;
            }
            if judge.spare(&posture(next)) < least {
                closed.insert(next);
            } else if judge.is_free(&posture(node), &posture(next), least) {
                seen.insert(next);
                open.push(next);
            }
        }
    }
    false
}

/// Random lips above and below at two depths: wherever the flood comes in,
/// a way is found; what is found is free.
#[test]
fn a_way_is_found_wherever_a_dense_flood_comes_in() {
    let mut tally = [0; 3];
    for seed in 0..12 {
        let mut chance = Chance::new(seed, 0);
        let mut job = behind_a_lip(chance.within(43.0, 50.0));
        let below = -chance.within(46.5, 60.0);
        let at = chance.within(8.0, 24.0);
        let sill = block(
            "sill",
            Kind::Rib,
            [-150., at, -90.],
            [150., at + 2.0, below],
        );
        job.cavity.obstacles.push(sill);
        let floods = floods_in(&job, TiltAxis::Across, 0.3);
        match way(&job) {
            Ok(SlideIn {
                tilted: Some(found),
                ..
            }) => {
                is_free_by_dense_sampling(&job, &found);
                tally[usize::from(floods)] += 1;
            }
            Ok(_) => panic!("a lip bars the straight way"),
            Err(barred) => {
                assert!(!floods, "seed {seed}: a way was missed, {barred:?}");
                tally[2] += 1;
            }
        }
    }
    println!("found only by us, by both, by neither: {tally:?}");
    assert!(tally[1] >= 3 && tally[2] >= 2, "{tally:?}");
}

#[test]
fn a_way_is_the_same_to_the_last_bit_every_time() {
    let job = behind_a_lip(45.0);
    assert_eq!(way(&job), way(&job));
}
