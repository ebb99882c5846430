//! What the window does so that nothing is lost: history, jobs left behind,
//! files changed by other hands, what is remembered.

use std::path::Path;
use std::time::{Duration, Instant};

use acceptance::window;
use egui::Theme;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use profiles::KeptFolder;
use profiles::schema::JobFile;
use seatwell::desk::document::{Document, Place};
use seatwell::desk::edit::{Ask, Edit};
use seatwell::desk::keeping::{Homes, Keeping};
use seatwell::desk::preferences::{self, Preferences};
use seatwell::desk::{Desk, Own, Settings};

use crate::{open, press, says, type_into};

fn ask(harness: &mut Harness<'static, Desk>, ask: Ask) {
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, ask);
    harness.run();
}

fn rename(harness: &mut Harness<'static, Desk>, name: &str) {
    ask(harness, Ask::Edit(Edit::Name(name.to_owned()), None));
}

fn homes(folder: &Path) -> Homes {
    Homes {
        preferences: Some(folder.join("settings.yaml")),
        unsaved: Some(folder.join("unsaved")),
    }
}

fn open_at_home(folder: &Path) -> Harness<'static, Desk> {
    let start = window::start("demo", Settings::default()).owned(Own::read(homes(folder)));
    window::harness(start, [1280.0, 800.0], Theme::Light).0
}

/// Steps until something is said, for what another thread has to notice first.
fn wait_for(harness: &mut Harness<'static, Desk>, text: &str) {
    let begun = Instant::now();
    while !says(harness, text) {
        assert!(
            begun.elapsed() < Duration::from_secs(60),
            "never said: {text}"
        );
        std::thread::sleep(Duration::from_millis(50));
        harness.run();
    }
}

/// What a window left behind that ended without a word.
fn leave_behind(folder: &Path, job: JobFile, place: Place) {
    let mut keeping = Keeping::begin(&homes(folder), || {});
    keeping.attend(&Document::unsaved(job, place, None));
}

fn demo_named(name: &str) -> JobFile {
    let opened = profiles::open_job(profiles::DEMO, &profiles::Library::embedded());
    JobFile {
        name: name.to_owned(),
        ..opened.expect("the demo opens").file
    }
}

#[test]
fn the_history_is_read_and_walked_line_by_line() {
    let mut harness = open("demo");
    let first = harness.state().document().job().clone();
    type_into(&mut harness, "opening: width", "183");
    press(&mut harness, "rear cross rib");
    type_into(&mut harness, "rear cross rib: depth, near face", "210");
    let last = harness.state().document().job().clone();
    press(&mut harness, "What was done");
    assert!(says(&harness, "1   Opening: width 184 ± 0.5 -> 183 mm"));
    assert!(says(
        &harness,
        "2   Rear cross rib: depth, near face 212 ± 2 -> 210 mm"
    ));
    press(&mut harness, "0   As it was opened");
    assert_eq!(*harness.state().document().job(), first);
    assert!(!harness.state().document().is_changed());
    press(
        &mut harness,
        "2   Rear cross rib: depth, near face 212 ± 2 -> 210 mm",
    );
    assert_eq!(*harness.state().document().job(), last);
    press(&mut harness, "1   Opening: width 184 ± 0.5 -> 183 mm");
    let width = &harness.state().document().job().cavity.opening.width;
    assert_eq!(width.as_written(), "183");
}

#[test]
fn a_job_left_behind_is_offered_in_a_line_and_taken_up() {
    let folder = tempfile::tempdir().expect("a folder");
    leave_behind(
        folder.path(),
        demo_named("half a job"),
        Place::Embedded("demo".to_owned()),
    );
    let mut harness = open_at_home(folder.path());
    assert!(says(&harness, "\"half a job\""));
    assert!(says(&harness, "not saved before its window was gone"));
    assert!(
        !harness.state().document().is_changed(),
        "not taken up unasked"
    );
    // A second window does not offer it too.
    let other = open_at_home(folder.path());
    assert!(!says(&other, "\"half a job\""));
    drop(other);
    press(&mut harness, "Take it up");
    assert!(!says(&harness, "Take it up"));
    assert_eq!(harness.state().document().job().name, "half a job");
    assert!(harness.state().document().is_changed());
    // Kept by this window now, and by no other.
    drop(harness);
    let left = KeptFolder::at(folder.path().join("unsaved")).left_behind();
    assert_eq!(left.jobs.len(), 1);
    assert_eq!(left.jobs[0].job.name, "half a job");
}

#[test]
fn a_job_left_behind_can_be_let_go() {
    let folder = tempfile::tempdir().expect("a folder");
    leave_behind(folder.path(), demo_named("half a job"), Place::Nowhere);
    let mut harness = open_at_home(folder.path());
    press(&mut harness, "Let it go");
    assert!(!says(&harness, "half a job"));
    drop(harness);
    let left = KeptFolder::at(folder.path().join("unsaved")).left_behind();
    assert!(left.jobs.is_empty());
}

#[test]
fn a_job_saved_before_the_end_is_not_offered() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("van.yaml");
    profiles::save_job(&path, &demo_named("saved")).expect("saved");
    leave_behind(folder.path(), demo_named("saved"), Place::File(path));
    let harness = open_at_home(folder.path());
    assert!(!says(&harness, "before its window was gone"));
}

#[test]
fn taking_up_asks_first_where_changes_would_be_lost() {
    let folder = tempfile::tempdir().expect("a folder");
    leave_behind(folder.path(), demo_named("half a job"), Place::Nowhere);
    let mut harness = open_at_home(folder.path());
    rename(&mut harness, "my own");
    press(&mut harness, "Take it up");
    assert!(says(&harness, "changes that are not saved"));
    press(&mut harness, "Stay here");
    assert_eq!(harness.state().document().job().name, "my own");
    assert!(says(&harness, "Take it up"), "still offered");
    press(&mut harness, "Take it up");
    press(&mut harness, "Go on without saving");
    assert_eq!(harness.state().document().job().name, "half a job");
}

#[test]
fn the_keyboard_reaches_the_line_that_asks() {
    let folder = tempfile::tempdir().expect("a folder");
    leave_behind(folder.path(), demo_named("half a job"), Place::Nowhere);
    let mut harness = open_at_home(folder.path());
    harness.key_press(egui::Key::F6);
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert_eq!(harness.state().document().job().name, "half a job");
}

/// A window on a file of its own.
fn open_file(path: &Path) -> Harness<'static, Desk> {
    let mut start = window::start("demo", Settings::default());
    profiles::save_job(path, start.document.job()).expect("saved");
    let job = JobFile::clone(start.document.job());
    start.document = Document::new(job, Place::File(path.to_owned()));
    window::harness(start, [1280.0, 800.0], Theme::Light).0
}

#[test]
fn a_file_changed_by_another_program_is_asked_about_and_nothing_is_lost() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("van.yaml");
    let mut harness = open_file(&path);
    rename(&mut harness, "mine");
    profiles::save_job(&path, &demo_named("theirs")).expect("saved");
    wait_for(&mut harness, "was changed by another program");
    assert_eq!(harness.state().document().job().name, "mine");
    press(&mut harness, "Read it again");
    assert_eq!(harness.state().document().job().name, "theirs");
    assert!(!harness.state().document().is_changed());
    press(&mut harness, "Undo");
    assert_eq!(harness.state().document().job().name, "mine");
    assert!(harness.state().document().is_changed());
}

#[test]
fn saving_does_not_write_over_what_was_not_seen() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("van.yaml");
    let mut harness = open_file(&path);
    rename(&mut harness, "mine");
    profiles::save_job(&path, &demo_named("theirs")).expect("saved");
    ask(&mut harness, Ask::Save);
    let on_disk = || {
        let text = profiles::read_file(&path).expect("it is there");
        profiles::read_job(&text, "van")
            .expect("it is whole")
            .file
            .name
    };
    assert_eq!(on_disk(), "theirs");
    assert!(says(&harness, "Not saved yet"));
    press(&mut harness, "Keep what is here");
    assert!(harness.state().document().is_changed());
    ask(&mut harness, Ask::Save);
    assert_eq!(on_disk(), "mine");
    assert!(!harness.state().document().is_changed());
}

#[test]
fn a_file_that_is_gone_or_broken_leaves_the_job_unsaved() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("van.yaml");
    let mut harness = open_file(&path);
    std::fs::write(&path, "format: 1\nname: [\n").expect("written");
    wait_for(&mut harness, "can no longer be read");
    assert!(harness.state().document().is_changed());
    ask(&mut harness, Ask::Save);
    assert!(!harness.state().document().is_changed());
    std::fs::remove_file(&path).expect("removed");
    wait_for(&mut harness, "is no longer there");
    assert!(harness.state().document().is_changed());
    ask(&mut harness, Ask::Save);
    assert!(path.is_file());
}

#[test]
fn a_typed_path_does_not_write_over_another_file_unasked() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("other.yaml");
    profiles::save_job(&path, &demo_named("other")).expect("saved");
    let mut harness = open("demo");
    press(&mut harness, "Save as");
    harness.get_by_label("path of the job file").focus();
    harness.run();
    harness
        .get_by_label("path of the job file")
        .type_text(&path.display().to_string());
    harness.run();
    press(&mut harness, "Save to this path");
    assert!(says(&harness, "is there already"));
    press(&mut harness, "Leave it as it is");
    let text = profiles::read_file(&path).expect("it is there");
    assert!(text.contains("name: other"));
    assert!(!says(&harness, "is there already"));
}

#[derive(Debug)]
struct Dropped(std::path::PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

#[test]
fn a_file_dropped_on_the_window_is_opened_and_remembered() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("dropped.yaml");
    profiles::save_job(&path, &demo_named("dropped")).expect("saved");
    let mut harness = open_at_home(folder.path());
    let file = std::sync::Arc::new(Dropped(path.clone()));
    harness.input_mut().dropped_files.push(file);
    harness.run();
    assert_eq!(harness.state().document().job().name, "dropped");
    assert_eq!(
        harness.state().document().place(),
        &Place::File(path.clone())
    );
    press(&mut harness, "Recent");
    assert!(says(&harness, "dropped.yaml"));
    drop(harness);
    let (read, said) = preferences::read(&folder.path().join("settings.yaml"));
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(read.recent, [path]);
}

#[test]
fn what_is_liked_is_remembered() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut harness = open_at_home(folder.path());
    press(&mut harness, "inch");
    press(&mut harness, "Look");
    press(&mut harness, "Dark paper");
    press(&mut harness, "scale up");
    drop(harness);
    let (read, _) = preferences::read(&folder.path().join("settings.yaml"));
    let expected = Preferences {
        units: seatwell::figures::Figures::Inches,
        paper: seatwell::desk::edit::PaperChoice::Dark,
        scale_percent: 125,
        ..Preferences::default()
    };
    assert_eq!(read, expected);
    let harness = open_at_home(folder.path());
    assert_eq!(harness.ctx.zoom_factor(), 1.25);
    assert!(says(&harness, "17/32 in"));
}

#[test]
fn settings_that_cannot_be_read_are_told_of() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("settings.yaml"), "units: furlongs\n").expect("written");
    let mut harness = open_at_home(folder.path());
    assert!(says(&harness, "The settings could not be read"));
    press(&mut harness, "Put aside");
    assert!(!says(&harness, "The settings could not be read"));
    assert!(folder.path().join("settings.unreadable.yaml").is_file());
}

#[test]
fn nothing_is_drawn_while_nothing_changes() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut harness = open_at_home(folder.path());
    ask(&mut harness, Ask::Lay(false));
    rename(&mut harness, "changed");
    harness.run_steps(20);
    // Other threads may each have something to say once; then it is quiet.
    let mut woken = 0;
    while woken < 8 {
        std::thread::sleep(Duration::from_millis(1500));
        if !harness.ctx.has_requested_repaint() {
            return;
        }
        woken += 1;
        harness.run_steps(2);
    }
    panic!("drawn again and again: {:?}", harness.ctx.repaint_causes());
}
