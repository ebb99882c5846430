//! The least cut: against trying every cut, on the embedded job, and never
//! where nothing may be cut.
//!
//! All 40 small cavities and all 500 for the parts that are never cut:
//! `cargo test --release -p acceptance --test least_cut -- --include-ignored`

use acceptance::notched::{SmallCase, guarded_cavity, least_by_trying, small_case};
use geometry::trimming::{TrimOutcome, TrimStep, as_cut, by_hand, least_cut, steps};
use geometry::{Cut, Edge, Form, Job, Measure, Reading, Trim, Verdict};
use profiles::{DEMO, Library};

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
        if step.holds() {
            nothing_can_shrink(&case, &step);
        }
        cut += u32::from(step.outcome == TrimOutcome::Cut);
        count += 1;
        gaps.push((seed, gap));
    }
    println!("{cut} of {count} need a cut");
    let worse: Vec<_> = gaps.iter().filter(|(_, gap)| *gap > 0.05).collect();
    assert!(worse.is_empty(), "{worse:?}");
    assert!(cut * 10 >= count * 8, "{cut} of {count} need a cut");
}

/// No notch can shrink by one snap on any side.
fn nothing_can_shrink(case: &SmallCase, step: &TrimStep) {
    let snap = case.job.cutting.snap;
    for number in 0..step.trims.len() {
        for side in 0..3 {
            let mut trims = step.trims.clone();
            let trim = &mut trims[number];
            match side {
                0 => trim.depth -= snap,
                1 => trim.along[0] += snap,
                _ => trim.along[1] -= snap,
            }
            if trim.depth <= 0.0 || trim.along[1] <= trim.along[0] {
                trims.remove(number);
            }
            assert!(
                !case.holds(&trims),
                "{:?} instead of {:?}",
                trims,
                step.trims
            );
        }
    }
}

/// The nominal box of an obstacle, low and high corner.
fn faces(form: &Form) -> [[f64; 3]; 2] {
    let Form::Block {
        across, depth, up, ..
    } = form
    else {
        panic!("these cavities hold boxes only");
    };
    [0, 1].map(|end| [across, depth, up].map(|faces: &[Measure; 2]| faces[end].value()))
}

/// Nothing but ribs that may be cut is touched, and every notch keeps out of
/// what it has to, by boxes alone.
fn touches_only_what_it_may(job: &Job, trims: &[Trim]) {
    for trim in trims {
        let mut obstacles = job.cavity.obstacles.iter();
        let rib = obstacles
            .find(|it| it.id == trim.rib)
            .expect("a rib of the job");
        assert!(matches!(rib.cut(), Cut::Allowed(_)), "{trim:?}");
        assert!(!job.cutting.left_alone.contains(&rib.id), "{trim:?}");
        let [mut low, mut high] = faces(&rib.form);
        (low[0], high[0], high[2]) = (trim.along[0], trim.along[1], low[2] + trim.depth);
        for other in job.cavity.obstacles.iter().filter(|it| it.id != rib.id) {
            let [from, to] = faces(&other.form);
            let beside = [0, 1, 2].map(|it| f64::max(from[it] - high[it], low[it] - to[it]));
            let gap = beside
                .map(|it| it.max(0.0).powi(2))
                .iter()
                .sum::<f64>()
                .sqrt();
            let inside = beside.iter().all(|it| *it < 0.0);
            assert!(
                gap >= other.cut_keep_out - 1e-6 && !inside,
                "{trim:?} {}",
                other.id
            );
        }
    }
    for other in &job.cavity.obstacles {
        if !matches!(other.cut(), Cut::Allowed(_)) {
            let whole = as_cut(other, &[], 0.0, Reading::Nominal);
            assert_eq!(
                as_cut(other, trims, 0.5, Reading::Nominal).volume(),
                whole.volume()
            );
        }
    }
}

fn never_cut(seeds: std::ops::Range<u64>) {
    let mut cut = 0;
    for seed in seeds.clone() {
        let job = guarded_cavity(seed);
        let step = least_cut(&job, 0.0, &mut |_| true);
        touches_only_what_it_may(&job, &step.trims);
        cut += u64::from(step.outcome == TrimOutcome::Cut);
    }
    println!("{cut} of {seeds:?} were cut");
    assert!(
        cut * 20 >= seeds.end - seeds.start,
        "only {cut} of {seeds:?} were cut"
    );
}

#[test]
fn what_is_never_cut_is_never_touched() {
    never_cut(0..50);
}

#[test]
#[ignore = "minutes: all 500 cavities"]
fn what_is_never_cut_is_never_touched_in_any_cavity() {
    never_cut(0..500);
}

fn demo(alternative: Option<&str>) -> Job {
    let opened = profiles::open_job(DEMO, &Library::embedded()).expect("the demo");
    let found = (opened.alternatives.iter()).find(|it| Some(it.id.as_str()) == alternative);
    found.map_or(opened.job.clone(), |it| it.job.clone())
}

/// The module is pinned, and holds the unit 13.5 out whatever is cut.
#[test]
fn cutting_alone_gains_the_post_van_nothing_below_its_module() {
    let steps = steps(&demo(None), 15, &mut |_| true);
    assert_eq!(steps.len(), 15);
    for step in &steps[..14] {
        assert_eq!(
            (step.outcome, step.lower_bound),
            (TrimOutcome::NoCutHelps, 13.5)
        );
        let stop = &step.stopped_by[0];
        assert_eq!(
            (stop.piece_id.as_str(), stop.against_id.as_str()),
            ("L1", "M1")
        );
    }
    assert_eq!(steps[14].outcome, TrimOutcome::NothingToCut);
}

/// With the module elsewhere a notch lets the unit seat flush: less than the
/// quick rule's 28 x 12.5, and under a quarter of the rib (common practice, no
/// source).
#[test]
fn a_notch_smaller_than_the_quick_rule_says_seats_the_post_van() {
    let job = demo(Some("move-m1"));
    let steps = steps(&job, 12, &mut |_| true);
    let whole = 196.0 * 38.0 * 2.5;
    assert_eq!(steps[0].outcome, TrimOutcome::Cut);
    assert!(steps[0].removed_mm3 < 28.0 * 12.5 * 2.5);
    for pair in steps.windows(2) {
        assert!(pair[1].removed_mm3 <= pair[0].removed_mm3);
    }
    for (proud, step) in steps.iter().enumerate() {
        let laid = step.routed.as_ref().expect("everything laid");
        assert_eq!(laid.proud, Some(proud as f64));
        assert_eq!(laid.routes.len(), 13);
        assert!(step.removed_mm3 < 0.25 * whole);
        assert!(step.trims.iter().all(|trim| trim.rib == "R1"));
        for route in &laid.routes {
            route.path.check(route.rule_radius).expect("a sound way");
            let near = route.nearest.as_ref().expect("something is near");
            assert!(near.spare >= -1e-5, "{}: {near:?}", route.name);
        }
    }
    assert_eq!(
        steps[0].routed.as_ref().map(|laid| laid.verdict),
        Some(Verdict::Flush)
    );
    assert_eq!(
        steps.last().map(|step| step.outcome),
        Some(TrimOutcome::NothingToCut)
    );
}

/// The quick rule's notch, drawn by hand, lets it seat; without one, or with it
/// drawn into the beam, it stands proud.
#[test]
fn a_notch_drawn_by_hand_is_answered() {
    let job = demo(Some("move-m1"));
    let notch = |rib: &str| Trim {
        rib: rib.into(),
        edge: Edge::Lower,
        along: [30.0, 58.0],
        depth: 12.5,
        radius: 4.0,
        locked: false,
        doubler: None,
    };
    by_hand(&job, |hand| {
        let mut look = |trims: &[Trim]| hand.look(trims, 0.0, &mut || true);
        let laid = look(&[notch("R1")]).expect("it seats");
        assert_eq!((laid.verdict, laid.routes.len()), (Verdict::Flush, 13));
        assert!(look(&[notch("S1")]).is_none());
        assert!(look(&[]).is_none());
        assert!(look(&[notch("R1")]).is_some());
    });
}

#[test]
fn a_search_that_is_stopped_says_so() {
    let mut left = 5;
    let steps = steps(&demo(Some("move-m1")), 12, &mut |_| {
        left -= 1;
        left > 0
    });
    assert_eq!(
        steps.last().map(|step| step.outcome),
        Some(TrimOutcome::Stopped)
    );
    assert_eq!(steps.len(), 1);
}

#[test]
fn the_same_job_has_the_same_cut_to_the_last_bit() {
    let case = small_case(1);
    let look = || least_cut(&case.job, case.proud, &mut |_| true);
    assert_eq!(look(), look());
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
