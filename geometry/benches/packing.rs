//! Packings of equal, mixed and unequal circles.
//!
//! `cargo bench -p geometry --bench packing`

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::{Effort, pack};

/// Outer diameters of a loom of five kinds of wire, mm.
const WIRES: [f64; 5] = [1.2, 1.6, 1.9, 2.8, 4.95];

fn packings(c: &mut Criterion) {
    let mut lists: Vec<(String, Vec<f64>)> = Vec::new();
    for n in [19, 37, 61] {
        lists.push((format!("{n} equal"), vec![2.0; n]));
    }
    for n in [20, 40, 60] {
        let wires = (0..n).map(|i| WIRES[(i * i + i / 7) % 5]).collect();
        lists.push((format!("{n} wires of five sizes"), wires));
    }
    for n in [10, 15, 20] {
        let unequal = (1..=n).map(|radius| 2.0 * radius as f64).collect();
        lists.push((format!("radii 1 to {n}"), unequal));
    }
    let mut group = c.benchmark_group("pack");
    group.sample_size(10);
    for (name, diameters) in &lists {
        group.bench_function(name, |bench| {
            bench.iter(|| pack(black_box(diameters), Effort::Normal))
        });
    }
    group.finish();
}

criterion_group!(benches, packings);
criterion_main!(benches);
