//! Laws the instant layer keeps on random cavities, and a brute-force second
//! opinion: the unit pushed in by small steps, every distance measured anew.

use acceptance::jobs::{add_lead, bare, block};
use geometry::{Job, Kind, Layout, Reading, Verdict, fit, lay_out, signed_distance};
use glam::DVec3;
use proptest::prelude::*;

/// Three ribs, a back and three leads, somewhere behind an opening.
fn jobs() -> impl Strategy<Value = Job> {
    let rib = (
        -120.0..120.0,
        60.0..240.0,
        -90.0..90.0,
        2.0..120.0,
        1.0..60.0,
        2.0..80.0,
        0.0..8.0,
    );
    // Plugs stay within the outline of the chassis: one that reaches past it is
    // taken as fed in first, which is no matter of depth alone.
    let lead = (
        -68.0..68.0,
        -39.0..39.0,
        8.0..40.0,
        8.0..20.0,
        15.0..35.0,
        2.0..13.0,
        1.0..6.0,
    );
    let ribs = prop::collection::vec(rib, 1..5);
    let leads = prop::collection::vec(lead, 0..4);
    (ribs, leads, 80.0..180.0, -2.0..5.0).prop_map(|(ribs, leads, depth, setback)| {
        let mut job = bare([184.0, 106.0], [178.0, 100.0, depth], setback);
        for (index, (across, at, up, width, thick, height, clear)) in ribs.into_iter().enumerate() {
            let mut rib = block(
                &format!("rib {index}"),
                Kind::Rib,
                [across - width / 2.0, at, up - height / 2.0],
                [across + width / 2.0, at + thick, up + height / 2.0],
            );
            rib.clear = clear;
            job.cavity.obstacles.push(rib);
        }
        for (index, (across, up, width, height, long, od, rule)) in leads.into_iter().enumerate() {
            let id = format!("lead {index}");
            add_lead(
                &mut job,
                &id,
                [across, up],
                [width, height, long],
                od,
                rule,
                0.0,
            );
        }
        job
    })
}

/// How far out everything stiff holds the unit, by pushing it in step by step.
/// `None` when it does not move within reach at all.
fn pushed_in(layout: &Layout, step: f64) -> f64 {
    let mut proud = 400.0;
    while proud > 0.0 && stands_free(layout, proud - step) {
        proud -= step;
    }
    proud.max(0.0)
}

fn stands_free(layout: &Layout, proud: f64) -> bool {
    layout.sliding.iter().all(|piece| {
        let solid = piece.solid.shifted(DVec3::new(0.0, -proud, 0.0));
        layout
            .fixed
            .iter()
            .all(|fixed| signed_distance(&solid, &fixed.solid) >= fixed.clear - 1e-9)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn pushing_in_by_steps_stops_where_the_answer_says(job in jobs()) {
        let answer = fit(&job);
        let layout = lay_out(&job, Reading::Nominal);
        let rigid = answer.proud_lower_bound;
        let step = 0.5;
        let pushed = pushed_in(&layout, step);
        prop_assert!((pushed - rigid).abs() <= step + 1e-6, "pushed {pushed}, answered {rigid}");
    }

    #[test]
    fn at_the_answered_proud_nothing_is_closer_than_it_may_be(job in jobs()) {
        let answer = fit(&job);
        prop_assert!(stands_free(&lay_out(&job, Reading::Nominal), answer.proud.unwrap() + 1e-6));
    }

    #[test]
    fn one_more_rib_never_lets_the_unit_further_in(job in jobs(), at in 60.0..240.0f64) {
        let before = fit(&job);
        let mut more = job;
        more.cavity.obstacles.push(block("one more", Kind::Rib, [-20.0, at, -20.0], [30.0, at + 3.0, 10.0]));
        let after = fit(&more);
        prop_assert!(after.proud.unwrap() >= before.proud.unwrap());
        prop_assert!(after.margin <= before.margin);
        prop_assert!(after.verdict >= before.verdict);
    }

    #[test]
    fn more_clear_never_lets_the_unit_further_in(job in jobs(), extra in 0.0..5.0f64) {
        let before = fit(&job).proud.unwrap();
        let mut wider = job;
        for obstacle in &mut wider.cavity.obstacles {
            obstacle.clear += extra;
        }
        prop_assert!(fit(&wider).proud.unwrap() >= before - 1e-9);
    }

    #[test]
    fn a_deeper_setback_costs_just_as_much(job in jobs(), extra in 0.1..4.0f64) {
        let before = fit(&job);
        let mut deeper = job;
        deeper.mount.setback = deeper.mount.setback.plus(extra);
        deeper.cavity.finished_face = deeper.cavity.finished_face.plus(extra);
        let after = fit(&deeper);
        let (before, after) = (before.proud.unwrap(), after.proud.unwrap());
        prop_assert!(after >= before - 1e-9 && after <= before + extra + 1e-6, "{before} {after}");
    }

    #[test]
    fn the_worst_corner_is_the_proud_that_is_given(job in jobs()) {
        let answer = fit(&job);
        let worst = answer.proud_corners.unwrap().into_iter().fold(0.0, f64::max);
        prop_assert!((worst - answer.proud.unwrap()).abs() < 1e-6);
        prop_assert!(answer.proud_corners.unwrap().iter().all(|corner| *corner >= 0.0));
    }

    #[test]
    fn flush_means_nothing_stops_it(job in jobs()) {
        let answer = fit(&job);
        prop_assert_eq!(answer.verdict == Verdict::Flush, answer.stopped_by.is_empty());
        let within = answer.proud.unwrap() <= job.proud_limit;
        prop_assert_eq!(answer.verdict == Verdict::Blocked, !within);
    }
}
