//! The window, driven by what its parts are called, without a display.

mod actions;
mod by_hand;
mod drawing;
mod editing;
mod entering;
mod files;
mod laying;
mod looms;
mod pictures;
mod reading;
mod routes;
mod safe;
mod snapshots;
mod steady;
mod trim;
mod turned;
mod views;
mod whole_task;

use acceptance::rasteriser::Rasteriser;
use acceptance::window;
use egui::Theme;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::{Desk, Settings};

/// The window on an embedded job, 1280 by 800 points, light paper.
fn open(job: &str) -> Harness<'static, Desk> {
    open_with(job).0
}

fn open_with(job: &str) -> (Harness<'static, Desk>, Rasteriser) {
    window::harness(
        window::start(job, Settings::default()),
        [1280.0, 800.0],
        Theme::Light,
    )
}

/// Brings something into sight, presses it, and takes the hand away.
fn press(harness: &mut Harness<'static, Desk>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.run();
    harness.get_by_label(label).click();
    harness.run();
    harness.remove_cursor();
    harness.run();
}

/// Types into a field in place of what is there, and leaves it with Enter.
fn type_into(harness: &mut Harness<'static, Desk>, field: &str, text: &str) {
    harness.get_by_label(field).focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.get_by_label(field).type_text(text);
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
}

/// Whether some text stands anywhere in the window.
fn says(harness: &Harness<'static, Desk>, text: &str) -> bool {
    harness.query_all_by_label_contains(text).next().is_some()
}
