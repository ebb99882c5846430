//! A job and its alternatives, answered, and which of them serves best.

use geometry::seating::VOXEL;
use geometry::{Fit, Job, Reading, Routed};
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
    /// How far proud the quick rule has it, mm.
    pub quick_proud: Option<f64>,
    /// Its leads as they are laid, where that was asked.
    pub routed: Option<Routed>,
}

impl Answered {
    /// The job itself, then every alternative in the order of the file, by the
    /// instant layer.
    pub fn all(job: &Job, alternatives: &[Alternative]) -> Vec<Answered> {
        let others = (alternatives.iter()).map(|it| Answered::quick(&it.id, &it.name, &it.job));
        std::iter::once(Answered::quick(AS_GIVEN, &job.unit.name, job))
            .chain(others)
            .collect()
    }

    /// The same by the routed layer.
    pub fn all_routed(job: &Job, alternatives: &[Alternative]) -> Vec<Answered> {
        let others = (alternatives.iter()).map(|it| Answered::routed(&it.id, &it.name, &it.job));
        std::iter::once(Answered::routed(AS_GIVEN, &job.unit.name, job))
            .chain(others)
            .collect()
    }

    /// A job answered by the instant layer.
    pub fn quick(id: &str, name: &str, job: &Job) -> Answered {
        let fit = geometry::fit(job);
        Answered {
            id: id.to_owned(),
            name: name.to_owned(),
            quick_proud: fit.proud,
            fit,
            routed: None,
        }
    }

    /// A job answered by the routed layer, at its stated measures and at both
    /// ends of them.
    fn routed(id: &str, name: &str, job: &Job) -> Answered {
        let quick = Answered::quick(id, name, job);
        let at = |reading| geometry::routed_on(job, &quick.fit, reading, VOXEL, &mut |_| true);
        let routed = at(Reading::Nominal);
        let ends = [at(Reading::Worst), at(Reading::Best)];
        let layout = geometry::lay_out(job, Reading::Nominal);
        Answered {
            fit: routed.over(job, &layout, &quick.fit, &ends),
            routed: Some(routed),
            ..quick
        }
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
