//! One place for each module: arrangements in the order they are tried.
//!
//! Named places come first, as an installer who named them meant them. Each
//! arrangement is looked at with the unit as far in as it can be; only when
//! none holds there, the most hopeful ones are looked at further out.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::glance::elsewhere_is_no_use;
use super::{any_may_go_anywhere, free_places, may_go_anywhere};
use crate::distance::signed_distance;
use crate::fit::ModuleRoom;
use crate::job::{Job, Module};
use crate::layout::Layout;
use crate::measure::Reading;
use crate::routing::Effort;
use crate::seating::arrangements::{Arrangement, arrangements, pinned, seats};
use crate::seating::ends::Sits;
use crate::seating::scene::Scene;
use crate::seating::seat::Found;

/// Arrangements of named places tried at most, where others follow.
const NAMED: usize = 4;

/// Arrangements with places in the open cavity tried at most.
const FREE: usize = 10;

/// Arrangements looked at further out, where none holds.
const CLIMBS: usize = 3;

/// Combinations looked at for that at most.
const POPS: usize = 4000;

/// What a place in the open cavity costs over a named one, as mm of lead.
const UNNAMED: f64 = 1000.0;

/// How far an arrangement is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Only as far in as can be.
    AtLeast,
    /// Further and further out until something holds.
    Climb,
    /// As that, when it holds just below what is known already.
    ClimbIfBetter,
}

/// An arrangement and how far it is looked at.
#[derive(Clone, Debug)]
pub struct Try {
    /// Where each module sits.
    pub arrangement: Arrangement,
    /// How far it is looked at.
    pub look: Look,
}

/// Arrangements, each made when it is asked for.
pub struct Tries<'a> {
    job: &'a Job,
    layout: &'a Layout,
    reading: Reading,
    rooms: &'a [ModuleRoom],
    proud: f64,
    waiting: VecDeque<Arrangement>,
    /// Whether places in the open cavity are still to be looked for.
    free_to_come: bool,
    only_climb: bool,
    /// Those that were looked at, with how many leads found no way.
    told: Vec<(usize, Arrangement)>,
    climbs: Option<VecDeque<Arrangement>>,
    climbed: bool,
    /// Whether it is of no use to look at others as far in as can be.
    no_use_at_least: bool,
    /// Whether no other can do better.
    over: bool,
}

/// The arrangements of a job with the unit as far in as `proud` mm.
///
/// * `rooms`: the named places each module fits, in the job's order
pub fn tries<'a>(
    job: &'a Job,
    layout: &'a Layout,
    reading: Reading,
    rooms: &'a [ModuleRoom],
    proud: f64,
) -> Tries<'a> {
    let free = any_may_go_anywhere(job);
    let mut named = arrangements(job, layout, rooms);
    if free {
        named.retain(|arrangement| arrangement.len() == job.modules.len());
        named.truncate(NAMED);
    }
    Tries {
        job,
        layout,
        reading,
        rooms,
        proud,
        waiting: named.into(),
        free_to_come: free,
        only_climb: !free,
        told: Vec::new(),
        climbs: None,
        climbed: false,
        no_use_at_least: false,
        over: false,
    }
}

impl Tries<'_> {
    /// The next one.
    pub fn next_try(&mut self) -> Option<Try> {
        if self.over {
            return None;
        }
        if self.waiting.is_empty() && self.free_to_come {
            self.free_to_come = false;
            self.waiting = self.in_the_open();
        }
        if self.no_use_at_least {
            let waiting = self.waiting.drain(..);
            self.told.extend(waiting.map(|it| (usize::MAX, it)));
        }
        if let Some(arrangement) = self.waiting.pop_front() {
            let look = if self.only_climb {
                Look::Climb
            } else {
                Look::AtLeast
            };
            return Some(Try { arrangement, look });
        }
        if self.only_climb {
            return None;
        }
        let told = &mut self.told;
        let climbs = self.climbs.get_or_insert_with(|| {
            told.sort_by_key(|(failed, _)| *failed);
            told.drain(..).take(CLIMBS).map(|(_, it)| it).collect()
        });
        let arrangement = climbs.pop_front()?;
        let look = if self.climbed {
            Look::ClimbIfBetter
        } else {
            Look::Climb
        };
        self.climbed = true;
        Some(Try { arrangement, look })
    }

    /// Arrangements with places in the open cavity; without the modules that
    /// have none when nothing else is left.
    fn in_the_open(&self) -> VecDeque<Arrangement> {
        let found = combined(self.job, self.layout, self.reading, self.rooms, self.proud);
        if found.is_empty() && self.told.is_empty() {
            let named = arrangements(self.job, self.layout, self.rooms);
            return named.into_iter().take(1).collect();
        }
        found.into()
    }

    /// Tells what came of an arrangement.
    ///
    /// * `scene`: what was looked at
    pub fn tell(
        &mut self,
        arrangement: &Arrangement,
        scene: &Scene<'_>,
        found: &Found,
        voxel: f64,
    ) {
        if self.only_climb || found.cancelled {
            return;
        }
        let short = found.short.as_ref().unwrap_or(&found.first);
        let no_use = !short.holds()
            && (self.climbs.is_some() || !self.no_use_at_least)
            && elsewhere_is_no_use(
                (self.job, self.layout, self.reading),
                arrangement,
                (scene, short),
                voxel,
                &Effort::default(),
            );
        if self.climbs.is_none() {
            self.told
                .push((found.first.failed.len(), arrangement.clone()));
            self.no_use_at_least |= no_use;
        } else if found.best().is_some() {
            self.over |= no_use;
        }
    }
}

/// One place a module may take, and what it costs.
type Choice = (f64, Sits);

/// The cheapest combinations of one place for each module, no two in each
/// other's room, at least one of them in the open cavity.
fn combined(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    rooms: &[ModuleRoom],
    proud: f64,
) -> Vec<Arrangement> {
    let choices: Vec<Vec<Choice>> = (job.modules.iter().zip(rooms))
        .map(|(module, room)| choices(job, layout, reading, (module, room), proud))
        .collect();
    // A module without any place is left out; the others are laid all the same.
    let placed: Vec<usize> = (0..choices.len())
        .filter(|module| !choices[*module].is_empty())
        .collect();
    let mut found = Vec::new();
    let mut open: BTreeSet<(u64, Vec<usize>)> = BTreeSet::new();
    let price = |picks: &[usize]| -> u64 {
        let prices = (placed.iter().zip(picks)).map(|(module, pick)| choices[*module][*pick].0);
        // Whole thousandths, so that equal sums are equal.
        (1000.0 * prices.sum::<f64>()).max(0.0).round() as u64
    };
    if !placed.is_empty() {
        let first = vec![0; placed.len()];
        open.insert((price(&first), first));
    }
    for _ in 0..POPS {
        let Some((_, picks)) = open.pop_first() else {
            break;
        };
        for at in 0..picks.len() {
            let mut next = picks.clone();
            next[at] += 1;
            // Each combination is reached one way only.
            let last = picks[at + 1..].iter().all(|pick| *pick == 0);
            if last && next[at] < choices[placed[at]].len() {
                open.insert((price(&next), next));
            }
        }
        let taken: Vec<(&Module, &Choice)> = (placed.iter().zip(&picks))
            .map(|(module, pick)| (&job.modules[*module], &choices[*module][*pick]))
            .collect();
        let open_cavity = taken.iter().any(|(_, (price, _))| *price >= UNNAMED);
        if open_cavity && stand_apart(&taken) {
            let arrangement: BTreeMap<String, Sits> = (taken.iter())
                .map(|(module, (_, sits))| (module.id.clone(), sits.clone()))
                .collect();
            found.push(arrangement);
            if found.len() >= FREE {
                break;
            }
        }
    }
    found
}

/// The places of one module, the cheapest first.
fn choices(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    (module, room): (&Module, &ModuleRoom),
    proud: f64,
) -> Vec<Choice> {
    if room.pinned {
        let pinned = pinned(layout, &module.id);
        return pinned.into_iter().map(|sits| (0.0, sits)).collect();
    }
    let named = (room.fits.iter()).flat_map(|fit| seats(job, layout, module, fit));
    let mut choices: Vec<Choice> = (named.enumerate())
        .map(|(order, sits)| (order as f64, sits))
        .collect();
    if may_go_anywhere(module) {
        let places = free_places(job, layout, reading, module, proud).unwrap_or_default();
        choices.extend(
            (places.into_iter()).map(|place| (UNNAMED + place.price, Sits::Cavity(place.block))),
        );
    }
    choices
}

/// Whether every two modules keep clear of each other.
fn stand_apart(taken: &[(&Module, &Choice)]) -> bool {
    taken
        .iter()
        .enumerate()
        .all(|(number, (module, (price, sits)))| {
            taken[number + 1..]
                .iter()
                .all(|(other, (their_price, theirs))| match (sits, theirs) {
                    (Sits::Space(one), Sits::Space(two)) => one != two,
                    (Sits::Cavity(one), Sits::Cavity(two)) => {
                        let free = price.max(*their_price) >= UNNAMED;
                        let clear = if free {
                            module.clear.max(other.clear)
                        } else {
                            0.0
                        };
                        signed_distance(one, two) >= clear
                    }
                    _ => true,
                })
        })
}
