//! The distance transform against trying every cell, and the free space of
//! solids against exact distances.

use geometry::space::{FreeSpace, Grid, Scratch, Taken, distance_squared, taken_cells};
use geometry::{Bounds, Outline, Plane, Solid, signed_distance};
use glam::{DVec2, DVec3};
use proptest::prelude::*;

mod random_solids;
mod random_volume;

use random_solids::{KINDS, Seeded, solid};
use random_volume::{SIZE, volume};

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
        let cells: Vec<u8> = (0..count).map(|_| u8::from(seeded.bits().is_multiple_of(one_in))).collect();
        let expected = tried(size, &cells);
        for threads in [1, 2, 5] {
            prop_assert_eq!(&transformed(size, &cells, threads), &expected);
        }
    }
}

/// Lines longer than 16 bits of squared distance can tell, along each axis.
#[test]
fn what_is_too_far_reads_the_most_there_is() {
    for axis in 0..3 {
        for taken in [0, 7, 150, 299] {
            let mut size = [3, 2, 4];
            size[axis] = 300;
            let mut cells = vec![0; size.iter().product()];
            let mut at = [1, 1, 1];
            at[axis] = taken;
            cells[(at[2] * size[1] + at[1]) * size[0] + at[0]] = 1;
            let expected = tried(size, &cells);
            assert_eq!(transformed(size, &cells, 2), expected);
            assert_eq!(expected.contains(&u16::MAX), !(44..=255).contains(&taken));
        }
    }
}

#[test]
fn nothing_taken_is_far_everywhere_and_all_taken_nowhere() {
    let size = [33, 5, 7];
    let count = size.iter().product();
    assert_eq!(transformed(size, &vec![0; count], 2), vec![u16::MAX; count]);
    assert_eq!(transformed(size, &vec![1; count], 2), vec![0; count]);
    assert!(transformed([4, 0, 2], &[], 2).is_empty());
}

/// Buffers that held another volume before change nothing.
#[test]
fn buffers_may_be_used_again() {
    let (mut out, mut scratch) = (Vec::new(), Scratch::default());
    for size in [[40, 30, 20], [7, 50, 3], [64, 2, 31]] {
        let cells = volume(size, 4, 0);
        let taken = Taken::from_cells(cells.clone());
        distance_squared(size, &taken, 2, &mut out, &mut scratch);
        assert_eq!(out, tried(size, &cells));
    }
}

/// The volume that is measured for speed.
#[test]
fn any_number_of_threads_gives_the_same_bits() {
    for count in [20, 160] {
        let cells = volume(SIZE, count, 3);
        let alone = transformed(SIZE, &cells, 1);
        for threads in [2, 3, 64] {
            assert_eq!(transformed(SIZE, &cells, threads), alone);
        }
    }
}

fn at(point: DVec3) -> Solid {
    Solid::capsule(point, point, 0.0)
}

/// Solids of every kind with clears as jobs have them, some reaching outside.
fn cluttered(seed: u64) -> (Vec<(Solid, f64)>, Bounds) {
    let mut seeded = Seeded(seed);
    let mut solids: Vec<(Solid, f64)> = (0..8)
        .map(|number| {
            let shift = seeded.point(60.0);
            let clear = [0.0, 2.0, 3.0, 10.0][seeded.below(4)];
            (
                solid(KINDS[number % KINDS.len()], &mut seeded).shifted(shift),
                clear,
            )
        })
        .collect();
    let corner = seeded.point(40.0);
    // Upright ones, whose sides are those of the box around them.
    let size = DVec3::from_array([(); 3].map(|()| seeded.size()));
    let block = Solid::block(corner, corner + size);
    solids.push((
        Solid::hull(block.corners()).shifted(seeded.point(40.0)),
        2.0,
    ));
    solids.push((block, 3.0));
    // Sheets that no centre of a cell lies in, a wire, a point.
    let sheet = [DVec3::ZERO, 30.0 * DVec3::X, 30.0 * DVec3::ONE].map(|to| corner + to);
    solids.push((Solid::hull(sheet.to_vec()), 0.0));
    let plate = DVec3::new(20.0, 25.0, 0.0);
    solids.push((Solid::block(corner, corner + plate), 0.0));
    let wire = vec![corner, corner + seeded.point(30.0)];
    solids.push((Solid::hull(wire), 0.0));
    solids.push((at(seeded.point(60.0)), 1.0));
    // An outline with a corner that turns in, as drawn and turned.
    let corners = [(0, 0), (30, 0), (30, 10), (10, 12), (9, 25), (0, 25)];
    let corners = corners.map(|(x, y)| DVec2::new(f64::from(x), f64::from(y)));
    let outline = Outline::new(corners.to_vec()).unwrap();
    let plane = [Plane::AcrossUp, Plane::AcrossDepth, Plane::DepthUp][seed as usize % 3];
    let shelf = Solid::prism(&outline, plane, [-20.0, -14.0]);
    solids.push((shelf.turned_about_centre(seeded.turn()), 2.0));
    solids.push((shelf, 0.0));
    let bounds = Bounds {
        min: DVec3::new(-60.0, -50.0, -40.0),
        max: DVec3::new(60.0, 50.0, 40.0),
    };
    (solids, bounds)
}

/// Exact distance to where a line may not go, mm.
fn exact_at(point: DVec3, solids: &[(Solid, f64)]) -> f64 {
    let spare = solids
        .iter()
        .map(|(solid, clear)| signed_distance(&at(point), solid) - clear);
    spare.fold(f64::INFINITY, f64::min)
}

/// Every cell: taken if, and only if, its centre is within the clear and half a diagonal.
#[test]
fn taken_are_the_cells_that_exact_distances_say() {
    for seed in 0..40 {
        let (solids, bounds) = cluttered(seed);
        let grid = Grid::covering(&bounds, 4.0);
        let taken = taken_cells(&grid, &solids);
        for index in 0..grid.len() {
            let spare = exact_at(grid.centre(grid.cell(index)), &solids) - grid.half_diagonal();
            if spare.abs() > 1e-7 {
                let centre = grid.centre(grid.cell(index));
                assert_eq!(
                    taken.is_taken(index),
                    spare < 0.0,
                    "seed {seed}, {centre}, {spare}"
                );
            }
        }
    }
}

/// The field is right to half a diagonal at the centres, and never too much anywhere.
#[test]
fn the_field_keeps_its_bounds() {
    let mut seeded = Seeded(3);
    for seed in 100..115 {
        let (solids, bounds) = cluttered(seed);
        let (space, again) = (
            FreeSpace::of(&solids, &bounds, 2.0, 1),
            FreeSpace::of(&solids, &bounds, 2.0, 2),
        );
        assert_eq!(space, again);
        let half = space.grid.half_diagonal();
        for _ in 0..3000 {
            let point = seeded.point(70.0);
            let (least, exact) = (space.at_least(point), exact_at(point, &solids));
            assert!(
                least <= exact.max(0.0) + 1e-7,
                "seed {seed}, {point}: {least}, exactly {exact}"
            );
            let Some(cell) = space.grid.cell_of(point) else {
                assert_eq!(least, 0.0);
                continue;
            };
            let seen = (point - space.grid.bounds().min).min(space.grid.bounds().max - point);
            assert!(least >= (exact - 4.0 * half).min(seen.min_element()) - 1e-7);
            let centre = space.grid.centre(cell);
            let exact = exact_at(centre, &solids).max(0.0);
            let quarter = space.quarter_mm()[space.grid.index(cell)];
            let field = 0.25 * f64::from(quarter);
            if quarter < 255 {
                assert!(field >= exact - half - 0.25 - 1e-7, "{field} {exact}");
            }
            let inside = (centre - bounds.min).min(bounds.max - centre).min_element();
            if exact < inside {
                assert!(field <= exact + half + 1e-7, "{field} {exact}");
            }
        }
    }
}

/// Another program's figures: scipy.ndimage.distance_transform_edt of SciPy,
/// written by `python3 tests/distance_transform_peer.py --write`.
#[test]
fn a_general_purpose_library_finds_the_same_distances() {
    let text = include_str!("data/squared_distances.txt");
    let figures = text.lines().filter(|line| !line.starts_with('#'));
    let expected: Vec<u16> = figures
        .flat_map(str::split_whitespace)
        .map(|figure| figure.parse().unwrap())
        .collect();
    let size = [31, 23, 27];
    assert_eq!(transformed(size, &volume(size, 2, 0), 1), expected);
    assert!(expected.iter().any(|&square| square > 200));
}
