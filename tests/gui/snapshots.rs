//! Every view against a picture kept beside this file, light and dark.
//!
//! A picture may differ from the kept one by [`MEAN`] of 255 on average, and in
//! [`SHARE`] of its pixels by more than [`MUCH`]: room for other rounding on
//! another machine, and none for a line or a word that moved.
//! `SEATWELL_KEEP_PICTURES=1 cargo test -p acceptance --test gui snapshots`
//! keeps the pictures as they now are; look at them first.

use std::path::{Path, PathBuf};

use acceptance::window;
use egui::{Rect, Theme};
use egui_kittest::kittest::Queryable;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{RgbImage, imageops};
use seatwell::desk::Settings;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::edit::{Ask, TurnedShown};

/// Mean difference of a channel, of 255.
const MEAN: f64 = 0.5;
/// From this difference of a channel on a pixel differs much.
const MUCH: u8 = 40;
/// Share of pixels that may.
const SHARE: f64 = 0.002;

/// Points.
const SIZE: [f32; 2] = [900.0, 640.0];

fn folder() -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/gui/pictures"))
}

fn cut_out(picture: &image::RgbaImage, rect: Rect) -> RgbImage {
    let [x, y] = [rect.left(), rect.top()].map(|value| value.round() as u32);
    let [w, h] = [rect.width(), rect.height()].map(|value| value.round() as u32);
    let part = imageops::crop_imm(picture, x, y, w, h).to_image();
    image::DynamicImage::ImageRgba8(part).to_rgb8()
}

/// Mean difference, and the share of pixels that differ much.
fn difference(a: &RgbImage, b: &RgbImage) -> (f64, f64) {
    let (mut sum, mut much) = (0.0, 0);
    for (a, b) in a.pixels().zip(b.pixels()) {
        let channels = a.0.iter().zip(b.0).map(|(x, y)| x.abs_diff(y));
        sum += channels.clone().map(f64::from).sum::<f64>();
        much += usize::from(channels.max().is_some_and(|most| most > MUCH));
    }
    let count = f64::from(a.width()) * f64::from(a.height());
    (sum / (3.0 * count), much as f64 / count)
}

/// Writes a picture, pressed as small as it goes.
fn keep(picture: &RgbImage, path: &Path) {
    let file = std::fs::File::create(path).expect("the picture is kept");
    let file = std::io::BufWriter::new(file);
    let encoder = PngEncoder::new_with_quality(file, CompressionType::Best, FilterType::NoFilter);
    picture
        .write_with_encoder(encoder)
        .expect("the picture is kept");
}

fn holds(name: &str, asks: &[Ask], label: &str) {
    for (paper, word) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
        let start = window::start(profiles::DEMO, Settings::default());
        let (mut harness, rasteriser) = window::harness(start, SIZE, paper);
        let ctx = harness.ctx.clone();
        for ask in asks {
            harness.state_mut().ask(&ctx, ask.clone());
        }
        harness.run();
        harness.run();
        let rect = harness.get_by_label_contains(label).rect();
        let now = cut_out(&window::picture(&harness, &rasteriser), rect);
        let path = folder().join(format!("{name}-{word}.png"));
        if std::env::var_os("SEATWELL_KEEP_PICTURES").is_some() {
            std::fs::create_dir_all(folder()).expect("a folder for pictures");
            keep(&now, &path);
            continue;
        }
        let kept = image::open(&path)
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()))
            .to_rgb8();
        assert_eq!(kept.dimensions(), now.dimensions(), "{}", path.display());
        let (mean, share) = difference(&kept, &now);
        if mean > MEAN || share > SHARE {
            let new = std::env::temp_dir().join(format!("{name}-{word}-now.png"));
            now.save(&new).expect("the new picture is written");
            panic!(
                "{} differs: {mean:.2} on average, {:.2} % of the pixels much; as it is now: {}",
                path.display(),
                100.0 * share,
                new.display()
            );
        }
    }
}

#[test]
fn each_section_looks_as_it_did() {
    for (view, name, label) in [
        (View::LookingIn, "looking-in", "Looking in, cut at"),
        (View::FromAbove, "from-above", "From above, cut at"),
        (View::FromSide, "from-the-side", "From the side, cut at"),
    ] {
        holds(name, &[Ask::Alone(Some(view))], label);
    }
}

#[test]
fn the_turned_view_looks_as_it_did() {
    holds(
        "turned",
        &[Ask::Turned(TurnedShown::Alone)],
        "Turned view, from",
    );
}

#[test]
fn a_moved_line_would_be_seen() {
    let start = window::start(profiles::DEMO, Settings::default());
    let (mut harness, rasteriser) = window::harness(start, SIZE, Theme::Light);
    let ctx = harness.ctx.clone();
    let label = "From the side, cut at";
    harness
        .state_mut()
        .ask(&ctx, Ask::Alone(Some(View::FromSide)));
    harness.run();
    let rect = harness.get_by_label_contains(label).rect();
    let before = cut_out(&window::picture(&harness, &rasteriser), rect);
    harness
        .state_mut()
        .ask(&ctx, Ask::CutAt(View::LookingIn, 190.0));
    harness.run();
    let after = cut_out(&window::picture(&harness, &rasteriser), rect);
    let (mean, share) = difference(&before, &after);
    assert!(mean > MEAN || share > SHARE, "{mean} {share}");
}
