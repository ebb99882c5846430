//! The loom of an exit: read, built by the hand, taped, and taken back.

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::Desk;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::edit::{Ask, Step, Target};

use crate::{open, press, says};

fn diameter(harness: &Harness<'static, Desk>, exit: &str) -> f64 {
    let loom = harness.state().model().loom(exit);
    loom.expect("leads leave by it").diameter
}

fn undo_all(harness: &mut Harness<'static, Desk>) {
    let ctx = harness.ctx.clone();
    while harness.state().document().can_undo() {
        harness.state_mut().ask(&ctx, Ask::Undo);
    }
    harness.run();
}

#[test]
fn the_loom_of_the_demo_is_read_from_its_drawing() {
    let mut harness = open("demo");
    press(&mut harness, "Looms: done");
    let figures = seatwell::figures::Figures::Millimetres;
    let words = figures.length(diameter(&harness, "left"));
    let drawing = format!("across the loom through gap in the left wall, Ø {words}");
    assert!(harness.query_by_label(&drawing).is_some(), "{drawing}");
    assert!(says(&harness, "Passes its exit"));
    assert!(says(&harness, "strand of camera lead, Ø 4"));
    assert!(says(&harness, "the exit gap in the left wall, Ø 22 mm"));
    let other = harness
        .query_all_by_label_contains("hole in the floor, Ø 5.5")
        .next();
    other.expect("every exit can be chosen").click();
    harness.run();
    assert!(says(
        &harness,
        "across the loom through hole in the floor, Ø 5.5"
    ));
    press(&mut harness, "Back to the sections");
    assert!(says(&harness, "From above, cut at"));
}

/// An empty job, an exit, and a dozen leads: one click each.
#[test]
fn a_loom_of_twelve_leads_is_built_from_nothing() {
    let mut harness = open("demo");
    let mut clicks = 0;
    let mut click = |harness: &mut Harness<'static, Desk>, label: &str| {
        press(harness, label);
        clicks += 1;
    };
    click(&mut harness, "Begin from");
    click(&mut harness, "an empty job");
    let empty = harness.state().document().job().clone();
    click(&mut harness, "Looms: needs leads that leave by an exit");
    assert!(says(&harness, "A loom needs an exit"));
    click(&mut harness, "Make an exit");
    assert!(says(&harness, "No lead leaves by this exit yet"));
    let job = harness.state().model().job.clone().expect("it is answered");
    let exit = job.cavity.exits[0].id.clone();
    assert_eq!(job.unit.sockets.len(), 12);
    let mut before = 0.0;
    for socket in &job.unit.sockets {
        click(&mut harness, &format!("lay in {}", socket.name));
        let now = diameter(&harness, &exit);
        assert!(now > before - 1e-6, "{}: {before} then {now}", socket.name);
        let drawing = format!(
            "across the loom through {exit}, Ø {}",
            seatwell::figures::Figures::Millimetres.bare(now)
        );
        assert!(says(&harness, &drawing), "{drawing}");
        before = now;
    }
    assert!(clicks <= 4 + 12, "{clicks} clicks");
    let model = harness.state().model();
    let loom = model.loom(&exit).expect("there is a loom");
    assert_eq!(seatwell::words::looms::members(loom).len(), 12);
    assert!(
        model
            .step(Step::Leads)
            .lacks
            .iter()
            .all(|it| !it.contains("end of"))
    );
    assert!(says(&harness, "Every socket of the unit has its lead"));
    press(&mut harness, "take out main lead");
    let thinner = diameter(&harness, &exit);
    assert!(thinner < before, "{before} then {thinner}");
    undo_all(&mut harness);
    assert_eq!(*harness.state().document().job(), empty);
}

/// The demo has its audio leads taped, and cloth tape of 0.27 half over itself round the whole.
#[test]
fn leads_are_taped_together_and_wrapped() {
    let mut harness = open("demo");
    let first = harness.state().document().job().clone();
    press(&mut harness, "Looms: done");
    let loom = |harness: &Harness<'static, Desk>| {
        let loom = harness.state().model().loom("left");
        loom.expect("leads leave by it").clone()
    };
    let before = loom(&harness);
    assert!((before.diameter - before.bare - 4.0 * 0.27).abs() < 1e-9);
    press(&mut harness, "front RCA pair");
    press(&mut harness, "Take the tape off");
    assert!(loom(&harness).tapes.is_empty());
    for lead in ["camera lead", "microphone lead"] {
        press(&mut harness, lead);
    }
    press(&mut harness, "Tape together");
    let taped = loom(&harness);
    assert_eq!(taped.tapes.len(), 1);
    assert_eq!(taped.tapes[0].leads, ["L8", "L10"]);
    // Two rounds side by side, PVC tape of 0.15 laid half over itself around them.
    assert!((taped.tapes[0].diameter - (4.0 + 2.5 + 4.0 * 0.15)).abs() < 1e-6);
    press(&mut harness, "loom: round the whole");
    press(&mut harness, "nothing");
    let bare = loom(&harness);
    assert!(bare.wrap == 0.0 && bare.diameter == bare.bare);
    assert!(says(&harness, "Passes its exit lying side by side"));
    undo_all(&mut harness);
    assert_eq!(*harness.state().document().job(), first);
    assert_eq!(loom(&harness), before);
}

#[test]
fn a_lead_is_brought_from_another_exit_and_lights_up_everywhere() {
    let mut harness = open("demo");
    press(&mut harness, "Looms: done");
    press(&mut harness, "bring here satellite aerial");
    let leads = &harness.state().document().job().leads;
    let lead = leads
        .iter()
        .find(|lead| lead.id == "L9")
        .expect("still there");
    assert_eq!(lead.end.exit.as_deref(), Some("left"));
    harness
        .get_by_label_contains("strand of satellite aerial")
        .hover();
    harness.run();
    assert_eq!(
        harness.state().pointed(),
        Some(&Target::Lead("L9".to_owned()))
    );
    // The same by keyboard: what has the focus is lit.
    harness.remove_cursor();
    harness
        .get_by_label_contains("strand of camera lead")
        .focus();
    harness.run();
    assert_eq!(
        harness.state().pointed(),
        Some(&Target::Lead("L8".to_owned()))
    );
}

#[test]
fn a_click_on_an_exit_shows_its_loom() {
    let mut harness = open("demo");
    let pane = harness.get_by_label_contains("From above, cut at").rect();
    let camera = harness.state().canvas().camera;
    let middle = glam::DVec2::new(pane.center().x.into(), pane.center().y.into());
    let in_the_floor = glam::DVec3::new(36.0, 228.0, -98.0);
    let flat = View::FromAbove.flat(in_the_floor);
    let at = camera.to_screen(View::FromAbove, middle, flat);
    let at = egui::pos2(at.x as f32, at.y as f32);
    harness.hover_at(at);
    harness.run();
    assert_eq!(
        harness.state().pointed(),
        Some(&Target::Exit("down".to_owned()))
    );
    harness.drag_at(at);
    harness.drop_at(at);
    harness.run();
    assert!(says(&harness, "across the loom through hole in the floor"));
}

/// A large loom is shown as it was, and as such, before it is laid up again.
#[test]
fn a_large_loom_says_that_it_is_behind() {
    let mut harness = open("demo");
    let ctx = harness.ctx.clone();
    harness
        .state_mut()
        .ask(&ctx, Ask::Loom("down_left".to_owned()));
    harness.run();
    let before = diameter(&harness, "down_left");
    let lead = "bring here video lead";
    harness.get_by_label(lead).scroll_to_me();
    harness.run();
    harness.get_by_label(lead).click();
    for _ in 0..4 {
        if !harness.state().document().is_changed() {
            harness.step();
        }
    }
    assert_eq!(harness.state().model().looms_behind, ["down_left"]);
    assert_eq!(diameter(&harness, "down_left"), before);
    harness.run();
    assert!(harness.state().model().looms_behind.is_empty());
    assert!(diameter(&harness, "down_left") > before);
}
