//! A job on the bench: its ribs, where they may be cut, and the question
//! whether everything holds with them cut like that.

use super::demand::{self, bite_for, merged};
use std::borrow::Cow;
use std::rc::Rc;

use super::account::RibBook;
use super::windows::{Bite, RibHere, Window, trim};
use crate::job::{Job, Trim};
use crate::layout::Layout;
use crate::seating::trial::{Laid, Short, Trial};
use crate::solids::Solid;

/// A hair over the room that is asked for, mm.
const HAIR: f64 = 1e-3;

/// A cut and everything laid with it.
#[derive(Clone, Debug)]
pub struct Found {
    /// The notches.
    pub cut: Vec<Bite>,
    /// What is laid.
    pub laid: Laid,
}

/// What a cut costs, the dearest first: ribs that need the customer's word,
/// volume in mm3, ribs.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Price {
    /// Ribs that need the customer's word.
    pub asks: usize,
    /// mm3.
    pub volume: f64,
    /// Ribs.
    pub ribs: usize,
}

/// How stiff a cut has to leave every rib.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stiff {
    /// However weak.
    Any,
    /// As stiff as the shop asks for, strips bonded over notches where need be.
    WithStrips,
    /// As stiff as the shop asks for, without any strip.
    Alone,
}

/// A job, its ribs and its leads.
pub struct Shop<'a> {
    /// The job, no notches in it but locked ones.
    pub job: &'a Job,
    /// The same in place.
    pub layout: &'a Layout,
    /// The ribs that may be cut.
    pub ribs: &'a [RibHere],
    /// What each of them may bear, `None` where nothing can be said of it.
    pub books: Rc<Vec<Option<RibBook<'a>>>>,
    /// Where they may be cut.
    pub windows: Cow<'a, [Window]>,
    /// How stiff a cut that is tried has to leave every rib.
    pub stiff: Stiff,
    /// Everything else.
    pub trial: Trial<'a>,
    /// Cuts at the present proud with which not everything holds, and whether
    /// some lead has no way with them even alone.
    pub fails: Vec<(Vec<Bite>, bool)>,
    /// Looks that are left.
    pub looks: u32,
    /// Whether somebody stopped it.
    pub stopped: bool,
}

impl Shop<'_> {
    /// The notches of a rib, locked ones first.
    fn trims_of(&self, rib: usize, cut: &[Bite]) -> Vec<Trim> {
        let own = cut
            .iter()
            .filter(|bite| self.windows[bite.window].rib == rib);
        let new = own.map(|bite| trim(self.job, self.ribs, &self.windows, bite));
        self.ribs[rib].locked.iter().cloned().chain(new).collect()
    }

    /// The ribs as cut; `None` when they cannot be cut like that.
    pub fn solids(&self, cut: &[Bite]) -> Option<Vec<Solid>> {
        let edge_trim = self.job.cutting.edge_trim;
        (self.ribs.iter().enumerate())
            .map(|(number, rib)| {
                let trims = self.trims_of(number, cut);
                if trims.is_empty() {
                    let mut fixed = self.layout.fixed.iter();
                    return fixed.find(|it| it.id == rib.id).map(|it| it.solid.clone());
                }
                rib.face
                    .solid(&trims.iter().collect::<Vec<_>>(), edge_trim)
                    .ok()
            })
            .collect()
    }

    /// What a cut costs.
    pub fn price(&self, cut: &[Bite]) -> Price {
        let mut price = Price {
            asks: 0,
            volume: 0.0,
            ribs: 0,
        };
        for (number, rib) in self.ribs.iter().enumerate() {
            let trims = self.trims_of(number, cut);
            if trims.len() > rib.locked.len() {
                price.ribs += 1;
                price.asks += usize::from(rib.asks);
                let all: Vec<&Trim> = trims.iter().collect();
                let taken = self.books[number]
                    .as_ref()
                    .and_then(|book| book.removed(&all).ok());
                price.volume += taken.map_or(f64::INFINITY, |(_, volume)| volume);
            }
        }
        price
    }

    /// Whether a cut breaks no rule and leaves every rib as stiff as is asked for
    /// at present.
    pub fn lawful(&self, cut: &[Bite]) -> bool {
        let in_window =
            |bite: &Bite| self.windows[bite.window].deepest_between(bite.along) >= bite.depth;
        cut.iter().all(in_window)
            && (self.ribs.iter().enumerate()).all(|(number, rib)| {
                let trims = self.trims_of(number, cut);
                let Some(book) = &self.books[number] else {
                    return trims.len() == rib.locked.len();
                };
                (rib.locked.len()..trims.len()).all(|new| {
                    let others = trims.iter().enumerate().filter(|(other, _)| *other != new);
                    let others: Vec<&Trim> = others.map(|(_, trim)| trim).collect();
                    book.rules().faults(&trims[new], &others).is_empty()
                })
            })
            && self.is_stiff(cut, self.stiff)
    }

    /// Whether a cut leaves every rib so stiff.
    pub fn is_stiff(&self, cut: &[Bite], stiff: Stiff) -> bool {
        match stiff {
            Stiff::Any => true,
            Stiff::WithStrips => self.sound(cut).is_some(),
            Stiff::Alone => (0..self.ribs.len()).all(|rib| self.is_enough(rib, cut)),
        }
    }

    /// Whether a rib that is cut keeps as much as the shop asks for, without strips.
    pub fn is_enough(&self, rib: usize, cut: &[Bite]) -> bool {
        let trims = self.trims_of(rib, cut);
        let enough = |book: &RibBook| book.is_enough(&trims.iter().collect::<Vec<_>>());
        trims.len() == self.ribs[rib].locked.len()
            || (self.books[rib].as_ref()).is_some_and(|book| enough(book).unwrap_or(false))
    }

    /// The notches of a cut, with strips bonded over those of ribs that would
    /// be too weak without; `None` where they would be even so.
    pub fn sound(&self, cut: &[Bite]) -> Option<Vec<Trim>> {
        let mut all: Vec<Trim> = (self.job.trims.iter())
            .filter(|trim| !self.ribs.iter().any(|rib| rib.id == trim.rib))
            .cloned()
            .collect();
        for (number, rib) in self.ribs.iter().enumerate() {
            let trims = self.trims_of(number, cut);
            if self.is_enough(number, cut) {
                all.extend(trims);
            } else {
                let book = self.books[number].as_ref()?;
                let trims: Vec<&Trim> = trims.iter().collect();
                all.extend(book.with_strips(&trims, rib.locked.len())?);
            }
        }
        Some(all)
    }

    /// Everything laid with a cut, if it may be made and holds, from what was
    /// laid before.
    pub fn holds(
        &mut self,
        cut: &[Bite],
        before: &Laid,
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Laid> {
        let known = |(fails, _): &(Vec<Bite>, bool)| is_within(cut, fails);
        if self.fails.iter().any(known) || !self.lawful(cut) {
            return None;
        }
        self.opened(cut, before, proud, watch)
    }

    /// The same whether the cut may be made or not: ribs opened as far as each
    /// of their notches may go.
    pub fn opened(
        &mut self,
        cut: &[Bite],
        before: &Laid,
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Laid> {
        if self.stopped || self.looks == 0 {
            return None;
        }
        let solids = self.solids(cut)?;
        let looks = self.trial.looks;
        let stopped = &mut self.stopped;
        let mut go_on = || {
            *stopped |= !watch();
            !*stopped
        };
        let laid = go_on().then(|| self.trial.keep(before, proud, &solids, &mut go_on));
        self.looks -= ((self.trial.looks - looks) as u32).min(self.looks);
        match laid? {
            Ok(laid) => Some(laid),
            Err(_) if self.stopped => None,
            Err(short) => {
                self.fails.push((cut.to_vec(), short.hopeless));
                None
            }
        }
    }

    /// Everything laid with nothing cut, if that holds.
    pub fn as_it_is(
        &mut self,
        before: &Laid,
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Laid> {
        self.surely(&[], before, proud, watch)
    }

    /// Everything laid with a cut, if it may be made and holds; all leads are
    /// laid anew before it is given up, unless one has no way even alone.
    pub fn surely(
        &mut self,
        cut: &[Bite],
        before: &Laid,
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Laid> {
        let known = |(fails, hopeless): &(Vec<Bite>, bool)| *hopeless && is_within(cut, fails);
        if self.stopped || self.fails.iter().any(known) || !self.lawful(cut) {
            return None;
        }
        let solids = self.solids(cut)?;
        let stopped = &mut self.stopped;
        let laid = self.trial.thorough(before, proud, &solids, &mut || {
            *stopped |= !watch();
            !*stopped
        });
        if laid.is_none() && !self.stopped {
            self.fails.push((cut.to_vec(), true));
        }
        laid
    }

    /// Everything laid anew with a cut.
    pub fn laid_anew(
        &mut self,
        cut: &[Bite],
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Result<Laid, Short> {
        let solids = self.solids(cut).ok_or_else(Short::default)?;
        let stopped = &mut self.stopped;
        self.trial.lay(proud, &solids, &mut || {
            *stopped |= !watch();
            !*stopped
        })
    }

    /// A cut wrapped around what is laid with it, then made small unless a
    /// cheaper one is known by then.
    pub fn made_small(
        &mut self,
        mut found: Found,
        windows: &[usize],
        known: Option<Price>,
        watch: &mut dyn FnMut() -> bool,
    ) -> Found {
        if let Some(cut) = self.wrapped(&found.laid, windows)
            && let Some(laid) = self.holds(&cut, &found.laid, found.laid.proud, watch)
        {
            found = Found { cut, laid };
            if known.is_some_and(|known| known <= self.price(&found.cut)) {
                return found;
            }
        }
        self.polish(&mut found, watch);
        found
    }

    /// The least notches around what is laid and around the unit; `None` where
    /// something lies where none may be cut.
    ///
    /// * `within`: windows that may be used
    pub fn wrapped(&self, laid: &Laid, within: &[usize]) -> Option<Vec<Bite>> {
        Some(merged(self.asked_for(laid, within)?, &self.windows))
    }

    /// The same, one for everything that asks for one.
    pub fn asked_for(&self, laid: &Laid, within: &[usize]) -> Option<Vec<Bite>> {
        let cutting = &self.job.cutting;
        let mut bites = Vec::new();
        for (number, rib) in self.ribs.iter().enumerate() {
            let clear = self.job.cavity.obstacles[rib.number].clear;
            let cut = clear + cutting.edge_trim + HAIR;
            let mut wanted = demand::of_pieces(rib, self.layout, laid.proud, cut);
            for (way, half) in self.trial.ways(laid) {
                wanted.extend(demand::of_way(
                    rib,
                    way,
                    half + clear,
                    cutting.edge_trim + HAIR,
                ));
            }
            for wanted in wanted {
                let windows = self.windows.iter().enumerate();
                let least = windows
                    .filter(|(it, window)| window.rib == number && within.contains(it))
                    .filter_map(|(it, window)| bite_for(rib, window, it, &wanted, cutting.snap))
                    .min_by_key(Bite::cells)?;
                bites.push(least);
            }
        }
        Some(bites)
    }
}

/// Whether a cut takes nothing that another does not.
fn is_within(cut: &[Bite], other: &[Bite]) -> bool {
    cut.iter()
        .all(|bite| other.iter().any(|it| bite.is_within(it)))
}
