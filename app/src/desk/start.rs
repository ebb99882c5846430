//! Opening the window.

use profiles::Library;
use profiles::schema::JobFile;

use super::document::{Document, Place};
use super::files::{FileDialogs, SystemDialogs};
use super::keeping::Homes;
use super::preferences::{self, Preferences, WindowSize};
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
    /// What is the user's own from one day to the next.
    pub own: Own,
}

/// What is the user's own from one day to the next, and where it lies.
#[derive(Clone, Debug, Default)]
pub struct Own {
    /// Where it lies; nothing is written without.
    pub homes: Homes,
    /// How the window is liked, and what was last worked on.
    pub preferences: Preferences,
    /// What is wrong with what was read.
    pub said: Vec<String>,
}

impl Own {
    /// Reads what lies there.
    pub fn read(homes: Homes) -> Own {
        let (preferences, said) = match &homes.preferences {
            Some(file) => preferences::read(file),
            None => (Preferences::default(), Vec::new()),
        };
        Own {
            homes,
            preferences,
            said,
        }
    }
}

impl Start {
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
            own: Own::default(),
        }
    }

    /// The same window as its user likes it, keeping what is not saved.
    ///
    /// Inches asked for on the command line count.
    #[must_use]
    pub fn owned(self, own: Own) -> Start {
        let mut settings = own.preferences.settings();
        if self.settings.figures == Figures::Inches {
            settings.figures = Figures::Inches;
        }
        Start {
            settings,
            own,
            ..self
        }
    }
}

/// The picture on the window's edge.
const ICON: &[u8] = include_bytes!("../../assets/seatwell-128.png");

/// Opens the window and stays until it is closed.
///
/// # Errors
/// When the system gives no window, as without a display.
pub fn run(start: Start) -> Result<(), eframe::Error> {
    let size = start.own.preferences.window.unwrap_or(WindowSize {
        width: 1280,
        height: 800,
        fills_the_screen: false,
    });
    let mut viewport = egui::ViewportBuilder::default()
        .with_title("Seatwell")
        .with_app_id("seatwell")
        .with_inner_size([size.width as f32, size.height as f32])
        .with_maximized(size.fills_the_screen)
        .with_min_inner_size([900.0, 600.0])
        .with_drag_and_drop(true);
    // A picture that could not be read would be missing on the window's edge, no more.
    if let Ok(icon) = eframe::icon_data::from_png_bytes(ICON) {
        viewport = viewport.with_icon(icon);
    }
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
