//! The routed layer before an independent judge: cavities built around a known
//! answer, and random ones. The judge reads what any outside program can read
//! and measures anew through a general-purpose collision library.

use acceptance::hidden::hidden_job;
use acceptance::random_jobs::random_job;
use acceptance::referee::{Violation, judge};
use geometry::seating::VOXEL;
use geometry::{Job, Reading, Routed};
use seatwell::answer::{PlainJob, RoutedAnswer};
use serde_json::json;

/// What the judge says of an answer at its proud.
fn judged(job: &Job, routed: &Routed) -> Vec<Violation> {
    let mut answer = serde_json::to_value(RoutedAnswer::new(routed)).expect("JSON");
    answer["layer"] = json!("routed");
    answer["verdict"] = json!(routed.verdict.word());
    answer["proud_mm"] = json!(routed.proud);
    let plain = serde_json::to_value(PlainJob::of(job)).expect("JSON");
    judge(&plain, &answer)
}

/// The answer at the least proud possible; no other proud is looked at.
fn at_its_bound(job: &Job) -> Routed {
    let fit = geometry::fit(job);
    geometry::routed_on(job, &fit, Reading::Nominal, VOXEL, &mut |looking| {
        looking.tried == 0
    })
}

/// Each of a hundred cavities has an answer flush, and is so full that leads
/// which take their own shortest way always meet something.
#[test]
fn cavities_with_a_hidden_answer_are_solved_and_stand_before_the_judge() {
    let mut solved = 0;
    for seed in 0..100 {
        let job = hidden_job(seed).job;
        let routed = at_its_bound(&job);
        if routed.proud == Some(0.0) {
            solved += 1;
            assert_eq!(judged(&job, &routed), [], "seed {seed}");
        }
    }
    assert!(solved >= 97, "{solved} of 100");
}

/// What is called good is good, in cavities nobody built an answer into.
#[test]
fn what_is_called_good_in_random_cavities_stands_before_the_judge() {
    let mut good = 0;
    for seed in 0..300 {
        let (_, job) = random_job(seed);
        let routed = at_its_bound(&job);
        if routed.proud.is_some() {
            good += 1;
            assert_eq!(judged(&job, &routed), [], "seed {seed}");
        }
    }
    assert!(good >= 100, "only {good} of 300 to judge");
}
