//! Opening the window, and what to do where there is none to open.

use std::path::PathBuf;

use profiles::{Library, Opened};

use super::{Layer, Outcome, check, print, refuse};
use crate::desk;
use crate::desk::Own;
use crate::desk::document::Place;
use crate::desk::keeping::Homes;
use crate::figures::Figures;

/// Opens the window on a job. Where that cannot be done it says why, names the
/// package that is missing, prints the job's verdict instead, and still counts
/// as done.
///
/// * `which`: a file, or the name of an embedded job
pub fn open_or_print(which: &str, library: Library, figures: Figures) -> Outcome {
    let opened = match profiles::open_job(which, &library) {
        Ok(opened) => opened,
        Err(problems) => return refuse(&problems),
    };
    let trouble = match open(which, opened, &library, figures) {
        Ok(()) => return Outcome::Done,
        Err(reason) => Trouble::behind(&reason, is_on_this_machine),
    };
    let said = print(&format!(
        "{}\n\nThe job in words instead:\n\n",
        trouble.sentence()
    ));
    if said != Outcome::Done {
        return said;
    }
    match check::run(which, Layer::Chain, false, &library, figures) {
        Outcome::Done | Outcome::Proud | Outcome::Blocked => Outcome::Done,
        other => other,
    }
}

/// Runs the window; the reason in the words of the layer below when it does
/// not open. That layer panics where some libraries are missing.
fn open(which: &str, opened: Opened, library: &Library, figures: Figures) -> Result<(), String> {
    if !has_display() {
        return Err(NO_DISPLAY.to_owned());
    }
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {})); // said in plain words below
    let place = match opened.path {
        Some(path) => Place::File(std::path::absolute(&path).unwrap_or(path)),
        None => Place::Embedded(which.to_owned()),
    };
    let own = Own::read(Homes::usual());
    let start = desk::Start::on(opened.file, place, library.clone(), figures).owned(own);
    let ran = std::panic::catch_unwind(std::panic::AssertUnwindSafe(move || {
        desk::run(start).map_err(|error| error.to_string())
    }));
    std::panic::set_hook(usual);
    ran.unwrap_or_else(|panic| {
        let text = panic
            .downcast_ref::<String>()
            .cloned()
            .or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()));
        Err(text.unwrap_or_else(|| "the window stopped without a reason".to_owned()))
    })
}

const NO_DISPLAY: &str = "no display";

/// Whether the desktop offers a display at all.
fn has_display() -> bool {
    if cfg!(not(all(unix, not(target_os = "macos")))) {
        return true;
    }
    ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}

/// Why no window opens.
#[derive(Debug, PartialEq, Eq)]
enum Trouble {
    /// There is no display, or none answers.
    NoDisplay,
    /// System libraries are missing: the Debian packages that bring them.
    Missing(Vec<&'static str>),
    /// Nothing draws.
    NoGraphics,
    /// Something else, in the words of the layer below.
    Other(String),
}

/// The libraries a window needs and the Debian packages that bring them.
const LIBRARIES: [(&str, &str); 7] = [
    ("libxkbcommon.so.0", "libxkbcommon0"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
    ("libX11.so.6", "libx11-6"),
    ("libX11-xcb.so.1", "libx11-xcb1"),
    ("libXcursor.so.1", "libxcursor1"),
    ("libXi.so.6", "libxi6"),
    ("libXrandr.so.2", "libxrandr2"),
];

impl Trouble {
    /// The trouble behind a reason given by the layer below.
    ///
    /// * `is_there`: whether a library is on this machine; that layer does not
    ///   always say which one it missed
    fn behind(reason: &str, is_there: impl Fn(&str) -> bool) -> Trouble {
        let low = reason.to_lowercase();
        let any = |words: &[&str]| words.iter().any(|word| low.contains(word));
        if any(&["xkbcommon", "shared librar", "libraryopenerror"]) {
            let missing: Vec<&str> = LIBRARIES
                .iter()
                .filter(|(library, _)| !is_there(library))
                .map(|(_, package)| *package)
                .collect();
            return if missing.is_empty() {
                Trouble::Missing(LIBRARIES.iter().map(|(_, package)| *package).collect())
            } else {
                Trouble::Missing(missing)
            };
        }
        if any(&[
            NO_DISPLAY,
            "display is set",
            "connection to x server",
            "opendisplay",
        ]) {
            Trouble::NoDisplay
        } else if any(&["glutin", "glx", "egl", "opengl", "fbconfig"]) {
            Trouble::NoGraphics
        } else {
            Trouble::Other(reason.to_owned())
        }
    }
}

/// Whether a library lies in one of the usual folders, or one folder below.
fn is_on_this_machine(library: &str) -> bool {
    let named = std::env::var_os("LD_LIBRARY_PATH").unwrap_or_default();
    let usual = ["/lib", "/usr/lib", "/lib64", "/usr/lib64", "/usr/local/lib"];
    let folders = std::env::split_paths(&named).chain(usual.iter().map(PathBuf::from));
    folders
        .flat_map(|folder| {
            let below = std::fs::read_dir(&folder)
                .into_iter()
                .flatten()
                .filter_map(|entry| Some(entry.ok()?.path()))
                .filter(|path| path.is_dir());
            std::iter::once(folder.clone())
                .chain(below)
                .collect::<Vec<_>>()
        })
        .any(|folder| folder.join(library).is_file())
}

impl Trouble {
    fn sentence(&self) -> String {
        match self {
            Trouble::NoDisplay => "No window: there is no display here.".to_owned(),
            Trouble::Missing(packages) => {
                let packages = packages.join(" ");
                format!(
                    "No window: a system library is missing. On Debian this brings it: apt-get install {packages}"
                )
            }
            Trouble::NoGraphics => "No window: nothing here can draw it. On Debian the packages libgl1 libegl1 libglx-mesa0 libgl1-mesa-dri bring what is missing.".to_owned(),
            Trouble::Other(reason) => format!("No window could be opened: {reason}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PANIC: &str = "Library libxkbcommon-x11.so could not be loaded.";
    const XLIB: &str =
        "winit EventLoopError: os error: Failed to load one of xlib's shared libraries";

    fn trouble(reason: &str) -> Trouble {
        Trouble::behind(reason, |_| true)
    }

    /// The reasons are those the window layer gave with each library masked.
    #[test]
    fn every_missing_library_is_named_by_its_package() {
        for (library, package) in LIBRARIES {
            for reason in [PANIC, XLIB] {
                let found = Trouble::behind(reason, |it| it != library);
                assert_eq!(found, Trouble::Missing(vec![package]), "{reason}");
            }
        }
        let Trouble::Missing(all) = trouble(XLIB) else {
            panic!("a library is missing");
        };
        assert_eq!(all.len(), LIBRARIES.len());
    }

    #[test]
    fn a_missing_display_and_missing_graphics_are_told_apart() {
        let none =
            "winit EventLoopError: neither WAYLAND_DISPLAY nor WAYLAND_SOCKET nor DISPLAY is set.";
        assert_eq!(trouble(none), Trouble::NoDisplay);
        assert_eq!(
            trouble("Failed to open connection to X server"),
            Trouble::NoDisplay
        );
        assert_eq!(
            trouble("NoGlutinConfigs(ConfigTemplate)"),
            Trouble::NoGraphics
        );
        assert!(Trouble::NoGraphics.sentence().contains("libgl1-mesa-dri"));
    }
}
