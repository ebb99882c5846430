//! The four embedded jobs by the quick rule. The scenarios are invented; what
//! is checked is that every figure follows from the file by hand.

use approx::assert_abs_diff_eq;
use geometry::{Fit, StopKind, Verdict, fit};
use profiles::{Library, Opened, open_job};

fn open(name: &str) -> Opened {
    open_job(name, &Library::embedded()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn alternative(opened: &Opened, id: &str) -> Fit {
    let found = opened
        .alternatives
        .iter()
        .find(|alternative| alternative.id == id);
    fit(&found.unwrap_or_else(|| panic!("no alternative '{id}'")).job)
}

#[test]
fn the_post_van_stands_thirteen_and_a_half_proud() {
    let fit = fit(&open("post-van").job);
    assert_eq!(fit.verdict, Verdict::Blocked);
    assert_abs_diff_eq!(fit.proud.unwrap(), 13.5, epsilon = 1e-9);
    for corner in fit.proud_corners.unwrap() {
        assert_abs_diff_eq!(corner, 13.5, epsilon = 1e-6);
    }
    let stops: Vec<(&str, &str)> = fit
        .stopped_by
        .iter()
        .map(|stop| (stop.piece_id.as_str(), stop.against_id.as_str()))
        .collect();
    assert_eq!(stops, [("L1", "M1"), ("L5", "R1"), ("L2", "M1")]);
    assert!(
        fit.stopped_by
            .iter()
            .all(|stop| stop.what == StopKind::Cable)
    );
    for (stop, short) in fit.stopped_by.iter().zip([13.5, 9.25, 3.5]) {
        assert_abs_diff_eq!(stop.short, short, epsilon = 1e-9);
    }
}

/// 2 + 165 + 32 + 19.25 = 218.25 against 212 - 3 = 209.
#[test]
fn the_post_vans_video_lead_adds_up_line_by_line() {
    let fit = fit(&open("post-van").job);
    let link = fit.chain.iter().find(|link| link.lead == "L5").unwrap();
    assert_abs_diff_eq!(link.setback, 2.0);
    assert_abs_diff_eq!(link.chassis, 165.0);
    assert_abs_diff_eq!(link.plug, 32.0);
    assert_abs_diff_eq!(link.turn, 3.0 * 5.5 + 5.5 / 2.0);
    assert_abs_diff_eq!(link.needed, 218.25, epsilon = 1e-9);
    assert_abs_diff_eq!(link.available.unwrap(), 209.0, epsilon = 1e-9);
    assert_abs_diff_eq!(link.margin.unwrap(), -9.25, epsilon = 1e-9);
}

#[test]
fn moving_the_post_vans_module_leaves_the_video_lead() {
    let opened = open("post-van");
    let moved = alternative(&opened, "move-m1");
    assert_abs_diff_eq!(moved.proud.unwrap(), 9.25, epsilon = 1e-9);
    assert_eq!(moved.stopped_by[0].against_id, "R1");
    let no_cut = alternative(&opened, "no-cut");
    assert_eq!(no_cut.verdict, Verdict::Flush);
    assert_abs_diff_eq!(no_cut.margin, 3.75, epsilon = 1e-9);
    assert_eq!(no_cut.chain[0].lead, "L3");
    assert_eq!(no_cut.chain[0].against.as_deref(), Some("D1"));
}

/// Aerial: 1 + 110 + 30 + 20.25 = 161.25 against 190 - 10 = 180.
#[test]
fn the_taxi_seats_flush_with_eighteen_and_three_quarters_to_spare() {
    let fit = fit(&open("town-taxi").job);
    assert_eq!(
        (fit.verdict, fit.sure),
        (Verdict::Flush, geometry::Sure::Yes)
    );
    assert_abs_diff_eq!(fit.margin, 18.75, epsilon = 1e-9);
    assert!(fit.stopped_by.is_empty());
}

/// Chassis alone against the beam at 84 less 6: 2 + 165 - 78 and so on.
#[test]
fn the_farm_hauler_is_blocked_by_its_beam_for_every_unit() {
    let opened = open("farm-hauler");
    let full = fit(&opened.job);
    let short = alternative(&opened, "u110");
    let shorter = alternative(&opened, "u88");
    for (fit, proud) in [(full, 89.0), (short, 34.0), (shorter, 12.0)] {
        assert_eq!(fit.verdict, Verdict::Blocked);
        assert_abs_diff_eq!(fit.proud.unwrap(), proud, epsilon = 1e-9);
        assert_eq!(fit.stopped_by[0].what, StopKind::Unit);
    }
    let beam = opened
        .job
        .cavity
        .obstacles
        .iter()
        .find(|it| it.kind == geometry::Kind::Beam);
    assert_eq!(*beam.unwrap().cut(), geometry::Cut::Never);
    for (id, proud) in [
        ("u165-right-angle", 106.0),
        ("u110-right-angle", 51.0),
        ("u88-right-angle", 29.0),
    ] {
        assert_abs_diff_eq!(
            alternative(&opened, id).proud.unwrap(),
            proud,
            epsilon = 1e-9
        );
    }
}

#[test]
fn the_camper_is_won_by_the_short_unit_with_right_angle_plugs() {
    let opened = open("camper");
    assert_abs_diff_eq!(fit(&opened.job).proud.unwrap(), 57.5, epsilon = 1e-9);
    let straight = alternative(&opened, "u110");
    assert_eq!(straight.verdict, Verdict::Proud);
    assert_abs_diff_eq!(straight.proud.unwrap(), 2.5, epsilon = 1e-9);
    let angled = alternative(&opened, "u110-right-angle");
    assert_eq!(angled.verdict, Verdict::Flush);
    assert_abs_diff_eq!(angled.margin, 10.5, epsilon = 1e-9);
    let shortest = alternative(&opened, "u75");
    assert_eq!(shortest.verdict, Verdict::Blocked);
    assert_abs_diff_eq!(shortest.margin, 32.5, epsilon = 1e-9);
    assert_eq!(shortest.stopped_by[0].what, StopKind::Module);
    assert_abs_diff_eq!(shortest.stopped_by[0].short, 20.0, epsilon = 1e-9);

    let answered = seatwell::ranking::Answered::all(&opened.job, &opened.alternatives);
    assert_eq!(
        answered[seatwell::ranking::best(&answered)].id,
        "u110-right-angle"
    );
}

/// Every answer is the same, to the last bit, each time it is asked for.
#[test]
fn the_same_job_gives_the_same_answer() {
    for name in ["post-van", "town-taxi", "farm-hauler", "camper"] {
        let job = open(name).job;
        let (once, again) = (fit(&job), fit(&job));
        assert_eq!(format!("{once:?}"), format!("{again:?}"));
    }
}

/// A tighter world never lets the unit further in: every solid grown, every
/// clear larger, never less proud.
#[test]
fn the_range_brackets_the_nominal_answer() {
    for name in ["post-van", "town-taxi", "farm-hauler", "camper"] {
        let fit = fit(&open(name).job);
        let [low, high] = fit.proud_range;
        let proud = fit.proud.unwrap();
        assert!(
            low <= proud && proud <= high,
            "{name}: {low} {proud} {high}"
        );
        assert!(fit.proud_lower_bound <= proud);
    }
}
