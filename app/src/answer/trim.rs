//! `trim --json`.

use geometry::Job;
use geometry::trimming::{Account, StripRoom, TrimOutcome, TrimStep, strip_rooms};
use serde::Serialize;
use serde_json::{Value, json};

use super::FORMAT;
use super::trims::TrimAnswer;
use crate::cautions::beside_a_cut;

/// The least cut for one proud.
#[derive(Debug, Serialize)]
pub struct LeastCutAnswer {
    format: u32,
    job: String,
    #[serde(flatten)]
    step: StepAnswer,
    cautions: Vec<String>,
}

/// The least cut for one proud after the other.
#[derive(Debug, Serialize)]
pub struct StepsAnswer {
    format: u32,
    job: String,
    proud_limit_mm: f64,
    steps: Vec<StepAnswer>,
    cautions: Vec<String>,
}

#[derive(Debug, Serialize)]
struct StepAnswer {
    proud_mm: f64,
    outcome: &'static str,
    verdict: &'static str,
    /// How far the unit then stands proud; absent when nothing holds.
    stands_mm: Option<f64>,
    proud_lower_bound_mm: f64,
    removed_cm3: f64,
    /// The least share of stiffness that any cut rib keeps, pushed at its middle.
    stiffness_kept: Option<f64>,
    /// Where the strips have room; absent where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    strip_rooms: Vec<Value>,
    /// Whether ribs keep that much only with doubler strips bonded over the
    /// notches; no cut that does without was found.
    needs_strips: bool,
    trims: Vec<TrimAnswer>,
    stopped_by: Vec<String>,
}

impl LeastCutAnswer {
    /// Of one step.
    pub fn new(job: &Job, step: &TrimStep, accounts: &[Account]) -> LeastCutAnswer {
        LeastCutAnswer {
            format: FORMAT,
            job: job.name.clone(),
            step: StepAnswer {
                trims: TrimAnswer::with_corners(&job_as_cut(job, step), accounts),
                ..StepAnswer::new(job, step, accounts)
            },
            cautions: cautions(),
        }
    }
}

impl StepsAnswer {
    /// Of all steps, each with its accounts.
    pub fn new(job: &Job, steps: &[TrimStep], accounts: &[Vec<Account>]) -> StepsAnswer {
        let each = steps.iter().zip(accounts);
        StepsAnswer {
            format: FORMAT,
            job: job.name.clone(),
            proud_limit_mm: job.proud_limit,
            steps: each
                .map(|(step, it)| StepAnswer::new(job, step, it))
                .collect(),
            cautions: cautions(),
        }
    }
}

impl StepAnswer {
    fn new(job: &Job, step: &TrimStep, accounts: &[Account]) -> StepAnswer {
        let kept = accounts.iter().filter_map(|it| it.kept.as_ref().ok());
        let kept = kept.filter_map(|it| it.judged()).map(|it| it.value);
        let least = kept.fold(f64::INFINITY, f64::min);
        let routed = step.routed.as_ref();
        let cut = job_as_cut(job, step);
        let rooms = routed.map_or(Vec::new(), |it| strip_rooms(&cut, it));
        StepAnswer {
            strip_rooms: rooms.iter().map(|it| room_answer(&cut, it)).collect(),
            proud_mm: step.proud,
            outcome: match step.outcome {
                TrimOutcome::NothingToCut => "nothing_to_cut",
                TrimOutcome::Cut => "cut",
                TrimOutcome::CutWithStrips => "cut_with_strips",
                TrimOutcome::TooWeak => "too_weak",
                TrimOutcome::NoCutHelps => "no_cut_helps",
                TrimOutcome::NoWayFound => "no_way_found",
                TrimOutcome::Stopped => "stopped",
            },
            verdict: routed.map_or("blocked", |it| it.verdict.word()),
            stands_mm: routed.and_then(|it| it.proud),
            proud_lower_bound_mm: step.lower_bound,
            removed_cm3: 0.001 * step.removed_mm3,
            needs_strips: step.outcome == TrimOutcome::CutWithStrips,
            stiffness_kept: least.is_finite().then_some(least),
            trims: TrimAnswer::of(&job_as_cut(job, step), accounts),
            stopped_by: step
                .stopped_by
                .iter()
                .map(|it| it.against_id.clone())
                .collect(),
        }
    }
}

fn job_as_cut(job: &Job, step: &TrimStep) -> Job {
    Job {
        trims: step.trims.clone(),
        ..job.clone()
    }
}

fn cautions() -> Vec<String> {
    let all = beside_a_cut().into_iter();
    all.map(|it| format!("{}: {}", it.title, it.text)).collect()
}

/// One strip: its rib and notch, and the face it has room on, or what is in its way.
fn room_answer(job: &Job, room: &StripRoom) -> Value {
    let trim = &job.trims[room.trim];
    let mut answer = json!({ "rib": trim.rib, "along_mm": trim.along });
    match &room.face {
        Ok(face) => answer["face"] = json!(face.word()),
        Err(blocked) => {
            answer["in_the_way"] = json!(blocked.against);
            answer["short_mm"] = json!(blocked.short);
        }
    }
    answer
}
