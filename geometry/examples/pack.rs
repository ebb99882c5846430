//! Packs circles of the diameters given, in mm: prints the diameter of the circle
//! around them and the milliseconds taken.
//!
//! `cargo run --release -p geometry --example pack -- 2.4 2.4 1.2`

use std::time::Instant;

use geometry::{Effort, pack};

fn main() -> Result<(), std::num::ParseFloatError> {
    let diameters: Vec<f64> = std::env::args()
        .skip(1)
        .map(|word| word.parse())
        .collect::<Result<_, _>>()?;
    let begin = Instant::now();
    let packing = pack(&diameters, Effort::Normal);
    let taken = begin.elapsed().as_secs_f64() * 1e3;
    println!("{} {taken}", packing.diameter);
    Ok(())
}
