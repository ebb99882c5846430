//! The smallest proud at which every lead has its way.

use super::attempt::{Attempt, alone, attempt};
use super::scene::Scene;
use super::variants::{VARIANTS, Variants};
use crate::routing::Effort;

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
    /// Everything laid as far as it goes at the least proud that is possible.
    pub first: Attempt,
    /// The smallest proud that holds, with all its ways; `None` when it is
    /// `first` that holds, or nothing does.
    pub further: Option<Attempt>,
    /// The largest proud below it that does not hold.
    pub short: Option<Attempt>,
    /// Whether it was stopped before its end.
    pub cancelled: bool,
}

impl Found {
    /// The smallest proud that holds.
    pub fn best(&self) -> Option<&Attempt> {
        let first = self.first.holds().then_some(&self.first);
        first.or(self.further.as_ref())
    }
}

/// Looks at one proud after the other.
struct Search<'a, 's> {
    variants: &'a Variants<'s>,
    effort: &'a Effort,
    watch: &'a mut dyn FnMut(Looking) -> bool,
    tried: usize,
    /// Plans that had no way at some proud: the first to be looked at again.
    suspects: Vec<usize>,
    cancelled: bool,
}

impl<'a, 's> Search<'a, 's> {
    fn first(&self) -> &'a Scene<'s> {
        self.variants.scene(0)
    }

    /// Every lead at this proud; the suspects alone first, because what has no
    /// way alone has none beside others, and is sooner found out.
    fn look(&mut self, proud: f64) -> Attempt {
        let hopeless = self
            .suspects
            .iter()
            .find_map(|plan| alone(self.first(), proud, *plan, self.effort));
        let looking = Looking {
            proud,
            tried: self.tried,
        };
        self.tried += 1;
        let watch = &mut self.watch;
        let next = match hopeless {
            Some(hopeless) => {
                self.cancelled |= !watch(looking);
                hopeless
            }
            None => any_variant(self.variants, proud, self.effort, &mut || watch(looking)),
        };
        self.cancelled |= next.cancelled;
        for failed in &next.failed {
            if !self.suspects.contains(&failed.plan) {
                self.suspects.push(failed.plan);
            }
        }
        next
    }

    /// Whether some suspect has no way even with the unit far out.
    fn is_hopeless(&self, least: f64) -> bool {
        let far = (least + FAR).min(FURTHEST);
        let mut suspects = self.suspects.iter();
        suspects.any(|plan| alone(self.first(), far, *plan, self.effort).is_some())
    }
}

/// The first variant in which everything holds; else what the first one came to.
pub fn any_variant(
    variants: &Variants<'_>,
    proud: f64,
    effort: &Effort,
    watch: &mut dyn FnMut() -> bool,
) -> Attempt {
    let mut lay = |variant: usize| Attempt {
        variant,
        ..attempt(variants.scene(variant), proud, effort, &mut |_| watch())
    };
    let first = lay(0);
    if first.holds() || first.cancelled {
        return first;
    }
    let plans = variants.scene(0).plans.len();
    for variant in 1..VARIANTS {
        if variants.scene(variant).plans.len() != plans {
            continue;
        }
        let next = lay(variant);
        if next.holds() || next.cancelled {
            return next;
        }
    }
    first
}

/// A lead that has no way with the unit this much further out has none, mm.
const FAR: f64 = 40.0;

/// Looks for the smallest proud from `least` on.
///
/// Whatever holds at one proud is taken to hold further out; the proud just
/// below the answer has always been looked at and does not hold.
///
/// * `least`: nothing less can hold, mm
/// * `worth`: a proud of this or more is of no use to the caller, mm
pub fn seat(
    variants: &Variants<'_>,
    least: f64,
    worth: f64,
    effort: &Effort,
    watch: &mut dyn FnMut(Looking) -> bool,
) -> Found {
    let mut search = Search {
        variants,
        effort,
        watch,
        tried: 0,
        suspects: Vec::new(),
        cancelled: false,
    };
    let first = search.look(least);
    let mut found = Found {
        first,
        further: None,
        short: None,
        cancelled: false,
    };
    if !found.first.holds() && !search.cancelled && !search.is_hopeless(least) {
        climb(&mut search, &mut found, least, worth);
    }
    found.cancelled = search.cancelled;
    found
}

/// Further out in growing steps until something holds, then back in halves.
fn climb(search: &mut Search<'_, '_>, found: &mut Found, least: f64, worth: f64) {
    // Prouds are least, then whole steps above it.
    let base = (least / STEP).floor() * STEP;
    let proud_of = |steps: u32| base + STEP * f64::from(steps);
    let mut low = 0;
    let mut reach = 1;
    let mut high = loop {
        let steps = low + reach;
        let proud = proud_of(steps);
        if proud >= worth || proud > FURTHEST {
            return;
        }
        let next = search.look(proud);
        if search.cancelled {
            return;
        }
        if next.holds() {
            found.further = Some(next);
            break steps;
        }
        low = steps;
        found.short = Some(next);
        reach *= 2;
    };
    while high - low > 1 {
        let steps = (high + low) / 2;
        let next = search.look(proud_of(steps));
        if search.cancelled {
            return;
        }
        if next.holds() {
            high = steps;
            found.further = Some(next);
        } else {
            low = steps;
            found.short = Some(next);
        }
    }
}
