//! Leads in seeded random cavities: one, ten together, fourteen together, and
//! the check of ten.
//!
//! `cargo bench -p geometry --bench routing`; with a number after `--`, that
//! many scenes instead of 50.
//!
//! The table is over scenes, which is what is promised; Criterion compares runs
//! of one scene. Every scene is solved several times and its fastest run
//! counts, so that a busy machine tells less; beside it stands the processor's
//! time, the mean of the runs, where the system tells it (Linux, to some ms).

use std::time::Instant;

use geometry::path::Path;
use geometry::routing::{Effort, route_one, route_together, verify};

#[path = "../tests/random_cavities/mod.rs"]
mod random_cavities;
#[path = "../tests/random_solids/mod.rs"]
mod random_solids;

use random_cavities::{Cavity, around_answer};

/// Scenes, runs of each, ribs and modules in each.
const SCENES: u64 = 50;
const RUNS: usize = 4;
const RIBS: usize = 10;

fn main() {
    println!("| what | promised, ms | median | 90 % | most | processor: median | 90 % | whole |");
    println!("|---|---|---|---|---|---|---|---|");
    let ten = scenes(10);
    one(&ten);
    let paths = together("ten leads together", "60 / 100", &ten);
    check(&ten, &paths);
    together("fourteen leads together", "120", &scenes(14));
}

fn scenes(leads: usize) -> Vec<Cavity> {
    let asked = std::env::args().find_map(|it| it.parse().ok());
    (0..asked.unwrap_or(SCENES))
        .map(|seed| around_answer(seed, leads, RIBS).0)
        .collect()
}

/// What some runs took, ms: the fastest by the clock, the mean by the processor.
#[derive(Clone, Copy)]
struct Spent {
    clock: f64,
    processor: f64,
}

/// The processor's time of this thread so far, ms.
fn processor() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let first = told.split(' ').next().and_then(|it| it.parse::<f64>().ok());
    first.unwrap_or(f64::NAN) * 1e-6
}

/// What some runs took, and what the last one found.
fn timed<T>(mut run: impl FnMut() -> T) -> (Spent, T) {
    let begun = processor();
    let mut clock = f64::INFINITY;
    let mut found = None;
    for _ in 0..RUNS {
        let started = Instant::now();
        found = Some(run());
        clock = clock.min(started.elapsed().as_secs_f64() * 1e3);
    }
    let processor = (processor() - begun) / RUNS as f64;
    (Spent { clock, processor }, found.expect("at least one run"))
}

fn row(what: &str, promised: &str, spent: &[Spent], whole: usize) {
    let sorted = |figure: fn(&Spent) -> f64| {
        let mut list: Vec<f64> = spent.iter().map(figure).collect();
        list.sort_by(f64::total_cmp);
        move |share: f64| list[(share * (list.len() - 1) as f64).round() as usize]
    };
    let (clock, processor) = (sorted(|it| it.clock), sorted(|it| it.processor));
    let count = spent.len();
    println!(
        "| {what} | {promised} | {:.2} | {:.2} | {:.2} | {:.1} | {:.1} | {whole} of {count} |",
        clock(0.5),
        clock(0.9),
        clock(1.0),
        processor(0.5),
        processor(0.9)
    );
}

fn one(scenes: &[Cavity]) {
    let mut spent = Vec::new();
    let mut whole = 0;
    for cavity in scenes {
        for lead in 0..cavity.tasks.len() {
            let (around, task) = cavity.alone(lead);
            let (time, found) = timed(|| route_one(&around, &task, &Effort::default()));
            spent.push(time);
            whole += usize::from(found.is_ok());
        }
    }
    row("one lead", "2", &spent, whole);
}

fn together(what: &str, promised: &str, scenes: &[Cavity]) -> Vec<Vec<Option<Path>>> {
    let mut spent = Vec::new();
    let mut whole = 0;
    let mut paths = Vec::new();
    for cavity in scenes {
        let around = cavity.around();
        let effort = Effort::default();
        let (time, found) =
            timed(|| route_together(&around, &cavity.tasks, &effort, &mut |_| true));
        spent.push(time);
        whole += usize::from(found.routes.iter().all(Result::is_ok));
        paths.push(found.routes.into_iter().map(Result::ok).collect());
    }
    row(what, promised, &spent, whole);
    paths
}

fn check(scenes: &[Cavity], paths: &[Vec<Option<Path>>]) {
    let mut spent = Vec::new();
    let mut whole = 0;
    for (cavity, paths) in scenes.iter().zip(paths) {
        let around = cavity.around();
        let (time, breaches) = timed(|| verify(&around, &cavity.tasks, paths));
        spent.push(time);
        whole += usize::from(breaches.is_empty());
    }
    row("check of ten leads", "1", &spent, whole);
}
