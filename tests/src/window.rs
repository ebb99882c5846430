//! The window in a harness: no display, no file window, the same frame every time.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};

use egui_kittest::Harness;
use profiles::Library;
use seatwell::desk::document::{Document, Place};
use seatwell::desk::files::{FileDialogs, Purpose};
use seatwell::desk::{Desk, Own, Settings, Start};

use crate::rasteriser::Rasteriser;

/// A file window that always gives the same answer.
pub struct Always(pub Option<PathBuf>);

impl FileDialogs for Always {
    fn ask(
        &self,
        _: Purpose,
        _: Option<&Path>,
        wake: Box<dyn FnOnce() + Send>,
    ) -> Receiver<Option<PathBuf>> {
        let (send, receive) = channel();
        // The receiver is handed back below and cannot be gone yet.
        let _ = send.send(self.0.clone());
        wake();
        receive
    }
}

/// What a start shows of an embedded job.
///
/// # Panics
/// When there is no such job.
pub fn start(job: &str, settings: Settings) -> Start {
    let library = Library::embedded();
    let opened =
        profiles::open_job(job, &library).unwrap_or_else(|problems| panic!("{job}: {problems:?}"));
    Start {
        document: Document::new(opened.file, Place::Embedded(job.to_owned())),
        library,
        settings,
        dialogs: Box::new(Always(None)),
        own: Own::default(),
    }
}

/// What a start shows of a job made in code.
pub fn start_with(job: profiles::schema::JobFile, settings: Settings) -> Start {
    Start {
        document: Document::new(job, Place::Nowhere),
        library: Library::embedded(),
        settings,
        dialogs: Box::new(Always(None)),
        own: Own::default(),
    }
}

/// The window on a start, at a size in points, with what turns it into pictures.
pub fn harness(
    start: Start,
    size: [f32; 2],
    theme: egui::Theme,
) -> (Harness<'static, Desk>, Rasteriser) {
    scaled(start, size, 1.0, theme)
}

/// The same with the interface larger or smaller.
///
/// * `size`: in pixels; `scale`: pixels for one point
pub fn scaled(
    start: Start,
    size: [f32; 2],
    scale: f32,
    theme: egui::Theme,
) -> (Harness<'static, Desk>, Rasteriser) {
    let rasteriser = Rasteriser::default();
    let mut harness = Harness::builder()
        .with_size(egui::Vec2::from(size) / scale)
        .with_pixels_per_point(scale)
        .with_theme(theme)
        .with_max_steps(16)
        .renderer(rasteriser.clone())
        .build_eframe(move |creation| Desk::new(&creation.egui_ctx, start));
    harness.run();
    (harness, rasteriser)
}

/// Looks for the least cut, takes that of the first proud at which anything
/// holds, and lays the leads with it.
///
/// # Panics
/// When no cut is found.
pub fn cut_flush(harness: &mut Harness<'static, Desk>) {
    let ctx = harness.ctx.clone();
    harness.state_mut().look_for_cuts_here();
    harness.state_mut().take_first_cut(&ctx);
    harness.state_mut().lay_here(&ctx);
    harness.state_mut().count_cuts_here();
    harness.run();
}

/// The last frame as a picture.
pub fn picture(harness: &Harness<'_, Desk>, rasteriser: &Rasteriser) -> image::RgbaImage {
    let size = harness.ctx.content_rect().size() * harness.ctx.pixels_per_point();
    rasteriser.picture(
        &harness.ctx,
        harness.output(),
        [size.x.round() as u32, size.y.round() as u32],
    )
}
