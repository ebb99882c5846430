//! The turned view: opened, turned, pointed at, by the hand and by the keyboard.

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::Desk;
use seatwell::desk::edit::{Ask, Target, TurnedShown};

use crate::{open, press, says};

fn turned(job: &str) -> Harness<'static, Desk> {
    let mut harness = open(job);
    press(&mut harness, "turned view alone");
    harness
}

fn laid(job: &str) -> Harness<'static, Desk> {
    let mut harness = turned(job);
    let ctx = harness.ctx.clone();
    harness.state_mut().lay_here(&ctx);
    harness.run();
    harness
}

fn pane(harness: &Harness<'static, Desk>) -> egui::Rect {
    harness.get_by_label_contains("Turned view, from").rect()
}

#[test]
fn it_opens_alone_and_beside_the_sections_and_goes_again() {
    let mut harness = open("camper");
    press(&mut harness, "turned view beside the others");
    assert!(harness.query_by_label_contains("Turned view,").is_none());
    press(&mut harness, "turned view beside the others");
    assert!(says(
        &harness,
        "Turned view, from 37° to the right, 29° above"
    ));
    assert!(says(&harness, "From the side, cut at"));
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::D);
    harness.run();
    assert!(says(&harness, "Turned view,") && !says(&harness, "From the side, cut at"));
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::D);
    harness.run();
    assert!(says(&harness, "Turned view,") && says(&harness, "From above, cut at"));
}

#[test]
fn turning_changes_what_is_drawn_and_nothing_else_does() {
    let mut harness = turned("camper");
    let before = harness.state().canvas().turned.pictures();
    let (eye, edges) = {
        let turned = &harness.state().canvas().turned;
        (turned.eye, turned.edges())
    };
    harness.step();
    assert_eq!(harness.state().canvas().turned.pictures(), before);
    let from = pane(&harness).left_bottom() + egui::vec2(30.0, -30.0);
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + egui::vec2(60.0, -20.0));
    harness.run();
    harness.drop_at(from + egui::vec2(60.0, -20.0));
    harness.run();
    let turned = &harness.state().canvas().turned;
    assert!(turned.eye.turn < eye.turn && turned.eye.tilt < eye.tilt);
    assert_eq!(turned.eye.scale, eye.scale);
    assert!(turned.pictures() > before && turned.edges() != edges);
}

#[test]
fn arrows_turn_plus_goes_nearer_and_home_shows_all() {
    let mut harness = turned("camper");
    let eye = harness.state().canvas().turned.eye;
    harness.get_by_label_contains("Turned view,").focus();
    harness.run();
    for key in [egui::Key::ArrowLeft, egui::Key::ArrowUp, egui::Key::Plus] {
        harness.key_press(key);
        harness.run();
    }
    let moved = harness.state().canvas().turned.eye;
    assert!(moved.turn < eye.turn && moved.tilt > eye.tilt);
    assert!((moved.scale / eye.scale - 1.25).abs() < 1e-9);
    for key in [egui::Key::ArrowRight, egui::Key::ArrowDown, egui::Key::Home] {
        harness.key_press(key);
        harness.run();
    }
    let back = harness.state().canvas().turned.eye;
    assert!((back.scale - eye.scale).abs() < 1e-6 * eye.scale);
    assert!(back.focus.distance(eye.focus) < 1e-6);
}

#[test]
fn the_wheel_keeps_what_is_under_the_pointer() {
    let mut harness = turned("camper");
    let rect = pane(&harness);
    let away = egui::vec2(50.0, -30.0);
    let eye = harness.state().canvas().turned.eye;
    let cells = glam::DVec2::new(away.x.into(), away.y.into());
    let point = eye.focus + eye.step(cells);
    harness.hover_at(rect.center() + away);
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
    let near = harness.state().canvas().turned.eye;
    assert!(near.scale > eye.scale * 1.2);
    assert!(near.see(point).truncate().distance(cells) < 1e-6);
}

/// Where the middle of a lead shows in the turned view.
fn middle_of(harness: &Harness<'static, Desk>, lead: &str) -> egui::Pos2 {
    let state = harness.state();
    let laid = state.model().laid.as_ref().expect("leads are laid");
    let target = Target::Lead(lead.to_owned());
    let way = laid.ways.iter().find(|way| way.target == target);
    let path = &way.expect("it is laid").path;
    let seen = state
        .canvas()
        .turned
        .eye
        .see(path.point_at(0.6 * path.length()));
    pane(harness).center() + egui::vec2(seen.x as f32, seen.y as f32)
}

#[test]
fn pointing_at_a_lead_tells_its_way_and_lights_it_everywhere() {
    let mut harness = laid("camper");
    let laid = harness.state().model().laid.as_ref().expect("laid");
    let routes = laid.of.routed.routes.clone();
    // From some side every lead shows; here one that nothing hides is enough.
    let mut found = None;
    for route in routes {
        let at = middle_of(&harness, &route.lead);
        harness.hover_at(at);
        harness.run();
        if harness.state().pointed() == Some(&Target::Lead(route.lead.clone())) {
            found = Some(route);
            break;
        }
    }
    let route = found.expect("some lead shows at its middle");
    assert!(says(&harness, &format!("Pointed at: {}", route.name)));
    let figures = seatwell::figures::Figures::Millimetres;
    let near = route.nearest.expect("something is near it");
    let name = near.name.split(',').next().expect("it has a name");
    for text in [
        format!("laid: way {}", figures.bare(route.length)),
        format!("bends no tighter than {}", figures.bare(route.rule_radius)),
        format!("least gap to the {name} {}", figures.bare(near.gap)),
    ] {
        assert!(says(&harness, &text), "{text}");
    }
}

#[test]
fn a_unit_made_solid_hides_what_is_behind_it() {
    let mut harness = turned("camper");
    let seen = harness.state().canvas().turned.edges();
    press(&mut harness, "see through the unit");
    assert!(!harness.state().canvas().turned.through_unit);
    assert!(harness.state().canvas().turned.edges() < seen);
}

#[test]
fn a_lead_is_pointed_at_in_a_section_too() {
    let mut harness = open("camper");
    let ctx = harness.ctx.clone();
    harness.state_mut().lay_here(&ctx);
    harness
        .state_mut()
        .ask(&ctx, Ask::Turned(TurnedShown::Away));
    let laid = harness.state().model().laid.clone().expect("laid");
    let way = &laid.ways[0];
    let view = seatwell::desk::canvas::camera::View::FromSide;
    let middle = way.path.point_at(0.7 * way.path.length());
    // Cut just before it, so that nothing lies between.
    let at = view.axis_of(middle) + 0.3 * way.od;
    harness.state_mut().ask(&ctx, Ask::CutAt(view, at));
    harness.run();
    let pane = harness
        .get_by_label_contains("From the side, cut at")
        .rect();
    let camera = harness.state().canvas().camera;
    let centre = glam::DVec2::new(pane.center().x.into(), pane.center().y.into());
    let place = camera.to_screen(view, centre, view.flat(middle));
    harness.hover_at(egui::pos2(place.x as f32, place.y as f32));
    harness.run();
    assert_eq!(harness.state().pointed(), Some(&way.target));
}
