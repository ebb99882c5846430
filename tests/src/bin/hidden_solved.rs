//! Solves the cavities built around a hidden answer and says how many.
//!
//! `cargo run --release -p acceptance --bin hidden_solved -- [FROM] [TO] [free]`
//!
//! With `free` the modules may go anywhere in the cavity, not only into the
//! pockets around their places.

use std::time::Instant;

use acceptance::hidden::{hidden_job, modules_anywhere};
use acceptance::referee::judge;
use geometry::{Reading, seating::VOXEL};
use seatwell::answer::{PlainJob, RoutedAnswer};
use serde_json::json;

fn main() {
    let mut given = std::env::args().skip(1).map(|it| it.parse::<u64>());
    let from = given.next().and_then(Result::ok).unwrap_or(0);
    let to = given.next().and_then(Result::ok).unwrap_or(100);
    let free = std::env::args().any(|it| it == "free");
    let (mut solved, mut violations) = (0, 0);
    let mut times = Vec::new();
    for seed in from..to {
        let hidden = hidden_job(seed);
        let job = &if free {
            modules_anywhere(&hidden.job)
        } else {
            hidden.job.clone()
        };
        let fit = geometry::fit(job);
        let clock = Instant::now();
        let routed = geometry::routed_on(job, &fit, Reading::Nominal, VOXEL, &mut |looking| {
            looking.proud <= 0.0
        });
        let took = clock.elapsed().as_secs_f64();
        times.push(took);
        let flush = routed.proud == Some(0.0);
        let mut faults = Vec::new();
        if flush {
            solved += 1;
            let mut answer = serde_json::to_value(RoutedAnswer::new(&routed)).expect("JSON");
            answer["proud_mm"] = json!(0.0);
            answer["layer"] = json!("routed");
            answer["verdict"] = json!("flush");
            let plain = serde_json::to_value(PlainJob::of(job)).expect("JSON");
            faults = judge(&plain, &answer);
            violations += faults.len();
        }
        let left: Vec<String> = (routed.left_over.iter())
            .map(|it| {
                let lead = job.leads.iter().find(|lead| lead.id == it.id);
                let ends = lead.map_or(String::new(), |lead| {
                    format!(" {:?} to {:?}", lead.from, lead.end)
                });
                format!("{} ({}){ends}", it.id, it.why)
            })
            .collect();
        println!(
            "seed {seed}: {} in {took:.2} s, lower bound {:.2}, {} leads, left {left:?}",
            if flush { "flush" } else { "no way found" },
            routed.lower_bound,
            job.leads.len()
        );
        for fault in faults.iter().take(4) {
            println!("    {fault:?}");
        }
    }
    times.sort_by(f64::total_cmp);
    if let (Some(median), Some(most)) = (times.get(times.len() / 2), times.last()) {
        println!("median {median:.2} s, most {most:.2} s");
    }
    println!("{solved} of {} solved, {violations} violations", to - from);
}
