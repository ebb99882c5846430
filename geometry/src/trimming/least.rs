//! The least cut for one proud, and for one proud after the other.

use super::answer::{TrimOutcome, TrimStep};
use super::shop::{Found, Price, Shop, Stiff};
use std::borrow::Cow;
use std::rc::Rc;

use super::account::RibBook;
use super::rules::RibRules;
use super::windows::{Bite, RibHere, Window, ribs, windows};
use crate::fit::Fit;
use crate::fitting::fit;
use crate::job::{Job, Trim};
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::seating::Looking;
use crate::seating::arrangements::{Arrangement, arrangements};
use crate::seating::trial::{Laid, Setting, Short, Trial};

/// Nobody looks for cuts further out than this, mm.
pub const FURTHEST_STEP: u32 = 15;

/// Ways of placing the modules that cuts are looked for with.
const ARRANGEMENTS: usize = 3;

/// Looks that lay leads, for each step.
pub(super) const LOOKS: u32 = 300;

/// The least cut at which everything holds with the unit at most `proud` mm proud.
///
/// Notches of the job that are not locked count as not there.
///
/// * `watch`: told what is being looked at; `false` stops the search
pub fn least_cut(job: &Job, proud: f64, watch: &mut dyn FnMut(Looking) -> bool) -> TrimStep {
    let base = Base::new(job);
    Steps::new(&base).look(proud, watch)
}

/// The least cut for 0, 1, 2 ... mm proud up to where nothing needs cutting.
///
/// * `upto`: the last proud, mm; at most [`FURTHEST_STEP`]
/// * `watch`: told what is being looked at; `false` stops the search
pub fn steps(job: &Job, upto: u32, watch: &mut dyn FnMut(Looking) -> bool) -> Vec<TrimStep> {
    let base = Base::new(job);
    let mut steps = Steps::new(&base);
    let mut done: Vec<TrimStep> = Vec::new();
    for proud in 0..=upto.min(FURTHEST_STEP) {
        let step = steps.look(f64::from(proud), watch);
        let last = matches!(
            step.outcome,
            TrimOutcome::NothingToCut | TrimOutcome::Stopped
        );
        done.push(step);
        if last {
            break;
        }
    }
    done
}

/// A job with nothing cut but what is locked.
struct Base {
    job: Job,
    fit: Fit,
    layout: Layout,
    ribs: Vec<RibHere>,
    windows: Vec<Window>,
    loose: Vec<String>,
    arrangements: Vec<Arrangement>,
}

impl Base {
    fn new(job: &Job) -> Base {
        let mut job = job.clone();
        job.trims.retain(|trim| trim.locked);
        let fit = fit(&job);
        let layout = lay_out(&job, Reading::Nominal);
        let ribs = ribs(&job);
        let windows = windows(&job, &ribs);
        let mut arrangements = arrangements(&job, &layout, &fit.modules);
        arrangements.truncate(ARRANGEMENTS);
        Base {
            loose: ribs.iter().map(|rib| rib.id.clone()).collect(),
            job,
            fit,
            layout,
            ribs,
            windows,
            arrangements,
        }
    }

    fn without(&self, proud: f64, outcome: TrimOutcome) -> TrimStep {
        TrimStep {
            proud,
            outcome,
            trims: self.job.trims.clone(),
            removed_mm3: self.removed(&self.job.trims),
            routed: None,
            lower_bound: self.fit.proud_lower_bound,
            stopped_by: Vec::new(),
            left_over: Vec::new(),
        }
    }

    /// What notches take out in all, mm3.
    fn removed(&self, trims: &[Trim]) -> f64 {
        let cut = self.job.cavity.obstacles.iter().filter_map(|obstacle| {
            let own: Vec<&Trim> = trims.iter().filter(|it| it.rib == obstacle.id).collect();
            if own.is_empty() {
                return None;
            }
            let rules = RibRules::new(&self.job, &obstacle.id, Reading::Nominal).ok()?;
            Some(rules.removed(&own).ok()?.1)
        });
        cut.fold(0.0, |all, one| all + one)
    }
}

/// What one step hands to the next: for each arrangement its bench, everything
/// laid with all ribs open, and the least cut.
struct Steps<'a> {
    base: &'a Base,
    benches: Vec<Bench<'a>>,
}

pub(super) struct Bench<'a> {
    pub(super) shop: Shop<'a>,
    /// What was laid with some windows open.
    open: Vec<(Vec<usize>, Laid)>,
    pub(super) found: Option<Found>,
    /// How stiff what was found leaves the ribs; `Any` where nothing was found
    /// that leaves them stiff enough.
    pub(super) stiff: Stiff,
}

impl<'a> Steps<'a> {
    fn new(base: &'a Base) -> Steps<'a> {
        let books = base
            .ribs
            .iter()
            .map(|rib| RibBook::new(&base.job, &rib.id).ok());
        let books = Rc::new(books.collect::<Vec<_>>());
        let benches = base.arrangements.iter().map(|arrangement| Bench {
            shop: Shop {
                job: &base.job,
                layout: &base.layout,
                ribs: &base.ribs,
                books: Rc::clone(&books),
                windows: Cow::Borrowed(&base.windows),
                stiff: Stiff::Any,
                trial: Trial::new(Setting {
                    job: &base.job,
                    fit: &base.fit,
                    layout: &base.layout,
                    arrangement,
                    loose: &base.loose,
                }),
                fails: Vec::new(),
                looks: 0,
                stopped: false,
            },
            open: Vec::new(),
            found: None,
            stiff: Stiff::Alone,
        });
        Steps {
            base,
            benches: benches.collect(),
        }
    }

    /// The step for a proud that is no less than the last one.
    fn look(&mut self, proud: f64, watch: &mut dyn FnMut(Looking) -> bool) -> TrimStep {
        let mut tried = 0;
        let mut tell = || {
            tried += 1;
            watch(Looking { proud, tried })
        };
        let mut short: Option<Short> = None;
        let mut stopped = false;
        for bench in &mut self.benches {
            if bench.shop.trial.floor > proud + 1e-9 {
                continue;
            }
            match bench.at(proud, &mut tell) {
                Ok(()) => {}
                Err(why) => {
                    short.get_or_insert(why);
                }
            }
            stopped |= bench.shop.stopped;
            if bench
                .found
                .as_ref()
                .is_some_and(|found| found.cut.is_empty())
                || stopped
            {
                break;
            }
        }
        self.step(proud, short, stopped)
    }

    fn step(&mut self, proud: f64, short: Option<Short>, stopped: bool) -> TrimStep {
        let floor = self.benches.iter().map(|bench| bench.shop.trial.floor);
        let floor = floor.fold(f64::INFINITY, f64::min);
        let weak = self.benches.iter().any(|bench| bench.stiff == Stiff::Any);
        let mut best: Option<&mut Bench> = None;
        for bench in &mut self.benches {
            let Some(price) = bench.price() else { continue };
            let known = best.as_ref().and_then(|best| best.price());
            if known.is_none_or(|known| price < known) {
                best = Some(bench);
            }
        }
        if let Some(bench) = best
            && let Some(found) = bench.found.clone()
        {
            let trims = bench.shop.sound(&found.cut).unwrap_or_default();
            let job = Job {
                trims: trims.clone(),
                ..self.base.job.clone()
            };
            let solids = bench.shop.solids(&found.cut);
            let routed = solids.and_then(|ribs| bench.shop.trial.answer(&job, &found.laid, &ribs));
            if routed.is_some() {
                let outcome = match found.cut.is_empty() {
                    true => TrimOutcome::NothingToCut,
                    false if stopped => TrimOutcome::Stopped,
                    false if bench.stiff == Stiff::Alone => TrimOutcome::Cut,
                    false => TrimOutcome::CutWithStrips,
                };
                return TrimStep {
                    removed_mm3: self.base.removed(&trims),
                    trims,
                    routed,
                    lower_bound: floor,
                    ..self.base.without(proud, outcome)
                };
            }
        }
        let outcome = match () {
            () if stopped => TrimOutcome::Stopped,
            () if floor > proud + 1e-9 => TrimOutcome::NoCutHelps,
            () if weak => TrimOutcome::TooWeak,
            () => TrimOutcome::NoWayFound,
        };
        let held = self
            .benches
            .iter()
            .min_by(|a, b| a.shop.trial.floor.total_cmp(&b.shop.trial.floor));
        let held = held
            .map(|bench| bench.shop.trial.held.clone())
            .unwrap_or_default();
        let beyond = held.into_iter().filter(|stop| stop.short > proud + 1e-9);
        TrimStep {
            lower_bound: floor,
            stopped_by: beyond.collect(),
            left_over: short.unwrap_or_default().left_over,
            ..self.base.without(proud, outcome)
        }
    }
}

impl Bench<'_> {
    /// Looks for the least cut at a proud; `Err` when nothing holds.
    fn at(&mut self, proud: f64, watch: &mut dyn FnMut() -> bool) -> Result<(), Short> {
        self.shop.fails.clear();
        self.shop.looks = LOOKS;
        self.stiff = Stiff::Alone;
        // What held less proud holds here, its ways drawn out.
        let before = self.found.take().and_then(|found| {
            let laid = self.shop.opened(&found.cut, &found.laid, proud, watch)?;
            Some(Found {
                cut: found.cut,
                laid,
            })
        });
        if let Some(mut before) = before.clone() {
            self.shop.polish(&mut before, watch);
            let nothing = before.cut.is_empty();
            self.found = Some(before);
            if nothing {
                return Ok(());
            }
        }
        let mut failed = None;
        for level in levels(&self.shop) {
            for windows in &level {
                match self.within(windows, proud, watch) {
                    Ok(found) if self.shop.lawful(&found.cut) => self.better(found),
                    Ok(_) => {}
                    Err(short) => failed = failed.or(Some(short)),
                }
                if self
                    .found
                    .as_ref()
                    .is_some_and(|found| found.cut.is_empty())
                {
                    return Ok(());
                }
            }
            self.stiffen(&level, before.as_ref(), watch);
            if self.found.is_some() || self.shop.stopped {
                break;
            }
        }
        match (&self.found, failed) {
            (None, Some(short)) if short.hopeless || self.shop.stopped => Err(short),
            // The search may have missed it with more room, too.
            (None, Some(short)) => match self.shop.laid_anew(&[], proud, watch) {
                Ok(laid) => {
                    let cut = Vec::new();
                    self.found = Some(Found { cut, laid });
                    self.stiff = Stiff::Alone;
                    Ok(())
                }
                Err(_) => Err(short),
            },
            _ => Ok(()),
        }
    }

    /// What the cut that was found costs; whether it needs strips comes before
    /// how much it takes.
    fn price(&self) -> Option<(usize, bool, Price)> {
        let price = self.shop.price(&self.found.as_ref()?.cut);
        Some((price.asks, self.stiff != Stiff::Alone, price))
    }

    /// Keeps the cheaper one.
    fn better(&mut self, found: Found) {
        let price = self.shop.price(&found.cut);
        let known = self.found.as_ref().map(|known| self.shop.price(&known.cut));
        if known.is_none_or(|known| price < known) {
            self.found = Some(found);
        }
    }

    /// The least cut found in some windows, everything in them opened first.
    fn within(
        &mut self,
        windows: &[usize],
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Result<Found, Short> {
        let wide = self.opened(windows, proud, watch)?;
        let shop = &mut self.shop;
        if let Some(laid) = shop.as_it_is(&wide.laid, proud, watch) {
            return Ok(Found {
                cut: Vec::new(),
                laid,
            });
        }
        let known = self.found.as_ref().map(|known| shop.price(&known.cut));
        let mut best = shop.made_small(wide.clone(), windows, known, watch);
        // Without one of the windows it may take less in the others.
        for without in windows {
            if windows.len() < 2 || !best.cut.iter().any(|bite| bite.window == *without) {
                continue;
            }
            let others: Vec<usize> = windows.iter().copied().filter(|it| it != without).collect();
            let cut: Vec<Bite> = (wide.cut.iter().copied())
                .filter(|bite| bite.window != *without)
                .collect();
            if let Some(laid) = shop.opened(&cut, &best.laid, proud, watch) {
                let known = Some(shop.price(&best.cut));
                let other = shop.made_small(Found { cut, laid }, &others, known, watch);
                if shop.price(&other.cut) < shop.price(&best.cut) {
                    best = other;
                }
            }
        }
        Ok(best)
    }

    /// Everything laid with some windows opened as far as they may be.
    fn opened(
        &mut self,
        windows: &[usize],
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Result<Found, Short> {
        let shop = &mut self.shop;
        let cut: Vec<Bite> = (windows.iter())
            .flat_map(|number| shop.windows[*number].opened(*number))
            .collect();
        let known = self.open.iter().position(|(of, _)| of == windows);
        let before = known.map(|number| self.open.swap_remove(number).1);
        let kept = before.and_then(|laid| shop.opened(&cut, &laid, proud, watch));
        let laid = match kept {
            Some(laid) => laid,
            None => shop.laid_anew(&cut, proud, watch)?,
        };
        self.open.push((windows.to_vec(), laid.clone()));
        Ok(Found { cut, laid })
    }
}

/// Sets of windows to look in: first those that need nobody's word; where that
/// does not do, one rib more that needs it; then all.
fn levels(shop: &Shop) -> Vec<Vec<Vec<usize>>> {
    let asks = |window: &usize| shop.ribs[shop.windows[*window].rib].asks;
    let all: Vec<usize> = (0..shop.windows.len()).collect();
    let free: Vec<usize> = all.iter().copied().filter(|window| !asks(window)).collect();
    if free.len() == all.len() {
        return vec![vec![all]];
    }
    let ribs = (0..shop.ribs.len()).filter(|rib| shop.ribs[*rib].asks);
    let with_one: Vec<Vec<usize>> = ribs
        .map(|rib| {
            let one = |window: &usize| !asks(window) || shop.windows[*window].rib == rib;
            all.iter().copied().filter(one).collect()
        })
        .collect();
    vec![vec![free], with_one, vec![all]]
}
