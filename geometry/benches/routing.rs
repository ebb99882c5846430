//! Leads in seeded random cavities: one, ten together, fourteen together, and
//! the check of ten.
//!
//! Every scene is solved several times and its fastest run counts, so that a
//! busy machine tells less; the table is over scenes. Criterion compares runs
//! of one scene, which is not what is promised.

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
const RUNS: usize = 5;
const RIBS: usize = 10;

fn main() {
    println!("| what | promised, ms | median | 90 % | most | whole |");
    println!("|---|---|---|---|---|---|");
    let ten = scenes(10);
    one(&ten);
    let paths = together("ten leads together", "60 / 100", &ten);
    check(&ten, &paths);
    together("fourteen leads together", "120", &scenes(14));
}

fn scenes(leads: usize) -> Vec<Cavity> {
    (0..SCENES)
        .map(|seed| around_answer(seed, leads, RIBS).0)
        .collect()
}

/// The fastest of some runs, ms, and what it found.
fn fastest<T>(mut run: impl FnMut() -> T) -> (f64, T) {
    let mut runs = (0..RUNS).map(|_| {
        let started = Instant::now();
        let found = run();
        (started.elapsed().as_secs_f64() * 1e3, found)
    });
    let first = runs.next().expect("at least one run");
    runs.fold(first, |best, run| if run.0 < best.0 { run } else { best })
}

fn row(what: &str, promised: &str, mut spent: Vec<f64>, whole: usize) {
    spent.sort_by(f64::total_cmp);
    let at = |share: f64| spent[(share * (spent.len() - 1) as f64).round() as usize];
    let (median, ninth, most) = (at(0.5), at(0.9), at(1.0));
    let count = spent.len();
    println!("| {what} | {promised} | {median:.2} | {ninth:.2} | {most:.2} | {whole} of {count} |");
}

fn one(scenes: &[Cavity]) {
    let mut spent = Vec::new();
    let mut whole = 0;
    for cavity in scenes {
        for lead in 0..cavity.tasks.len() {
            let (around, task) = cavity.alone(lead);
            let (time, found) = fastest(|| route_one(&around, &task, &Effort::default()));
            spent.push(time);
            whole += usize::from(found.is_ok());
        }
    }
    row("one lead", "2", spent, whole);
}

fn together(what: &str, promised: &str, scenes: &[Cavity]) -> Vec<Vec<Option<Path>>> {
    let mut spent = Vec::new();
    let mut whole = 0;
    let mut paths = Vec::new();
    for cavity in scenes {
        let around = cavity.around();
        let effort = Effort::default();
        let (time, found) =
            fastest(|| route_together(&around, &cavity.tasks, &effort, &mut |_| true));
        spent.push(time);
        whole += usize::from(found.routes.iter().all(Result::is_ok));
        paths.push(found.routes.into_iter().map(Result::ok).collect());
    }
    row(what, promised, spent, whole);
    paths
}

fn check(scenes: &[Cavity], paths: &[Vec<Option<Path>>]) {
    let mut spent = Vec::new();
    let mut whole = 0;
    for (cavity, paths) in scenes.iter().zip(paths) {
        let around = cavity.around();
        let (time, breaches) = fastest(|| verify(&around, &cavity.tasks, paths));
        spent.push(time);
        whole += usize::from(breaches.is_empty());
    }
    row("check of ten leads", "1", spent, whole);
}
