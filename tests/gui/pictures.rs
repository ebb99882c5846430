//! Pictures of the window: the same every time, readable in grey, quiet when nothing happens.

use acceptance::window;
use egui::Theme;
use seatwell::desk::Settings;

use crate::open_with;

#[test]
fn the_same_frame_gives_the_same_bytes() {
    let shoot = || {
        let (harness, rasteriser) = open_with("demo");
        window::picture(&harness, &rasteriser)
    };
    let picture = shoot();
    assert_eq!(picture.dimensions(), (1280, 800));
    assert!(picture == shoot());
}

#[test]
fn dark_paper_is_dark_and_both_show_much() {
    let grey = |theme: Theme| {
        let start = window::start("demo", Settings::default());
        let (harness, rasteriser) = window::harness(start, [1280.0, 800.0], theme);
        let picture = window::picture(&harness, &rasteriser);
        let luma: Vec<u8> = image::DynamicImage::ImageRgba8(picture)
            .to_luma8()
            .into_raw();
        let mean = luma.iter().map(|&l| f64::from(l)).sum::<f64>() / luma.len() as f64;
        let tones = luma.iter().collect::<std::collections::BTreeSet<_>>().len();
        (mean, tones)
    };
    let (light, dark) = (grey(Theme::Light), grey(Theme::Dark));
    assert!(light.0 > 180.0 && dark.0 < 75.0, "{light:?} {dark:?}");
    assert!(light.1 > 60 && dark.1 > 60, "{light:?} {dark:?}");
}

#[test]
fn nothing_is_drawn_again_while_nothing_happens() {
    let (mut harness, _) = open_with("demo");
    harness.run();
    let before = harness.ctx.cumulative_pass_nr();
    assert!(
        !harness.ctx.has_requested_repaint(),
        "{:?}",
        harness.ctx.repaint_causes()
    );
    harness.step();
    assert_eq!(harness.ctx.cumulative_pass_nr(), before + 1);
    assert!(
        !harness.ctx.has_requested_repaint(),
        "{:?}",
        harness.ctx.repaint_causes()
    );
}

#[test]
fn every_embedded_job_is_drawn_small_and_large() {
    for (job, _) in profiles::embedded_jobs() {
        for (size, large) in [([900.0, 600.0], false), ([1920.0, 1080.0], true)] {
            let start = window::start(
                job,
                Settings {
                    large,
                    ..Settings::default()
                },
            );
            let (harness, rasteriser) = window::harness(start, size, Theme::Light);
            let picture = window::picture(&harness, &rasteriser);
            assert_eq!(picture.width(), size[0] as u32);
        }
    }
}
