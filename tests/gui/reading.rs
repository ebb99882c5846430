//! What one reads in the window, and where a click leads.

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::Desk;
use seatwell::desk::edit::{Ask, Target};
use seatwell::figures::Figures;

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

/// Everything that can be chosen in a job.
fn targets(harness: &Harness<'static, Desk>) -> Vec<Target> {
    let job = harness.state().document().job();
    let cavity = &job.cavity;
    let mut all = vec![Target::Opening, Target::Walls, Target::Unit, Target::Mount];
    all.extend(
        cavity
            .obstacles
            .iter()
            .map(|it| Target::Obstacle(it.id.clone())),
    );
    all.extend(cavity.exits.iter().map(|it| Target::Exit(it.id.clone())));
    all.extend(cavity.spaces.iter().map(|it| Target::Space(it.id.clone())));
    all.extend(
        cavity
            .pockets
            .iter()
            .map(|it| Target::Pocket(it.id.clone())),
    );
    all.extend(
        cavity
            .factory_plugs
            .iter()
            .map(|it| Target::FactoryPlug(it.id.clone())),
    );
    all.extend(job.leads.iter().map(|it| Target::Lead(it.id.clone())));
    all.extend(job.modules.iter().map(|it| Target::Module(it.id.clone())));
    all
}

#[test]
fn all_that_is_known_of_what_is_chosen_can_be_read_below_the_drawing() {
    for job in ["demo", "camper"] {
        let mut harness = open(job);
        let ctx = harness.ctx.clone();
        harness.state_mut().lay_here(&ctx);
        harness.state_mut().ask(&ctx, Ask::Show(Figures::Inches));
        harness.run();
        let mut place = None;
        for target in targets(&harness) {
            let step = Ask::Choose(target.clone());
            harness.state_mut().ask(&ctx, step);
            harness.run();
            let note = note_of(&harness).unwrap_or_else(|| panic!("{job}: {target:?}"));
            assert!(!note.galley.elided, "{job}: {}", note.galley.text());
            assert!(note.galley.text().ends_with("lengths in inches."));
            let bottom = note.pos.y + note.galley.size().y;
            let chain = harness.get_by_label_contains("quick rule, inches").rect();
            assert!(bottom <= chain.top(), "{job}: {}", note.galley.text());
            let now = harness
                .get_by_label_contains("From the side, cut at")
                .rect();
            // Only two cables of one lead may ask for a third row, over the drawing's foot.
            let rows = note.galley.rows.len();
            let over = note.pos.y < now.bottom();
            assert!(
                rows <= 3 && over == (rows == 3),
                "{job}: {}",
                note.galley.text()
            );
            assert_eq!(
                *place.get_or_insert(now),
                now,
                "the drawing keeps its place"
            );
        }
    }
}

/// The note below the drawing, as it is drawn.
fn note_of(harness: &Harness<'static, Desk>) -> Option<egui::epaint::TextShape> {
    let shapes = harness.output().shapes.iter();
    shapes
        .filter_map(|clipped| match &clipped.shape {
            egui::Shape::Text(text) => Some(text.clone()),
            _ => None,
        })
        .find(|text| text.galley.text().starts_with("Chosen: "))
}
