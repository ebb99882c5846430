//! No part that is never cut, nor its keep-out, is ever cut, whatever a job
//! says: random notches in everything that stands in random cavities.
//!
//! Fifty cavities here; all five hundred by
//! `cargo test -p acceptance --test never_cut -- --ignored`.

use acceptance::chance::Chance;
use acceptance::random_jobs::random_job;
use geometry::job::{Cut, CutLimits, Edge, Job, Trim};
use geometry::trimming::{RibFace, accounts, carried_out};
use geometry::{Reading, Solid, fixed_solids, signed_distance};
use glam::{DVec2, DVec3};

const EDGES: [Edge; 6] = [
    Edge::Near,
    Edge::Far,
    Edge::Upper,
    Edge::Lower,
    Edge::Left,
    Edge::Right,
];

/// Points looked at in each cut rib.
const POINTS: usize = 400;

/// What a run saw, so that it cannot pass by seeing nothing.
#[derive(Default)]
struct Seen {
    asked: usize,
    cut: usize,
    points: usize,
}

/// A random cavity with notches asked for in all that stands in it, the files'
/// own words as bold as they can be.
fn bold_job(seed: u64) -> Job {
    let (_, mut job) = random_job(seed % 300);
    let mut chance = Chance::new(seed, 7);
    for obstacle in &mut job.cavity.obstacles {
        let limits = CutLimits {
            cut_from: EDGES.to_vec(),
            max_depth: 1000.0,
            min_from_ends: 0.0,
            min_web: 0.0,
        };
        obstacle.cut_as_stated = match chance.below(5) {
            0 => Cut::Never,
            1 => Cut::Ask(limits),
            _ => Cut::Allowed(limits),
        };
        obstacle.cut_keep_out = chance.within(0.0, 40.0);
    }
    let solids = fixed_solids(&job, Reading::Nominal);
    for (obstacle, fixed) in job.cavity.obstacles.iter().zip(&solids) {
        let bounds = fixed.solid.bounds();
        for _ in 0..1 + chance.below(3) {
            let edge = *chance.pick(&EDGES);
            let axis = *chance.pick(&[0, 1, 2]);
            let from = chance.within(bounds.min[axis], bounds.max[axis]);
            job.trims.push(Trim {
                rib: obstacle.id.clone(),
                edge,
                along: [from, from + chance.within(0.5, 30.0)],
                depth: chance.within(0.5, 25.0),
                radius: chance.within(0.0, 5.0),
                locked: false,
                doubler: None,
            });
        }
    }
    job
}

fn point(at: DVec3) -> Solid {
    Solid::capsule(at, at, 0.0)
}

fn look_at(seed: u64, seen: &mut Seen) {
    let job = bold_job(seed);
    let whole = Job {
        trims: Vec::new(),
        ..job.clone()
    };
    let mut bare = job.clone();
    bare.cutting.edge_trim = 0.0;
    for reading in [Reading::Nominal, Reading::Worst, Reading::Best] {
        let as_cut = fixed_solids(&job, reading);
        for (cut, before) in as_cut.iter().zip(fixed_solids(&whole, reading)) {
            let obstacle = job.cavity.obstacles.iter().find(|it| it.id == cut.id);
            if obstacle.is_none_or(|it| *it.cut() == Cut::Never) {
                assert_eq!(cut.solid, before.solid, "seed {seed}: {}", cut.id);
            }
        }
    }
    seen.asked += job.trims.len();
    seen.cut += carried_out(&job).len();
    let whole = fixed_solids(&whole, Reading::Nominal);
    let as_cut = fixed_solids(&bare, Reading::Nominal);
    let mut chance = Chance::new(seed, 8);
    for (number, obstacle) in job.cavity.obstacles.iter().enumerate() {
        if as_cut[number].solid == whole[number].solid {
            continue;
        }
        let face = RibFace::new(obstacle, Reading::Nominal).expect("it was cut");
        let [low, high] = face.bounds();
        for _ in 0..POINTS {
            let share = DVec2::new(chance.within(0.0, 1.0), chance.within(0.0, 1.0));
            let at = point(face.place(low + share * (high - low)));
            let was = signed_distance(&at, &whole[number].solid) < 0.0;
            let is = signed_distance(&at, &as_cut[number].solid) <= 0.0;
            if !was || is {
                continue;
            }
            seen.points += 1;
            for (other, solid) in job.cavity.obstacles.iter().zip(&whole) {
                if other.id != obstacle.id && *other.cut() == Cut::Never {
                    let room = signed_distance(&at, &solid.solid);
                    let least = other.cut_keep_out;
                    assert!(
                        room >= least - 1e-6,
                        "seed {seed}: {} cut {room} mm from {}, which keeps {least}",
                        obstacle.id,
                        other.id
                    );
                }
            }
        }
    }
    // What is accounted for is what is cut.
    let cut: Vec<&str> = carried_out(&job).iter().map(|it| it.rib.as_str()).collect();
    for account in accounts(&job) {
        assert!(cut.contains(&account.rib.as_str()), "seed {seed}");
        assert!(account.removed_volume > 0.0 && account.web > 0.0);
    }
}

fn look_at_all(seeds: std::ops::Range<u64>) -> Seen {
    let mut seen = Seen::default();
    for seed in seeds {
        look_at(seed, &mut seen);
    }
    seen
}

#[test]
fn what_is_never_cut_is_not_in_fifty_cavities() {
    let seen = look_at_all(0..50);
    assert!(
        seen.cut > 10 && seen.cut < seen.asked,
        "{} of {}",
        seen.cut,
        seen.asked
    );
    assert!(seen.points > 200, "{} points", seen.points);
}

#[test]
#[ignore = "half a minute; the fifty above are its first tenth"]
fn what_is_never_cut_is_not_in_five_hundred_cavities() {
    let seen = look_at_all(0..500);
    assert!(seen.cut > 100 && seen.points > 2000);
}
