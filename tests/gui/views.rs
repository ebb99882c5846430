//! What of the drawing is shown, how the views share it, and measuring on it.

use egui::{Key, Modifiers, Pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use glam::{DVec2, DVec3};
use seatwell::desk::Desk;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::canvas::layers::Layer;

use crate::{open, press, says};

fn vec(pos: Pos2) -> DVec2 {
    DVec2::new(pos.x.into(), pos.y.into())
}

/// Where a point of space lies on screen in a view.
fn on(harness: &Harness<'static, Desk>, view: View, place: DVec3) -> Pos2 {
    let label = format!("{}, cut at", view.title());
    let pane = harness.get_by_label_contains(&label).rect();
    let camera = harness.state().canvas().camera;
    let at = camera.to_screen(view, vec(pane.center()), view.flat(place));
    egui::pos2(at.x as f32, at.y as f32)
}

fn click(harness: &mut Harness<'static, Desk>, at: Pos2) {
    harness.hover_at(at);
    harness.run();
    harness.drag_at(at);
    harness.drop_at(at);
    harness.run();
}

#[test]
fn a_measuring_line_takes_corners_shows_its_parts_and_stays_until_removed() {
    let mut harness = open("demo");
    press(&mut harness, "C  From the side");
    press(&mut harness, "measure between points");
    // From the lower near corner of the rib to the lower near corner of the loom,
    // each a few points beside it.
    let from = on(&harness, View::FromSide, DVec3::new(0.0, 212.0, -12.0));
    let to = on(&harness, View::FromSide, DVec3::new(0.0, 175.0, -96.0));
    click(&mut harness, from + vec2(-3.0, 2.0));
    click(&mut harness, to + vec2(-3.0, 3.0));
    let lines = harness.state().canvas().measuring.lines.clone();
    assert_eq!(lines.len(), 1);
    assert!(
        (lines[0].length() - 37.0_f64.hypot(84.0)).abs() < 1e-9,
        "{lines:?}"
    );
    let label = "remove measuring line 1, 91.8: depth 37, up 84";
    assert!(says(&harness, label));
    // Esc ends measuring; the line stays.
    harness.key_press(Key::Escape);
    harness.run();
    assert!(!harness.state().canvas().measuring.on);
    assert!(says(&harness, label));
    press(&mut harness, label);
    assert!(!says(&harness, "remove measuring line"));
    assert!(!harness.state().document().is_changed());
}

#[test]
fn measuring_goes_by_keys_alone() {
    let mut harness = open("demo");
    press(&mut harness, "C  From the side");
    press(&mut harness, "measure between points");
    harness
        .get_by_label_contains("From the side, cut at")
        .focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::ArrowRight);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    for _ in 0..3 {
        harness.key_press(Key::ArrowRight);
        harness.run();
    }
    for _ in 0..4 {
        harness.key_press(Key::ArrowUp);
        harness.run();
    }
    harness.key_press(Key::Enter);
    harness.run();
    let lines = &harness.state().canvas().measuring.lines;
    assert_eq!(lines.len(), 1);
    assert!((lines[0].length() - 5.0).abs() < 1e-9, "{lines:?}");
}

#[test]
fn every_layer_can_be_left_out_and_had_again() {
    let mut harness = open("demo");
    for layer in Layer::ALL {
        let before = harness.state().canvas().layers.has(layer);
        press(&mut harness, &format!("show {}", layer.word()));
        assert_ne!(harness.state().canvas().layers.has(layer), before);
        press(&mut harness, &format!("show {}", layer.word()));
        assert_eq!(harness.state().canvas().layers.has(layer), before);
    }
    assert!(!harness.state().document().is_changed());
}

#[test]
fn what_is_left_out_cannot_be_pointed_at() {
    let mut harness = open("demo");
    let rib = on(&harness, View::FromSide, DVec3::new(0.0, 213.2, 20.0));
    harness.hover_at(rib);
    harness.run();
    assert!(harness.state().pointed().is_some());
    press(&mut harness, "show ribs");
    harness.hover_at(rib);
    harness.run();
    let named = harness.state().pointed().cloned();
    let rib = seatwell::desk::edit::Target::Obstacle("R1".to_owned());
    assert_ne!(named, Some(rib));
}

#[test]
fn borders_move_by_the_pointer_and_by_keys_and_go_back() {
    let mut harness = open("demo");
    let width = |harness: &Harness<'static, Desk>| {
        harness
            .get_by_label_contains("Looking in, cut at")
            .rect()
            .width()
    };
    let before = width(&harness);
    let label = "border between the left and the right views";
    let from = harness.get_by_label(label).rect().center() + vec2(0.0, 90.0);
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + vec2(60.0, 0.0));
    harness.run();
    harness.drop_at(from + vec2(60.0, 0.0));
    harness.run();
    assert!(
        (width(&harness) - before - 60.0).abs() < 1.5,
        "{}",
        width(&harness)
    );
    harness.get_by_label(label).focus();
    harness.run();
    harness.key_press(Key::ArrowLeft);
    harness.run();
    assert!((width(&harness) - before - 48.0).abs() < 1.5);
    harness.key_press(Key::Home);
    harness.run();
    harness.run();
    assert!((width(&harness) - before).abs() < 0.5);
}

#[test]
fn a_view_fills_the_canvas_by_a_key_and_goes_back() {
    let mut harness = open("demo");
    harness.get_by_label_contains("From above, cut at").focus();
    harness.run();
    harness.key_press(Key::F);
    harness.run();
    assert_eq!(harness.state().canvas().alone, Some(View::FromAbove));
    harness.get_by_label_contains("From above, cut at").focus();
    harness.run();
    harness.key_press(Key::F);
    harness.run();
    assert_eq!(harness.state().canvas().alone, None);
}

#[test]
fn what_finds_no_room_for_its_name_is_listed() {
    let start = acceptance::window::start("demo", seatwell::desk::Settings::default());
    let (mut harness, _) = acceptance::window::harness(start, [1000.0, 700.0], egui::Theme::Light);
    harness.run();
    let tags: Vec<_> = harness
        .query_all_by_label_contains("not named in")
        .collect();
    assert!(!tags.is_empty());
}
