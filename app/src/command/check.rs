//! `seatwell check`.

use geometry::Reading;
use geometry::looms::looms;
use geometry::packing::Effort;
use profiles::{Library, Opened};

use super::{Layer, Outcome, print, print_json, refuse, terminal};
use crate::answer::{AlternativeAnswer, CheckAnswer};
use crate::figures::Figures;
use crate::ranking::{Answered, best};

/// Answers a job on standard output.
pub fn run(job: &str, layer: Layer, json: bool, library: &Library, figures: Figures) -> Outcome {
    let opened = match profiles::open_job(job, library) {
        Ok(opened) => opened,
        Err(problems) => return refuse(&problems),
    };
    for warning in &opened.warnings {
        eprintln!("{warning}");
    }
    let answered = match layer {
        Layer::Chain => Answered::all(&opened.job, &opened.alternatives),
        Layer::Routed => Answered::all_routed(&opened.job, &opened.alternatives),
    };
    let verdict = answered[0].fit.verdict;
    let printed = if json {
        print_json(&json_answer(&opened, &answered))
    } else {
        print(&terminal::report(&opened.job, &answered, figures))
    };
    if printed == Outcome::Done {
        verdict.into()
    } else {
        printed
    }
}

fn json_answer(opened: &Opened, answered: &[Answered]) -> CheckAnswer {
    let layout = geometry::lay_out(&opened.job, Reading::Nominal);
    let alternatives = answered[1..]
        .iter()
        .map(|answered| AlternativeAnswer::new(&answered.id, &answered.name, &answered.fit))
        .collect();
    let best = (answered.len() > 1).then(|| answered[best(answered)].id.clone());
    let looms = looms(&opened.job, Effort::Normal);
    CheckAnswer::new(
        &opened.job,
        &layout,
        &answered[0],
        &looms,
        alternatives,
        best,
    )
}
