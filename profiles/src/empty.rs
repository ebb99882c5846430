//! A job to begin from: nothing measured, no leads.

use crate::quick::QuickFigures;
use crate::schema::{BendRules, CavityFile, JobFile, PartUse};

/// The unit of an empty job, until another is chosen.
pub(crate) const EMPTY_UNIT: &str = "full_depth";

/// A job with nothing measured and nothing plugged in: the usual unit behind an
/// opening of unknown size, in a mount that sits nobody knows how deep.
pub fn empty_job() -> JobFile {
    let quick = QuickFigures::unknown().job_file();
    JobFile {
        name: "New job".to_owned(),
        bend_rules: BendRules::Published,
        cavity: CavityFile {
            obstacles: Vec::new(),
            exits: Vec::new(),
            ..quick.cavity
        },
        unit: PartUse::Named(EMPTY_UNIT.to_owned()),
        leads: Vec::new(),
        ..quick
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Library, inline};

    #[test]
    fn an_empty_job_can_be_answered_and_takes_a_dozen_leads() {
        let inlined = inline(&empty_job(), &Library::embedded()).expect("nothing is wrong with it");
        assert!(inlined.job.leads.is_empty() && inlined.job.cavity.exits.is_empty());
        assert!(inlined.job.unit.sockets.len() >= 12);
        assert!(!inlined.job.unmeasured.is_empty());
    }
}
