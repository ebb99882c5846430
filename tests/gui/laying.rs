//! Leads laid in the background: the window goes on, an older search is dropped.

use std::time::Duration;

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::Desk;
use seatwell::desk::edit::{Ask, Edit};
use seatwell::desk::laying::{Doing, Stage};

use crate::{open, press, says, type_into};

/// Frames at most until an answer has come, with a breath between them.
const FRAMES: usize = 30_000;
const BREATH: Duration = Duration::from_millis(5);

fn lay(harness: &mut Harness<'static, Desk>, on: bool) {
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Lay(on));
}

/// Frames drawn until something is so.
fn until(harness: &mut Harness<'static, Desk>, so: impl Fn(&Desk) -> bool) -> usize {
    for frame in 0..FRAMES {
        if so(harness.state()) {
            return frame;
        }
        harness.step();
        std::thread::sleep(BREATH);
    }
    panic!("not within {FRAMES} frames: {:?}", harness.state().doing());
}

#[test]
fn leads_are_laid_beside_the_frames_and_the_figure_is_shown() {
    let mut harness = open("camper");
    assert_eq!(harness.state().doing(), Doing::Off);
    assert!(says(&harness, "the quick rule alone"));
    lay(&mut harness, true);
    assert!(harness.state().model().laid_now().is_none());
    until(&mut harness, |desk| desk.doing() == Doing::Laid);
    harness.run();
    let laid = harness
        .state()
        .model()
        .laid_now()
        .expect("it is of this state");
    let job = harness.state().model().job.as_ref().expect("answered");
    assert_eq!(laid.of.routed, geometry::routed(job, &mut |_| true));
    let (headline, beside) = (laid.headline.clone(), laid.beside.clone());
    assert!(
        says(&harness, &headline) && says(&harness, &beside),
        "{headline} {beside}"
    );
    assert!(beside.starts_with("Quick rule:"));
    // Nothing is drawn again once it is there.
    let before = harness.ctx.cumulative_pass_nr();
    harness.run();
    assert!(harness.ctx.cumulative_pass_nr() <= before + 1);
}

#[test]
fn an_older_answer_stays_in_grey_until_the_new_one_comes() {
    let mut harness = open("camper");
    let ctx = harness.ctx.clone();
    harness.state_mut().lay_here(&ctx);
    harness.run();
    let first = harness
        .state()
        .model()
        .laid_now()
        .expect("laid")
        .headline
        .clone();
    type_into(&mut harness, "opening: width", "190");
    let laid = harness
        .state()
        .model()
        .laid
        .as_ref()
        .expect("it stays readable");
    let doing = harness.state().doing();
    let at_one = laid.of.stage == Stage::AtOneProud;
    assert!(laid.stale || at_one || matches!(doing, Doing::Laid | Doing::Ranging));
    if laid.stale {
        let text = format!("Of an earlier state: {first}");
        assert!(says(&harness, &text), "{text}: {}", laid.headline);
    }
    until(&mut harness, |desk| desk.doing() == Doing::Laid);
    harness.step();
    assert!(harness.state().model().laid_now().is_some());
    // Taken back, the job is laid anew; with the leads off, nothing of them is left.
    lay(&mut harness, false);
    harness.run();
    assert!(harness.state().model().laid.is_none());
    assert!(!says(&harness, "Of an earlier state"));
}

#[test]
fn the_window_goes_on_while_leads_are_laid_and_a_hand_can_stop_it() {
    let mut harness = open("demo");
    make_it_hard(&mut harness);
    lay(&mut harness, true);
    until(&mut harness, |desk| {
        matches!(desk.doing(), Doing::Laying(Some(_)))
    });
    harness.step();
    assert!(says(&harness, "laying leads at"));
    // Frames, and an edit in one of them, while the search runs.
    let begun = harness.state().laying().begun();
    for _ in 0..20 {
        harness.step();
    }
    assert!(matches!(harness.state().doing(), Doing::Laying(_)));
    harness.get_by_label("Stop").click();
    harness.run();
    assert_eq!(harness.state().doing(), Doing::Stopped);
    assert!(says(&harness, "stopped") && harness.state().model().laid.is_none());
    for _ in 0..20 {
        harness.step();
    }
    assert_eq!(harness.state().laying().begun(), begun);
    press_once(&mut harness, "Go on");
    until(&mut harness, |desk| {
        matches!(desk.doing(), Doing::Laying(_))
    });
    assert_eq!(harness.state().laying().begun(), begun + 1);
}

#[test]
fn a_change_drops_the_search_for_what_was_before() {
    let mut harness = open("demo");
    lay(&mut harness, true);
    until(&mut harness, |desk| {
        matches!(desk.doing(), Doing::Laying(_))
    });
    let begun = harness.state().laying().begun();
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::BeginEmpty);
    harness.step();
    assert!(!matches!(harness.state().doing(), Doing::Laying(Some(_))));
    until(&mut harness, |desk| desk.doing() == Doing::Laid);
    assert_eq!(harness.state().laying().begun(), begun + 1);
    let laid = harness.state().model().laid_now().expect("laid");
    assert_eq!(Some(&laid.of.job), harness.state().model().job.as_ref());
    assert!(laid.ways.is_empty(), "an empty job has no leads");
}

/// Many places for both modules and less room for every lead: the search takes its time.
fn make_it_hard(harness: &mut Harness<'static, Desk>) {
    let mut job = profiles::schema::JobFile::clone(harness.state().document().job());
    for module in &mut job.modules {
        module.pinned = None;
        module.may_go_to.clear();
    }
    let whole = Edit::Everything(Box::new(job));
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Edit(whole, None));
    harness.run();
}

fn press_once(harness: &mut Harness<'static, Desk>, label: &str) {
    harness.get_by_label(label).click();
    harness.step();
    harness.step();
}

#[test]
fn a_unit_that_does_not_go_in_is_never_said_to_stand_by_its_leads() {
    let mut harness = open("camper");
    let ctx = harness.ctx.clone();
    type_into(&mut harness, "opening: width", "100");
    harness.state_mut().lay_here(&ctx);
    harness.run();
    assert!(harness.state().model().laid_now().is_some());
    assert!(says(&harness, "Does not go through the opening"));
    assert!(says(&harness, "Its leads alone:"));
}

#[test]
fn the_toggle_is_a_plain_control() {
    let mut harness = open("camper");
    press(&mut harness, "Lay the leads");
    until(&mut harness, |desk| desk.doing() == Doing::Laid);
    press(&mut harness, "Lay the leads");
    assert_eq!(harness.state().doing(), Doing::Off);
}
