//! Whether a motion is free from end to end, by exact distances.
//!
//! At the middle of a stretch a pair that has more to spare than any point of
//! it moves on either side is free all along. What has less is looked at
//! again in both halves. So nothing slips through between two postures.

use super::passage::{Near, Pair, Passage};
use super::{MOST_WORK, Posture};

/// A motion that leaves less to spare than this somewhere is taken for barred, mm.
pub const THINNEST: f64 = 0.01;

/// A stretch counts as certain when this many times its movement is to spare:
/// then the least to spare is known to within half of what was measured.
const SURE: f64 = 2.0;

/// Halvings after which a stretch is given up; the movement is then far below
/// [`THINNEST`].
const MOST_HALVINGS: u32 = 20;

/// Work done so far.
#[derive(Clone, Copy, Debug, Default)]
pub struct Checks {
    /// Distances and sweeps of two solids.
    pub work: usize,
    /// Postures measured.
    pub postures: usize,
}

impl Checks {
    /// Whether there is no effort left.
    pub fn is_spent(&self) -> bool {
        self.work >= MOST_WORK
    }
}

/// What is known of a free motion.
#[derive(Clone, Copy, Debug)]
pub struct Free {
    /// The pair with the least to spare among those measured.
    pub tightest: Option<Near>,
    /// Nowhere is there less to spare, mm.
    pub at_least: f64,
}

/// A stretch of a motion with the pairs of which nothing is known there.
struct Stretch {
    from: f64,
    to: f64,
    halvings: u32,
    pairs: Vec<Pair>,
}

/// Whether everything keeps its room all the way from one posture to another,
/// and `least` mm more wherever it is measured. `None` when not, or when the
/// effort is spent.
pub fn certify(
    passage: &Passage<'_>,
    [from, to]: [&Posture; 2],
    least: f64,
    checks: &mut Checks,
) -> Option<Free> {
    let mut free = Free {
        tightest: None,
        at_least: f64::INFINITY,
    };
    let mut open = vec![Stretch {
        from: 0.0,
        to: 1.0,
        halvings: 0,
        pairs: passage.pairs().to_vec(),
    }];
    while let Some(stretch) = open.pop() {
        if checks.is_spent() || stretch.halvings > MOST_HALVINGS {
            return None;
        }
        let middle = 0.5 * (stretch.from + stretch.to);
        let at = from.toward(to, middle);
        let end = from.toward(to, stretch.to);
        let start = from.toward(to, stretch.from);
        let placed = passage.placed(&at);
        checks.postures += 1;
        let mut unknown = Vec::new();
        for pair in stretch.pairs {
            let moves =
                (passage.moves(pair.piece, &at, &end)).max(passage.moves(pair.piece, &start, &at));
            let rough = passage.rough_spare(&pair, &placed);
            if rough >= SURE * moves && rough > least {
                free.at_least = free.at_least.min(rough - moves);
                continue;
            }
            checks.work += 1;
            let spare = passage.spare(&pair, &placed);
            if spare < least {
                return None;
            }
            if free.tightest.is_none_or(|known| spare < known.spare) {
                free.tightest = Some(Near { pair, spare, at });
            }
            if spare >= SURE * moves {
                free.at_least = free.at_least.min(spare - moves);
            } else {
                unknown.push(pair);
            }
        }
        if unknown.is_empty() {
            continue;
        }
        for (from, to) in [(middle, stretch.to), (stretch.from, middle)] {
            open.push(Stretch {
                from,
                to,
                halvings: stretch.halvings + 1,
                pairs: unknown.clone(),
            });
        }
    }
    Some(free)
}
