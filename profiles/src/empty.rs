//! A job to begin from: nothing measured, no leads.

use crate::library::Library;
use crate::quick::QuickFigures;
use crate::schema::JobFile;

/// The unit whose sockets an empty job has, until another is chosen.
pub(crate) const EMPTY_UNIT: &str = "full_depth";

/// A job with nothing measured and nothing plugged in: a unit of the usual size
/// with every usual socket, behind an opening of unknown size, in a mount that
/// sits nobody knows how deep.
pub fn empty_job(library: &Library) -> JobFile {
    let mut job = QuickFigures::unknown().new_job(library);
    job.cavity.obstacles.clear();
    job.cavity.exits.clear();
    job.leads.clear();
    job
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inline;

    #[test]
    fn an_empty_job_can_be_answered_and_takes_a_dozen_leads() {
        let library = Library::embedded();
        let inlined = inline(&empty_job(&library), &library).expect("nothing is wrong with it");
        assert!(inlined.job.leads.is_empty() && inlined.job.cavity.exits.is_empty());
        assert!(inlined.job.unit.sockets.len() >= 12);
        assert!(!inlined.job.unmeasured.is_empty());
    }
}
