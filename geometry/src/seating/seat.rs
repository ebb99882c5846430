//! The smallest proud at which every lead has its way.

use super::attempt::{Attempt, attempt};
use super::scene::Scene;
use crate::routing::{Effort, Progress};

/// Proud is found to this, mm.
pub const STEP: f64 = 0.5;

/// Nobody looks for a way with the unit further out than this, mm.
pub const FURTHEST: f64 = 120.0;

/// What the search for the seat is doing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looking {
    /// The proud it looks at, mm.
    pub proud: f64,
    /// Prouds looked at before this one.
    pub tried: usize,
}

/// What came of the search.
pub struct Found {
    /// The smallest proud that holds, with all its ways.
    pub best: Option<Attempt>,
    /// The largest proud below it that does not hold.
    pub short: Option<Attempt>,
    /// Whether it was stopped before its end.
    pub cancelled: bool,
}

/// Looks for the smallest proud from `least` on.
///
/// Whatever holds at one proud is taken to hold further out; the proud just
/// below the answer has always been looked at and does not hold.
///
/// * `least`: nothing less can hold, mm
/// * `worth`: a proud of this or more is of no use to the caller, mm
pub fn seat(
    scene: &Scene<'_>,
    least: f64,
    worth: f64,
    effort: &Effort,
    watch: &mut dyn FnMut(Looking) -> bool,
) -> Found {
    let mut tried = 0;
    let mut look = |proud: f64| {
        let looking = Looking { proud, tried };
        tried += 1;
        attempt(scene, proud, effort, &mut |_: Progress| watch(looking))
    };
    let first = look(least);
    if first.holds() || first.cancelled {
        return Found {
            cancelled: first.cancelled,
            best: first.holds().then_some(first),
            short: None,
        };
    }
    // Prouds are least, then whole steps above it.
    let base = (least / STEP).floor() * STEP;
    let proud_of = |steps: u32| base + STEP * f64::from(steps);
    let mut short = first;
    let mut low = 0;
    let mut reach = 1;
    let mut best = loop {
        let steps = low + reach;
        let proud = proud_of(steps).min(FURTHEST);
        if proud >= worth || (proud >= FURTHEST && low > 0 && short.proud >= FURTHEST) {
            return Found {
                best: None,
                short: Some(short),
                cancelled: false,
            };
        }
        let next = look(proud);
        if next.cancelled {
            return Found {
                best: None,
                short: Some(short),
                cancelled: true,
            };
        }
        if next.holds() {
            break (steps, next);
        }
        low = steps;
        short = next;
        reach *= 2;
    };
    while best.0 - low > 1 {
        let steps = (best.0 + low) / 2;
        let next = look(proud_of(steps));
        if next.cancelled {
            return Found {
                best: Some(best.1),
                short: Some(short),
                cancelled: true,
            };
        }
        if next.holds() {
            best = (steps, next);
        } else {
            low = steps;
            short = next;
        }
    }
    Found {
        best: Some(best.1),
        short: Some(short),
        cancelled: false,
    }
}
