//! Opening, saving, and changes that are not saved.

use acceptance::window::{self, Always};
use egui::Theme;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::document::Place;
use seatwell::desk::edit::{Ask, Edit};
use seatwell::desk::{Desk, Settings};

use crate::{open, press, says};

fn rename(harness: &mut Harness<'static, Desk>, name: &str) {
    let ctx = harness.ctx.clone();
    harness
        .state_mut()
        .ask(&ctx, Ask::Edit(Edit::Name(name.to_owned()), None));
    harness.run();
}

#[test]
fn a_job_is_saved_to_a_typed_path_and_opened_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("van.yaml");
    let mut harness = open("demo");
    rename(&mut harness, "a van of our own");
    press(&mut harness, "Save");
    let field = harness.get_by_label("path of the job file");
    field.focus();
    harness.run();
    harness
        .get_by_label("path of the job file")
        .type_text(&path.display().to_string());
    harness.run();
    press(&mut harness, "Save to this path");
    assert!(path.is_file());
    assert_eq!(
        harness.state().document().place(),
        &Place::File(path.clone())
    );
    assert!(!harness.state().document().is_changed());
    let library = profiles::Library::embedded();
    let again = profiles::open_job(&path.display().to_string(), &library).expect("it reads again");
    assert_eq!(again.file, **harness.state().document().job());
}

#[test]
fn a_path_is_typed_as_soon_as_it_is_asked_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("van.yaml");
    let mut harness = open("demo");
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::SaveAs);
    harness.run();
    let typed = path.display().to_string();
    harness.event(egui::Event::Text(typed));
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!(path.is_file());
}

#[test]
fn a_file_name_is_suggested_and_typed_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut start = window::start("demo", Settings::default());
    let used = folder.path().join("another.yaml");
    start.own.preferences.worked_on(&used);
    let (mut harness, _) = window::harness(start, [1280.0, 800.0], Theme::Light);
    rename(&mut harness, "A van: our own");
    press(&mut harness, "Save as");
    let field = harness.get_by_label("path of the job file");
    let suggested = folder.path().join("a-van-our-own.yaml");
    assert_eq!(field.value(), Some(suggested.display().to_string()));
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!(suggested.is_file());
    // All of it is selected: typing takes its place.
    press(&mut harness, "Save as");
    let other = folder.path().join("other.yaml");
    harness.event(egui::Event::Text(other.display().to_string()));
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!(other.is_file());
}

#[test]
fn without_a_folder_used_before_a_job_goes_home() {
    let mut harness = open("demo");
    press(&mut harness, "Save as");
    let field = harness.get_by_label("path of the job file");
    let home = std::env::home_dir().expect("there is one");
    let suggested = home.join("brackenmoor-rural-post-van.yaml");
    assert_eq!(field.value(), Some(suggested.display().to_string()));
}

#[test]
fn the_answer_of_the_file_window_is_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("taxi");
    let mut start = window::start("town-taxi", Settings::default());
    start.dialogs = Box::new(Always(Some(path.clone())));
    let (mut harness, _) = window::harness(start, [1280.0, 800.0], Theme::Light);
    press(&mut harness, "Save as");
    assert!(path.with_extension("yaml").is_file());
}

#[test]
fn changes_are_not_lost_without_a_word() {
    let mut harness = open("demo");
    rename(&mut harness, "half a job");
    let ctx = harness.ctx.clone();
    harness
        .state_mut()
        .ask(&ctx, Ask::Begin("camper".to_owned()));
    harness.run();
    assert_eq!(harness.state().document().job().name, "half a job");
    assert!(says(&harness, "changes that are not saved"));
    press(&mut harness, "Stay here");
    assert!(!says(&harness, "changes that are not saved"));
    harness
        .state_mut()
        .ask(&ctx, Ask::Begin("camper".to_owned()));
    harness.run();
    press(&mut harness, "Go on without saving");
    assert_ne!(harness.state().document().job().name, "half a job");
}

#[test]
fn a_file_that_cannot_be_read_leaves_the_job_as_it_was() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("broken.yaml");
    std::fs::write(&path, "format: 1\nname: [\n").expect("written");
    let mut start = window::start("demo", Settings::default());
    start.dialogs = Box::new(Always(Some(path)));
    let (mut harness, _) = window::harness(start, [1280.0, 800.0], Theme::Light);
    let before = harness.state().document().job().clone();
    press(&mut harness, "Open");
    assert!(says(
        &harness,
        "could not be opened; the job here is as it was"
    ));
    assert_eq!(*harness.state().document().job(), before);
}
