//! Everything by keyboard: all actions in one list, found by a word.

use egui_kittest::kittest::Queryable;
use seatwell::desk::SCALES;
use seatwell::desk::actions::all;
use seatwell::desk::edit::{Ask, Edit};
use seatwell::figures::Figures;

use crate::{open, press, says};

#[test]
fn an_action_is_found_by_a_word_and_done_by_enter() {
    let mut harness = open("demo");
    let before = harness.state().document().job().cavity.obstacles.len();
    harness.key_press(egui::Key::F1);
    harness.run();
    harness.run();
    harness.get_by_label("find an action").type_text("rib");
    harness.run();
    assert!(says(&harness, "Add a rib"));
    assert!(!says(&harness, "Add a duct"));
    harness.key_press(egui::Key::Enter);
    harness.run();
    let obstacles = &harness.state().document().job().cavity.obstacles;
    assert_eq!(obstacles.len(), before + 1);
    assert!(
        harness.query_by_label("find an action").is_none(),
        "the list is shut"
    );
}

#[test]
fn the_list_holds_every_action_with_its_keys() {
    let mut harness = open("demo");
    press(&mut harness, "All actions");
    for action in all() {
        let row = harness.query_all_by_label(action.words).next();
        assert!(row.is_some(), "{}", action.words);
    }
    press(&mut harness, "Change between millimetres and inches");
    assert!(says(&harness, "17/32 in"));
}

#[test]
fn a_word_for_nothing_says_so() {
    let mut harness = open("demo");
    press(&mut harness, "All actions");
    harness.get_by_label("find an action").type_text("qqq");
    harness.run();
    assert!(says(&harness, "Nothing the window does is called that"));
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(harness.query_by_label("find an action").is_none());
}

#[test]
fn keys_change_units_scale_and_steps() {
    let mut harness = open("demo");
    let command = egui::Modifiers::COMMAND;
    assert!(says(&harness, "13.5 mm proud"));
    harness.key_press_modifiers(command, egui::Key::U);
    harness.run();
    assert!(says(&harness, "17/32 in proud"));
    harness.key_press_modifiers(command, egui::Key::U);
    harness.run();
    assert!(says(&harness, "13.5 mm proud"));
    for scale in &SCALES[1..] {
        harness.key_press_modifiers(command, egui::Key::Plus);
        harness.run();
        assert_eq!(harness.ctx.zoom_factor(), *scale as f32 / 100.0);
    }
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Scale(100));
    harness.run();
    harness.key_press_modifiers(command, egui::Key::Num4);
    harness.run();
    assert!(says(&harness, "video lead"));
    harness.key_press_modifiers(command, egui::Key::H);
    harness.run();
    assert!(says(&harness, "Nothing was done yet"));
}

/// Presses keys so quickly that one frame brings them all.
fn press_at_once(
    harness: &mut egui_kittest::Harness<'static, seatwell::desk::Desk>,
    modifiers: egui::Modifiers,
    keys: &[egui::Key],
) {
    for &key in keys {
        for pressed in [true, false] {
            harness.input_mut().events.push(egui::Event::Key {
                key,
                physical_key: None,
                pressed,
                repeat: false,
                modifiers,
            });
        }
    }
    harness.run();
}

#[test]
fn keys_of_one_frame_are_carried_out_as_they_were_pressed() {
    let mut harness = open("demo");
    let command = egui::Modifiers::COMMAND;
    let alone = egui::Modifiers::NONE;
    press_at_once(&mut harness, alone, &[egui::Key::F8, egui::Key::F5]);
    assert!(harness.state().canvas().turned.is_alone());
    press_at_once(&mut harness, alone, &[egui::Key::F7, egui::Key::F8]);
    assert!(!harness.state().canvas().turned.is_alone());
    // Each of them meets what the one before has left.
    press_at_once(&mut harness, command, &[egui::Key::U, egui::Key::U]);
    assert!(says(&harness, "13.5 mm proud"));
    let ctx = harness.ctx.clone();
    for name in ["one", "two"] {
        let edit = Edit::Name(name.to_owned());
        harness.state_mut().ask(&ctx, Ask::Edit(edit, None));
    }
    harness.run();
    let keys = [egui::Key::Z, egui::Key::Z, egui::Key::Y];
    press_at_once(&mut harness, command, &keys);
    assert_eq!(harness.state().document().job().name, "one");
}

#[test]
fn units_change_anywhere_and_leave_the_job_alone() {
    let mut harness = open("camper");
    let before = harness.state().document().job().clone();
    for figures in [Figures::Inches, Figures::Millimetres] {
        let ctx = harness.ctx.clone();
        harness.state_mut().ask(&ctx, Ask::Show(figures));
        harness.run();
    }
    assert_eq!(*harness.state().document().job(), before);
    assert!(!harness.state().document().can_undo());
}

#[test]
fn what_opens_below_the_bar_is_large_enough_for_a_gloved_finger() {
    let mut harness = open("demo");
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Large(true));
    harness.run();
    press(&mut harness, "All actions");
    for words in [
        "find an action",
        "Open a job from a file",
        "Undo",
        "What was done",
        "Look",
    ] {
        let height = harness.get_by_label(words).rect().height();
        assert!(height >= 44.0, "{words}: {height}");
    }
}
