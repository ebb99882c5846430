//! How thick a loom is where its lumps are.

use super::gather::Bundle;
use super::lay_up::lay_up;
use super::tail;
use crate::job::{Lead, Lump};
use crate::measure::Reading;
use crate::packing::{Effort, pack};

/// How thick a loom is at its thickest, over its wrap, mm.
///
/// A lump takes the place of its lead's cables and counts as the circle around
/// its width and height, so no figure is too thin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thickest {
    /// Lumps where they are, measured from plugs whose mating faces are level.
    pub as_they_lie: f64,
    /// Leads shifted along one another so that no two lumps meet.
    pub staggered: f64,
    /// The largest lump of every lead at one place.
    pub together: f64,
}

/// * `bare`: the loom where it has no lump, mm
pub(super) fn thickest(bundle: &Bundle, reading: Reading, bare: f64, effort: Effort) -> Thickest {
    let with = |lumps: &[Option<&Lump>]| {
        let rounds = |lead: &Lead| {
            let own = tail::rounds(lead, reading);
            let index = bundle.leads.iter().position(|it| it.id == lead.id);
            match index.and_then(|index| lumps[index]) {
                Some(lump) => vec![across(lump).max(pack(&own, effort).diameter)],
                None => own,
            }
        };
        lay_up(bundle, &rounds, effort).bare
    };
    let thickest = |sets: &[Vec<Option<&Lump>>]| {
        let lumpy = sets.iter().map(|set| with(set)).fold(bare, f64::max);
        lumpy + 2.0 * bundle.wrap()
    };
    Thickest {
        as_they_lie: thickest(&as_they_lie(&bundle.leads)),
        staggered: thickest(&staggered(&bundle.leads)),
        together: thickest(&together(&bundle.leads)),
    }
}

/// Diameter of the circle around a lump's width and height, mm.
fn across(lump: &Lump) -> f64 {
    lump.size.y.hypot(lump.size.z)
}

/// Which lump of each lead lies at one place along the loom.
type LumpSet<'a> = Vec<Option<&'a Lump>>;

/// The lumps at the place where each lump begins: between two such places
/// lumps only end.
fn as_they_lie<'a>(leads: &[&'a Lead]) -> Vec<LumpSet<'a>> {
    let begin = |lump: &Lump| lump.at - 0.5 * lump.size.x;
    let at = |lead: &'a Lead, place: f64| {
        (lead.lumps.iter())
            .filter(|lump| begin(lump) <= place && place < begin(lump) + lump.size.x)
            .max_by(|a, b| across(a).total_cmp(&across(b)))
    };
    let mut sets: Vec<LumpSet> = (leads.iter())
        .flat_map(|lead| lead.lumps.iter().map(begin))
        .map(|place| leads.iter().map(|lead| at(lead, place)).collect())
        .collect();
    sets.dedup();
    sets
}

/// The largest lump of one lead at a time.
fn staggered<'a>(leads: &[&'a Lead]) -> Vec<LumpSet<'a>> {
    let alone = |index: usize| {
        let lump = largest(leads[index])?;
        let mut set = vec![None; leads.len()];
        set[index] = Some(lump);
        Some(set)
    };
    (0..leads.len()).filter_map(alone).collect()
}

/// The largest lump of every lead.
fn together<'a>(leads: &[&'a Lead]) -> Vec<LumpSet<'a>> {
    let set: LumpSet = leads.iter().map(|lead| largest(lead)).collect();
    if set.iter().all(Option::is_none) {
        Vec::new()
    } else {
        vec![set]
    }
}

fn largest(lead: &Lead) -> Option<&Lump> {
    (lead.lumps.iter()).max_by(|a, b| across(a).total_cmp(&across(b)))
}
