//! The hand on the drawing.

use egui_kittest::kittest::Queryable;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::edit::{Ask, Target};

use crate::{open, press};

#[test]
fn a_click_on_the_chassis_chooses_the_unit() {
    let mut harness = open("demo");
    let pane = harness
        .get_by_label_contains("From the side, cut at")
        .rect();
    let camera = harness.state().canvas().camera;
    let middle = glam::DVec2::new(pane.center().x.into(), pane.center().y.into());
    let at = camera.to_screen(
        View::FromSide,
        middle,
        View::FromSide.flat(glam::DVec3::new(0.0, 60.0, 20.0)),
    );
    let at = egui::pos2(at.x as f32, at.y as f32);
    harness.hover_at(at);
    harness.run();
    assert_eq!(harness.state().pointed(), Some(&Target::Unit));
    harness.drag_at(at);
    harness.drop_at(at);
    harness.run();
    assert_eq!(harness.state().chosen(), Some(&Target::Unit));
}

#[test]
fn dragging_the_paper_moves_all_views_and_show_all_brings_them_back() {
    let mut harness = open("demo");
    let before = harness.state().canvas().camera;
    let pane = harness.get_by_label_contains("From above, cut at").rect();
    let from = pane.left_bottom() + egui::vec2(40.0, -60.0);
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + egui::vec2(30.0, 0.0));
    harness.run();
    harness.drop_at(from + egui::vec2(30.0, 0.0));
    harness.run();
    let moved = harness.state().canvas().camera;
    assert!(moved.focus.y < before.focus.y);
    assert_eq!(moved.scale, before.scale);
    press(&mut harness, "Show all");
    assert_eq!(harness.state().canvas().camera, before);
}

#[test]
fn a_cutting_plane_follows_the_arrow_keys() {
    let mut harness = open("demo");
    let before = harness.state().canvas().cuts[View::LookingIn as usize];
    harness
        .get_by_label_contains("cutting plane A in From the side")
        .focus();
    harness.run();
    harness.key_press(egui::Key::ArrowRight);
    harness.run();
    let after = harness.state().canvas().cuts[View::LookingIn as usize];
    assert!((after - before - 1.0).abs() < 1e-9, "{before} then {after}");
}

#[test]
fn a_cutting_plane_can_be_dragged() {
    let mut harness = open("demo");
    let line = harness
        .get_by_label_contains("cutting plane A in From above")
        .rect();
    let scale = harness.state().canvas().camera.scale;
    let before = harness.state().canvas().cuts[View::LookingIn as usize];
    let from = line.center() + egui::vec2(0.0, 60.0);
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + egui::vec2(20.0, 0.0));
    harness.run();
    harness.drop_at(from + egui::vec2(20.0, 0.0));
    harness.run();
    let after = harness.state().canvas().cuts[View::LookingIn as usize];
    assert!(
        (after - before - 20.0 / scale).abs() < 1.5 / scale,
        "{before} then {after}"
    );
}

#[test]
fn one_view_can_be_had_alone() {
    let mut harness = open("demo");
    let small = harness.state().canvas().camera.scale;
    press(&mut harness, "C  From the side");
    assert_eq!(harness.state().canvas().alone, Some(View::FromSide));
    assert!(harness.state().canvas().camera.scale > small);
}

#[test]
fn the_wheel_keeps_what_is_under_the_pointer() {
    let mut harness = open("demo");
    let pane = harness.get_by_label_contains("Looking in, cut at").rect();
    let pointer = pane.center() + egui::vec2(30.0, 20.0);
    let vec = |pos: egui::Pos2| glam::DVec2::new(pos.x.into(), pos.y.into());
    let flat = |harness: &egui_kittest::Harness<'static, seatwell::desk::Desk>| {
        let camera = harness.state().canvas().camera;
        camera.to_flat(View::LookingIn, vec(pane.center()), vec(pointer))
    };
    let (before, scale) = (flat(&harness), harness.state().canvas().camera.scale);
    harness.hover_at(pointer);
    harness.run();
    harness.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: egui::vec2(0.0, 120.0),
        modifiers: egui::Modifiers::NONE,
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
    });
    for _ in 0..30 {
        harness.step();
    }
    assert!(harness.state().canvas().camera.scale > scale * 1.2);
    assert!(flat(&harness).distance(before) < 1e-6);
}

#[test]
fn no_name_lies_under_a_remark_of_the_walk() {
    let (mut harness, _) = acceptance::window::harness(
        acceptance::window::start("demo", seatwell::desk::Settings::default()),
        [1920.0, 1080.0],
        egui::Theme::Light,
    );
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Walk(true));
    harness.run();
    let things = &harness.state().model().things;
    let is_name = |text: &str| things.iter().any(|thing| thing.name == text);
    let texts: Vec<(egui::Rect, String)> = (harness.output().shapes.iter())
        .filter_map(|clipped| match &clipped.shape {
            egui::Shape::Text(text) => {
                Some((text.visual_bounding_rect(), text.galley.text().to_owned()))
            }
            _ => None,
        })
        .collect();
    let remarks = [
        "Point at a thing",
        "Take hold of",
        "What is in the way is",
        "The unit slides",
    ];
    for begins in remarks {
        let found = texts.iter().find(|(_, text)| text.starts_with(begins));
        let (plate, _) = found.unwrap_or_else(|| panic!("{begins}"));
        for (name, text) in texts.iter().filter(|(_, text)| is_name(text)) {
            assert!(!plate.intersects(*name), "{begins}: {text}");
        }
    }
}
