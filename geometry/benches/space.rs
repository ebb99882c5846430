//! The distance transform, and the cells a cavity's solids take.
//!
//! `cargo bench -p geometry --bench space`; beside a general-purpose library
//! with `python3 tests/distance_transform_peer.py`, on the same volume.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::cavity::{Ring, walls};
use geometry::space::{FreeSpace, Grid, Scratch, Taken, distance_squared, taken_cells};
use geometry::{Bounds, Run, Solid};
use glam::{DVec2, DVec3};

#[path = "../tests/random_volume/mod.rs"]
mod random_volume;

use random_volume::{SIZE, volume};

/// The transform alone, its buffers kept from call to call.
fn transform(c: &mut Criterion) {
    let cells = volume(SIZE, 160, 3);
    let share = cells.iter().filter(|cell| **cell != 0).count() as f64 / cells.len() as f64;
    println!(
        "{SIZE:?}: {} cells, {:.1} % taken",
        cells.len(),
        100.0 * share
    );
    let taken = Taken::from_cells(cells);
    for threads in [1, 2] {
        let (mut out, mut scratch) = (Vec::new(), Scratch::default());
        c.bench_function(&format!("transform, threads {threads}"), |bench| {
            bench.iter(|| {
                distance_squared(SIZE, black_box(&taken), threads, &mut out, &mut scratch);
            });
        });
    }
}

/// Depth, then how far the walls lie to the left, right, up and down, mm.
const STATIONS: [[f64; 5]; 10] = [
    [0.0, 92.0, 92.0, 53.0, 53.0],
    [40.0, 96.0, 96.0, 54.0, 56.0],
    [80.0, 98.0, 98.0, 54.0, 62.0],
    [120.0, 98.0, 98.0, 54.0, 66.0],
    [150.0, 98.0, 98.0, 53.0, 76.0],
    [175.0, 98.0, 98.0, 52.0, 96.0],
    [200.0, 98.0, 98.0, 51.0, 98.0],
    [225.0, 98.0, 100.0, 50.0, 98.0],
    [245.0, 96.0, 100.0, 48.0, 96.0],
    [260.0, 96.0, 96.0, 46.0, 94.0],
];

/// Lower and upper corner of obstacles (across, depth, up) and their clear, mm.
const OBSTACLES: [([f64; 3], [f64; 3], f64); 8] = [
    ([-98.0, 212.0, -12.0], [98.0, 214.5, 26.0], 3.0),
    ([72.0, 206.0, -2.0], [82.0, 212.0, 8.0], 3.0),
    ([-60.0, 120.0, -66.0], [90.0, 162.0, -63.5], 2.0),
    ([-200.0, 205.0, 55.0], [200.0, 255.0, 105.0], 6.0),
    ([-118.0, 90.0, -60.0], [-100.0, 180.0, 20.0], 6.0),
    ([58.0, 227.0, 20.0], [104.0, 260.0, 55.0], 6.0),
    ([-98.0, 175.0, -96.0], [98.0, 197.0, -76.0], 2.0),
    ([-120.0, 260.0, -110.0], [120.0, 400.0, 60.0], 10.0),
];

/// A van's cavity and what stands in it, with clears, and the box to look at.
fn van() -> (Vec<(Solid, f64)>, Bounds) {
    let rings = STATIONS.map(|[depth, left, right, up, down]| Ring {
        depth,
        corners: vec![
            DVec2::new(-left, -down),
            DVec2::new(right, -down),
            DVec2::new(right, up),
            DVec2::new(-left, up),
        ],
        four_sided: true,
        to_next: Run::Blended,
    });
    let walls = walls(&rings, true)
        .into_iter()
        .map(|wall| (wall.solid, 2.0));
    let obstacles =
        OBSTACLES.map(|(low, high, clear)| (Solid::block(low.into(), high.into()), clear));
    let bounds = Bounds {
        min: DVec3::new(-102.0, -4.0, -102.0),
        max: DVec3::new(104.0, 264.0, 58.0),
    };
    (walls.chain(obstacles).collect(), bounds)
}

/// The whole way from solids to a field.
fn cavity(c: &mut Criterion) {
    let (solids, bounds) = van();
    for step in [1.0, 1.5, 2.0] {
        let grid = Grid::covering(&bounds, step);
        println!("{step} mm: {} cells, {} solids", grid.len(), solids.len());
        c.bench_function(&format!("taken cells, {step} mm"), |bench| {
            bench.iter(|| taken_cells(&grid, black_box(&solids)));
        });
        for threads in [1, 2] {
            c.bench_function(
                &format!("free space, {step} mm, threads {threads}"),
                |bench| {
                    bench.iter(|| FreeSpace::of(black_box(&solids), &bounds, step, threads));
                },
            );
        }
    }
}

/// One look at the field, at many places in turn.
fn look(c: &mut Criterion) {
    let (solids, bounds) = van();
    let space = FreeSpace::of(&solids, &bounds, 2.0, 1);
    let places: Vec<DVec3> = (0..1024)
        .map(|i| {
            space
                .grid
                .centre(space.grid.cell(i * 997 % space.grid.len()))
                + 0.3
        })
        .collect();
    let mut turn = places.iter().cycle();
    c.bench_function("at least, one point", |bench| {
        bench.iter(|| space.at_least(*turn.next().unwrap_or(&DVec3::ZERO)));
    });
}

criterion_group!(benches, transform, cavity, look);
criterion_main!(benches);
