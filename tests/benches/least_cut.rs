//! The least cut of the embedded job with its data module moved: all steps from
//! 0 to 12 mm (budget 5 s on two cores), and a notch dragged by hand, everything
//! laid again (budget 250 ms): the fit alone, and with it what the window tells
//! beside it, that is what goes, what is left, how stiff, whether the tool gets
//! there, flush and at the limit.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::trimming::{Ledger, by_hand, reach, steps};
use geometry::{Edge, Job, Trim};
use profiles::{DEMO, Library};

fn post_van() -> Job {
    let opened = profiles::open_job(DEMO, &Library::embedded()).expect("the demo");
    let mut alternatives = opened.alternatives.iter();
    let found = alternatives.find(|it| it.id == "move-m1");
    found.expect("an alternative of the demo").job.clone()
}

fn all_steps(criterion: &mut Criterion) {
    let job = post_van();
    let mut group = criterion.benchmark_group("least cut");
    group.sample_size(10);
    group.bench_function("steps, post van, 0 to 12 mm", |bencher| {
        bencher.iter(|| steps(black_box(&job), 12, &mut |_| true));
    });
    group.finish();
}

/// A notch that the lead passes, drawn one snap to and fro.
fn dragged(criterion: &mut Criterion) {
    let job = post_van();
    let notch = |from: f64, depth: f64| Trim {
        rib: "R1".into(),
        edge: Edge::Lower,
        along: [from, from + 16.0],
        depth,
        radius: 4.0,
        locked: false,
        doubler: None,
    };
    by_hand(&job, |hand| {
        assert!(hand.look(&[notch(35.0, 9.0)], 0.0, &mut || true).is_some());
        let places = [
            (36.0, 9.0),
            (37.0, 9.0),
            (37.0, 8.0),
            (36.0, 8.0),
            (35.0, 9.0),
        ];
        let mut at = 0;
        criterion.bench_function("notch dragged, post van", |bencher| {
            bencher.iter(|| {
                at = (at + 1) % places.len();
                let (from, depth) = places[at];
                black_box(hand.look(&[notch(from, depth)], 0.0, &mut || true))
            });
        });
        // Too shallow for the lead: the answer that takes longest.
        criterion.bench_function("notch dragged where nothing holds, post van", |bencher| {
            bencher.iter(|| black_box(hand.look(&[notch(37.0, 6.0)], 0.0, &mut || true)));
        });
        // Every drawing is another one, so that nothing is looked up.
        let mut drawn = 0;
        criterion.bench_function("notch dragged, all that is told, post van", |bencher| {
            bencher.iter(|| {
                drawn += 1;
                let trims = [notch(30.0 + 0.01 * f64::from(drawn % 900), 6.0)];
                let job = Job {
                    trims: trims.to_vec(),
                    ..job.clone()
                };
                let accounts = Ledger::new(&job).accounts(&trims);
                let way = reach(&job, &trims[0], &job.cutting.tool).is_ok();
                let flush = hand.look(&trims, 0.0, &mut || true);
                let at_limit = hand.look(&trims, job.proud_limit, &mut || true);
                black_box((accounts, way, flush, at_limit))
            });
        });
    });
}

criterion_group!(benches, all_steps, dragged);
criterion_main!(benches);
