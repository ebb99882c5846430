//! Numbers edited in the window move the answer at once; every step can be taken back.

use egui_kittest::kittest::Queryable;
use seatwell::desk::edit::{Ask, Target};

use crate::{open, press, says, type_into};

fn proud(harness: &egui_kittest::Harness<'static, seatwell::desk::Desk>) -> f64 {
    let fit = harness.state().model().fit.as_ref().expect("answered");
    fit.proud.expect("it goes in")
}

#[test]
fn a_rib_moved_back_lets_the_lead_in() {
    let mut harness = open("demo");
    press(&mut harness, "rear cross rib");
    let margin = |harness: &egui_kittest::Harness<'static, seatwell::desk::Desk>| {
        let fit = harness.state().model().fit.as_ref().expect("answered");
        fit.chain
            .iter()
            .find(|link| link.lead == "L5")
            .and_then(|link| link.margin)
            .expect("there is a rib")
    };
    assert!((margin(&harness) + 9.25).abs() < 1e-9);
    type_into(&mut harness, "rear cross rib: depth, near face", "218 ± 2");
    type_into(&mut harness, "rear cross rib: depth, far face", "220.5 ± 2");
    assert!((margin(&harness) + 3.25).abs() < 1e-9);
    assert!(harness.state().document().is_changed());
    for _ in 0..2 {
        press(&mut harness, "Undo");
    }
    assert!((margin(&harness) + 9.25).abs() < 1e-9);
    assert!(!harness.state().document().is_changed());
}

#[test]
fn what_cannot_be_read_is_told_beside_the_field_and_changes_nothing() {
    let mut harness = open("demo");
    type_into(&mut harness, "opening: width", "18x");
    assert!(says(&harness, "Still counts: 184 ± 0.5"));
    assert!(!harness.state().document().is_changed());
    type_into(&mut harness, "opening: width", "7 3/16");
    assert!(!says(&harness, "Still counts"));
    let width = &harness.state().document().job().cavity.opening.width;
    assert_eq!(width.as_written(), "7 3/16");
}

#[test]
fn a_measure_that_could_not_be_taken_is_named_at_its_step() {
    let mut harness = open("demo");
    press(&mut harness, "rear cross rib");
    type_into(&mut harness, "rear cross rib: depth, near face", "?");
    let model = harness.state().model();
    let fit = model.fit.as_ref().expect("answered all the same");
    assert_eq!(fit.sure, geometry::Sure::Doubtful);
    assert!(!model.step(seatwell::desk::edit::Step::Cavity).is_done());
}

#[test]
fn a_shorter_unit_of_the_library_is_one_step() {
    let mut harness = open("demo");
    let before = proud(&harness);
    press(&mut harness, "Unit: done");
    type_into(&mut harness, "unit: chassis depth", "150");
    assert!(proud(&harness) < before);
    let file = harness.state().document().job().clone();
    assert!(
        matches!(&file.unit, profiles::schema::PartUse::Changed { with, .. } if with["chassis.depth"] == "150")
    );
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Undo);
    harness.run();
    assert!((proud(&harness) - before).abs() < 1e-12);
}

#[test]
fn a_thing_can_be_added_and_removed() {
    let mut harness = open("town-taxi");
    let count = harness.state().document().job().cavity.obstacles.len();
    press(&mut harness, "duct");
    assert_eq!(
        harness.state().document().job().cavity.obstacles.len(),
        count + 1
    );
    assert!(matches!(
        harness.state().chosen(),
        Some(Target::Obstacle(_))
    ));
    press(&mut harness, "Remove");
    assert_eq!(
        harness.state().document().job().cavity.obstacles.len(),
        count
    );
}

#[test]
fn the_quick_answer_follows_the_typing() {
    let mut harness = open("demo");
    press(&mut harness, "Quick answer");
    for (field, text) in [
        ("opening width", "182"),
        ("opening height", "104"),
        ("depth behind", "230"),
        ("chassis depth", "165"),
        ("setback", "0"),
        ("longest plug", "32"),
        ("its cable", "5.5"),
    ] {
        type_into(&mut harness, &format!("quick answer: {field}"), text);
    }
    assert!(
        harness
            .query_all_by_label_contains("Seats flush")
            .next()
            .is_some()
    );
    type_into(&mut harness, "quick answer: depth behind", "?");
    assert!(says(
        &harness,
        "Measure next: the depth to the nearest thing behind"
    ));
    assert!(
        !harness.state().document().is_changed(),
        "the job itself stays as it is"
    );
}

#[test]
fn figures_and_enter_in_one_slow_frame_are_one_step_with_what_was_typed_before() {
    let mut harness = open("demo");
    harness.get_by_label("opening: width").focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.event(egui::Event::Text("1".to_owned()));
    harness.run();
    for text in ["8", "3"] {
        harness.event(egui::Event::Text(text.to_owned()));
    }
    harness.event(egui::Event::Key {
        key: egui::Key::Enter,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: egui::Modifiers::NONE,
    });
    harness.run();
    assert!(harness.state().document().is_changed());
    press(&mut harness, "Undo");
    assert!(!harness.state().document().is_changed());
}

#[test]
fn a_field_written_in_mm_says_so_while_inches_are_shown() {
    let mut harness = open("demo");
    assert!(!says(&harness, "mm, 7 1/4 in"));
    press(&mut harness, "inch");
    assert!(says(&harness, "mm, 7 1/4 in"));
    let field = harness.get_by_label("opening: width");
    assert_eq!(field.value().as_deref(), Some("184 ± 0.5"), "as typed");
    type_into(&mut harness, "opening: width", "7 3/16");
    assert!(!says(&harness, "mm, 7"));
}
