//! Centrelines: how long a router waits for a proof that nothing is too near.
//!
//! `cargo bench -p geometry --bench path`

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::bends::direct;
use geometry::{Path, Solid, closer_than, path_to_path, path_to_solid, paths_closer_than};
use glam::DVec3;

#[path = "../tests/random_solids/mod.rs"]
mod random_solids;

use random_solids::Seeded;

/// Ten leads that leave the rear of a unit side by side, turn down and run
/// together to an exit: lines of one bundle, and neighbours at every turn.
fn leads() -> Vec<Path> {
    let lead = |number: usize| {
        let (column, row) = ((number % 5) as f64, (number / 5) as f64);
        let (across, up) = (34.0 * column - 68.0, 24.0 * row);
        let behind = 190.0 + 9.0 * row;
        let gathered = DVec3::new(7.0 * column - 14.0, behind, -60.0 + 6.0 * row);
        let corners = [
            DVec3::new(across, 120.0, up),
            DVec3::new(across, behind, up),
            DVec3::new(0.5 * across, behind, up - 45.0),
            gathered,
            gathered - DVec3::Z * 70.0,
            gathered + DVec3::new(90.0, 30.0, -110.0),
        ];
        Path::through(&corners, 14.0).expect("legs long enough for a small bend")
    };
    (0..10).map(lead).collect()
}

/// Thirty solids around them: ribs, ducts and walls.
fn solids() -> Vec<Solid> {
    let solid = |number: usize| {
        let place = number as f64;
        let at = DVec3::new(13.0 * place - 190.0, 215.0 - 2.0 * (place % 7.0), -30.0);
        match number % 3 {
            0 => Solid::block(at, at + DVec3::new(2.5, 30.0, 70.0)),
            1 => Solid::cylinder(at, at + DVec3::new(0.0, 40.0, 25.0), 22.0),
            _ => Solid::hull(vec![
                at,
                at + DVec3::X * 12.0,
                at + DVec3::Y * 20.0,
                at + DVec3::new(5.0, 5.0, 60.0),
            ]),
        }
    };
    (0..30).map(solid).collect()
}

fn clearances(c: &mut Criterion) {
    let (leads, solids) = (leads(), solids());
    let pairs = || (0..10).flat_map(|i| (i + 1..10).map(move |j| (i, j)));
    c.bench_function("10 leads, all pairs, nearest", |bench| {
        bench.iter(|| {
            let leads = black_box(&leads);
            let near = pairs().filter_map(|(i, j)| path_to_path(&leads[i], &leads[j]));
            near.fold(f64::INFINITY, |least, near| least.min(near.distance))
        })
    });
    c.bench_function("10 leads, all pairs, too close", |bench| {
        bench.iter(|| {
            let leads = black_box(&leads);
            let close =
                pairs().filter(|&(i, j)| paths_closer_than(&leads[i], &leads[j], 3.0).is_some());
            close.count()
        })
    });
    c.bench_function("10 leads, 30 solids, nearest", |bench| {
        bench.iter(|| {
            let each = black_box(&leads)
                .iter()
                .flat_map(|lead| solids.iter().filter_map(|solid| path_to_solid(lead, solid)));
            each.fold(f64::INFINITY, |least, near| least.min(near.distance))
        })
    });
    c.bench_function("10 leads, 30 solids, too close", |bench| {
        bench.iter(|| {
            let close = black_box(&leads).iter().map(|lead| {
                let close = solids
                    .iter()
                    .filter(|solid| closer_than(lead, solid, 4.0).is_some());
                close.count()
            });
            close.sum::<usize>()
        })
    });
}

/// The direct way between poses a plug and an exit may have, in space and in
/// a plane.
fn ways(c: &mut Criterion) {
    let mut seeded = Seeded(17);
    let poses: Vec<[DVec3; 4]> = (0..256)
        .map(|_| {
            let end = seeded.point(100.0) + DVec3::Y * 100.0;
            [DVec3::ZERO, DVec3::Y, end, seeded.direction()]
        })
        .collect();
    let flat =
        |pose: &[DVec3; 4]| pose.map(|it| (it * DVec3::new(1.0, 1.0, 0.0)).normalize_or_zero());
    let flat: Vec<[DVec3; 4]> = (poses.iter())
        .map(|pose| {
            let [start, ahead, end, onward] = flat(pose);
            [start, ahead, end * 150.0, onward]
        })
        .collect();
    for (name, poses) in [
        ("direct way in space", poses),
        ("direct way in a plane", flat),
    ] {
        let mut turn = (0..poses.len()).cycle();
        c.bench_function(name, |bench| {
            bench.iter(|| {
                let [start, ahead, end, onward] = poses[turn.next().unwrap_or(0)];
                direct(black_box(start), ahead, end, onward, 30.0)
            })
        });
    }
}

criterion_group!(benches, clearances, ways);
criterion_main!(benches);
