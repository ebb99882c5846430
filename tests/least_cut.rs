//! The least cut: against trying every cut, on the embedded job, and never
//! where nothing may be cut.
//!
//! All 40 small cavities and all 500 for the parts that are never cut:
//! `cargo test --release -p acceptance --test least_cut -- --include-ignored`

use acceptance::notched::{SmallCase, least_by_trying, small_case};
use geometry::trimming::{TrimOutcome, TrimStep, least_cut};

/// The least cut by the search, and the gap to the least by trying, 0.05 = 5 %.
fn gap(case: &SmallCase, every: bool) -> (TrimStep, f64) {
    let step = least_cut(&case.job, case.proud, &mut |_| true);
    let (most, own) = match step.holds() {
        true => (step.removed_mm3 - 1e-6, step.removed_mm3),
        false => (f64::INFINITY, f64::INFINITY),
    };
    let best = least_by_trying(case, most, every).unwrap_or(own);
    let gap = if own == best { 0.0 } else { own / best - 1.0 };
    (step, gap)
}

fn compare(seeds: std::ops::Range<u64>, every: bool) {
    let (mut cut, mut count) = (0, 0);
    let mut gaps = Vec::new();
    for seed in seeds {
        let case = small_case(seed);
        let (step, gap) = gap(&case, every);
        println!(
            "seed {seed}: {} leads, {} cuts, {:?}, {:.0} mm3, gap {:.1} %",
            case.job.leads.len(),
            case.cuts.len(),
            step.outcome,
            step.removed_mm3,
            100.0 * gap
        );
        cut += u32::from(step.outcome == TrimOutcome::Cut);
        count += 1;
        gaps.push((seed, gap));
    }
    println!("{cut} of {count} need a cut");
    let worse: Vec<_> = gaps.iter().filter(|(_, gap)| *gap > 0.05).collect();
    assert!(worse.is_empty(), "{worse:?}");
    assert!(cut * 10 >= count * 8, "{cut} of {count} need a cut");
}

#[test]
fn no_cut_that_is_tried_takes_less() {
    compare(0..6, false);
}

#[test]
#[ignore = "minutes: all 40 small cavities, every cut tried"]
fn no_cut_that_is_tried_takes_less_in_any_small_cavity() {
    compare(0..40, true);
}
