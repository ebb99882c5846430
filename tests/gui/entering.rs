//! Entering a job: the quick answer, what is behind each socket, one by one, and lists.

use acceptance::window;
use egui::{Event, Key, Modifiers, Theme};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use profiles::behind::behind;
use profiles::schema::KindFile;
use seatwell::desk::edit::{Ask, Step, Target};
use seatwell::desk::{Desk, Settings};

use crate::{open, press, says, type_into};

type Window = Harness<'static, Desk>;

/// An empty job, asked for with the keyboard.
fn new_job() -> Window {
    let mut harness = open("town-taxi");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::N);
    harness.run();
    harness
}

/// Types what the hand types where the focus is, and presses Enter.
fn enter(harness: &mut Window, text: &str) {
    for letter in text.chars() {
        harness.event(Event::Text(letter.to_string()));
        harness.run();
    }
    harness.key_press(Key::Enter);
    harness.run();
}

fn undo_all(harness: &mut Window) {
    let ctx = harness.ctx.clone();
    while harness.state().document().can_undo() {
        harness.state_mut().ask(&ctx, Ask::Undo);
    }
    harness.run();
}

fn focused(harness: &Window) -> Option<String> {
    let root = harness.root();
    let mut all: Vec<_> = root.children_recursive().collect();
    all.retain(|node| node.is_focused());
    all.first()?.accesskit_node().label()
}

/// Seven figures and the keyboard alone: from nothing to a verdict.
#[test]
fn a_new_job_comes_to_a_verdict_by_keyboard_alone() {
    let mut harness = new_job();
    let empty = harness.state().document().job().clone();
    assert_eq!(
        focused(&harness).as_deref(),
        Some("quick answer: opening width")
    );
    assert!(says(&harness, "Not known yet"));
    assert!(!says(&harness, "Seats flush"));
    let figures = ["182", "104", "230", "165", "0", "32", "5.5"];
    let mut keys = 1;
    for figure in figures {
        enter(&mut harness, figure);
        keys += figure.len() + 1;
    }
    assert!(keys <= 40, "{keys} keys");
    let fit = harness.state().model().fit.clone().expect("answered");
    assert_eq!(fit.verdict, geometry::Verdict::Flush);
    assert!(says(&harness, "Seats flush"));
    // The last field is the eighth; it stands at what is usual.
    assert_eq!(
        focused(&harness).as_deref(),
        Some("quick answer: bends at so many diameters")
    );
    // By hand: 230 less 3 clear, less 165 chassis, 32 plug, 4.5 diameters of turn.
    let by_hand = 230.0 - 3.0 - 165.0 - 32.0 - 4.5 * 5.5;
    assert!((fit.margin - by_hand).abs() < 1e-9, "{}", fit.margin);
    undo_all(&mut harness);
    assert_eq!(*harness.state().document().job(), empty);
}

#[test]
fn shift_and_enter_go_back() {
    let mut harness = new_job();
    enter(&mut harness, "182");
    assert_eq!(
        focused(&harness).as_deref(),
        Some("quick answer: opening height")
    );
    harness.key_press_modifiers(Modifiers::SHIFT, Key::Enter);
    harness.run();
    assert_eq!(
        focused(&harness).as_deref(),
        Some("quick answer: opening width")
    );
    // What stood there is selected: typing takes its place.
    enter(&mut harness, "183");
    // In one slow frame, with Shift up again before it is looked at.
    for pressed in [true, false] {
        harness.event(Event::Key {
            key: Key::Enter,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers: Modifiers::SHIFT,
        });
    }
    harness.event_modifiers(Event::Text(String::new()), Modifiers::NONE);
    harness.run();
    assert_eq!(
        focused(&harness).as_deref(),
        Some("quick answer: opening width")
    );
    let width = &harness.state().document().job().cavity.opening.width;
    assert_eq!(width.as_written(), "183");
}

#[test]
fn what_cannot_be_read_keeps_the_hand_in_its_field() {
    let mut harness = new_job();
    enter(&mut harness, "18x");
    assert!(says(&harness, "allowed: a length such as 182"));
    assert_eq!(
        focused(&harness).as_deref(),
        Some("quick answer: opening width")
    );
}

#[test]
fn every_way_of_writing_a_length_is_taken() {
    let mut harness = new_job();
    let width = |harness: &Window| {
        let model = harness.state().model();
        let job = model.job.as_ref().expect("answered");
        job.cavity.opening.width
    };
    for (text, mm, plus_minus) in [
        ("7 3/16", 182.5625, 0.0),
        ("7-3/16", 182.5625, 0.0),
        ("7.1 in", 180.34, 0.0),
        ("182,5", 182.5, 0.0),
        ("18.2cm", 182.0, 0.0),
        ("188 - 6", 182.0, 0.0),
        ("182 ± 0.5", 182.0, 0.5),
        ("182 +- 1", 182.0, 1.0),
    ] {
        type_into(&mut harness, "quick answer: opening width", text);
        let width = width(&harness);
        assert!((width.value() - mm).abs() < 1e-9, "{text}");
        assert!((width.plus_minus() - plus_minus).abs() < 1e-9, "{text}");
    }
    type_into(&mut harness, "quick answer: opening width", "?");
    assert!(!width(&harness).is_measured());
}

/// After the quick answer: a row for each socket, with its own depth, what was
/// met there and how one knows.
#[test]
fn each_socket_has_a_row_of_its_own() {
    let mut harness = new_job();
    for figure in ["182", "104", "222", "165", "0", "32", "5.5"] {
        enter(&mut harness, figure);
    }
    let margin = |harness: &Window| harness.state().model().fit.as_ref().unwrap().margin;
    let before = margin(&harness);
    enter(&mut harness, "");
    assert_eq!(
        focused(&harness).as_deref(),
        Some("Next: behind each socket")
    );
    enter(&mut harness, "");
    let first = focused(&harness).expect("the hand is in a row");
    assert!(first.starts_with("depth behind the"), "{first}");
    let drawing = |harness: &Window| {
        let mut panes = harness.query_all_by_label_contains("Looking in, cut at");
        panes.next().expect("it is drawn").rect().left()
    };
    let left = drawing(&harness);
    harness.run_steps(12);
    assert_eq!(drawing(&harness), left, "the card keeps its width");
    type_into(&mut harness, &first, "9 1/");
    assert!(says(&harness, "allowed: a length such as 182"));
    harness.run_steps(12);
    assert_eq!(drawing(&harness), left, "also while something is amiss");
    type_into(&mut harness, &first, "222");
    type_into(&mut harness, "depth behind the video socket", "240");
    let job = harness.state().document().job().clone();
    let found = behind(&job, "hdmi").expect("it became an obstacle");
    assert_eq!(found.depth.as_written(), "240 ± 2.5");
    assert_eq!(job.cavity.obstacles.len(), 12);
    // Its neighbours still have the quick depth, and the plug's shadow may
    // reach theirs: more room, but never more than 18 mm more.
    let after = margin(&harness);
    assert!(after >= before && after <= before + 18.0 + 1e-9);
    for (box_name, word) in [
        ("how measured behind the video socket", "seen, ± 1"),
        ("met behind the video socket", "moves"),
    ] {
        press(&mut harness, box_name);
        harness.get_by_label(word).click();
        harness.run();
    }
    let job = harness.state().document().job().clone();
    let found = behind(&job, "hdmi").expect("it is still there");
    assert_eq!(found.depth.as_written(), "240 ± 1");
    assert_eq!(found.met, profiles::schema::MetFile::Moves);
    undo_all(&mut harness);
    assert!(harness.state().document().job().cavity.obstacles.is_empty());
}

/// One by one, with Enter alone, to the end; then everything back.
#[test]
fn the_guided_entry_goes_through_with_enter() {
    let mut harness = new_job();
    for figure in ["182", "104", "230", "165", "0", "32", "5.5"] {
        enter(&mut harness, figure);
    }
    let before = harness.state().document().job().clone();
    press(&mut harness, "Ask me one by one");
    harness.run();
    let mut asked = Vec::new();
    for _ in 0..60 {
        if says(&harness, "That was all.") {
            break;
        }
        let label = focused(&harness).expect("the hand is in the field");
        let question = label.strip_prefix("asked: ").expect("a question");
        asked.push(question.to_owned());
        assert!(says(&harness, &format!("{} of 28", asked.len())));
        let answer = match question {
            "How deep is it behind the video socket?" => "9 1/16",
            "At depth 120: how far is the left wall?" => "95",
            "At depth 120: how far is the right wall?" => "96",
            "At depth 120: how far is the roof?" => "60",
            "At depth 120: how far is the floor?" => "61",
            _ => "",
        };
        enter(&mut harness, answer);
    }
    assert_eq!(asked.len(), 28, "{asked:#?}");
    assert_eq!(asked[0], "How wide is the opening?");
    let job = harness.state().document().job().clone();
    assert_eq!(
        behind(&job, "hdmi").unwrap().depth.as_written(),
        "9 1/16 ± 2.5"
    );
    assert_eq!(job.cavity.stations.len(), 1);
    assert!(harness.state().model().fit.is_some());
    press(&mut harness, "Back to the job card");
    while *harness.state().document().job() != before {
        let ctx = harness.ctx.clone();
        assert!(harness.state().document().can_undo());
        harness.state_mut().ask(&ctx, Ask::Undo);
    }
}

#[test]
fn the_guided_entry_lights_up_what_it_asks_for_and_takes_no_for_an_answer() {
    let mut harness = open("demo");
    press(&mut harness, "Ask me one by one");
    assert_eq!(harness.state().pointed(), Some(&Target::Opening));
    let width = harness.state().asked().expect("lit up").ends;
    assert!((width[0].distance(width[1]) - 184.0).abs() < 1e-9);
    press(&mut harness, "Could not measure");
    let job = harness.state().document().job().clone();
    assert_eq!(job.cavity.opening.width.as_written(), "?");
    press(&mut harness, "One back");
    type_into(&mut harness, "asked: How wide is the opening?", "184");
    press(&mut harness, "Skip");
    press(&mut harness, "Skip this part");
    press(&mut harness, "Skip this part");
    press(&mut harness, "Skip this part");
    assert!(says(&harness, "where is its near face?"));
    let id = harness.state().document().job().cavity.obstacles[0]
        .id
        .clone();
    assert_eq!(harness.state().pointed(), Some(&Target::Obstacle(id)));
    press(&mut harness, "Leave it here");
    assert!(harness.state().asked().is_none());
    assert_eq!(
        harness
            .state()
            .document()
            .job()
            .cavity
            .opening
            .width
            .as_written(),
        "184"
    );
}

/// Add, duplicate, move and remove in every list; all of it can be taken back.
#[test]
fn every_list_can_be_added_to_copied_ordered_and_cut() {
    let mut harness = open("demo");
    let first = harness.state().document().job().clone();
    let mut steps = 0;
    for (step, add, name) in [
        (Step::Cavity, "beam", "beam 1"),
        (Step::Cavity, "Add an exit", "exit1"),
        (Step::Cavity, "Add a space", "space1"),
        (Step::Cavity, "Add a pocket", "pocket1"),
        (Step::Cavity, "Add a factory plug", "factory plug1"),
        (Step::Modules, "Add a module", "module1"),
    ] {
        let ctx = harness.ctx.clone();
        harness.state_mut().ask(&ctx, Ask::Step(Some(step)));
        harness.run();
        for button in [add.to_owned(), "Duplicate".to_owned()] {
            press(&mut harness, &button);
            steps += 1;
        }
        let copy = harness
            .state()
            .chosen()
            .cloned()
            .expect("the copy is chosen");
        let up = harness
            .query_all_by_label_contains("Up in the list")
            .next()
            .expect(name);
        up.scroll_to_me();
        harness.run();
        harness
            .query_all_by_label_contains("Up in the list")
            .next()
            .expect(name)
            .click();
        harness.run();
        steps += 1;
        assert_eq!(harness.state().chosen(), Some(&copy), "{name}");
        press(&mut harness, "Remove");
        steps += 1;
    }
    let mut undone = 0;
    let ctx = harness.ctx.clone();
    while harness.state().document().can_undo() {
        harness.state_mut().ask(&ctx, Ask::Undo);
        undone += 1;
    }
    assert_eq!(undone, steps);
    assert_eq!(*harness.state().document().job(), first);
}

#[test]
fn leads_stations_and_tabs_are_lists_too() {
    let mut harness = open("demo");
    let job = harness.state().document().job().clone();
    let (leads, stations) = (job.leads.len(), job.cavity.stations.len());
    let ctx = harness.ctx.clone();
    let target = Target::Lead(job.leads[0].id.clone());
    harness.state_mut().ask(&ctx, Ask::Choose(target));
    harness.run();
    press(&mut harness, "Duplicate");
    let now = harness.state().document().job().clone();
    assert_eq!(now.leads.len(), leads + 1);
    assert_ne!(now.leads[1].socket, now.leads[0].socket);
    let problems = &harness.state().model().problems;
    assert!(harness.state().model().job.is_some(), "{problems:?}");
    harness.state_mut().ask(&ctx, Ask::Step(Some(Step::Cavity)));
    harness.run();
    press(&mut harness, "duplicate station 1");
    let now = harness.state().document().job().clone();
    assert_eq!(now.cavity.stations.len(), stations + 1);
    assert!(harness.state().model().job.is_some(), "depths still rise");
    press(&mut harness, "remove station 2");
    undo_all(&mut harness);
    assert_eq!(harness.state().document().job().leads.len(), leads);
}

#[test]
fn tabs_of_a_library_mount_become_tabs_of_the_job() {
    use profiles::schema::PartUse;
    let mut harness = open("demo");
    let ctx = harness.ctx.clone();
    let mount = PartUse::Named("kit_pocket_with_tabs".to_owned());
    let edit = seatwell::desk::edit::Edit::Mount(mount.clone());
    harness.state_mut().ask(&ctx, Ask::Edit(edit, None));
    harness.state_mut().ask(&ctx, Ask::Step(Some(Step::Mount)));
    harness.run();
    let tabs = |harness: &Window| match &harness.state().document().job().mount {
        PartUse::Inline(mount) => mount.kit_pocket.as_ref().map(|kit| kit.tabs.len()),
        _ => None,
    };
    assert_eq!(tabs(&harness), None);
    press(&mut harness, "Add a tab");
    assert_eq!(tabs(&harness), Some(3));
    press(&mut harness, "Duplicate");
    assert_eq!(tabs(&harness), Some(4));
    press(&mut harness, "Remove");
    assert_eq!(tabs(&harness), Some(3));
    for _ in 0..3 {
        harness.state_mut().ask(&ctx, Ask::Undo);
    }
    assert_eq!(harness.state().document().job().mount, mount);
}

/// What was never measured is no verdict, with leads laid or without.
#[test]
fn nothing_measured_is_not_known_however_the_leads_lie() {
    let mut harness = new_job();
    let ctx = harness.ctx.clone();
    harness.state_mut().lay_here(&ctx);
    harness.run();
    assert!(says(&harness, "Not known yet: no lead is named"));
    assert!(says(&harness, "verdict: no answer yet"));
    assert!(!says(&harness, "Quick rule"));
    let steps = &harness.state().model().steps;
    assert!(!steps[Step::Verdict as usize].is_done());
}

/// What a hand met behind a socket becomes a rib with a form of its own, chosen
/// at once; chosen on the drawing, what is behind a socket leads to its row.
#[test]
fn what_was_met_behind_a_socket_is_described_as_a_rib() {
    let mut harness = new_job();
    for (field, figure) in [
        ("opening width", "184"),
        ("opening height", "106"),
        ("depth behind", "240"),
        ("chassis depth", "165"),
        ("setback", "2"),
        ("longest plug", "34"),
        ("its cable", "5"),
    ] {
        type_into(&mut harness, &format!("quick answer: {field}"), figure);
    }
    press(&mut harness, "Next: behind each socket");
    type_into(&mut harness, "depth behind the video socket", "212");
    let met = Target::Obstacle("behind hdmi".to_owned());
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Choose(met));
    harness.run();
    harness.run();
    let describe = "it is a rib: describe what is behind the video socket";
    let row = harness.get_by_label(describe).rect();
    assert!(
        row.top() > 150.0 && row.bottom() < 700.0,
        "out of sight: {row}"
    );
    press(&mut harness, describe);
    harness.run();
    let job = harness.state().document().job();
    let rib = job.cavity.obstacles.last().expect("a rib").clone();
    assert_eq!(rib.kind, KindFile::Rib);
    let depth = &rib.block.as_ref().expect("a box").depth;
    assert_eq!(depth[0].as_written(), "212 ± 2.5");
    assert!(says(&harness, &format!("{}: kind", rib.name)));
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Undo);
    harness.run();
    let job = harness.state().document().job();
    assert!(
        job.cavity
            .obstacles
            .iter()
            .all(|it| it.kind != KindFile::Rib)
    );
}

/// Every button, field and line of the card is at least 44 points high when large.
#[test]
fn large_targets_are_large_on_every_card() {
    let settings = Settings {
        large: true,
        ..Settings::default()
    };
    let (mut harness, _) = window::harness(
        window::start("demo", settings),
        [1280.0, 800.0],
        Theme::Light,
    );
    let ctx = harness.ctx.clone();
    let mut asks: Vec<Ask> = Step::ALL.map(|step| Ask::Step(Some(step))).into();
    asks.extend([Ask::Quick(true), Ask::Guide(true), Ask::Guide(false)]);
    asks.push(Ask::Choose(Target::Obstacle("R1".to_owned())));
    asks.push(Ask::Choose(Target::Lead("L5".to_owned())));
    let mut low = Vec::new();
    for ask in asks {
        harness.state_mut().ask(&ctx, ask.clone());
        harness.run();
        for node in harness.root().children_recursive() {
            use egui::accesskit::Role;
            let role = node.accesskit_node().role();
            let hit = matches!(
                role,
                Role::Button
                    | Role::CheckBox
                    | Role::TextInput
                    | Role::ComboBox
                    | Role::SpinButton
                    | Role::Link
            );
            let label = node.accesskit_node().label().unwrap_or_default();
            // A node without a place is not drawn.
            let Some(place) = node.accesskit_node().raw_bounds() else {
                continue;
            };
            let height = place.height();
            // Words beside the drawing of a loom: each has its line in the card.
            if label.starts_with("strand of") {
                continue;
            }
            if hit && height < 43.5 {
                low.push(format!("{label}: {height} ({role:?})"));
            }
        }
    }
    low.sort();
    low.dedup();
    assert!(low.is_empty(), "{low:#?}");
}
