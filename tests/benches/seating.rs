//! The routed layer on the embedded jobs, in processor time:
//! `cargo bench -p acceptance --bench seating`.
//!
//! Counted is what the process takes on all its threads, so that a busy
//! machine does not count. The search is bounded by counted work and is the
//! same every time; the best of a few runs is told.

use geometry::seating::{VOXEL, seat_at};
use geometry::{Job, Reading, Routed};
use profiles::{DEMO, Library, Opened};
use rustix::time::{ClockId, clock_gettime};

/// Runs of each figure.
const RUNS: usize = 3;

/// Processor time of this process, ms.
fn own_time() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 * 1e3 + time.tv_nsec as f64 * 1e-6
}

/// The least time that something takes, ms, and what it comes to.
fn least<T>(mut run: impl FnMut() -> T) -> (f64, T) {
    let mut timed = || {
        let before = own_time();
        let found = run();
        (own_time() - before, found)
    };
    let mut best = timed();
    for _ in 1..RUNS {
        let next = timed();
        best.0 = best.0.min(next.0);
    }
    best
}

fn told(name: &str, ms: f64, budget: f64, found: &Routed) {
    let proud = found
        .proud
        .map_or("no way".to_owned(), |proud| format!("{proud:.2} proud"));
    let over = if ms > budget { "  OVER" } else { "" };
    println!("{name:44} {ms:8.1} ms of {budget:5.0}  {proud}{over}");
}

/// One job: all of it at one proud, and the whole search for the seat.
fn job(name: &str, job: &Job) {
    let fit = geometry::fit(job);
    let search = |reading| geometry::routed_on(job, &fit, reading, VOXEL, &mut |_| true);
    let (ms, found) = least(|| search(Reading::Nominal));
    told(&format!("{name}: whole search"), ms, 1000.0, &found);
    for proud in [found.laid_at, found.laid_at + 5.0] {
        let (ms, at) = least(|| seat_at(job, &fit, proud, VOXEL, &mut |_| true));
        told(&format!("{name}: at {proud:.1} proud"), ms, 150.0, &at);
    }
    for (reading, word) in [(Reading::Worst, "worst"), (Reading::Best, "best")] {
        let (ms, found) = least(|| search(reading));
        told(
            &format!("{name}: whole search, {word} end"),
            ms,
            1000.0,
            &found,
        );
    }
}

/// A module taken elsewhere: how soon there is an answer.
fn moved(opened: &Opened) {
    let mut changed = opened.job.clone();
    for module in &mut changed.modules {
        if let geometry::ModulePlace::Pinned(faces) = &mut module.place {
            faces[0] = faces[0].map(|face| geometry::Measure::exact(face.value() - 3.0));
            break;
        }
    }
    let was = geometry::routed(&opened.job, &mut |_| true).laid_at;
    let (ms, found) = least(|| {
        let fit = geometry::fit(&changed);
        seat_at(&changed, &fit, was, VOXEL, &mut |_| true)
    });
    told("demo, module moved: first answer", ms, 150.0, &found);
}

fn main() {
    let library = Library::embedded();
    let open = |name: &str| profiles::open_job(name, &library).expect("an embedded job");
    let demo = open(DEMO);
    job("demo", &demo.job);
    for other in &demo.alternatives {
        job(&format!("demo, {}", other.id), &other.job);
    }
    for name in ["town-taxi", "camper", "farm-hauler"] {
        job(name, &open(name).job);
    }
    moved(&demo);
}
