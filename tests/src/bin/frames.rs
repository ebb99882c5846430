//! How long the processor takes over a frame while leads are laid:
//! `cargo run --release -p acceptance --bin frames`.
//!
//! Every frame turns the view a little, so that nothing of the one before can
//! be kept. Counted is what the window's own thread does: layout, drawing
//! lists and tessellation, by that thread's processor time where the system
//! tells it, so that a busy machine does not count, and by the clock beside it.

use std::time::Instant;

use acceptance::window;
use egui::Theme;
use rustix::time::{ClockId, clock_gettime};
use seatwell::desk::Settings;
use seatwell::desk::edit::{Ask, Edit, TurnedShown};
use seatwell::desk::laying::Doing;

const FRAMES: usize = 300;

/// Processor time of this thread, ms.
fn own_time() -> f64 {
    let time = clock_gettime(ClockId::ThreadCPUTime);
    time.tv_sec as f64 * 1e3 + time.tv_nsec as f64 * 1e-6
}

fn main() {
    for (name, size, shown, laid) in [
        (
            "sections, 1280 by 800",
            [1280.0, 800.0],
            TurnedShown::Away,
            false,
        ),
        (
            "turned, 1280 by 800",
            [1280.0, 800.0],
            TurnedShown::Alone,
            false,
        ),
        (
            "turned, 1920 by 1080",
            [1920.0, 1080.0],
            TurnedShown::Alone,
            false,
        ),
        (
            "turned, 1920 by 1080, leads laid before",
            [1920.0, 1080.0],
            TurnedShown::Alone,
            true,
        ),
        (
            "all four, 1920 by 1080, leads laid before",
            [1920.0, 1080.0],
            TurnedShown::Beside,
            true,
        ),
    ] {
        let start = window::start(profiles::DEMO, Settings::default());
        let (mut harness, _) = window::harness(start, size, Theme::Light);
        let ctx = harness.ctx.clone();
        if laid {
            harness.state_mut().lay_here(&ctx);
            // The job is another one now: what was laid stays, and is laid anew.
            let edit = Edit::ProudLimit(Some(4.0));
            harness.state_mut().ask(&ctx, Ask::Edit(edit, None));
        }
        for ask in [Ask::Turned(shown), Ask::Lay(true)] {
            harness.state_mut().ask(&ctx, ask);
        }
        harness.run_steps(8);
        let (mut own, mut wall, mut laying) = (Vec::new(), Vec::new(), 0);
        for frame in 0..FRAMES {
            harness.state_mut().turn_by(0.01);
            let (clock, before) = (Instant::now(), own_time());
            harness.step();
            let shapes = harness.output().shapes.clone();
            let meshes = harness.ctx.tessellate(shapes, 1.0);
            own.push(own_time() - before);
            wall.push(clock.elapsed().as_secs_f64() * 1e3);
            assert!(!meshes.is_empty(), "frame {frame} is empty");
            laying += usize::from(matches!(harness.state().doing(), Doing::Laying(_)));
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
        println!("{name}: {FRAMES} frames, {laying} while leads are laid");
        println!("  processor: {}", told(&mut own));
        println!("  clock:     {}", told(&mut wall));
    }
}
