//! One whole task, by what stands in the window: from an empty job to a verdict
//! and a chosen notch, all of it taken back, saved and read again.

use std::sync::Arc;

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use profiles::schema::{JobFile, KindFile};
use seatwell::desk::Desk;
use seatwell::desk::edit::{Ask, Step, Target};

use crate::{open, press, says, type_into};

type Window = Harness<'static, Desk>;

fn job(harness: &Window) -> Arc<JobFile> {
    harness.state().document().job().clone()
}

/// Chooses a word in a list that drops down.
fn choose_word(harness: &mut Window, list: &str, word: &str) {
    press(harness, list);
    let found = harness.query_all_by_label(word).last();
    found.unwrap_or_else(|| panic!("{list}: {word}")).click();
    harness.run();
    harness.run();
}

/// Seven figures, then the depth behind two sockets.
fn enter_the_cavity(harness: &mut Window) {
    for (field, figure) in [
        ("opening width", "184"),
        ("opening height", "106"),
        ("depth behind", "245"),
        ("chassis depth", "165"),
        ("setback", "2"),
        ("longest plug", "34"),
        ("its cable", "5"),
    ] {
        type_into(harness, &format!("quick answer: {field}"), figure);
    }
    assert!(says(harness, "Seats flush"), "245 is enough for 225");
    press(harness, "Next: behind each socket");
    type_into(harness, "depth behind the video socket", "212");
    assert!(!says(harness, "Seats flush"), "212 is not");
}

/// What was met behind the video socket is a rib that may be cut from below.
fn describe_the_rib(harness: &mut Window) -> String {
    press(
        harness,
        "it is a rib: describe what is behind the video socket",
    );
    let rib = job(harness).cavity.obstacles.last().expect("a rib").clone();
    assert_eq!(rib.kind, KindFile::Rib);
    let of = rib.name;
    for (field, figure) in [
        ("depth, far face", "214.5"),
        ("across, left face", "-92"),
        ("across, right face", "92"),
        ("up, lower face", "-12"),
        ("up, upper face", "26"),
    ] {
        type_into(harness, &format!("{of}: {field}"), figure);
    }
    type_into(harness, "depth behind the video socket", "245");
    choose_word(harness, &format!("{of}: cut"), "allowed");
    // Half said: it is answered all the same, and said what is lacking.
    assert!(harness.state().model().fit.is_some());
    assert!(says(harness, "needs the edge and the depth"));
    press(harness, &format!("{of}: cut from edge: lower"));
    type_into(harness, &format!("{of}: deepest notch"), "12");
    assert!(!says(harness, "needs the edge and the depth"));
    rib.id
}

#[test]
fn from_nothing_to_a_chosen_notch_and_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut harness = open("town-taxi");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::N);
    harness.run();
    let ctx = harness.ctx.clone();
    let empty = job(&harness);
    enter_the_cavity(&mut harness);
    let rib = describe_the_rib(&mut harness);

    // A lead more, plugged into a socket that is free.
    let leads = job(&harness).leads.len();
    harness.state_mut().ask(&ctx, Ask::Step(Some(Step::Leads)));
    harness.run();
    press(&mut harness, "microphone socket");
    assert_eq!(job(&harness).leads.len(), leads + 1);

    // The rib is moved by an arrow key, 1 mm.
    let before = job(&harness);
    let target = Target::Obstacle(rib.clone());
    harness.state_mut().ask(&ctx, Ask::Choose(target));
    harness.run();
    let whole = harness.query_all_by_label_contains(": whole").next();
    whole.expect("a handle of the rib").focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert_ne!(job(&harness), before, "the rib was not moved");

    // The least cut is looked for and taken.
    harness.state_mut().ask(&ctx, Ask::Step(Some(Step::Trim)));
    harness.run();
    harness.state_mut().look_for_cuts_here();
    harness.run();
    let step = harness.query_all_by_label_contains("flush: ").next();
    step.expect("a cut that lets it seat").click();
    harness.run();
    let done = job(&harness);
    assert!(done.trims.iter().any(|trim| trim.rib == rib));
    harness.state_mut().lay_here(&ctx);
    harness.run();
    assert!(says(&harness, "Seats flush"));

    // Everything is taken back, and done again.
    let mut steps = 0;
    while harness.state().document().can_undo() {
        harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        harness.run();
        steps += 1;
        assert!(steps < 100, "undo does not come to an end");
    }
    assert_eq!(job(&harness), empty);
    for _ in 0..steps {
        harness.state_mut().ask(&ctx, Ask::Redo);
    }
    harness.run();
    assert_eq!(job(&harness), done);

    // Saved and read again it is the same.
    let path = folder.path().join("whole.yaml");
    harness.state_mut().ask(&ctx, Ask::SaveAs);
    harness.run();
    type_into(
        &mut harness,
        "path of the job file",
        &path.display().to_string(),
    );
    assert!(!harness.state().document().is_changed());
    harness
        .state_mut()
        .ask(&ctx, Ask::OpenPath(path.display().to_string().into()));
    harness.run();
    assert_eq!(job(&harness), done);
}
