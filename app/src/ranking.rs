//! A job and its alternatives, answered, and which of them serves best.

use geometry::{Fit, Job};
use profiles::Alternative;

/// Id of the job itself among its alternatives.
pub const AS_GIVEN: &str = "as given";

/// A job or one of its alternatives with its answer.
#[derive(Clone, Debug)]
pub struct Answered {
    /// Id of the alternative; [`AS_GIVEN`] for the job itself.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its answer.
    pub fit: Fit,
}

impl Answered {
    /// The job itself, then every alternative in the order of the file.
    pub fn all(job: &Job, alternatives: &[Alternative]) -> Vec<Answered> {
        let as_given = Answered {
            id: AS_GIVEN.to_owned(),
            name: job.unit.name.clone(),
            fit: geometry::fit(job),
        };
        let others = alternatives.iter().map(|alternative| Answered {
            id: alternative.id.clone(),
            name: alternative.name.clone(),
            fit: geometry::fit(&alternative.job),
        });
        std::iter::once(as_given).chain(others).collect()
    }
}

/// Which one serves best: flush before proud before blocked, then the least
/// proud, then the most to spare; the first of equals. Index into `answered`.
pub fn best(answered: &[Answered]) -> usize {
    let mut best = 0;
    for (index, it) in answered.iter().enumerate() {
        if order(&it.fit, &answered[best].fit).is_lt() {
            best = index;
        }
    }
    best
}

fn order(a: &Fit, b: &Fit) -> std::cmp::Ordering {
    let proud = |fit: &Fit| fit.proud.unwrap_or(f64::INFINITY);
    a.verdict
        .cmp(&b.verdict)
        .then(proud(a).total_cmp(&proud(b)))
        .then(b.margin.total_cmp(&a.margin))
}
