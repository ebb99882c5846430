//! What is cut: the least cut looked for and taken, notches by hand, taken back.

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use seatwell::desk::Desk;
use seatwell::desk::edit::{Ask, Edit, ListEdit, Step};

use crate::{open, press, says, type_into};

/// The demo with its data module moved above the glovebox, at the step of the trimming.
fn at_the_bench() -> Harness<'static, Desk> {
    let mut harness = open("demo");
    let ctx = harness.ctx.clone();
    let modules = &harness.state().document().job().modules;
    let at = modules.iter().position(|it| it.id == "M1");
    let at = at.expect("the demo has its data module");
    let mut module = modules[at].clone();
    module.pinned = None;
    module.may_go_to = vec!["GB1".to_owned()];
    let away = Edit::Module(ListEdit::set(at, module));
    harness.state_mut().ask(&ctx, Ask::Edit(away, None));
    harness.state_mut().ask(&ctx, Ask::Step(Some(Step::Trim)));
    harness.run();
    harness
}

#[test]
fn a_step_of_proud_against_cut_is_taken_and_taken_back() {
    let mut harness = at_the_bench();
    assert!(says(&harness, "rear cross rib on the bench, 0 notches"));
    let before = harness.state().document().job().clone();
    harness.state_mut().look_for_cuts_here();
    harness.run();
    let step = harness.query_all_by_label_contains("flush: ").next();
    step.expect("there is a cut that lets it seat").click();
    harness.run();
    let trims = &harness.state().document().job().trims;
    assert_eq!(trims.len(), 1);
    assert_eq!(trims[0].rib, "R1");
    assert!(says(&harness, "rear cross rib on the bench, 1 notches"));
    harness.state_mut().count_cuts_here();
    harness.run();
    assert!(says(&harness, "of its stiffness"));
    assert!(says(&harness, "proves no strength"));
    assert!(says(&harness, "Before any cut"));
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, Ask::Undo);
    harness.run();
    assert_eq!(*harness.state().document().job(), before);
}

#[test]
fn a_notch_is_drawn_by_hand_within_what_may_be_cut() {
    let mut harness = at_the_bench();
    press(&mut harness, "add a notch to rear cross rib");
    let depth = |harness: &Harness<'static, Desk>| {
        let job = harness.state().model().job.as_ref();
        job.expect("it is answered").trims[0].depth
    };
    let first = depth(&harness);
    let bottom = "bottom of notch 1 in rear cross rib";
    harness.get_by_label(bottom).focus();
    harness.run();
    harness.key_press(egui::Key::ArrowUp);
    harness.run();
    assert_eq!(depth(&harness), first + 1.0);
    // A drag far beyond goes as deep as the rib allows, on whole steps.
    let at = harness.get_by_label(bottom).rect().center();
    harness.drag_at(at);
    harness.run();
    harness.hover_at(at - egui::vec2(0.0, 200.0));
    harness.run();
    harness.drop_at(at - egui::vec2(0.0, 200.0));
    harness.run();
    assert_eq!(depth(&harness), 12.0);
    // What is typed is not held back, but said to be not allowed.
    type_into(&mut harness, "notch 1 in rear cross rib: depth", "14");
    assert_eq!(depth(&harness), 14.0);
    assert!(says(&harness, "Not allowed"));
    press(&mut harness, "take out notch 1 in rear cross rib");
    assert!(harness.state().document().job().trims.is_empty());
}

/// On the main screen stiffness stands in steps of 5 %; exact figures with
/// their errors, the hand check and the stress at corners in the details.
#[test]
fn exact_figures_stand_in_the_details() {
    let mut harness = at_the_bench();
    press(&mut harness, "add a notch to rear cross rib");
    harness.state_mut().count_cuts_here();
    harness.run();
    let lines = |harness: &Harness<'static, Desk>, part: &str| -> Vec<String> {
        let all = harness.query_all_by_label_contains(part);
        // A label says its words as its value, a button as its label.
        all.map(|it| it.value().or(it.accesskit_node().label()))
            .map(Option::unwrap_or_default)
            .collect()
    };
    let main = lines(&harness, "of its stiffness");
    assert!(!main.is_empty());
    for line in &main {
        let shares = line.split(" %").filter_map(|it| it.rsplit(' ').next());
        for share in shares.filter_map(|it| it.parse::<u32>().ok()) {
            assert_eq!(share % 5, 0, "{line}");
        }
    }
    for hidden in [" ± ", "hand check", "corners of notch"] {
        let shown = lines(&harness, hidden);
        let of_the_rib = shown
            .iter()
            .filter(|it| it.contains("square to it") || hidden != " ± ");
        assert_eq!(of_the_rib.count(), 0, "{hidden}: {shown:?}");
    }
    press(&mut harness, "Details of rear cross rib");
    harness.run();
    let exact = lines(&harness, "pushed at its middle: in its plane");
    assert!(exact.len() == 1 && exact[0].contains(" ± "), "{exact:?}");
    assert!(says(&harness, "hand check by the strip rule"));
    assert!(says(&harness, "corners of notch 1, R 4 mm: stress"));
}

/// A cut that needs a strip says so; taken, its notch has the strip, and what
/// hangs on the rib is told.
#[test]
fn a_strip_that_is_needed_is_said_and_taken() {
    let mut harness = at_the_bench();
    let ctx = harness.ctx.clone();
    let mut cutting = harness.state().document().job().cutting.clone();
    cutting.keep_stiffness_percent = Some(96.0);
    let more = Edit::Cutting(Box::new(cutting));
    harness.state_mut().ask(&ctx, Ask::Edit(more, None));
    harness.run();
    harness.state_mut().look_for_cuts_here();
    harness.run();
    let step = harness
        .query_all_by_label_contains("needs a doubler strip")
        .next();
    let step = step.expect("the step says what it needs");
    assert!(
        step.accesskit_node()
            .label()
            .unwrap_or_default()
            .starts_with("flush: ")
    );
    step.click();
    harness.run();
    let trims = &harness.state().document().job().trims;
    assert!(trims.len() == 1 && trims[0].doubler.is_some(), "{trims:?}");
    harness.state_mut().count_cuts_here();
    harness.run();
    assert!(says(&harness, "needs a doubler strip, 3 mm thick"));
    assert!(says(&harness, "without a strip it keeps about 90 %"));
    // Without it the rib is too weak, and the strip is proposed again.
    press(
        &mut harness,
        "notch 1 in rear cross rib: a doubler strip over it",
    );
    assert_eq!(harness.state().document().job().trims[0].doubler, None);
    harness.state_mut().count_cuts_here();
    harness.run();
    assert!(says(&harness, "too weak"));
    assert!(says(&harness, "over notch 1"));
}

#[test]
fn what_is_never_cut_is_not_on_the_bench() {
    let harness = at_the_bench();
    let ids: Vec<&str> = (harness.state().model().ribs.iter())
        .map(|rib| rib.id.as_str())
        .collect();
    assert_eq!(ids, ["R1", "R2"]);
}
