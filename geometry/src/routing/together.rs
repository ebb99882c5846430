//! All leads together: each alone first; of those that get in each other's way
//! some stay, the others find a new way around them; where there is none, they
//! ask the ones in the way to move, at a price that rises each time.
//!
//! The rising price is that of L. McMurchie, C. Ebeling, "PathFinder: a
//! negotiation-based performance-driven router for FPGAs", Proceedings of the
//! ACM Symposium on Field-Programmable Gate Arrays (1995) 111-117, asked for
//! only where going around fails.

use super::crowd::Crowd;
use super::lattice::COST;
use super::one::{FINEST, TRIES, corners_of};
use super::site::{Plan, Site, Tools, Try};
use super::{Effort, NoWay, Surroundings, Task, stubs, verify};
use crate::path::Path;

/// How far a search has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Leads that have a way.
    pub routed: usize,
    /// Leads in all.
    pub leads: usize,
}

/// The ways found.
#[derive(Clone, Debug)]
pub struct Routing {
    /// One for each task, in their order.
    pub routes: Vec<Result<Path, NoWay>>,
    /// Whether some lead has no way even with no other lead laid.
    pub hopeless: bool,
    /// Work done: nodes expanded in all searches.
    pub work: u64,
    /// The lead for which [`route_all`] stopped: the others were not looked at
    /// to the end.
    pub stuck: Option<usize>,
}

/// More leads than this are not laid together.
pub const MOST_LEADS: usize = 64;

/// What it costs to ask another lead to move, mm, and how much more each time
/// that lead was asked.
const ASKED: f64 = 25.0;
const ASKED_AGAIN: f64 = 50.0;

/// How often a lead may claim its own way from those in it.
const CLAIMS: u32 = 3;

/// Routes all leads together; what is found is verified.
///
/// The same tasks in the same surroundings have the same routes, however fast
/// the machine.
///
/// * `watch`: told how far it is; `false` stops, and what was found so far counts
pub fn route_together(
    around: &Surroundings,
    tasks: &[Task],
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Routing {
    let mut laying = Laying::new(around, tasks, effort, Tools::default());
    if laying.alone(watch) {
        laying.keep_some();
        if laying.settle(effort.rounds, watch) {
            laying.gather();
            laying.take();
        }
    }
    laying.finish()
}

/// The same, but all or none: stops at the first lead that is found to have no
/// way, and leaves leads of a cluster as they come ([`gathered`] draws them
/// together).
///
/// * `known`: each lead's own way where [`route_each`] has found it; may be empty
pub fn route_all(
    around: &Surroundings,
    tasks: &[Task],
    known: &[Option<Path>],
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Routing {
    let mut laying = Laying::new(around, tasks, effort, Tools::default());
    laying.whole = true;
    for (own, known) in laying.own.iter_mut().zip(known) {
        own.clone_from(known);
    }
    laying.stuck = laying.hopeless.iter().position(|&it| it);
    if laying.stuck.is_none() && laying.alone(watch) {
        laying.keep_some();
        if laying.settle(effort.rounds, watch) {
            laying.best.clone_from(&laying.laid);
        }
    }
    laying.finish()
}

/// Every lead's own way, as if the others were not laid.
pub fn route_each(
    around: &Surroundings,
    tasks: &[Task],
    effort: &Effort,
) -> Vec<Result<Path, NoWay>> {
    let mut laying = Laying::new(around, tasks, effort, Tools::default());
    laying.alone(&mut |_| true);
    let own = laying.own.into_iter().zip(laying.why);
    own.map(|(path, why)| path.ok_or(why)).collect()
}

/// Ways found before, those of one cluster drawn together; every other stays
/// as it is.
pub fn gathered(around: &Surroundings, tasks: &[Task], ways: &[Option<Path>]) -> Vec<Option<Path>> {
    let mut laying = Laying::new(around, tasks, &Effort::default(), Tools::default());
    for (lead, way) in ways.iter().enumerate() {
        if let Some(path) = way {
            laying.lay(lead, path.clone());
        }
    }
    laying.gather();
    let breaches = verify::verify(around, tasks, &laying.laid);
    if breaches.is_empty() {
        laying.laid
    } else {
        ways.to_vec()
    }
}

/// Leads on the way to their places.
pub(super) struct Laying<'a> {
    pub site: Site<'a>,
    pub crowd: Crowd<'a>,
    plans: Vec<Plan>,
    /// The way each lead has now.
    pub laid: Vec<Option<Path>>,
    /// Why a lead that has none has none.
    why: Vec<NoWay>,
    /// Leads that cannot have a way whatever the others do.
    hopeless: Vec<bool>,
    /// The way each lead goes when nobody else is there.
    own: Vec<Option<Path>>,
    /// Whether one has none with nobody else laid.
    pub none_alone: bool,
    /// How often each lead was asked to move, and claimed its own way.
    asked: Vec<u32>,
    claimed: Vec<u32>,
    best: Vec<Option<Path>>,
    /// Whether nothing counts but all of them.
    whole: bool,
    stuck: Option<usize>,
}

impl<'a> Laying<'a> {
    pub fn new(
        around: &'a Surroundings<'a>,
        tasks: &'a [Task],
        effort: &Effort,
        tools: Tools,
    ) -> Laying<'a> {
        let site = Site::new(around, tasks, effort.nodes, tools);
        let mut crowd = Crowd::new(&site.room, around, tasks);
        let count = tasks.len();
        let mut why = vec![NoWay::GaveUp; count];
        let mut hopeless = vec![false; count];
        for (lead, task) in tasks.iter().enumerate() {
            let found = if lead < MOST_LEADS {
                stubs::hopeless(around, task, lead).or_else(|| stubs::crossed(tasks, lead))
            } else {
                Some(NoWay::GaveUp)
            };
            match found {
                Some(reason) => (why[lead], hopeless[lead]) = (reason, true),
                None => crowd.lay_runs(lead, task),
            }
        }
        Laying {
            site,
            crowd,
            plans: (0..count).map(|_| Plan::default()).collect(),
            laid: vec![None; count],
            why,
            none_alone: hopeless.contains(&true),
            hopeless,
            own: vec![None; count],
            asked: vec![0; count],
            claimed: vec![0; count],
            best: vec![None; count],
            whole: false,
            stuck: None,
        }
    }

    /// Starts a lead from a way it had before.
    ///
    /// * `stands`: whether it may lie there as it is
    pub fn keep(&mut self, lead: usize, way: &Path, stands: bool) {
        self.plans[lead].own = corners_of(way);
        if stands && !self.hopeless[lead] {
            self.lay(lead, way.clone());
            self.best[lead] = Some(way.clone());
        }
    }

    /// Lays leads that wait where a quick look finds a way around the others.
    pub fn quickly(&mut self) {
        for lead in 0..self.laid.len() {
            if self.waits(lead) {
                self.around(lead, &TRIES[..1]);
            }
        }
    }

    /// Whether every lead that waits has a way when nobody else is laid.
    pub fn apart(&mut self, watch: &mut dyn FnMut(Progress) -> bool) -> bool {
        let mut nobody = None;
        for lead in 0..self.laid.len() {
            if !self.waits(lead) {
                continue;
            }
            let site = &mut self.site;
            let nobody =
                nobody.get_or_insert_with(|| Crowd::new(&site.room, site.around, site.tasks));
            match site.route(nobody, &[], lead, &mut self.plans[lead], &TRIES) {
                Ok(path) => self.own[lead] = Some(path),
                Err(reason) => {
                    (self.why[lead], self.hopeless[lead]) = (reason, true);
                    self.none_alone = true;
                    return false;
                }
            }
            if !watch(self.progress(&[])) {
                return false;
            }
        }
        true
    }

    /// Whether a lead has no way yet and may have one.
    fn waits(&self, lead: usize) -> bool {
        self.laid[lead].is_none() && !self.hopeless[lead]
    }

    /// What lies now is what was found.
    pub fn take(&mut self) {
        self.best.clone_from(&self.laid);
    }

    /// Finds every lead's own best way. Whether to go on.
    fn alone(&mut self, watch: &mut dyn FnMut(Progress) -> bool) -> bool {
        for lead in 0..self.laid.len() {
            if self.hopeless[lead] {
                continue;
            }
            let plan = &mut self.plans[lead];
            if let Some(path) = &self.own[lead] {
                plan.own = corners_of(path);
                self.laid[lead] = Some(path.clone());
                continue;
            }
            match self.site.route(&self.crowd, &[], lead, plan, &TRIES) {
                Ok(path) => {
                    plan.own = corners_of(&path);
                    self.own[lead] = Some(path.clone());
                    self.laid[lead] = Some(path);
                }
                Err(reason) => {
                    (self.why[lead], self.hopeless[lead]) = (reason, true);
                    self.none_alone |= !matches!(reason, NoWay::TooShort { .. });
                    if self.is_stuck(lead) {
                        return false;
                    }
                }
            }
            if !watch(self.progress(&[])) {
                self.keep_some();
                return false;
            }
        }
        true
    }

    /// Of leads in each other's way keeps as many as can stay together.
    fn keep_some(&mut self) {
        let count = self.laid.len();
        let mut meets = vec![0u64; count];
        for lead in 0..count {
            let Some(path) = &self.laid[lead] else {
                continue;
            };
            let own = verify::stretches(&self.site.tasks[lead], path);
            let now = self.site.met(&self.laid[..lead], lead, &own);
            for (other, met) in meets.iter_mut().enumerate().take(lead) {
                *met |= (now >> other & 1) << lead;
            }
            meets[lead] = now;
        }
        while let Some(worst) = (0..count)
            .filter(|&lead| meets[lead] != 0)
            .max_by_key(|&lead| {
                (
                    meets[lead].count_ones(),
                    std::cmp::Reverse(self.hardness(lead)),
                )
            })
        {
            self.laid[worst] = None;
            meets[worst] = 0;
            for met in &mut meets {
                *met &= !(1 << worst);
            }
        }
        for lead in 0..count {
            if let Some(path) = &self.laid[lead] {
                self.crowd.lift(lead);
                self.crowd.lay(lead, &self.site.tasks[lead], path);
            }
        }
        self.best.clone_from(&self.laid);
    }

    /// How hard a lead is to lay: thick ones that bend wide.
    fn hardness(&self, lead: usize) -> u64 {
        let task = &self.site.tasks[lead];
        (task.radius * task.thickest() * 100.0) as u64
    }

    /// Lays the leads that have no way yet. Whether they lie as well as they may.
    pub fn settle(&mut self, rounds: u64, watch: &mut dyn FnMut(Progress) -> bool) -> bool {
        for _ in 0..rounds {
            let waiting = (0..self.laid.len()).filter(|&it| self.waits(it));
            let Some(lead) = waiting.max_by_key(|&it| (self.hardness(it), std::cmp::Reverse(it)))
            else {
                return routed(&self.laid) >= routed(&self.best);
            };
            let found = self.around(lead, &TRIES[..1])
                || self.asking(lead, TRIES[0])
                || self.asking(lead, TRIES[1])
                || self.claiming(lead)
                || self.around(lead, &TRIES[1..])
                || self.asking(lead, FINEST);
            self.hopeless[lead] = !found;
            if !found && self.is_stuck(lead) {
                return false;
            }
            if routed(&self.laid) > routed(&self.best) {
                self.best.clone_from(&self.laid);
            }
            if !watch(self.progress(&self.best)) {
                return false;
            }
        }
        false
    }

    /// Whether it is over because a lead has no way.
    fn is_stuck(&mut self, lead: usize) -> bool {
        if self.whole {
            self.stuck = Some(lead);
        }
        self.whole
    }

    /// A way around all others.
    fn around(&mut self, lead: usize, tries: &[Try]) -> bool {
        let plan = &mut self.plans[lead];
        match self.site.route(&self.crowd, &self.laid, lead, plan, tries) {
            Ok(path) => {
                self.lay(lead, path);
                true
            }
            Err(reason) => {
                // The others may be what is in the way, and could lie elsewhere.
                self.why[lead] = match reason {
                    NoWay::Exhausted => NoWay::GaveUp,
                    reason => reason,
                };
                false
            }
        }
    }

    /// A way that asks others to move; they have none afterwards.
    fn asking(&mut self, lead: usize, how: Try) -> bool {
        let task = &self.site.tasks[lead];
        if !task.through.is_empty() {
            return false;
        }
        let prices: Vec<u32> = (self.asked.iter())
            .map(|&times| ((ASKED + ASKED_AGAIN * f64::from(times)) * COST) as u32)
            .collect();
        let plan = &mut self.plans[lead];
        let crowd = &self.crowd;
        let Ok(corners) = (self.site).search(crowd, lead, task, plan, how, Some(&prices)) else {
            return false;
        };
        let Ok(path) = Path::through(&corners, task.radius) else {
            return false;
        };
        let moved = (self.site).met(&self.laid, lead, &verify::stretches(task, &path));
        let kept = self.laid.clone();
        self.lift(moved);
        let drawn = (self.site).drawn(&self.crowd, &self.laid, lead, task, corners);
        let long_enough = |path: &Path| task.length.is_none_or(|most| path.length() <= most);
        if let Some(path) = drawn.filter(long_enough) {
            self.lay(lead, path);
            self.note_asked(moved);
            return true;
        }
        for (other, path) in kept.into_iter().enumerate() {
            if let Some(path) = path
                && self.laid[other].is_none()
            {
                self.lay(other, path);
            }
        }
        false
    }

    /// Its own best way, whoever is in it; not for ever again.
    fn claiming(&mut self, lead: usize) -> bool {
        let Some(path) = self.own[lead].clone() else {
            return false;
        };
        if self.claimed[lead] == CLAIMS {
            return false;
        }
        self.claimed[lead] += 1;
        let own = verify::stretches(&self.site.tasks[lead], &path);
        let moved = self.site.met(&self.laid, lead, &own);
        self.lift(moved);
        self.note_asked(moved);
        self.lay(lead, path);
        true
    }

    /// Takes leads out of their ways, a bit for each.
    fn lift(&mut self, leads: u64) {
        for lead in (0..self.laid.len()).filter(|&it| leads >> it & 1 == 1) {
            self.laid[lead] = None;
            self.crowd.lift(lead);
            self.crowd.lay_runs(lead, &self.site.tasks[lead]);
        }
    }

    fn note_asked(&mut self, leads: u64) {
        for (lead, asked) in self.asked.iter_mut().enumerate() {
            *asked += (leads >> lead & 1) as u32;
        }
    }

    /// Lays a lead where it has come to.
    pub fn lay(&mut self, lead: usize, path: Path) {
        self.crowd.lift(lead);
        self.crowd.lay(lead, &self.site.tasks[lead], &path);
        self.laid[lead] = Some(path);
    }

    fn progress(&self, best: &[Option<Path>]) -> Progress {
        Progress {
            routed: routed(best),
            leads: self.laid.len(),
        }
    }

    /// What there is to say when some lead has no way even alone: nothing of
    /// what lies counts, so it is not verified.
    pub fn give_up(self) -> Routing {
        Routing {
            hopeless: true,
            routes: self.why.into_iter().map(Err).collect(),
            work: self.site.work,
            stuck: self.hopeless.iter().position(|&it| it),
        }
    }

    /// What was found, verified; a lead that is in breach counts as not routed.
    pub fn finish(mut self) -> Routing {
        let breaches = verify::verify(self.site.around, self.site.tasks, &self.best);
        for breach in breaches {
            self.best[breach.lead] = None;
        }
        let routes = self.best.into_iter().zip(self.why);
        Routing {
            hopeless: self.none_alone,
            routes: routes.map(|(path, why)| path.ok_or(why)).collect(),
            work: self.site.work,
            stuck: self.stuck,
        }
    }
}

/// How many leads have a way.
fn routed(laid: &[Option<Path>]) -> usize {
    laid.iter().flatten().count()
}
