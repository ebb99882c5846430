//! The distance transform against trying every cell, and the free space of
//! solids against exact distances.

use geometry::space::{FreeSpace, Grid, Scratch, Taken, distance_squared, taken_cells};
use geometry::{Bounds, Solid, nearest_of_all, signed_distance};
use glam::DVec3;
use proptest::prelude::*;

mod random_solids;

use random_solids::{KINDS, Seeded, solid};

fn transformed(size: [usize; 3], cells: &[u8], threads: usize) -> Vec<u16> {
    let mut out = Vec::new();
    let taken = Taken::from_cells(cells.to_vec());
    distance_squared(size, &taken, threads, &mut out, &mut Scratch::default());
    out
}

fn place(size: [usize; 3], index: usize) -> [i64; 3] {
    let [across, depth, _] = size.map(|count| count as i64);
    let index = index as i64;
    [
        index % across,
        index / across % depth,
        index / (across * depth),
    ]
}

/// Every cell against every taken cell.
fn tried(size: [usize; 3], cells: &[u8]) -> Vec<u16> {
    let taken: Vec<[i64; 3]> = (0..cells.len())
        .filter(|&index| cells[index] != 0)
        .map(|index| place(size, index))
        .collect();
    let nearest = |index: usize| {
        let here = place(size, index);
        let squares = taken.iter().map(|there| {
            let apart = [0, 1, 2].map(|axis| here[axis] - there[axis]);
            apart.iter().map(|cells| cells * cells).sum::<i64>()
        });
        squares.min().unwrap_or(i64::MAX).min(i64::from(u16::MAX)) as u16
    };
    (0..cells.len()).map(nearest).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Every cell of small volumes of any shape, sparse and dense.
    #[test]
    fn the_transform_is_that_of_trying_every_cell(
        size in [1usize..40, 1usize..20, 1usize..20],
        one_in in 1u64..400,
        seed in any::<u64>(),
    ) {
        let mut seeded = Seeded(seed);
        let count = size.iter().product();
        let cells: Vec<u8> = (0..count).map(|_| u8::from(seeded.bits() % one_in == 0)).collect();
        let expected = tried(size, &cells);
        for threads in [1, 2, 5] {
            prop_assert_eq!(&transformed(size, &cells, threads), &expected);
        }
    }
}
