//! The demo with a module free to go anywhere in the cavity: where it goes,
//! how far the unit then stands out, and how long it takes.
//!
//! `cargo run --release -p acceptance --bin placing_figures`

use std::time::Instant;

use geometry::seating::{VOXEL, places};
use geometry::{CAVITY, Job, ModulePlace, Reading};
use profiles::{DEMO, Library};
use seatwell::{figures::Figures, words};

fn main() {
    let opened = profiles::open_job(DEMO, &Library::embedded()).expect("the demo");
    figures("the demo", &opened.job);
    figures("the demo, M1 free", &freed(&opened.job, &["M1"]));
    figures("the demo, both free", &freed(&opened.job, &["M1", "M2"]));
    for id in ["move-m1", "slim-video"] {
        let mut alternatives = opened.alternatives.iter();
        let found = alternatives.find(|it| it.id == id);
        let job = &found.expect("an alternative of the demo").job;
        figures(id, job);
        figures(&format!("{id}, M1 free"), &freed(job, &["M1"]));
    }
}

/// The same job with these modules free to go anywhere in the cavity.
fn freed(job: &Job, ids: &[&str]) -> Job {
    let mut job = job.clone();
    for module in &mut job.modules {
        if ids.contains(&module.id.as_str()) {
            module.place = ModulePlace::Movable(vec![CAVITY.to_owned()]);
        }
    }
    job
}

fn figures(what: &str, job: &Job) {
    let ms = |clock: Instant| 1000.0 * clock.elapsed().as_secs_f64();
    println!("{what}");
    for (number, module) in job.modules.iter().enumerate() {
        let clock = Instant::now();
        let found = places(job, number, 0.0);
        if !matches!(module.place, ModulePlace::Pinned(_)) {
            let found = found.map(|places| places.len());
            println!("  {}: {found:?} places in {:.1} ms", module.id, ms(clock));
        }
    }
    let fit = geometry::fit(job);
    let clock = Instant::now();
    let routed = geometry::routed_on(job, &fit, Reading::Nominal, VOXEL, &mut |looking| {
        looking.tried == 0
    });
    println!(
        "  one proud: {:?} in {:.0} ms, bound {:.2}",
        routed.proud,
        ms(clock),
        routed.lower_bound
    );
    let clock = Instant::now();
    let routed = geometry::routed_on(job, &fit, Reading::Nominal, VOXEL, &mut |_| true);
    println!("  whole search: {:?} in {:.0} ms", routed.proud, ms(clock));
    for module in &routed.modules {
        let seat = words::placed::seat(module, Figures::Millimetres);
        println!("  {}: {seat}", module.name);
    }
    for left in &routed.left_over {
        println!(
            "  {}: {}",
            left.name,
            words::placed::why(left, Figures::Millimetres)
        );
    }
}
