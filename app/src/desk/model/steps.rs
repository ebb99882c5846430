//! How far each step of the work has got, and what it still lacks, in words.

use geometry::looms::{Loom, Passes};
use geometry::{Fit, Verdict};
use profiles::schema::{CutFile, JobFile, ObstacleFile};
use profiles::{Problem, Severity};

use super::kinds::kind_of;
use crate::desk::edit::Step;
use crate::words;

/// What keeps a verdict from being one, whatever the leads say.
pub(super) const NOT_MEASURED: &str = "rests on what was not measured";

/// How far one step has got.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StepState {
    /// What it still lacks, in words; empty when it is done.
    pub lacks: Vec<String>,
}

impl StepState {
    /// Whether it ticks itself off.
    pub fn is_done(&self) -> bool {
        self.lacks.is_empty()
    }
}

impl StepState {
    /// The first of what it lacks, and how much more there is.
    pub fn in_short(&self) -> String {
        match &self.lacks[..] {
            [] => String::new(),
            [one] => one.clone(),
            [first, rest @ ..] => format!("{first}; and {} more", rest.len()),
        }
    }
}

/// What the step of the looms lacks beside that: the way through an exit.
pub fn without_a_way(looms: &[Loom]) -> Vec<String> {
    looms
        .iter()
        .filter_map(|loom| match loom.at_exit.verdict {
            Passes::Yes => None,
            Passes::No(_) => Some(format!("does not pass the {}", loom.name)),
            Passes::NotFound => Some(format!("found no way through the {}", loom.name)),
        })
        .collect()
}

/// How far each step has got.
pub fn states(job: &JobFile, problems: &[Problem], fit: Option<&Fit>) -> [StepState; Step::COUNT] {
    Step::ALL.map(|step| StepState {
        lacks: lacks(step, job, problems, fit),
    })
}

fn lacks(step: Step, job: &JobFile, problems: &[Problem], fit: Option<&Fit>) -> Vec<String> {
    let mut lacks: Vec<String> = problems
        .iter()
        .filter(|problem| {
            problem.severity == Severity::Error && step_of(&problem.field) == Some(step)
        })
        .map(|problem| {
            let place = words::place(&problem.field, job);
            format!("{place}: allowed is {}", problem.allowed)
        })
        .collect();
    match step {
        Step::Cavity => {
            if job.cavity.stations.is_empty() && job.cavity.obstacles.is_empty() {
                lacks.push("needs the depth to the nearest thing behind".to_owned());
            }
            if job.cavity.exits.is_empty() && !job.leads.is_empty() {
                lacks.push("needs an exit for the leads".to_owned());
            }
        }
        Step::Leads => {
            if job.leads.is_empty() {
                lacks.push("needs the leads that plug into the back".to_owned());
            }
            for lead in job.leads.iter().filter(|lead| {
                let end = &lead.end;
                end.exit.is_none() && end.module.is_none() && end.factory_plug.is_none()
            }) {
                lacks.push(format!("needs the end of {}", lead.name));
            }
        }
        Step::Verdict => match fit {
            None => lacks.push("waits for the steps above".to_owned()),
            Some(fit) if fit.verdict == Verdict::Blocked => {
                lacks.push("does not seat like this".to_owned());
            }
            Some(fit) if !fit.unmeasured.is_empty() => lacks.push(NOT_MEASURED.to_owned()),
            Some(_) => {}
        },
        Step::Looms => {
            if !job.leads.iter().any(|lead| lead.end.exit.is_some()) {
                lacks.push("needs leads that leave by an exit".to_owned());
            }
        }
        Step::Trim => {
            let half_said = |it: &&ObstacleFile| {
                let limited = !it.cut_from.is_empty() && it.max_depth.is_some();
                it.cut != CutFile::Never && !kind_of(it.kind).is_never_cut() && !limited
            };
            for it in job.cavity.obstacles.iter().filter(half_said) {
                lacks.push(format!("needs the edge and the depth for {}", it.name));
            }
            // Something that may be cut is in the way, and nothing is cut yet.
            let may = |id: &str| {
                let mut obstacles = job.cavity.obstacles.iter();
                obstacles.any(|it| it.id == id && it.cut != CutFile::Never)
            };
            let stops = fit.into_iter().flat_map(|fit| &fit.stopped_by);
            for stop in stops.filter(|stop| may(&stop.against_id)) {
                lacks.push(format!("{} may be cut", stop.against));
            }
            lacks.dedup();
            let blocked = fit.is_some_and(|fit| fit.verdict == Verdict::Blocked);
            let all = &job.cavity.obstacles;
            if blocked && all.iter().all(|it| it.cut == CutFile::Never) {
                lacks.push("nothing here may be cut".to_owned());
            }
        }
        Step::Unit | Step::Mount | Step::Modules => {}
    }
    if let Some(fit) = fit {
        lacks.extend(
            fit.unmeasured
                .iter()
                .filter(|name| step_of_measure(name, job) == step)
                .map(|name| format!("needs {name}")),
        );
        let short = fit.lengths.iter().filter(|lead| lead.surely_short() > 0.05);
        match step {
            Step::Leads => lacks.extend(short.map(|lead| format!("{} is too short", lead.name))),
            Step::Mount => {
                let said =
                    |reason: &String| fit.lengths.iter().any(|lead| reason.contains(&lead.name));
                let reasons = fit.not_ready.iter().filter(|reason| !said(reason));
                lacks.extend(reasons.cloned());
            }
            _ => {}
        }
    }
    lacks
}

/// The step that a field of the document belongs to.
pub fn step_of(field: &str) -> Option<Step> {
    let first = field.split(['.', '[']).next().unwrap_or_default();
    match first {
        "cavity" => Some(Step::Cavity),
        "unit" => Some(Step::Unit),
        "mount" => Some(Step::Mount),
        "leads" => Some(Step::Leads),
        "modules" => Some(Step::Modules),
        "looms" => Some(Step::Looms),
        "trims" | "rib_loads" | "cutting" => Some(Step::Trim),
        _ => None,
    }
}

/// The step that a measure nobody took belongs to, by the name it carries.
fn step_of_measure(name: &str, job: &JobFile) -> Step {
    if let Some(step) = step_of(name) {
        return step;
    }
    let obstacles = &job.cavity.obstacles;
    if obstacles
        .iter()
        .any(|obstacle| name.contains(&obstacle.name))
    {
        Step::Cavity
    } else if job.leads.iter().any(|lead| name.contains(&lead.name)) {
        Step::Leads
    } else if job.modules.iter().any(|module| name.contains(&module.name)) {
        Step::Modules
    } else if name.contains("chassis") || name.contains("nose") || name.contains("socket") {
        Step::Unit
    } else if name.contains("setback") || name.contains("bracket") || name.contains("mount") {
        Step::Mount
    } else {
        Step::Cavity
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::edit::sample_job;

    #[test]
    fn a_bare_job_says_what_to_measure_next() {
        let states = states(&sample_job(), &[], None);
        let cavity = &states[Step::Cavity as usize];
        assert_eq!(
            cavity.lacks,
            ["needs the depth to the nearest thing behind"]
        );
        assert!(!states[Step::Verdict as usize].is_done());
        assert!(states[Step::Unit as usize].is_done());
    }

    #[test]
    fn what_is_behind_a_socket_belongs_to_the_cavity() {
        let library = profiles::Library::embedded();
        let mut job = profiles::QuickFigures::unknown().new_job(&library);
        job.cavity.obstacles[0].name = "thing behind the video socket".to_owned();
        let name = "depth of the thing behind the video socket";
        assert_eq!(step_of_measure(name, &job), Step::Cavity);
        assert_eq!(step_of_measure("depth of the chassis", &job), Step::Unit);
    }

    #[test]
    fn a_problem_is_told_at_its_step() {
        let problem = Problem {
            severity: Severity::Error,
            file: String::new(),
            line: 0,
            field: "leads[2].plug".to_owned(),
            found: "'x'".to_owned(),
            allowed: "the name of a plug".to_owned(),
        };
        let states = states(&sample_job(), &[problem], None);
        assert!(
            states[Step::Leads as usize]
                .lacks
                .iter()
                .any(|text| text.starts_with("leads[2], plug: allowed is"))
        );
        assert!(states[Step::Unit as usize].is_done());
    }
}
