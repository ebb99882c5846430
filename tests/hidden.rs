//! The cavities that judge a solver, judged: a hundred with a hidden answer
//! that is good, and three hundred of any kind that are valid jobs.

use std::collections::BTreeMap;
use std::thread;

use acceptance::hidden::{FREE, Hidden, answer_json_of, hidden_job, library};
use acceptance::random_jobs::{JOBS, random_job};
use acceptance::referee::{Rule, Violation, judge};
use geometry::{Verdict, fit};
use seatwell::answer::PlainJob;
use serde_json::json;

/// Something for every seed, on as many threads as there are.
fn each<T: Send>(seeds: u64, make: impl Fn(u64) -> T + Sync) -> BTreeMap<u64, T> {
    let threads = thread::available_parallelism().map_or(1, |count| count.get() as u64);
    thread::scope(|scope| {
        let make = &make;
        let of_thread = |thread: u64| {
            scope.spawn(move || {
                let seeds = (thread..seeds).step_by(threads as usize);
                seeds.map(|seed| (seed, make(seed))).collect::<Vec<_>>()
            })
        };
        let running: Vec<_> = (0..threads).map(of_thread).collect();
        running
            .into_iter()
            .flat_map(|it| it.join().expect("a seed failed"))
            .collect()
    })
}

/// What a hidden cavity has to be, or how it is not.
fn faults(hidden: &Hidden) -> Vec<String> {
    let plain = serde_json::to_value(PlainJob::of(&hidden.job)).expect("plain jobs are JSON");
    let violations = judge(&plain, &answer_json_of(&hidden.answer));
    let mut faults: Vec<String> = violations
        .iter()
        .map(|found| format!("{found:?}"))
        .collect();
    let stats = &hidden.stats;
    let asked = [
        (
            fit(&hidden.job).verdict == Verdict::Flush,
            "the unit does not go in by the quick rule",
        ),
        ((10..=14).contains(&stats.leads), "not 10 to 14 leads"),
        (hidden.job.modules.len() == 2, "not 2 modules"),
        (stats.ribs >= 3, "fewer than 3 ribs"),
        (stats.free_share <= FREE, "too much room is free"),
        (
            stats.nearest_clearance <= 2.0,
            "nothing within 2 mm of its clearance",
        ),
        (
            stats.nearest_clearance >= 0.0,
            "an obstacle inside its clearance",
        ),
    ];
    faults.extend(
        asked
            .iter()
            .filter(|(holds, _)| !holds)
            .map(|(_, fault)| (*fault).to_owned()),
    );
    faults
}

#[test]
fn a_hundred_hidden_answers_are_good_and_hard_to_find() {
    let all = each(100, |seed| {
        let hidden = hidden_job(seed);
        (faults(&hidden), hidden.stats)
    });
    let bad: Vec<_> = all
        .iter()
        .filter(|(_, (faults, _))| !faults.is_empty())
        .collect();
    assert!(bad.is_empty(), "{bad:#?}");
    let failing = all
        .values()
        .filter(|(_, stats)| stats.direct_failing > 0)
        .count();
    assert!(
        failing >= 50,
        "only {failing} fail when every lead takes its own shortest way"
    );
}

#[test]
fn the_same_seed_gives_the_same_cavity() {
    let (one, other) = (hidden_job(0), hidden_job(0));
    assert_eq!(one.job, other.job);
    assert_eq!(one.answer.routes, other.answer.routes);
    assert_eq!(random_job(7), random_job(7));
}

#[test]
fn three_hundred_random_cavities_are_valid_jobs_and_the_unit_stands_clear() {
    let verdicts = each(JOBS, |seed| {
        let (file, job) = random_job(seed);
        let text = profiles::to_yaml(&file);
        let opened = profiles::open_text(&text, "job.yaml", None, library());
        assert_eq!(
            opened.map(|opened| opened.job),
            Ok(job.clone()),
            "seed {seed} as a file"
        );
        let fit = fit(&job);
        let plain = serde_json::to_value(PlainJob::of(&job)).expect("plain jobs are JSON");
        let found = judge(&plain, &json!({ "proud_mm": fit.proud }));
        let stands = |found: &&Violation| matches!(found.rule, Rule::Unreadable | Rule::Unit);
        let wrong: Vec<_> = found.iter().filter(stands).collect();
        assert!(
            wrong.is_empty(),
            "seed {seed} at {:?} proud: {wrong:?}",
            fit.proud
        );
        fit.verdict
    });
    for verdict in [Verdict::Flush, Verdict::Blocked] {
        let count = verdicts.values().filter(|found| **found == verdict).count();
        assert!(count >= 30, "{verdict:?} only {count} times");
    }
}
