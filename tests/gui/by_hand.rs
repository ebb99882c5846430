//! Things moved by hand on the drawing: dragged, nudged, snapped, taken back.

use egui::{Key, Modifiers, Pos2, Rect, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use glam::DVec2;
use profiles::Length;
use seatwell::desk::Desk;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::document::Gesture;
use seatwell::desk::edit::{Ask, Edit, ListEdit, Target};

use crate::{open, press, says};

fn choose(harness: &mut Harness<'static, Desk>, target: Target) {
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Choose(target));
    harness.run();
    harness.run();
}

fn rib() -> Target {
    Target::Obstacle("R1".to_owned())
}

fn near(harness: &Harness<'static, Desk>) -> String {
    let job = harness.state().document().job();
    let block = job.cavity.obstacles[0].block.as_ref().expect("a box");
    block.depth[0].as_written().to_owned()
}

fn scale(harness: &Harness<'static, Desk>) -> f32 {
    harness.state().canvas().camera.scale as f32
}

/// Drags in small steps, as a hand does.
fn drag(harness: &mut Harness<'static, Desk>, from: Pos2, by: Vec2) {
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    for share in [0.3, 0.7, 1.0] {
        harness.hover_at(from + by * share);
        harness.run();
    }
    harness.drop_at(from + by);
    harness.run();
    harness.remove_cursor();
    harness.run();
}

fn handle(harness: &Harness<'static, Desk>, label: &str) -> Pos2 {
    harness.get_by_label_contains(label).rect().center()
}

#[test]
fn a_rib_is_dragged_by_its_face_in_one_step_and_its_field_follows() {
    let mut harness = open("demo");
    choose(&mut harness, rib());
    let first = harness.state().document().job().clone();
    let from = handle(
        &harness,
        "rear cross rib: near face, 212 ± 2, in From the side",
    );
    // Far from every edge, without coming to any.
    let by = vec2(-25.0 * scale(&harness), 0.0);
    drag_freely(&mut harness, from, by);
    let text = near(&harness);
    let moved: f64 = text
        .trim_end_matches(" ± 2")
        .parse()
        .expect("mm, with its ±");
    assert!((moved - 187.0).abs() <= 1.0, "{text}");
    let field = harness.get_by_label("rear cross rib: depth, near face");
    assert_eq!(field.value(), Some(text));
    let job = harness.state().document().job();
    let block = job.cavity.obstacles[0].block.as_ref().expect("a box");
    assert_eq!(
        block.depth[1].as_written(),
        "214.5 ± 2",
        "the far face stays"
    );
    press(&mut harness, "Undo");
    assert_eq!(*harness.state().document().job(), first);
    assert!(!harness.state().document().is_changed());
}

/// Drags with Alt held, so that nothing is snapped to.
fn drag_freely(harness: &mut Harness<'static, Desk>, from: Pos2, by: Vec2) {
    harness.event(egui::Event::ModifiersChanged(Modifiers::ALT));
    drag(harness, from, by);
    harness.event(egui::Event::ModifiersChanged(Modifiers::NONE));
    harness.run();
}

#[test]
fn a_face_comes_to_the_face_of_another_thing() {
    let mut harness = open("demo");
    choose(&mut harness, rib());
    // The data module's near face lies at 200.
    let from = handle(
        &harness,
        "rear cross rib: near face, 212 ± 2, in From above",
    );
    let by = vec2(-11.4 * scale(&harness), 0.0);
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    for share in [0.5, 1.0] {
        harness.hover_at(from + by * share);
        harness.run();
    }
    assert_eq!(near(&harness), "200 ± 2");
    harness.drop_at(from + by);
    harness.run();
    assert_eq!(near(&harness), "200 ± 2");
}

#[test]
fn escape_lets_a_drag_be_as_if_it_had_never_been() {
    let mut harness = open("demo");
    choose(&mut harness, rib());
    let from = handle(
        &harness,
        "rear cross rib: near face, 212 ± 2, in From the side",
    );
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + vec2(-40.0, 0.0));
    harness.run();
    assert!(harness.state().document().is_changed());
    harness.key_press(Key::Escape);
    harness.run();
    harness.drop_at(from + vec2(-40.0, 0.0));
    harness.run();
    assert!(!harness.state().document().is_changed());
    assert_eq!(near(&harness), "212 ± 2");
}

#[test]
fn arrows_nudge_a_face_by_one_and_by_a_tenth() {
    let mut harness = open("demo");
    choose(&mut harness, rib());
    let label = "rear cross rib: near face, 212 ± 2, in From the side";
    harness.get_by_label_contains(label).focus();
    harness.run();
    harness.key_press(Key::ArrowLeft);
    harness.run();
    harness.key_press(Key::ArrowLeft);
    harness.run();
    assert_eq!(near(&harness), "210 ± 2");
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    harness.run();
    assert_eq!(near(&harness), "210.1 ± 2");
    // Up and down are not its axis.
    harness.key_press(Key::ArrowUp);
    harness.run();
    assert_eq!(near(&harness), "210.1 ± 2");
    press(&mut harness, "Undo");
    assert!(!harness.state().document().is_changed());
}

#[test]
fn a_thing_is_moved_as_a_whole_by_dragging_what_is_chosen_and_by_arrows_on_the_view() {
    let mut harness = open("demo");
    choose(&mut harness, Target::Obstacle("D1".to_owned()));
    let at = |harness: &Harness<'static, Desk>| {
        let job = harness.state().document().job();
        let duct = job.cavity.obstacles.iter().find(|it| it.id == "D1");
        let block = duct.and_then(|it| it.block.clone()).expect("a box");
        [block.depth, block.across].map(|pair| pair.map(|it| it.as_written().to_owned()))
    };
    harness.get_by_label_contains("From above, cut at").focus();
    harness.run();
    harness.key_press(Key::ArrowLeft);
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    assert_eq!(
        at(&harness),
        [["226 ± 2", "259 ± 2"], ["59", "105"]].map(|pair| pair.map(str::to_owned))
    );
    let from = handle(
        &harness,
        "face-vent duct: whole, 59 by 226 ± 2, in From above",
    );
    drag(&mut harness, from, vec2(0.0, -30.0));
    assert_ne!(at(&harness)[1], ["59".to_owned(), "105".to_owned()]);
    for _ in 0..2 {
        press(&mut harness, "Undo");
    }
    assert!(!harness.state().document().is_changed());
}

#[test]
fn what_is_never_cut_may_be_moved_and_stays_never_cut() {
    let mut harness = open("demo");
    choose(&mut harness, Target::Obstacle("A1".to_owned()));
    let label = "knee-airbag bracket: near face";
    harness
        .query_all_by_label_contains(label)
        .next()
        .expect("it has a handle")
        .focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    let job = harness.state().document().job();
    let bracket = job.cavity.obstacles.iter().find(|it| it.id == "A1");
    let block = bracket.and_then(|it| it.block.as_ref()).expect("a box");
    assert_eq!(block.depth[0].as_written(), "91 ± 2");
    assert!(says(&harness, "is never cut"));
}

#[test]
fn walls_depths_sockets_exits_and_modules_move_too() {
    let mut harness = open("demo");
    let nudge = |harness: &mut Harness<'static, Desk>, target: Target, label: &str, key: Key| {
        choose(harness, target);
        harness
            .query_all_by_label_contains(label)
            .next()
            .unwrap_or_else(|| panic!("no handle {label}"))
            .focus();
        harness.run();
        harness.key_press(key);
        harness.run();
    };
    nudge(
        &mut harness,
        Target::Walls,
        "station 5: left wall, 98",
        Key::ArrowUp,
    );
    nudge(
        &mut harness,
        Target::Walls,
        "station 3: depth, 80",
        Key::ArrowRight,
    );
    nudge(
        &mut harness,
        Target::Walls,
        "station 6: floor, 96",
        Key::ArrowDown,
    );
    let lead = Target::Lead("L5".to_owned());
    nudge(&mut harness, lead, "socket ", Key::ArrowUp);
    let module = Target::Module("M1".to_owned());
    nudge(&mut harness, module, "data module: whole", Key::ArrowRight);
    let exit = Target::Exit("down".to_owned());
    nudge(
        &mut harness,
        exit,
        "hole in the floor: centre, 30 by -98, in Looking in",
        Key::ArrowRight,
    );
    let job = harness.state().document().job().clone();
    let station = |at: usize| &job.cavity.stations[at];
    assert_eq!(
        station(4).left.as_ref().map(|it| it.as_written()),
        Some("99 ± 2")
    );
    assert_eq!(station(2).at.as_written(), "81");
    assert_eq!(
        station(5).down.as_ref().map(|it| it.as_written()),
        Some("97 ± 2")
    );
    let profiles::schema::PartUse::Changed { with, .. } = &job.unit else {
        panic!("the unit is one with changes now");
    };
    assert!(with.contains_key("sockets.hdmi.at.1"), "{with:?}");
    let pinned = job.modules[0].pinned.as_ref().expect("pinned");
    let moved: Vec<&str> = pinned.across.iter().map(|it| it.as_written()).collect();
    assert_eq!(moved, ["-97", "-2"]);
    assert_eq!(job.cavity.exits[2].centre[0].as_written(), "31");
    while harness.state().document().can_undo() {
        let ctx = harness.ctx.clone();
        harness.state_mut().ask(&ctx, Ask::Undo);
        harness.run();
    }
    assert!(!harness.state().document().is_changed());
}

#[test]
fn a_station_goes_no_further_than_the_next() {
    let mut harness = open("demo");
    choose(&mut harness, Target::Walls);
    let label = "station 3: depth, 80, in From the side";
    let from = handle(&harness, label);
    let by = vec2(70.0 * scale(&harness), 0.0);
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    for step in 1..=7 {
        harness.hover_at(from + by * (step as f32 / 7.0));
        harness.run();
    }
    let at = harness.state().document().job().cavity.stations[2]
        .at
        .clone();
    let depth = at.measure().expect("known").value();
    assert!(depth > 80.0 && depth < 120.0, "{depth}");
    assert!(
        harness.state().model().fit.is_some(),
        "the job stays answered"
    );
    harness.drop_at(from + by);
    harness.run();
}

#[test]
fn dragging_empty_paper_moves_nothing_of_the_job() {
    let mut harness = open("demo");
    choose(&mut harness, rib());
    let pane = harness.get_by_label_contains("From above, cut at").rect();
    drag(
        &mut harness,
        pane.left_bottom() + vec2(40.0, -60.0),
        vec2(30.0, -10.0),
    );
    assert!(!harness.state().document().is_changed());
}

/// While a hand moves something its alternatives keep their answers; once it
/// rests they are answered as if it had been typed.
#[test]
fn alternatives_are_answered_once_the_hand_rests() {
    let mut harness = open("demo");
    let ctx = harness.ctx.clone();
    let told = |harness: &Harness<'static, Desk>| -> Vec<String> {
        let model = harness.state().model();
        model
            .alternatives
            .iter()
            .map(|it| it.says.clone())
            .collect()
    };
    let before = told(&harness);
    let mut cavity = harness.state().document().job().cavity.obstacles[0].clone();
    let block = cavity.block.as_mut().expect("a box");
    block.depth[0] = Length::mm(205.0);
    let edit = Edit::Obstacle(ListEdit::set(0, cavity));
    let gesture = Some(Gesture(7));
    harness
        .state_mut()
        .ask(&ctx, Ask::Edit(edit.clone(), gesture));
    assert!(harness.state().model().alternatives_behind);
    assert_eq!(told(&harness), before);
    harness.run();
    harness.run();
    assert!(!harness.state().model().alternatives_behind);
    let rested = told(&harness);
    assert_ne!(rested, before, "a rib 7 mm nearer changes nothing");
    let mut typed = open("demo");
    let ctx = typed.ctx.clone();
    typed.state_mut().ask(&ctx, Ask::Edit(edit, None));
    assert!(!typed.state().model().alternatives_behind);
    assert_eq!(told(&typed), rested);
}

/// The plate with the changing figures: a sheet with a lit rim, its words in it.
fn plate(harness: &Harness<'static, Desk>) -> Rect {
    let lit = seatwell::desk::theme::Paper::LIGHT.lit;
    let shapes = harness.output().shapes.iter();
    let mut plates = shapes.filter_map(|clipped| match &clipped.shape {
        egui::Shape::Rect(rect) if rect.stroke.color == lit && rect.rect.width() > 40.0 => {
            Some(rect.rect)
        }
        _ => None,
    });
    plates.next().expect("a plate")
}

/// Where the rib lies on screen in a view.
fn rib_on_screen(harness: &Harness<'static, Desk>, view: View) -> Rect {
    let state = harness.state();
    let title = format!("{}, cut at", view.title());
    let centre = harness.get_by_label_contains(&title).rect().center();
    let centre = DVec2::new(centre.x.into(), centre.y.into());
    let things = state.model().things.iter();
    let corners = things.filter(|thing| thing.target == rib()).map(|thing| {
        let bounds = thing.solid.bounds();
        [bounds.min, bounds.max].map(|corner| {
            let at = state
                .canvas()
                .camera
                .to_screen(view, centre, view.flat(corner));
            Pos2::new(at.x as f32, at.y as f32)
        })
    });
    let rooms = corners.map(|[a, b]| Rect::from_two_pos(a, b));
    rooms.reduce(Rect::union).expect("it is drawn")
}

#[test]
fn changing_figures_stand_near_the_hand_and_off_what_it_drags() {
    for view in [View::FromSide, View::FromAbove] {
        let mut harness = open("demo");
        choose(&mut harness, rib());
        let label = format!("near face, 212 ± 2, in {}", view.title());
        let from = handle(&harness, &label);
        harness.hover_at(from);
        harness.run();
        harness.drag_at(from);
        harness.run();
        // To where it comes level with the data module, and beyond.
        for by in [-3.0, -11.4, -25.0] {
            let at = from + vec2(by * scale(&harness), 3.0);
            harness.hover_at(at);
            harness.run();
            harness.run();
            let plate = plate(&harness);
            let (off, rib) = (plate.distance_to_pos(at), rib_on_screen(&harness, view));
            assert!((8.0..=130.0).contains(&off), "{off}");
            assert!(!plate.intersects(rib), "{plate} {rib}");
        }
    }
}
