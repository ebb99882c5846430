//! How one likes the window, from one day to the next: a small file of the user's own.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use profiles::Problem;
use serde::{Deserialize, Serialize};

use super::edit::PaperChoice;
use super::settings::{SCALES, Settings};
use crate::figures::Figures;

/// How many recent jobs are remembered.
pub const RECENT: usize = 10;

/// What the file says above everything.
const TITLE: &str =
    "# How Seatwell's window is liked. Written by the program; may be edited by hand.\n";

/// How one likes the window, and what was last worked on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Preferences {
    /// The unit lengths are shown in.
    pub units: Figures,
    /// Light or dark paper.
    pub paper: PaperChoice,
    /// Larger words and targets.
    pub large_targets: bool,
    /// Scale of everything, percent.
    pub scale_percent: u32,
    /// Whether leads are laid whenever the job changes.
    pub lay_leads: bool,
    /// Size of the window, points at 100 percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub window: Option<WindowSize>,
    /// Job files opened or saved, the last first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub recent: Vec<PathBuf>,
}

/// Size of the window, points at 100 percent.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WindowSize {
    /// Across.
    pub width: u32,
    /// Up.
    pub height: u32,
    /// Whether it fills the screen.
    #[serde(default)]
    pub fills_the_screen: bool,
}

impl Default for Preferences {
    fn default() -> Preferences {
        Preferences {
            units: Figures::default(),
            paper: PaperChoice::default(),
            large_targets: false,
            scale_percent: SCALES[0],
            lay_leads: true,
            window: None,
            recent: Vec::new(),
        }
    }
}

impl Preferences {
    /// The settings of a window.
    pub fn settings(&self) -> Settings {
        Settings {
            figures: self.units,
            paper: self.paper,
            large: self.large_targets,
            lay: self.lay_leads,
            scale: self.scale_percent,
        }
    }

    /// The same with the settings of a window.
    #[must_use]
    pub fn with(self, settings: Settings) -> Preferences {
        Preferences {
            units: settings.figures,
            paper: settings.paper,
            large_targets: settings.large,
            scale_percent: settings.scale,
            lay_leads: settings.lay,
            ..self
        }
    }

    /// Puts a job file at the head of the recent ones.
    pub fn worked_on(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        // Other names cannot be written in a text file.
        if path.to_str().is_some() {
            self.recent.retain(|other| *other != path);
            self.recent.insert(0, path);
            self.recent.truncate(RECENT);
        }
    }
}

/// Reads the file. Where that cannot be done the usual preferences count, the
/// file is put aside, and what happened comes back in words.
pub fn read(file: &Path) -> (Preferences, Vec<String>) {
    if !file.exists() {
        return (Preferences::default(), Vec::new());
    }
    let problems = match parse(file) {
        Ok(preferences) => return (preferences, Vec::new()),
        Err(problems) => problems,
    };
    let aside = file.with_extension("unreadable.yaml");
    let kept = match fs::rename(file, &aside) {
        Ok(()) => format!("The file was put aside as {}.", aside.display()),
        Err(error) => format!("The file stays where it is ({error})."),
    };
    let mut said = vec![format!(
        "The settings could not be read, so the usual ones count. {kept}"
    )];
    said.extend(problems.iter().map(ToString::to_string));
    (Preferences::default(), said)
}

fn parse(file: &Path) -> Result<Preferences, Vec<Problem>> {
    let name = file.display().to_string();
    let text = profiles::read_file(file).map_err(|problem| vec![problem])?;
    let read: Preferences = profiles::read_plain(&text, &name)?;
    if !SCALES.contains(&read.scale_percent) {
        return Err(vec![Problem {
            severity: profiles::Severity::Error,
            file: name,
            line: 0,
            field: "scale_percent".to_owned(),
            found: read.scale_percent.to_string(),
            allowed: SCALES.map(|scale| scale.to_string()).join(", "),
        }]);
    }
    Ok(read)
}

/// Writes the file, whole or not at all. Jobs that another window has put on
/// the list meanwhile stay on it.
///
/// # Errors
/// Nothing was written, and why.
pub fn write(file: &Path, preferences: &Preferences) -> io::Result<()> {
    let mut preferences = preferences.clone();
    if let Ok(there) = parse(file) {
        let others = there.recent.into_iter();
        let new: Vec<PathBuf> = others
            .filter(|path| !preferences.recent.contains(path))
            .collect();
        preferences.recent.extend(new);
        preferences.recent.truncate(RECENT);
    }
    if let Some(folder) = file.parent() {
        fs::create_dir_all(folder)?;
    }
    let text = serde_yaml::to_string(&preferences).map_err(io::Error::other)?;
    profiles::save::write_whole(file, format!("{TITLE}{text}").as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file() -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("own/settings.yaml");
        (folder, file)
    }

    #[test]
    fn what_is_written_is_read_again() {
        let (_folder, file) = file();
        let mut liked = Preferences {
            units: Figures::Inches,
            paper: PaperChoice::Dark,
            large_targets: true,
            scale_percent: 150,
            lay_leads: false,
            window: Some(WindowSize {
                width: 1440,
                height: 900,
                fills_the_screen: true,
            }),
            recent: Vec::new(),
        };
        for i in 0..15 {
            liked.worked_on(&PathBuf::from(format!("/jobs/van {i}.yaml")));
        }
        liked.worked_on(Path::new("/jobs/van 9.yaml"));
        assert_eq!(liked.recent.len(), RECENT);
        assert_eq!(liked.recent[0], Path::new("/jobs/van 9.yaml"));
        write(&file, &liked).expect("written");
        assert_eq!(read(&file), (liked, Vec::new()));
    }

    #[test]
    fn no_file_means_the_usual_without_a_word() {
        let (_folder, file) = file();
        assert_eq!(read(&file), (Preferences::default(), Vec::new()));
    }

    #[test]
    fn a_bad_file_is_told_of_and_put_aside() {
        for (text, told) in [
            ("units: furlongs\n", "settings.yaml:1: units: found"),
            ("paper: light\nscale: 100\n", "settings.yaml:2"),
            (
                "scale_percent: 3000\n",
                "scale_percent: found 3000; allowed: 100",
            ),
            ("units: [\n", "settings.yaml"),
        ] {
            let (_folder, file) = file();
            fs::create_dir_all(file.parent().expect("it has one")).expect("made");
            fs::write(&file, text).expect("written");
            let (read, said) = read(&file);
            assert_eq!(read, Preferences::default());
            assert!(said[0].contains("usual ones count"), "{said:?}");
            assert!(said[1].contains(told), "{text}: {said:?}");
            assert!(!file.exists());
            let aside = fs::read_to_string(file.with_extension("unreadable.yaml"));
            assert_eq!(aside.expect("it is kept"), text);
        }
    }

    #[test]
    fn two_windows_share_the_list_of_jobs() {
        let (_folder, file) = file();
        let (mut one, mut two) = (Preferences::default(), Preferences::default());
        one.worked_on(Path::new("/jobs/a.yaml"));
        write(&file, &one).expect("written");
        two.worked_on(Path::new("/jobs/b.yaml"));
        write(&file, &two).expect("written");
        let recent = read(&file).0.recent;
        assert_eq!(
            recent,
            [Path::new("/jobs/b.yaml"), Path::new("/jobs/a.yaml")]
        );
    }
}
