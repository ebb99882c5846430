//! Opening the window, and what to do where there is none to open.

use profiles::Library;

use super::{Outcome, check, print};
use crate::desk;
use crate::figures::Figures;

/// Opens the window on the demo job. Where that cannot be done it says why,
/// names the package that is missing, prints the demo's verdict instead, and
/// still counts as done.
pub fn open_or_print(library: Library, figures: Figures) -> Outcome {
    let trouble = match open(&library, figures) {
        Ok(()) => return Outcome::Done,
        Err(reason) => Trouble::from(reason.as_str()),
    };
    let said = print(&format!(
        "{}\n\nThe demo job in words instead:\n\n",
        trouble.sentence()
    ));
    if said != Outcome::Done {
        return said;
    }
    match check::run(profiles::DEMO, false, &library, figures) {
        Outcome::Done | Outcome::Proud | Outcome::Blocked => Outcome::Done,
        other => other,
    }
}

/// Runs the window; the reason in the words of the layer below when it does
/// not open. That layer panics where some libraries are missing.
fn open(library: &Library, figures: Figures) -> Result<(), String> {
    if !has_display() {
        return Err(NO_DISPLAY.to_owned());
    }
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {})); // said in plain words below
    let library = library.clone();
    let ran = std::panic::catch_unwind(move || {
        desk::run(desk::Start::demo(library, figures)).map_err(|error| error.to_string())
    });
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
    /// A system library is missing: the Debian package that brings it.
    Missing(&'static str),
    /// Nothing draws.
    NoGraphics,
    /// Something else, in the words of the layer below.
    Other(String),
}

/// What the layer below says, and the package that brings what it misses.
const LIBRARIES: [(&str, &str); 9] = [
    ("xkbcommon-x11", "libxkbcommon-x11-0"),
    ("xkbcommon", "libxkbcommon0"),
    ("x11-xcb", "libx11-xcb1"),
    ("xcursor", "libxcursor1"),
    ("libxi", "libxi6"),
    ("xinput", "libxi6"),
    ("xrandr", "libxrandr2"),
    ("libx11", "libx11-6"),
    ("wayland-client", "libwayland-client0"),
];

impl From<&str> for Trouble {
    fn from(reason: &str) -> Trouble {
        let low = reason.to_lowercase();
        if let Some((_, package)) = LIBRARIES.iter().find(|(name, _)| low.contains(name)) {
            return Trouble::Missing(package);
        }
        let any = |words: &[&str]| words.iter().any(|word| low.contains(word));
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

impl Trouble {
    fn sentence(&self) -> String {
        match self {
            Trouble::NoDisplay => "No window: there is no display here.".to_owned(),
            Trouble::Missing(package) => format!(
                "No window: a system library is missing. On Debian the package {package} brings it (apt-get install {package})."
            ),
            Trouble::NoGraphics => "No window: nothing here can draw it. On Debian the packages libgl1 libegl1 libglx-mesa0 libgl1-mesa-dri bring what is missing.".to_owned(),
            Trouble::Other(reason) => format!("No window could be opened: {reason}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The reasons are those the window layer gave with each library masked.
    #[test]
    fn every_missing_library_is_named_by_its_package() {
        for (reason, package) in [
            (
                "Library libxkbcommon-x11.so could not be loaded.",
                "libxkbcommon-x11-0",
            ),
            (
                "Library libxkbcommon.so could not be loaded.",
                "libxkbcommon0",
            ),
            (
                "WinitEventLoop(Os(OsError { error: XNotSupported(LibraryOpenError(OpenError { detail: \"libX11-xcb.so.1: cannot open\" })) }))",
                "libx11-xcb1",
            ),
            (
                "XNotSupported(LibraryOpenError(\"libXcursor.so.1\"))",
                "libxcursor1",
            ),
            ("XNotSupported(LibraryOpenError(\"libXi.so.6\"))", "libxi6"),
        ] {
            assert_eq!(Trouble::from(reason), Trouble::Missing(package), "{reason}");
        }
    }

    #[test]
    fn a_missing_display_and_missing_graphics_are_told_apart() {
        let none =
            "winit EventLoopError: neither WAYLAND_DISPLAY nor WAYLAND_SOCKET nor DISPLAY is set.";
        assert_eq!(Trouble::from(none), Trouble::NoDisplay);
        assert_eq!(
            Trouble::from("Failed to open connection to X server"),
            Trouble::NoDisplay
        );
        assert_eq!(
            Trouble::from("NoGlutinConfigs(ConfigTemplate)"),
            Trouble::NoGraphics
        );
        assert!(Trouble::NoGraphics.sentence().contains("libgl1-mesa-dri"));
    }
}
