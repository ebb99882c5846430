//! The looms of a job, each laid up once and kept while nothing bears on it.

use geometry::looms::{Loom, leaves_by, looms};
use geometry::packing::Effort;
use geometry::{Exit, Job, Lead, Makeup, RuleSet};

use super::{Model, StepState, steps};
use crate::desk::edit::Step;

/// Looms laid up so far.
#[derive(Default)]
pub struct LaidUp {
    kept: Vec<(Members, Option<Loom>)>,
}

/// Everything that bears on the loom of one exit.
#[derive(Clone, PartialEq)]
struct Members {
    exit: Exit,
    leads: Vec<Lead>,
    makeup: Option<Makeup>,
    rules: RuleSet,
}

impl Members {
    fn of(job: &Job, exit: &Exit) -> Members {
        let leaves = |lead: &&Lead| leaves_by(job, lead).contains(&exit.id.as_str());
        Members {
            exit: exit.clone(),
            leads: job.leads.iter().filter(leaves).cloned().collect(),
            makeup: (job.makeups.iter())
                .find(|makeup| makeup.exit == exit.id)
                .cloned(),
            rules: job.rules,
        }
    }
}

/// Strands up to which a loom is laid up while one waits for it, some 15 ms.
const AT_ONCE: u32 = 20;

impl Members {
    /// How many strands they bring, as far as their cables say.
    fn strands(&self) -> u32 {
        let of = |lead: &Lead| lead.cables * lead.cable.tail.map_or(1, |tail| tail.wires);
        self.leads.iter().map(of).sum()
    }
}

impl LaidUp {
    /// The loom of every exit that a lead leaves by; lays up only what has
    /// changed. A large loom that has changed may be had as it was before: the
    /// exits (their ids) of those are given beside.
    fn of(&mut self, job: &Job, wait: bool) -> (Vec<Loom>, Vec<String>) {
        let before = std::mem::take(&mut self.kept);
        let (mut looms, mut behind) = (Vec::new(), Vec::new());
        for exit in &job.cavity.exits {
            let members = Members::of(job, exit);
            let known = before.iter().find(|(other, _)| *other == members);
            let older = before.iter().find(|(other, _)| other.exit.id == exit.id);
            let (members, loom) = match (known, older) {
                (Some((_, loom)), _) => (members, loom.clone()),
                (None, Some((older, Some(loom)))) if !wait && members.strands() > AT_ONCE => {
                    behind.push(exit.id.clone());
                    (older.clone(), Some(loom.clone()))
                }
                _ => (members, lay_up(job, exit)),
            };
            looms.extend(loom.clone());
            self.kept.push((members, loom));
        }
        (looms, behind)
    }
}

/// The loom of one exit of a job.
fn lay_up(job: &Job, exit: &Exit) -> Option<Loom> {
    let mut alone = job.clone();
    alone.cavity.exits = vec![exit.clone()];
    looms(&alone, Effort::Normal).into_iter().next()
}

impl Model {
    /// Lays up the looms of its job, large ones that were there before only
    /// with [`Model::catch_up`].
    pub fn lay_up(mut self, laid_up: &mut LaidUp) -> Model {
        self.take_looms(laid_up, false);
        self
    }

    /// Lays up what is behind.
    pub fn catch_up(&mut self, laid_up: &mut LaidUp) {
        self.take_looms(laid_up, true);
    }

    fn take_looms(&mut self, laid_up: &mut LaidUp, wait: bool) {
        let StepState { lacks } = &mut self.steps[Step::Looms as usize];
        lacks.retain(|lack| !steps::without_a_way(&self.looms).contains(lack));
        if let Some(job) = &self.job {
            (self.looms, self.looms_behind) = laid_up.of(job, wait);
        }
        lacks.extend(steps::without_a_way(&self.looms));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_what_would_be_laid_up_anew() {
        let library = profiles::Library::embedded();
        let demo = profiles::open_job(profiles::DEMO, &library).expect("the demo opens");
        let mut job = demo.job;
        let mut laid_up = LaidUp::default();
        let anew = |job: &Job| (looms(job, Effort::Normal), Vec::new());
        assert_eq!(laid_up.of(&job, false), anew(&job));
        // The last lead is one of a small loom, the first one of a large loom.
        job.leads.pop();
        assert_eq!(laid_up.of(&job, false), anew(&job));
        let before = looms(&job, Effort::Normal);
        job.leads[0].cables = 2;
        let behind = vec!["down_left".to_owned()];
        assert_eq!(laid_up.of(&job, false), (before, behind));
        assert_eq!(laid_up.of(&job, true), anew(&job));
        job.cavity.exits.reverse();
        assert_eq!(laid_up.of(&job, false), anew(&job));
    }
}
