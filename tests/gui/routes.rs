//! Ways of leads in the window: told, pulled through points, modules kept.

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use glam::DVec2;
use profiles::schema::{LeadFile, ModuleFile};
use seatwell::desk::Desk;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::edit::{Ask, Target, TurnedShown};
use seatwell::desk::model::lead_note;
use seatwell::figures::Figures;

use crate::{open, press, says, type_into};

/// Lays the leads, now and no more: an answer from a thread would move the
/// buttons that a test is about to press.
fn lay(harness: &mut Harness<'static, Desk>) {
    let ctx = harness.ctx.clone();
    harness.state_mut().lay_only_here();
    harness.state_mut().lay_here(&ctx);
    harness.run();
}

fn ask(harness: &mut Harness<'static, Desk>, ask: Ask) {
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, ask);
    harness.run();
}

fn lead<'a>(harness: &'a Harness<'static, Desk>, id: &str) -> &'a LeadFile {
    let leads = &harness.state().document().job().leads;
    leads
        .iter()
        .find(|lead| lead.id == id)
        .expect("it is there")
}

/// The camera switch of the demo.
fn module(harness: &Harness<'static, Desk>) -> ModuleFile {
    harness.state().document().job().modules[1].clone()
}

/// Lets a module of the demo go somewhere.
fn let_go(harness: &mut Harness<'static, Desk>, id: &str, name: &str, room: &str) {
    ask(harness, Ask::Choose(Target::Module(id.to_owned())));
    press(harness, &format!("{name}: stays where it is"));
    press(harness, &format!("{name}: {room}"));
}

/// The camper from the side, its aerial lead laid, chosen, and cut just before
/// the middle of its way: where that middle is on screen.
fn at_the_aerial_lead(harness: &mut Harness<'static, Desk>) -> egui::Pos2 {
    lay(harness);
    ask(harness, Ask::Turned(TurnedShown::Away));
    ask(harness, Ask::Choose(Target::Lead("L2".to_owned())));
    let state = harness.state();
    let laid = state.model().laid.as_ref().expect("laid");
    let target = Target::Lead("L2".to_owned());
    let way = laid
        .ways
        .iter()
        .find(|way| way.target == target)
        .expect("laid");
    let middle = way.path.point_at(0.5 * way.path.length());
    let view = View::FromSide;
    let at = view.axis_of(middle) + 0.3 * way.od;
    ask(harness, Ask::CutAt(view, at));
    let pane = harness
        .get_by_label_contains("From the side, cut at")
        .rect();
    let centre = DVec2::new(pane.center().x.into(), pane.center().y.into());
    let camera = harness.state().canvas().camera;
    let place = camera.to_screen(view, centre, view.flat(middle));
    egui::pos2(place.x as f32, place.y as f32)
}

#[test]
fn the_card_of_a_lead_tells_its_way_without_pointing() {
    let mut harness = open("camper");
    lay(&mut harness);
    ask(&mut harness, Ask::Choose(Target::Lead("L2".to_owned())));
    let note = lead_note(
        harness.state().model(),
        &Target::Lead("L2".to_owned()),
        Figures::Millimetres,
    );
    assert_eq!(note.len(), 4, "{note:?}");
    assert_eq!(note[0], "aerial lead");
    for line in &note[1..] {
        assert!(says(&harness, line), "{line}");
    }
    for word in ["Way ", "slack", "Tightest bend ", "its rule", "Nearest: "] {
        assert!(
            note.iter().any(|line| line.contains(word)),
            "{word}: {note:?}"
        );
    }
    // A lead of two cables tells of both.
    let pair = Target::Lead("L4".to_owned());
    let note = lead_note(harness.state().model(), &pair, Figures::Millimetres);
    assert!(note.contains(&"Cable 2 of 2:".to_owned()), "{note:?}");
    assert!(lead_note(harness.state().model(), &Target::Unit, Figures::Millimetres).is_empty());
}

#[test]
fn a_lead_is_pulled_through_a_point_and_set_free_again() {
    let mut harness = open("camper");
    let from = at_the_aerial_lead(&mut harness);
    let camera = harness.state().canvas().camera;
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    let to = from + egui::vec2(12.0, 9.0);
    harness.hover_at(to);
    harness.run();
    harness.drop_at(to);
    harness.run();
    assert_eq!(harness.state().canvas().camera, camera, "the paper stays");
    let points = &lead(&harness, "L2").through;
    assert_eq!(points.len(), 1);
    let pin = &harness.state().model().pins[0];
    let pane = harness
        .get_by_label_contains("From the side, cut at")
        .rect();
    let centre = DVec2::new(pane.center().x.into(), pane.center().y.into());
    let shown = camera.to_screen(View::FromSide, centre, View::FromSide.flat(pin.at));
    let off = DVec2::new(to.x.into(), to.y.into()).distance(shown);
    assert!(off < 6.0, "{off} points from where the hand let go");
    // The answer passes it, or says that it cannot.
    lay(&mut harness);
    let routed = &harness
        .state()
        .model()
        .laid
        .as_ref()
        .expect("laid")
        .of
        .routed;
    match routed.routes.iter().find(|route| route.lead == "L2") {
        Some(route) => assert!(route.through[0].off <= 0.5),
        None => assert!(routed.left_over.iter().any(|left| left.id == "L2")),
    }
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    assert!(lead(&harness, "L2").through.is_empty());
}

#[test]
fn escape_leaves_a_pull_and_an_unchosen_lead_is_not_pulled() {
    let mut harness = open("camper");
    let from = at_the_aerial_lead(&mut harness);
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + egui::vec2(20.0, 5.0));
    harness.run();
    harness.key_press(egui::Key::Escape);
    harness.run();
    harness.drop_at(from + egui::vec2(20.0, 5.0));
    harness.run();
    assert!(lead(&harness, "L2").through.is_empty());
    ask(&mut harness, Ask::Choose(Target::Unit));
    harness.drag_at(from);
    harness.run();
    harness.hover_at(from + egui::vec2(20.0, 5.0));
    harness.run();
    harness.drop_at(from + egui::vec2(20.0, 5.0));
    harness.run();
    assert!(lead(&harness, "L2").through.is_empty());
}

#[test]
fn points_are_put_typed_and_taken_out_in_the_card() {
    let mut harness = open("camper");
    lay(&mut harness);
    ask(&mut harness, Ask::Choose(Target::Lead("L2".to_owned())));
    press(&mut harness, "Pass a point");
    assert_eq!(lead(&harness, "L2").through.len(), 1);
    type_into(&mut harness, "aerial lead, point 1: up", "12.5");
    assert_eq!(lead(&harness, "L2").through[0][2].as_written(), "12.5");
    press(&mut harness, "aerial lead, point 1: let it go free");
    assert!(lead(&harness, "L2").through.is_empty());
}

#[test]
fn a_module_is_kept_where_the_search_has_put_it() {
    let mut harness = open("demo");
    let (id, name) = (module(&harness).id, module(&harness).name);
    let_go(
        &mut harness,
        "M1",
        "data module",
        "space above the glovebox",
    );
    let_go(&mut harness, &id, &name, "pocket at the lower left");
    assert!(module(&harness).pinned.is_none());
    lay(&mut harness);
    let laid = harness.state().model().laid_now().expect("laid");
    let seat = laid.of.routed.modules.iter().find(|it| it.module == id);
    let geometry::ModuleSeat::Cavity { centre, size } = seat.expect("placed").place.clone() else {
        panic!("it goes into the pocket");
    };
    press(&mut harness, &format!("{name}: keep it here"));
    let block = module(&harness).pinned.expect("it stays now");
    let faces = [&block.across, &block.depth, &block.up];
    for (axis, pair) in faces.into_iter().enumerate() {
        let [low, high] = pair
            .clone()
            .map(|face| face.measure().expect("a length").value());
        assert!((low - (centre[axis] - 0.5 * size[axis])).abs() < 1e-3);
        assert!((high - (centre[axis] + 0.5 * size[axis])).abs() < 1e-3);
    }
    let model = harness.state().model();
    let job = model.job.as_ref();
    let job = job.unwrap_or_else(|| panic!("{:?}", model.problems));
    assert!(matches!(
        job.modules[1].place,
        geometry::ModulePlace::Pinned(_)
    ));
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    assert!(module(&harness).pinned.is_none());
    // Said to stay, it has nowhere else to go.
    press(&mut harness, &format!("{name}: stays where it is"));
    assert!(module(&harness).may_go_to.is_empty());
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    // One in a space outside is kept to that space.
    ask(&mut harness, Ask::Choose(Target::Module("M1".to_owned())));
    press(
        &mut harness,
        "data module: space beside it above the glovebox",
    );
    lay(&mut harness);
    assert_eq!(
        harness.state().document().job().modules[0].may_go_to.len(),
        2
    );
    press(&mut harness, "Keep it in the space above the glovebox");
    let rooms = harness.state().document().job().modules[0]
        .may_go_to
        .clone();
    assert_eq!(rooms, ["GB1"]);
}

#[test]
fn the_circle_of_a_loom_and_its_diameter_are_shown_at_its_exit() {
    let mut harness = open("demo");
    lay(&mut harness);
    let model = harness.state().model();
    let laid = model.laid.as_ref().expect("laid");
    let ring = laid
        .rings
        .iter()
        .max_by(|a, b| a.diameter.total_cmp(&b.diameter));
    let ring = ring.expect("leads leave together").clone();
    // No thinner than the leads it holds, and in the hole.
    let hole = model
        .holes
        .iter()
        .find(|hole| hole.target == ring.exit)
        .expect("an exit");
    let middle = ring.line.iter().take(48).sum::<glam::DVec3>() / 48.0;
    let reach = ring.line.iter().map(|at| at.distance(hole.centre));
    assert!(reach.fold(0.0, f64::max) <= hole.reach() + 0.5);
    assert!((ring.line[0].distance(middle) - 0.5 * ring.diameter).abs() < 1e-6);
    ask(&mut harness, Ask::Choose(ring.exit.clone()));
    let text = format!(
        "leads as laid fill {}",
        Figures::Millimetres.bare(ring.diameter)
    );
    assert!(says(&harness, &text), "{text}");
}

#[test]
fn how_sure_it_is_stands_beside_the_figure() {
    let mut harness = open("camper");
    lay(&mut harness);
    let laid = harness.state().model().laid_now().expect("laid").clone();
    assert!(laid.of.ends().is_some());
    assert!(
        laid.second_line
            .contains("Closer measuring would not change that: "),
        "{}",
        laid.second_line
    );
    assert!(says(&harness, &laid.second_line));
}
