//! Remakes every picture in `screenshots/`: `cargo run -p acceptance --bin screenshots`.
//!
//! A folder as the only argument puts them there instead.

use std::path::PathBuf;

use acceptance::window;
use egui::Theme;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use seatwell::desk::Settings;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::edit::{Ask, Target};

/// One picture.
struct Picture {
    name: &'static str,
    job: &'static str,
    /// Points.
    size: [f32; 2],
    paper: Theme,
    /// What the hand does first.
    asks: Vec<Ask>,
}

const SMALL: [f32; 2] = [1280.0, 800.0];
const LARGE: [f32; 2] = [1920.0, 1080.0];

fn pictures() -> Vec<Picture> {
    let plain = |name, job, size, paper| Picture {
        name,
        job,
        size,
        paper,
        asks: Vec::new(),
    };
    let lead = Target::Lead("L5".to_owned());
    let rib = Target::Obstacle("R1".to_owned());
    let mut all = vec![
        plain("demo-light", "demo", SMALL, Theme::Light),
        plain("demo-dark", "demo", SMALL, Theme::Dark),
        plain("demo-large-light", "demo", LARGE, Theme::Light),
        plain("demo-large-dark", "demo", LARGE, Theme::Dark),
        Picture {
            asks: vec![Ask::Choose(lead.clone()), Ask::CutThrough(lead)],
            ..plain("demo-lead", "demo", SMALL, Theme::Light)
        },
        Picture {
            asks: vec![Ask::Choose(rib)],
            ..plain("demo-rib", "demo", LARGE, Theme::Light)
        },
        Picture {
            asks: vec![Ask::Alone(Some(View::FromSide))],
            ..plain("demo-side", "demo", SMALL, Theme::Dark)
        },
    ];
    for (name, _) in profiles::embedded_jobs()
        .into_iter()
        .filter(|(name, _)| *name != profiles::DEMO)
    {
        all.push(plain(name, name, SMALL, Theme::Light));
    }
    all
}

/// Writes a picture without transparency, pressed as small as it goes.
fn write_small(
    picture: &image::RgbaImage,
    path: &std::path::Path,
) -> Result<(), Box<dyn std::error::Error>> {
    let file = std::io::BufWriter::new(std::fs::File::create(path)?);
    let encoder = PngEncoder::new_with_quality(file, CompressionType::Best, FilterType::NoFilter);
    image::DynamicImage::ImageRgba8(picture.clone())
        .to_rgb8()
        .write_with_encoder(encoder)?;
    Ok(())
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args_os().nth(1).map_or_else(
        || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../screenshots")),
        PathBuf::from,
    );
    std::fs::create_dir_all(&folder)?;
    for picture in pictures() {
        let start = window::start(picture.job, Settings::default());
        let (mut harness, rasteriser) = window::harness(start, picture.size, picture.paper);
        let ctx = harness.ctx.clone();
        for ask in picture.asks {
            harness.state_mut().ask(&ctx, ask);
        }
        harness.run();
        let path = folder.join(picture.name).with_extension("png");
        write_small(&window::picture(&harness, &rasteriser), &path)?;
        println!("{}", path.display());
    }
    Ok(())
}
