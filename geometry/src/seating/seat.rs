//! The smallest proud at which every lead has its way.

use super::attempt::{Attempt, Wanted, alone, attempt, tidy};
use super::scene::Scene;
use super::variants::{VARIANTS, Variants};
use crate::routing::{Effort, NoWay};

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
    /// Plans that came back to their own plug, a bit for each.
    heed: u64,
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
            None => {
                let watch = &mut || watch(looking);
                any_variant(self.variants, proud, &mut self.heed, self.effort, watch)
            }
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

/// The first variant in which everything holds; else what keeps the first one
/// from it.
///
/// * `heed`: plans whose own plug is looked out for, see [`attempt`]
pub fn any_variant(
    variants: &Variants<'_>,
    proud: f64,
    heed: &mut u64,
    effort: &Effort,
    watch: &mut dyn FnMut() -> bool,
) -> Attempt {
    let mut lay = |variant: usize| {
        let scene = variants.scene(variant);
        let laid = attempt(scene, proud, heed, Wanted::All, effort, &mut |_| watch());
        Attempt { variant, ..laid }
    };
    let first = lay(0);
    if first.holds() || first.cancelled {
        return first;
    }
    let plans = variants.scene(0).plans.len();
    for variant in 1..VARIANTS {
        let scene = variants.scene(variant);
        let mut stuck = first.failed.iter();
        if scene.plans.len() != plans
            || stuck.any(|failed| alone(scene, proud, failed.plan, effort).is_some())
        {
            continue;
        }
        let next = lay(variant);
        if next.holds() || next.cancelled {
            return next;
        }
    }
    first
}

/// Makes what was found ready to be shown: leads of one exit drawn together;
/// where nothing holds, as many leads laid as can lie.
pub fn finish(
    variants: &Variants<'_>,
    found: &mut Found,
    effort: &Effort,
    watch: &mut dyn FnMut() -> bool,
) {
    if found.first.holds() {
        tidy(variants.scene(found.first.variant), &mut found.first);
    } else if let Some(further) = &mut found.further {
        tidy(variants.scene(further.variant), further);
    } else if !found.cancelled {
        let (proud, mut heed) = (found.first.proud, found.first.heed);
        let scene = variants.scene(0);
        found.first = attempt(scene, proud, &mut heed, Wanted::Most, effort, &mut |_| {
            watch()
        });
    }
}

/// Whether straight runs cross that lie the same to each other however far out
/// the unit stands.
fn cross_for_good(scene: &Scene<'_>, laid: &Attempt) -> bool {
    let slides = |plan: usize| scene.plans.get(plan).map(|plan| plan.slides);
    laid.failed.iter().any(|failed| match failed.why {
        NoWay::RunsCross { other, .. } => slides(failed.plan) == slides(other),
        _ => false,
    })
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
        heed: 0,
        cancelled: false,
    };
    let first = search.look(least);
    let mut found = Found {
        first,
        further: None,
        short: None,
        cancelled: false,
    };
    let hopeless = |search: &Search<'_, '_>, first: &Attempt| {
        cross_for_good(variants.scene(0), first) || search.is_hopeless(least)
    };
    if !found.first.holds() && !search.cancelled && !hopeless(&search, &found.first) {
        climb(&mut search, &mut found, least, worth);
    }
    found.cancelled = search.cancelled;
    let last = Looking {
        proud: found.best().unwrap_or(&found.first).proud,
        tried: search.tried,
    };
    finish(variants, &mut found, effort, &mut || watch(last));
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
