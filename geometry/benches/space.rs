//! The distance transform, and the cells a cavity's solids take.
//!
//! `cargo bench -p geometry --bench space`; beside a general-purpose library
//! with `python3 tests/distance_transform_peer.py`, on the same volume.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::space::{Scratch, Taken, distance_squared};

#[path = "../tests/random_volume/mod.rs"]
mod random_volume;

use random_volume::{SIZE, volume};

/// The transform alone, its buffers kept from call to call.
fn transform(c: &mut Criterion) {
    let cells = volume(SIZE, 160);
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
        println!(
            "sum {}",
            out.iter().map(|&square| u64::from(square)).sum::<u64>()
        );
    }
}

criterion_group!(benches, transform);
criterion_main!(benches);
