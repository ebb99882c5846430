//! Slack folded into pockets.

use crate::bends::{cable_volume, fold};
use crate::job::Pocket;
use crate::measure::{Harm, Reading};

/// Share of a pocket that folded slack may take. Common practice, no source.
pub const FILL_LIMIT: f64 = 0.4;

/// Branches tried before the best stowage so far is taken.
const MOST_BRANCHES: usize = 100_000;

/// Slack of one lead that wants a pocket.
#[derive(Clone, Debug, PartialEq)]
pub struct ToStow {
    /// The lead (its id).
    pub lead: String,
    /// Outside diameter of a cable, mm.
    pub od: f64,
    /// Cables side by side.
    pub cables: u32,
    /// Tightest fold at the centreline, mm.
    pub fold_radius: f64,
    /// Length of slack in each cable, mm.
    pub length: f64,
}

/// Room in a pocket.
#[derive(Clone, Debug, PartialEq)]
pub struct PocketRoom {
    /// The pocket (its id).
    pub pocket: String,
    /// Its three sizes, mm.
    pub size: [f64; 3],
    /// Volume already taken in it, by a module for instance, mm³.
    pub taken: f64,
}

/// How full a pocket gets.
#[derive(Clone, Debug, PartialEq)]
pub struct PocketFill {
    /// The pocket (its id).
    pub pocket: String,
    /// Its room, cm³.
    pub room_cm3: f64,
    /// What the folded slack takes, cm³: boxes around the folds.
    pub slack_cm3: f64,
    /// The cable alone, cm³.
    pub cable_cm3: f64,
    /// Folded slack as a share of the room.
    pub fill: f64,
    /// Whose slack lies in it (ids of leads).
    pub leads: Vec<String>,
}

/// Slack that found no pocket.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// The lead (its id).
    pub lead: String,
    /// What its folded slack takes at least, cm³.
    pub slack_cm3: f64,
    /// Whether some pocket is large enough for its folds, only too full.
    pub folds_fit: bool,
}

/// Where slack was stowed.
#[derive(Clone, Debug, PartialEq)]
pub struct Stowage {
    /// Every pocket, in the order given.
    pub fills: Vec<PocketFill>,
    /// What found no pocket.
    pub left_out: Vec<LeftOut>,
    /// Whether every other stowage was considered.
    pub exhausted: bool,
}

impl PocketRoom {
    /// Room of an empty pocket.
    pub fn of(pocket: &Pocket, reading: Reading) -> PocketRoom {
        let size = pocket.faces.map(|[low, high]| {
            (high.at(reading, Harm::Smaller) - low.at(reading, Harm::Larger)).max(0.0)
        });
        PocketRoom {
            pocket: pocket.id.clone(),
            size,
            taken: 0.0,
        }
    }

    fn room(&self) -> f64 {
        (self.size.iter().product::<f64>() - self.taken).max(0.0)
    }

    /// Volume that a lead's folded slack takes in this pocket, mm³; `None` when
    /// a fold does not go in: it wants 2 fold radii + OD both ways along the two
    /// larger sizes, and its cables on each other along the third.
    fn bulk(&self, slack: &ToStow) -> Option<f64> {
        let mut size = self.size;
        size.sort_by(|a, b| b.total_cmp(a));
        let wide = 2.0 * slack.fold_radius + slack.od;
        if size[1] < wide || size[2] < slack.od {
            return None;
        }
        let folded = fold(
            slack.od,
            slack.fold_radius,
            slack.length,
            slack.cables,
            Some(size[0]),
        );
        match folded.ok()? {
            Some(fold) => Some(fold.volume),
            // Too short for a lap it lies as a bow, in a box as long as itself.
            None if slack.length < std::f64::consts::TAU * slack.fold_radius => {
                Some(slack.od * slack.od * slack.length * f64::from(slack.cables))
            }
            None => None,
        }
    }
}

/// Stows slack in pockets, each lead's in one: as much of it as goes in below
/// the limit, and then no pocket fuller than it must be.
///
/// Every way of sharing it out is tried, as long as they are not too many to count
/// through ([`Stowage::exhausted`]).
///
/// * `limit`: share of a pocket that may be filled, [`FILL_LIMIT`] by default
pub fn stow(slacks: &[ToStow], pockets: &[PocketRoom], limit: f64) -> Stowage {
    let mut wanting: Vec<(&ToStow, Vec<Option<f64>>)> = (slacks.iter())
        .filter(|slack| slack.length > 0.0)
        .map(|slack| {
            (
                slack,
                pockets.iter().map(|pocket| pocket.bulk(slack)).collect(),
            )
        })
        .collect();
    wanting.sort_by(|a, b| least(&b.1).total_cmp(&least(&a.1)));
    let rooms: Vec<f64> = pockets.iter().map(PocketRoom::room).collect();
    let mut search = Search {
        bulks: wanting.iter().map(|(_, bulks)| bulks.clone()).collect(),
        rooms: &rooms,
        limit,
        chosen: Vec::new(),
        taken: vec![0.0; pockets.len()],
        best: None,
        branches: 0,
    };
    search.branch(0.0);
    let chosen = search.best.map(|(_, chosen)| chosen).unwrap_or_default();
    report(&wanting, &chosen, pockets, search.branches < MOST_BRANCHES)
}

/// The least room a lead's slack takes anywhere; 0 when it goes in nowhere.
fn least(bulks: &[Option<f64>]) -> f64 {
    let least = bulks
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    if least.is_finite() { least } else { 0.0 }
}

/// Trying every pocket, or none, for one lead after another.
struct Search<'a> {
    bulks: Vec<Vec<Option<f64>>>,
    rooms: &'a [f64],
    limit: f64,
    chosen: Vec<Option<usize>>,
    taken: Vec<f64>,
    /// Volume left out and the highest fill of the best so far, and its choice.
    best: Option<([f64; 2], Vec<Option<usize>>)>,
    branches: usize,
}

impl Search<'_> {
    fn branch(&mut self, left_out: f64) {
        self.branches += 1;
        let fills = self
            .taken
            .iter()
            .zip(self.rooms)
            .filter(|(taken, _)| **taken > 0.0);
        let fullest = fills.map(|(taken, room)| taken / room).fold(0.0, f64::max);
        let so_far = [left_out, fullest];
        let hopeless = (self.best.as_ref()).is_some_and(|(best, _)| so_far >= *best);
        if hopeless || self.branches >= MOST_BRANCHES {
            return;
        }
        let next = self.chosen.len();
        if next == self.bulks.len() {
            self.best = Some((so_far, self.chosen.clone()));
            return;
        }
        for pocket in 0..self.rooms.len() {
            let Some(bulk) = self.bulks[next][pocket] else {
                continue;
            };
            let before = self.taken[pocket];
            if before + bulk <= self.limit * self.rooms[pocket] {
                self.taken[pocket] = before + bulk;
                self.chosen.push(Some(pocket));
                self.branch(left_out);
                self.chosen.pop();
                self.taken[pocket] = before;
            }
        }
        self.chosen.push(None);
        // What goes in nowhere is left out whatever is done.
        self.branch(left_out + least(&self.bulks[next]));
        self.chosen.pop();
    }
}

fn report(
    wanting: &[(&ToStow, Vec<Option<f64>>)],
    chosen: &[Option<usize>],
    pockets: &[PocketRoom],
    exhausted: bool,
) -> Stowage {
    const CM3: f64 = 1e-3;
    let whole = |slack: &ToStow| cable_volume(slack.od, slack.length) * f64::from(slack.cables);
    let mut fills: Vec<PocketFill> = (pockets.iter())
        .map(|pocket| PocketFill {
            pocket: pocket.pocket.clone(),
            room_cm3: pocket.room() * CM3,
            slack_cm3: 0.0,
            cable_cm3: 0.0,
            fill: 0.0,
            leads: Vec::new(),
        })
        .collect();
    let mut left_out = Vec::new();
    let chosen = chosen.iter().copied().chain(std::iter::repeat(None));
    for ((slack, bulks), pocket) in wanting.iter().zip(chosen) {
        if let Some((pocket, bulk)) = pocket.and_then(|at| Some((at, bulks[at]?))) {
            fills[pocket].slack_cm3 += bulk * CM3;
            fills[pocket].cable_cm3 += whole(slack) * CM3;
            fills[pocket].leads.push(slack.lead.clone());
        } else {
            left_out.push(LeftOut {
                lead: slack.lead.clone(),
                slack_cm3: least(bulks).max(whole(slack)) * CM3,
                folds_fit: bulks.iter().any(Option::is_some),
            });
        }
    }
    for fill in &mut fills {
        if fill.slack_cm3 > 0.0 {
            fill.fill = fill.slack_cm3 / fill.room_cm3;
        }
    }
    Stowage {
        fills,
        left_out,
        exhausted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pocket(name: &str, size: [f64; 3]) -> PocketRoom {
        PocketRoom {
            pocket: name.into(),
            size,
            taken: 0.0,
        }
    }

    fn slack(lead: &str, od: f64, length: f64) -> ToStow {
        ToStow {
            lead: lead.into(),
            od,
            cables: 1,
            fold_radius: 4.0 * od,
            length,
        }
    }

    #[test]
    fn slack_is_shared_out_so_that_no_pocket_is_fuller_than_it_must_be() {
        let pockets = [
            pocket("left", [90., 60., 40.]),
            pocket("right", [90., 60., 40.]),
        ];
        let slacks = [slack("a", 4.0, 900.0), slack("b", 4.0, 900.0)];
        let stowage = stow(&slacks, &pockets, FILL_LIMIT);
        assert!(stowage.left_out.is_empty() && stowage.exhausted);
        assert!(stowage.fills.iter().all(|fill| fill.leads.len() == 1));
        let fill = &stowage.fills[0];
        assert_eq!(fill.room_cm3, 216.0);
        assert!(fill.cable_cm3 < fill.slack_cm3 && fill.fill <= FILL_LIMIT);
        assert!((fill.fill - fill.slack_cm3 / 216.0).abs() < 1e-12);
    }

    #[test]
    fn a_fold_wider_than_the_pocket_is_left_out() {
        let low = [pocket("slot", [200.0, 35.0, 30.0])];
        let stowage = stow(&[slack("a", 4.0, 900.0)], &low, FILL_LIMIT);
        assert_eq!(stowage.left_out.len(), 1);
        assert!(!stowage.left_out[0].folds_fit);
        let small = [pocket("nook", [60.0, 40.0, 10.0])];
        let stowage = stow(&[slack("a", 4.0, 900.0)], &small, FILL_LIMIT);
        assert!(stowage.left_out[0].folds_fit);
    }

    #[test]
    fn a_module_takes_room_from_the_slack() {
        let mut pockets = [pocket("left", [90.0, 60.0, 40.0])];
        let free = stow(&[slack("a", 4.0, 900.0)], &pockets, FILL_LIMIT);
        pockets[0].taken = 150_000.0;
        let beside = stow(&[slack("a", 4.0, 900.0)], &pockets, FILL_LIMIT);
        assert!(free.left_out.is_empty() && !beside.left_out.is_empty());
        assert_eq!(beside.fills[0].room_cm3, 66.0);
    }
}
