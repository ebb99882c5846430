//! A job to begin from: nothing measured, no leads.

use crate::quick::QuickFigures;
use crate::schema::{BendRules, CavityFile, JobFile, PartUse};

/// A job with nothing measured and nothing plugged in: the usual unit in the
/// usual sleeve, behind an opening of unknown size.
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
        unit: PartUse::Named("full_depth".to_owned()),
        mount: PartUse::Named("sleeve".to_owned()),
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
