//! The instant layer on the demo job: it has to be done within 1 ms, so that
//! it can run in every frame.
//!
//! `cargo bench -p acceptance --bench instant`

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::{Reading, fit, lay_out};
use profiles::{Library, inline, open_job};

fn instant(criterion: &mut Criterion) {
    let library = Library::embedded();
    let demo = open_job(profiles::DEMO, &library).expect("the demo opens");
    criterion.bench_function("demo: solids in place", |bench| {
        bench.iter(|| lay_out(&demo.job, Reading::Nominal));
    });
    criterion.bench_function(
        "demo: chain, insertion, clearances, worst and best case",
        |bench| {
            bench.iter(|| fit(&demo.job));
        },
    );
    criterion.bench_function("demo: names to numbers", |bench| {
        bench.iter(|| inline(&demo.file, &library).expect("the demo inlines"));
    });
}

criterion_group!(benches, instant);
criterion_main!(benches);
