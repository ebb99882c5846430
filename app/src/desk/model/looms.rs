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
#[derive(PartialEq)]
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

impl LaidUp {
    /// The loom of every exit that a lead leaves by; lays up only what has changed.
    fn of(&mut self, job: &Job) -> Vec<Loom> {
        let mut before = std::mem::take(&mut self.kept);
        for exit in &job.cavity.exits {
            let members = Members::of(job, exit);
            let known = before.iter().position(|(other, _)| *other == members);
            let loom = match known {
                Some(at) => before.swap_remove(at).1,
                None => lay_up(job, exit),
            };
            self.kept.push((members, loom));
        }
        self.kept
            .iter()
            .filter_map(|(_, loom)| loom.clone())
            .collect()
    }
}

/// The loom of one exit of a job.
fn lay_up(job: &Job, exit: &Exit) -> Option<Loom> {
    let mut alone = job.clone();
    alone.cavity.exits = vec![exit.clone()];
    looms(&alone, Effort::Normal).into_iter().next()
}

impl Model {
    /// Lays up the looms of its job.
    pub fn lay_up(mut self, laid_up: &mut LaidUp) -> Model {
        if let Some(job) = &self.job {
            self.looms = laid_up.of(job);
        }
        let StepState { lacks } = &mut self.steps[Step::Looms as usize];
        lacks.extend(steps::without_a_way(&self.looms));
        self
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
        assert_eq!(laid_up.of(&job), looms(&job, Effort::Normal));
        job.leads.pop();
        assert_eq!(laid_up.of(&job), looms(&job, Effort::Normal));
        job.cavity.exits.reverse();
        assert_eq!(laid_up.of(&job), looms(&job, Effort::Normal));
    }
}
