//! Opening the window.

use profiles::Library;
use profiles::schema::JobFile;

use super::document::{Document, Place};
use super::files::{FileDialogs, SystemDialogs};
use super::settings::Settings;
use super::window::Desk;
use crate::figures::Figures;

/// What the window opens on.
pub struct Start {
    /// The job and where it came from.
    pub document: Document,
    /// Parts one can choose.
    pub library: Library,
    /// How one likes it.
    pub settings: Settings,
    /// How paths are asked for.
    pub dialogs: Box<dyn FileDialogs>,
}

impl Start {
    /// On the demo job.
    pub fn demo(library: Library, figures: Figures) -> Start {
        let mut start = Start::on(
            profiles::QuickFigures::unknown().job_file(),
            Place::Nowhere,
            library,
            figures,
        );
        if let Ok(opened) = profiles::open_job(profiles::DEMO, &start.library) {
            start.document = Document::new(opened.file, Place::Embedded(profiles::DEMO.to_owned()));
        }
        start
    }

    /// On a job.
    pub fn on(job: JobFile, place: Place, library: Library, figures: Figures) -> Start {
        Start {
            document: Document::new(job, place),
            library,
            settings: Settings {
                figures,
                lay: true,
                ..Settings::default()
            },
            dialogs: Box::new(SystemDialogs),
        }
    }
}

/// Opens the window and stays until it is closed.
///
/// # Errors
/// When the system gives no window, as without a display.
pub fn run(start: Start) -> Result<(), eframe::Error> {
    let viewport = egui::ViewportBuilder::default()
        .with_title("Seatwell")
        .with_app_id("seatwell")
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([900.0, 600.0]);
    let options = eframe::NativeOptions {
        viewport,
        ..Default::default()
    };
    eframe::run_native(
        "Seatwell",
        options,
        Box::new(|creation| Ok(Box::new(Desk::new(&creation.egui_ctx, start)))),
    )
}
