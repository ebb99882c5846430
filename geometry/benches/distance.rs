//! Distances beside a general-purpose collision library (parry3d-f64), in the
//! same run, over the same pairs.
//!
//! `cargo bench -p geometry --bench distance`

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::{Solid, nearest_of_all, signed_distance};
use glam::DVec3;
use parry3d_f64::math::Pose3;
use parry3d_f64::query;
use parry3d_f64::shape::{Compound, SharedShape};

#[path = "../tests/random_solids/mod.rs"]
mod random_solids;

use random_solids::{Kind, Seeded, parry, solid};

/// Pairs measured in turn, so that no branch is learnt by heart.
const PAIRS: usize = 256;

/// The kinds measured against each other.
const MEETINGS: [(&str, Kind, Kind); 5] = [
    ("capsule-block", Kind::Capsule, Kind::Block),
    ("capsule-capsule", Kind::Capsule, Kind::Capsule),
    ("block-block", Kind::Block, Kind::Block),
    ("cylinder-block", Kind::Cylinder, Kind::Block),
    ("hull-block", Kind::Hull, Kind::Block),
];

/// Random pairs of two kinds with a signed distance in a range, mm.
fn random_pairs(one: Kind, other: Kind, range: std::ops::Range<f64>) -> Vec<(Solid, Solid)> {
    let mut seeded = Seeded(7);
    let mut pairs = Vec::new();
    while pairs.len() < PAIRS {
        let way = seeded.direction() * seeded.within(0.0, 200.0);
        let pair = (
            solid(one, &mut seeded),
            solid(other, &mut seeded).shifted(way),
        );
        if range.contains(&signed_distance(&pair.0, &pair.1)) {
            pairs.push(pair);
        }
    }
    pairs
}

/// One distance at a time, of solids apart or overlapping.
fn pairs(c: &mut Criterion) {
    for (state, range) in [("apart", 0.1..100.0), ("overlapping", -100.0..-0.1)] {
        for (name, one, other) in MEETINGS {
            let pairs = random_pairs(one, other, range.clone());
            let theirs: Vec<_> = pairs.iter().map(|(a, b)| (parry(a), parry(b))).collect();
            let mut group = c.benchmark_group(format!("{name} {state}"));
            let mut turn = (0..PAIRS).cycle();
            group.bench_function("ours", |bench| {
                bench.iter(|| {
                    let (a, b) = &pairs[turn.next().unwrap_or(0)];
                    signed_distance(black_box(a), black_box(b))
                })
            });
            group.bench_function("parry", |bench| {
                bench.iter(|| {
                    let ((place_a, a), (place_b, b)) = &theirs[turn.next().unwrap_or(0)];
                    if state == "apart" {
                        query::distance(black_box(place_a), &**a, black_box(place_b), &**b)
                            .map_or(f64::NAN, |found| found.distance)
                    } else {
                        query::contact(black_box(place_a), &**a, black_box(place_b), &**b, 0.0)
                            .ok()
                            .flatten()
                            .map_or(f64::NAN, |found| found.dist)
                    }
                })
            });
            group.finish();
        }
    }
}

/// A cable as 75 capsules along a helix.
fn cable(centre: DVec3, phase: f64) -> Vec<Solid> {
    let point = |i: usize| {
        let turn = 0.12 * i as f64 + phase;
        centre + DVec3::new(40.0 * turn.cos(), 4.0 * i as f64, 40.0 * turn.sin())
    };
    (0..75)
        .map(|i| Solid::capsule(point(i), point(i + 1), 6.0))
        .collect()
}

/// The distance between two cables of 75 capsules each.
fn cables(c: &mut Criterion) {
    let (one, other) = (
        cable(DVec3::ZERO, 0.0),
        cable(DVec3::new(25., 10., 0.), 1.5),
    );
    let compound = |cable: &[Solid]| Compound::new(cable.iter().map(parry).collect());
    let (theirs_one, theirs_other) = (compound(&one), compound(&other));
    let (theirs_one, theirs_other) = (SharedShape::new(theirs_one), SharedShape::new(theirs_other));
    let mut group = c.benchmark_group("cable-cable, 75x75 capsules");
    group.bench_function("ours", |bench| {
        bench.iter(|| nearest_of_all(black_box(&one), black_box(&other)))
    });
    group.bench_function("ours, every pair", |bench| {
        bench.iter(|| {
            let mut least = f64::INFINITY;
            for a in &one {
                for b in &other {
                    least = least.min(signed_distance(black_box(a), black_box(b)));
                }
            }
            least
        })
    });
    group.bench_function("parry", |bench| {
        let place = Pose3::IDENTITY;
        bench.iter(|| query::distance(&place, &*theirs_one, &place, black_box(&*theirs_other)))
    });
    group.finish();
}

criterion_group!(benches, pairs, cables);
criterion_main!(benches);
