//! The window keeps its places: nothing jumps, nothing stands alone on a row.

use acceptance::window;
use egui::{Color32, Pos2, Rect, Shape, Theme, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use seatwell::desk::canvas::camera::View;
use seatwell::desk::edit::{Ask, DrawingAsk, Target};
use seatwell::desk::theme::Paper;
use seatwell::desk::{Desk, Settings};

use crate::{open, press};

fn ask(harness: &mut Harness<'static, Desk>, ask: Ask) {
    let ctx = harness.ctx.clone();
    harness.state_mut().ask(&ctx, ask);
    harness.run();
}

fn rect(harness: &Harness<'static, Desk>, label: &str) -> Rect {
    harness.get_by_label_contains(label).rect()
}

/// Draws a measuring line in the view from the side.
fn measure(harness: &mut Harness<'static, Desk>) {
    press(harness, "measure between points");
    let middle = rect(harness, "From the side, cut at").center();
    for at in [middle, middle + vec2(40.0, 20.0)] {
        harness.hover_at(at);
        harness.run();
        harness.drag_at(at);
        harness.drop_at(at);
        harness.run();
    }
}

#[test]
fn the_scale_bar_stays_on_the_row_of_its_switches() {
    let mut harness = open("demo");
    let row = rect(&harness, "all three views");
    let holds = |harness: &Harness<'static, Desk>| {
        let bar = rect(harness, "scale bar,");
        let above = harness.get_by_label_contains("Show all").rect();
        assert!(
            (bar.center().y - above.center().y).abs() < 3.0,
            "{bar} {above}"
        );
        assert!(bar.right() < 1280.0 - 6.0 && bar.width() > 20.0, "{bar}");
        for name in [
            "show names",
            "show the key of hatches",
            "measure between points",
        ] {
            let switch = rect(harness, name);
            assert!(!switch.intersects(bar), "{name}: {switch} {bar}");
        }
        if let Some(lines) = harness.query_by_label("Remove lines") {
            assert!(!lines.rect().intersects(bar));
            assert!((lines.rect().center().y - above.center().y).abs() < 3.0);
        }
    };
    holds(&harness);
    ask(&mut harness, Ask::Drawing(DrawingAsk::Key(true)));
    holds(&harness);
    measure(&mut harness);
    holds(&harness);
    for view in View::ALL {
        ask(&mut harness, Ask::Alone(Some(view)));
        holds(&harness);
    }
    assert_eq!(rect(&harness, "all three views"), row);
}

#[test]
fn the_card_is_wider_while_targets_are_large_and_then_as_before() {
    let mut harness = open("demo");
    ask(&mut harness, Ask::Quick(true));
    let card = |harness: &Harness<'static, Desk>| rect(harness, "Show all").left();
    let usual = card(&harness);
    ask(&mut harness, Ask::Large(true));
    assert!(card(&harness) > usual + 80.0, "{}", card(&harness));
    let hint = rect(&harness, "bottom to top, at the dash face");
    let field = rect(&harness, "quick answer: opening height");
    assert!(hint.height() <= field.height(), "{hint} {field}");
    // What wraps in the strip above the drawing does not stand alone.
    let [key, measure] =
        ["show the key of hatches", "measure between points"].map(|name| rect(&harness, name));
    assert!((key.center().y - measure.center().y).abs() < 1.0);
    ask(&mut harness, Ask::Large(false));
    assert_eq!(card(&harness), usual);
}

#[test]
fn the_depth_chain_shows_whole_rows_only() {
    for (scale, least) in [(1.0, 5), (1.5, 3)] {
        let start = window::start("demo", Settings::default());
        let (harness, _) = window::scaled(start, [1280.0, 800.0], scale, Theme::Light);
        let words = harness.output().shapes.iter().filter_map(|clipped| {
            let Shape::Text(text) = &clipped.shape else {
                return None;
            };
            let is_row = text.galley.text().contains(" in depth: ");
            is_row.then_some((clipped.clip_rect, text.galley.text()))
        });
        let rows: Vec<(Rect, &str)> = words.filter(|(row, _)| row.is_positive()).collect();
        assert!(rows.len() >= least, "{rows:?}");
        for (row, words) in rows {
            assert!(row.height() >= 20.0, "{words}: {row}");
        }
    }
}

/// The plates of a tone that begin at a corner.
fn plates(harness: &Harness<'static, Desk>, corner: Pos2, fill: Color32) -> Vec<Rect> {
    let shapes = harness.output().shapes.iter();
    shapes
        .filter_map(|clipped| match &clipped.shape {
            Shape::Rect(plate) if plate.fill == fill => Some(plate.rect),
            _ => None,
        })
        .filter(|plate| (plate.min - corner).length() < 8.0)
        .collect()
}

#[test]
fn the_plate_of_the_turned_view_is_as_wide_as_its_words() {
    let mut harness = open("demo");
    press(&mut harness, "turned view alone");
    let pane = rect(&harness, "Turned view, from");
    let last = rect(&harness, "see through the obstacles");
    let fill = Paper::LIGHT.sheet.gamma_multiply(0.9);
    let plates = plates(&harness, pane.min, fill);
    assert_eq!(plates.len(), 1);
    let beyond = plates[0].right() - last.right();
    assert!((0.0..8.0).contains(&beyond), "{plates:?} {last}");
}

/// Tops of the drawing while the rib is dragged to the sockets, before it is let go.
fn tops(harness: &mut Harness<'static, Desk>) -> Vec<f32> {
    let label = "rear cross rib: near face, 212 ± 2, in From the side";
    let from = rect(harness, label).center();
    let top = |harness: &Harness<'static, Desk>| rect(harness, "scale bar,").top();
    let mut tops = vec![top(harness)];
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for step in 1..=10 {
        harness.hover_at(from - vec2(3.0 * step as f32, 0.0));
        harness.step();
        harness.step();
        tops.push(top(harness));
    }
    tops
}

#[test]
fn the_drawing_stays_where_it_is_while_a_thing_is_dragged() {
    for size in [[1280.0, 800.0], [1920.0, 1080.0]] {
        let start = window::start("demo", Settings::default());
        let (mut harness, _) = window::harness(start, size, Theme::Light);
        ask(&mut harness, Ask::Choose(Target::Obstacle("R1".to_owned())));
        let words = harness.state().model().second_line.len();
        let tops = tops(&mut harness);
        assert!(harness.state().model().second_line.len() > words);
        assert!(
            tops.iter().all(|top| (top - tops[0]).abs() < 0.5),
            "{size:?}: {tops:?}"
        );
    }
}

#[test]
fn a_low_window_tells_what_else_may_be_done_by_a_button_each() {
    let start = window::start("demo", Settings::default());
    let (mut harness, _) = window::scaled(start, [1280.0, 800.0], 1.5, Theme::Light);
    assert!(rect(&harness, "scale bar,").top() < 160.0);
    press(&mut harness, "3 ways instead");
    assert!(
        harness
            .query_by_label("Verdict: does not seat like this")
            .is_some()
    );
}
