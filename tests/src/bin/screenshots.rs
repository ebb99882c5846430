//! Remakes every picture in `screenshots/`: `cargo run -p acceptance --bin screenshots`.
//!
//! A folder as the only argument puts them there instead.

use std::path::PathBuf;

use acceptance::window;
use egui::Theme;
use seatwell::desk::Settings;

/// Name, job, size in points, paper.
const PICTURES: [(&str, &str, [f32; 2], Theme); 7] = [
    ("demo-light", "demo", [1280.0, 800.0], Theme::Light),
    ("demo-dark", "demo", [1280.0, 800.0], Theme::Dark),
    ("demo-large-light", "demo", [1920.0, 1080.0], Theme::Light),
    ("demo-large-dark", "demo", [1920.0, 1080.0], Theme::Dark),
    ("town-taxi", "town-taxi", [1280.0, 800.0], Theme::Light),
    ("farm-hauler", "farm-hauler", [1280.0, 800.0], Theme::Light),
    ("camper", "camper", [1280.0, 800.0], Theme::Light),
];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args_os().nth(1).map_or_else(
        || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../screenshots")),
        PathBuf::from,
    );
    std::fs::create_dir_all(&folder)?;
    for (name, job, size, theme) in PICTURES {
        let (harness, rasteriser) = window::harness(window::start(job, Settings::default()), size, theme);
        let path = folder.join(name).with_extension("png");
        window::picture(&harness, &rasteriser).save(&path)?;
        println!("{}", path.display());
    }
    Ok(())
}
