//! Signed distances beside a general-purpose collision library, in one run.
//!
//! `cargo bench -p geometry --bench distance`
//!
//! Each figure is for 256 random pairs of a kind, apart and overlapping; the
//! pair named "theirs" does the same with parry3d-f64. The last two are two
//! cables of 75 capsules each, every capsule against every other.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use geometry::{Solid, signed_distance};
use glam::DVec3;
use parry3d_f64::query;

#[allow(dead_code)] // the tests use all of it
#[path = "../tests/random_solids/mod.rs"]
mod random_solids;

use random_solids::{Kind, Seeded, parry, solid};

const PAIRS: usize = 256;

fn pairs(a: Kind, b: Kind) -> Vec<(Solid, Solid)> {
    let mut seeded = Seeded(7);
    (0..PAIRS)
        .map(|_| {
            let first = solid(a, &mut seeded);
            let way = seeded.direction();
            let second = solid(b, &mut seeded).shifted(way * seeded.within(0.0, 60.0));
            (first, second)
        })
        .collect()
}

fn kinds(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("256 distances");
    for (name, a, b) in [
        ("block to block", Kind::Block, Kind::Block),
        ("capsule to block", Kind::Capsule, Kind::Block),
        ("capsule to capsule", Kind::Capsule, Kind::Capsule),
        ("cylinder to block", Kind::Cylinder, Kind::Block),
        ("hull to block", Kind::Hull, Kind::Block),
    ] {
        let pairs = pairs(a, b);
        group.bench_function(BenchmarkId::new(name, "ours"), |bench| {
            bench.iter(|| {
                pairs
                    .iter()
                    .map(|(a, b)| signed_distance(a, b))
                    .sum::<f64>()
            });
        });
        let theirs: Vec<_> = pairs.iter().map(|(a, b)| (parry(a), parry(b))).collect();
        group.bench_function(BenchmarkId::new(name, "theirs"), |bench| {
            bench.iter(|| {
                theirs
                    .iter()
                    .map(|((place_a, a), (place_b, b))| {
                        let apart = query::distance(place_a, &**a, place_b, &**b)
                            .expect("a supported pair")
                            .distance;
                        if apart > 0.0 {
                            return apart;
                        }
                        query::contact(place_a, &**a, place_b, &**b, 0.0)
                            .expect("a supported pair")
                            .map_or(0.0, |contact| contact.dist)
                    })
                    .sum::<f64>()
            });
        });
    }
    group.finish();
}

/// A cable as 75 capsules along a bend.
fn cable(offset: f64) -> Vec<Solid> {
    let at = |step: f64| {
        let turn = step * 0.04;
        DVec3::new(80.0 * turn.cos(), 80.0 * turn.sin(), offset + 0.3 * step)
    };
    (0..75)
        .map(|step| Solid::capsule(at(step as f64), at(step as f64 + 1.0), 5.0))
        .collect()
}

fn cables(criterion: &mut Criterion) {
    let (one, other) = (cable(0.0), cable(9.0));
    let mut group = criterion.benchmark_group("two cables of 75 capsules");
    group.bench_function("ours", |bench| {
        bench.iter(|| {
            one.iter()
                .flat_map(|a| other.iter().map(move |b| signed_distance(a, b)))
                .fold(f64::INFINITY, f64::min)
        });
    });
    let shapes = |cable: &[Solid]| cable.iter().map(parry).collect::<Vec<_>>();
    let (one, other) = (shapes(&one), shapes(&other));
    group.bench_function("theirs", |bench| {
        bench.iter(|| {
            one.iter()
                .flat_map(|(place_a, a)| {
                    other.iter().map(move |(place_b, b)| {
                        query::distance(place_a, &**a, place_b, &**b)
                            .expect("a supported pair")
                            .distance
                    })
                })
                .fold(f64::INFINITY, f64::min)
        });
    });
    group.finish();
}

criterion_group!(benches, kinds, cables);
criterion_main!(benches);
