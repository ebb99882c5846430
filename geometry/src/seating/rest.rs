//! What one lead runs between while the others are not laid.

use super::scene::{Named, Stand, free_space};
use crate::routing::{Kept, Surroundings};
use crate::space::FreeSpace;

/// Everything but the lead's own plug and, if wanted, one solid more.
pub struct Rest {
    /// The free space where it is not the same as that of all fixed solids.
    free: Option<FreeSpace>,
    fixed: Vec<Kept>,
    movable: Vec<Kept>,
    /// For each solid of the rest its number among all.
    numbers: Vec<usize>,
}

impl Rest {
    /// * `plan`: the lead's number
    /// * `without`: a solid left out, by its number
    pub fn of(stand: &Stand<'_>, plan: usize, without: Option<usize>) -> Rest {
        let kept: Vec<(usize, &Kept)> = stand
            .solids()
            .enumerate()
            .filter(|(solid, kept)| kept.not_for != Some(plan) && Some(*solid) != without)
            .collect();
        let copy = |(_, kept): &(usize, &Kept)| Kept {
            not_for: None,
            ..(*kept).clone()
        };
        let split = kept.partition_point(|(solid, _)| *solid < stand.fixed);
        let fixed: Vec<Kept> = kept[..split].iter().map(copy).collect();
        let grid = &stand.surroundings.free.grid;
        let changed = without.is_some_and(|solid| solid < stand.fixed);
        Rest {
            free: changed.then(|| free_space(&fixed, &grid.bounds(), grid.step)),
            movable: kept[split..].iter().map(copy).collect(),
            numbers: kept.iter().map(|(solid, _)| *solid).collect(),
            fixed,
        }
    }

    /// The same for the router.
    pub fn around<'a>(&'a self, stand: &'a Stand<'_>) -> Surroundings<'a> {
        Surroundings {
            free: self.free.as_ref().unwrap_or(stand.surroundings.free),
            fixed: &self.fixed,
            movable: self.movable.clone(),
        }
    }

    /// Id and name of one of its solids.
    pub fn name(&self, stand: &Stand<'_>, solid: usize) -> Option<Named> {
        stand.names.get(*self.numbers.get(solid)?).cloned()
    }
}
