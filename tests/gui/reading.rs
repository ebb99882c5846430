//! What one reads in the window, and where a click leads.

use egui_kittest::kittest::Queryable;
use seatwell::desk::edit::Target;

use crate::{open, press, says};

#[test]
fn the_verdict_is_the_sentence_of_the_command_line() {
    let harness = open("demo");
    let fit = harness
        .state()
        .model()
        .fit
        .clone()
        .expect("the demo is answered");
    let sentence = seatwell::words::headline(&fit, seatwell::figures::Figures::Millimetres);
    assert!(says(&harness, &sentence), "{sentence}");
    assert!((fit.proud.expect("it goes in") - 13.5).abs() < 1e-9);
}

#[test]
fn a_bar_of_the_chain_chooses_its_lead() {
    let mut harness = open("demo");
    harness
        .get_by_label_contains("depth chain of video lead")
        .click();
    harness.run();
    harness.remove_cursor();
    harness.run();
    assert_eq!(
        harness.state().chosen(),
        Some(&Target::Lead("L5".to_owned()))
    );
    assert!(
        harness.query_by_label("video lead: plug length").is_some(),
        "its form is open"
    );
    assert!(says(&harness, "Chosen: video lead"));
}

#[test]
fn pointing_lights_the_thing_and_says_what_it_is() {
    let mut harness = open("demo");
    harness
        .get_by_label_contains("depth chain of AV plug")
        .hover();
    harness.run();
    assert_eq!(
        harness.state().pointed(),
        Some(&Target::Lead("L2".to_owned()))
    );
    assert!(says(&harness, "Pointed at: AV plug"));
}

#[test]
fn a_step_opens_and_shuts() {
    let mut harness = open("demo");
    assert!(harness.query_by_label("opening: width").is_some());
    press(&mut harness, "Unit: done");
    assert!(harness.query_by_label("unit: chassis depth").is_some());
    assert!(harness.query_by_label("opening: width").is_none());
}

#[test]
fn lengths_are_shown_in_inches_when_asked() {
    let mut harness = open("demo");
    press(&mut harness, "inch");
    assert!(says(&harness, "Stands 17/32 in proud"));
    press(&mut harness, "mm");
    assert!(says(&harness, "Stands 13.5 mm proud"));
    assert!(
        !harness.state().document().is_changed(),
        "units change nothing that is stored"
    );
}

#[test]
fn cautions_stand_beside_a_rib_that_is_in_the_way() {
    let mut harness = open("demo");
    assert!(says(&harness, "Before any cut: Airbags"));
    press(&mut harness, "rear cross rib");
    assert!(says(&harness, "Airbags, their brackets"));
}

#[test]
fn an_easy_job_says_so_without_cautions_in_sight() {
    let harness = open("town-taxi");
    assert!(says(&harness, "Seats flush"));
    assert!(!says(&harness, "Before any cut"));
}
