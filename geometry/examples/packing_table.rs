//! The packing beside the best packings known: how far above, in what time.
//!
//! `cargo run --release -p geometry --example packing_table`

#[path = "../tests/published_packings/mod.rs"]
mod published_packings;

use std::time::Instant;

use geometry::{Effort, pack};
use published_packings::{EQUAL, UNEQUAL, looms};

/// Milliseconds of one core that a list is repeated for at least: Linux counts
/// them in ticks of some 4 ms.
const LONG: f64 = 100.0;

/// A list of diameters and the smallest diameter known.
type Known = (f64, Vec<f64>);

fn main() {
    println!("circles              effort    gap to the best, %    ms");
    println!("                               mean     worst        mean");
    for (from, to) in [(2, 19), (20, 34), (35, 35), (36, 37), (38, 60), (61, 61)] {
        let equal = EQUAL
            .iter()
            .filter(|(n, _)| (from..=to).contains(n))
            .map(|&(n, radius)| (2.0 * radius, vec![2.0; n]))
            .collect();
        row(&format!("{from} to {to} equal"), equal, Effort::Normal);
    }
    for (from, to) in [(2, 10), (11, 15), (16, 20)] {
        let unequal = UNEQUAL
            .iter()
            .filter(|(n, _)| (from..=to).contains(n))
            .map(|&(n, radius)| (2.0 * radius, (1..=n).map(|r| 2.0 * r as f64).collect()))
            .collect();
        row(&format!("radii 1 to {from}..{to}"), unequal, Effort::Normal);
    }
    for effort in [Effort::Quick, Effort::Normal, Effort::Careful] {
        for n in [20, 40, 60] {
            row(&format!("loom of {n} wires"), looms(n), effort);
        }
    }
    law();
}

/// Prints a row of the table.
fn row(name: &str, lists: Vec<Known>, effort: Effort) {
    let gaps: Vec<f64> = lists
        .iter()
        .map(|(best, diameters)| 100.0 * (pack(diameters, effort).diameter / best - 1.0))
        .collect();
    let mean = gaps.iter().sum::<f64>() / gaps.len() as f64;
    let worst = gaps.iter().fold(0.0, |worst: f64, gap| worst.max(*gap));
    let begin = clock();
    let mut packed = 0;
    while clock() - begin < LONG {
        for (_, diameters) in &lists {
            pack(diameters, effort);
            packed += 1;
        }
    }
    let taken = (clock() - begin) / f64::from(packed);
    println!("{name:20} {effort:9?} {mean:6.3}   {worst:6.3}      {taken:7.1}");
}

/// Prints how often a loom grows by losing a wire, and by how much at most.
fn law() {
    let (mut looked, mut breaks, mut most) = (0, 0, 0.0_f64);
    for (_, wires) in [looms(20), looms(40)].concat() {
        let all = pack(&wires, Effort::Normal).diameter;
        for i in (0..wires.len()).filter(|&i| i == 0 || wires[i] != wires[i - 1]) {
            let mut fewer = wires.clone();
            fewer.remove(i);
            let grown = pack(&fewer, Effort::Normal).diameter / all - 1.0;
            looked += 1;
            breaks += usize::from(grown > 0.005);
            most = most.max(grown);
        }
    }
    println!(
        "one wire more thins a loom by over 0.5 %: {breaks} of {looked}, by {most:.4} at most"
    );
}

/// Milliseconds of the processor used by this thread; of the clock on the wall
/// where the system does not tell.
fn clock() -> f64 {
    thread_local!(static BEGIN: Instant = Instant::now());
    std::fs::read_to_string("/proc/thread-self/schedstat")
        .ok()
        .and_then(|text| text.split(' ').next()?.parse::<f64>().ok())
        .map_or_else(
            || BEGIN.with(|begin| begin.elapsed().as_secs_f64() * 1e3),
            |nanoseconds| nanoseconds * 1e-6,
        )
}
