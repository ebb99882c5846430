//! The least cut where the least of all leaves a rib too weak: beside every cut
//! there is of small cavities.
//!
//! More of them: `cargo test --release -p acceptance --test stiff_cuts -- --include-ignored --nocapture`

use acceptance::notched::{SmallCase, small_case};
use geometry::trimming::{RibBook, TrimOutcome, TrimStep, accounts, least_cut};
use geometry::{Job, Trim};

/// Whether every rib keeps enough with these notches; with strips bonded over
/// them where that is asked.
fn is_enough(job: &Job, trims: &[Trim], strips: bool) -> bool {
    job.cavity.obstacles.iter().all(|rib| {
        let own: Vec<&Trim> = trims.iter().filter(|it| it.rib == rib.id).collect();
        let book = || RibBook::new(job, &rib.id).expect("a rib that may be cut");
        own.is_empty()
            || book().is_enough(&own).expect("a notch")
            || (strips && book().with_strips(&own, 0).is_some())
    })
}

/// The least volume of all cuts that hold and leave the ribs stiff enough.
fn least_by_trying(case: &SmallCase, strips: bool) -> Option<f64> {
    let may = |(_, trims): &&(f64, Vec<Trim>)| is_enough(&case.job, trims, strips);
    let tried = case.cuts.iter().filter(may);
    tried
        .filter(|(_, trims)| case.holds(trims))
        .map(|it| it.0)
        .next()
}

/// What the ribs keep as cut, the least, its error taken off.
fn keeps(job: &Job, step: &TrimStep) -> f64 {
    let job = Job {
        trims: step.trims.clone(),
        ..job.clone()
    };
    let kept = accounts(&job).into_iter().map(|account| {
        let judged = account.kept.expect("a figure").judged().expect("a push");
        judged.value - judged.error
    });
    kept.fold(f64::INFINITY, f64::min)
}

/// Asks each cavity for a little more than its least cut leaves, then a lot.
fn compare(seeds: std::ops::Range<u64>) {
    let (mut alone, mut with_strips, mut weak) = (0, 0, 0);
    let mut worse = Vec::new();
    for seed in seeds {
        let mut case = small_case(seed);
        let least = least_cut(&case.job, case.proud, &mut |_| true);
        if least.outcome != TrimOutcome::Cut {
            continue;
        }
        let left = keeps(&case.job, &least);
        for more in [0.02, 0.5] {
            case.job.cutting.keep_stiffness = left + more * (1.0 - left);
            let step = least_cut(&case.job, case.proud, &mut |_| true);
            let best = [false, true].map(|strips| least_by_trying(&case, strips));
            println!(
                "seed {seed}: {:.2} asked, {:?} {:.0} mm3; by trying {best:.0?}",
                case.job.cutting.keep_stiffness, step.outcome, step.removed_mm3
            );
            let bonded = step.trims.iter().any(|it| it.doubler.is_some());
            let own = match step.outcome {
                TrimOutcome::Cut => {
                    assert!(!bonded && is_enough(&case.job, &step.trims, false));
                    alone += 1;
                    [Some(step.removed_mm3), None]
                }
                TrimOutcome::CutWithStrips => {
                    assert!(bonded && keeps(&case.job, &step) >= case.job.cutting.keep_stiffness);
                    assert!(!is_enough(&case.job, &bare(&step.trims), false));
                    with_strips += 1;
                    [None, Some(step.removed_mm3)]
                }
                TrimOutcome::TooWeak => {
                    weak += 1;
                    [None, None]
                }
                other => panic!("seed {seed}: {other:?}"),
            };
            assert!(step.holds() == (own != [None, None]), "seed {seed}");
            // With no strip if any such cut holds, else the least with one.
            let missed = match (own, best) {
                ([Some(own), _], [Some(best), _]) => own > 1.05 * best,
                ([None, Some(own)], [None, Some(best)]) => own > 1.05 * best,
                ([None, _], [Some(_), _]) | ([None, None], [None, Some(_)]) => true,
                _ => false,
            };
            if missed {
                worse.push((seed, more, own, best));
            }
        }
    }
    println!("{alone} without strips, {with_strips} with, {weak} too weak");
    assert!(worse.is_empty(), "{worse:?}");
    assert!(with_strips > 0);
}

fn bare(trims: &[Trim]) -> Vec<Trim> {
    let bare = |trim: &Trim| Trim {
        doubler: None,
        ..trim.clone()
    };
    trims.iter().map(bare).collect()
}

#[test]
fn a_cut_without_strips_is_found_before_one_with_them() {
    compare(1..5);
}

#[test]
#[ignore = "minutes: 20 small cavities, every cut tried"]
fn a_cut_without_strips_is_found_in_any_small_cavity() {
    compare(0..20);
}
