//! How long the processor takes over a frame while leads are laid:
//! `cargo run --release -p acceptance --bin frames`.
//!
//! Every frame turns the view a little, or drags something a little further, so
//! that nothing of the one before can be kept. A part of a case's name as the
//! first argument measures those alone. Counted is what the window's own thread does: layout, drawing
//! lists and tessellation, by that thread's processor time where the system
//! tells it, so that a busy machine does not count, and by the clock beside it.

use std::time::Instant;

use acceptance::full_job::full_job;
use acceptance::window;
use egui::Theme;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use rustix::time::{ClockId, clock_gettime};
use seatwell::desk::edit::{Ask, Edit, Target, TurnedShown};
use seatwell::desk::laying::Doing;
use seatwell::desk::{Desk, Settings};

const FRAMES: usize = 300;

/// Processor time of this thread, ms.
fn own_time() -> f64 {
    let time = clock_gettime(ClockId::ThreadCPUTime);
    time.tv_sec as f64 * 1e3 + time.tv_nsec as f64 * 1e-6
}

/// What is measured.
struct Case {
    name: &'static str,
    full: bool,
    size: [f32; 2],
    shown: TurnedShown,
    laid: bool,
    /// Whether an obstacle is dragged from frame to frame; else the view turns.
    drags: bool,
}

const SMALL: [f32; 2] = [1280.0, 800.0];
const LARGE: [f32; 2] = [1920.0, 1080.0];

const CASES: [Case; 9] = [
    case("sections, 1280 by 800", SMALL, TurnedShown::Away),
    case("turned, 1280 by 800", SMALL, TurnedShown::Alone),
    case("turned, 1920 by 1080", LARGE, TurnedShown::Alone),
    Case {
        laid: true,
        ..case(
            "turned, 1920 by 1080, leads laid before",
            LARGE,
            TurnedShown::Alone,
        )
    },
    Case {
        laid: true,
        ..case(
            "all four, 1920 by 1080, leads laid before",
            LARGE,
            TurnedShown::Beside,
        )
    },
    Case {
        drags: true,
        ..case(
            "all four, 1280 by 800, a rib dragged",
            SMALL,
            TurnedShown::Beside,
        )
    },
    Case {
        full: true,
        ..case(
            "full job, all four, 1280 by 800",
            SMALL,
            TurnedShown::Beside,
        )
    },
    Case {
        full: true,
        ..case(
            "full job, all four, 1920 by 1080",
            LARGE,
            TurnedShown::Beside,
        )
    },
    Case {
        full: true,
        drags: true,
        ..case(
            "full job, all four, 1280 by 800, one thing dragged",
            SMALL,
            TurnedShown::Beside,
        )
    },
];

const fn case(name: &'static str, size: [f32; 2], shown: TurnedShown) -> Case {
    Case {
        name,
        full: false,
        size,
        shown,
        laid: false,
        drags: false,
    }
}

fn main() {
    let only = std::env::args().nth(1).unwrap_or_default();
    for case in CASES.iter().filter(|case| case.name.contains(&only)) {
        measure(case);
    }
}

fn measure(case: &Case) {
    let start = if case.full {
        window::start_with(full_job(), Settings::default())
    } else {
        window::start(profiles::DEMO, Settings::default())
    };
    let (mut harness, _) = window::harness(start, case.size, Theme::Light);
    let ctx = harness.ctx.clone();
    if case.laid {
        harness.state_mut().lay_here(&ctx);
        // The job is another one now: what was laid stays, and is laid anew.
        let edit = Edit::ProudLimit(Some(4.0));
        harness.state_mut().ask(&ctx, Ask::Edit(edit, None));
    }
    for ask in [Ask::Turned(case.shown), Ask::Lay(!case.full && !case.drags)] {
        harness.state_mut().ask(&ctx, ask);
    }
    harness.run_steps(8);
    let held = case.drags.then(|| take_hold(&mut harness, case.full));
    let (mut own, mut wall, mut laying) = (Vec::new(), Vec::new(), 0);
    for frame in 0..FRAMES {
        match held {
            Some(from) => {
                // To and fro, so that every frame changes the job.
                let by = 12.0 * (0.11 * frame as f32).sin();
                harness.hover_at(from + egui::vec2(by, 0.4 * by));
            }
            None => harness.state_mut().turn_by(0.01),
        }
        let (clock, before) = (Instant::now(), own_time());
        harness.step();
        let shapes = harness.output().shapes.clone();
        let meshes = harness.ctx.tessellate(shapes, 1.0);
        own.push(own_time() - before);
        wall.push(clock.elapsed().as_secs_f64() * 1e3);
        assert!(!meshes.is_empty(), "frame {frame} is empty");
        laying += usize::from(matches!(harness.state().doing(), Doing::Laying(_)));
    }
    if case.drags {
        assert!(
            harness.state().document().is_changed(),
            "nothing was dragged"
        );
    }
    let told = |times: &mut Vec<f64>| {
        times.sort_by(f64::total_cmp);
        let at = |share: f64| times[(share * (times.len() - 1) as f64).round() as usize];
        format!(
            "median {:.1}, 99th {:.1}, most {:.1} ms",
            at(0.5),
            at(0.99),
            at(1.0)
        )
    };
    println!(
        "{}: {FRAMES} frames, {laying} while leads are laid",
        case.name
    );
    println!("  processor: {}", told(&mut own));
    println!("  clock:     {}", told(&mut wall));
}

/// Chooses an obstacle and takes hold of the whole of it; where.
fn take_hold(harness: &mut Harness<'static, Desk>, full: bool) -> egui::Pos2 {
    let (id, label) = if full {
        ("O20", "thing 20: whole")
    } else {
        ("R1", "rear cross rib: whole")
    };
    let ctx = harness.ctx.clone();
    let target = Target::Obstacle(id.to_owned());
    harness.state_mut().ask(&ctx, Ask::Choose(target));
    harness.run_steps(8);
    let from = harness
        .query_all_by_label_contains(label)
        .next()
        .expect("it can be taken hold of")
        .rect()
        .center();
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    harness.hover_at(from + egui::vec2(9.0, 3.0));
    harness.step();
    from
}
