//! The routed layer on the embedded jobs: every figure beside the quick rule's,
//! and every way checked once more by exact distances.

use geometry::{Job, Proof, Reading, Routed, Verdict};
use profiles::{DEMO, Library, Opened};

fn opened(name: &str) -> Opened {
    profiles::open_job(name, &Library::embedded()).expect("an embedded job")
}

fn alternative(id: &str) -> Job {
    let opened = opened(DEMO);
    let mut alternatives = opened.alternatives.iter();
    let found = alternatives.find(|it| it.id == id);
    found.expect("an alternative of the demo").job.clone()
}

fn routed(job: &Job) -> Routed {
    geometry::routed(job, &mut |_| true)
}

fn all_ways_are_good(job: &Job, routed: &Routed) {
    assert_eq!(
        routed.routes.len() as u32,
        job.leads.iter().map(|lead| lead.cables).sum::<u32>()
    );
    for route in &routed.routes {
        route.path.check(route.rule_radius).expect("a sound way");
        let near = route.nearest.as_ref().expect("something is near");
        assert!(near.spare >= -1e-5, "{}: {near:?}", route.name);
        let tightest = route.least_radius.unwrap_or(f64::INFINITY);
        assert!(tightest >= route.rule_radius - 1e-9, "{}", route.name);
    }
}

/// The module stands where the main plug's tail has to turn, and is wider than
/// any way round it: 191 + 13 + 6.5 against 200 - 3.
#[test]
fn the_post_van_stands_proud_by_its_module_whatever_way_the_leads_take() {
    let job = opened(DEMO).job;
    let routed = routed(&job);
    assert_eq!(routed.proud, Some(13.5));
    assert_eq!(routed.lower_bound, 13.5);
    assert_eq!(routed.proof, Proof::Exhausted);
    assert_eq!(routed.verdict, Verdict::Blocked);
    let stop = &routed.stopped_by[0];
    assert_eq!(
        (stop.piece_id.as_str(), stop.against_id.as_str()),
        ("L1", "M1")
    );
    all_ways_are_good(&job, &routed);
}

/// With the module gone the quick rule has the video lead stand 9.25 before the
/// rib; laid, it slips past the rib's lower edge, 4 mm away, much sooner.
#[test]
fn the_video_lead_passes_the_rib_sooner_than_the_quick_rule_says() {
    let job = alternative("move-m1");
    let quick = geometry::fit(&job);
    assert_eq!(quick.proud, Some(9.25));
    let routed = routed(&job);
    let proud = routed.proud.expect("it goes in");
    assert!((4.0..=6.5).contains(&proud), "{proud}");
    // 199 + 5.75 + sqrt(4 x 29) against 212: the bound in closed form.
    let bound = 199.0 + 5.75 + 116_f64.sqrt() - 212.0;
    assert!((routed.lower_bound - bound).abs() < 1e-9);
    let stop = &routed.stopped_by[0];
    assert_eq!(
        (stop.piece_id.as_str(), stop.against_id.as_str()),
        ("L5", "R1")
    );
    all_ways_are_good(&job, &routed);
}

#[test]
fn the_slim_video_lead_seats_flush_with_everything_laid() {
    let job = alternative("slim-video");
    let routed = routed(&job);
    assert_eq!(routed.proud, Some(0.0));
    assert_eq!(routed.verdict, Verdict::Flush);
    all_ways_are_good(&job, &routed);
}

#[test]
fn the_taxi_is_flush_and_the_hauler_is_stopped_by_its_beam() {
    let taxi = opened("town-taxi").job;
    let laid = routed(&taxi);
    assert_eq!((laid.proud, laid.proof), (Some(0.0), Proof::Exhausted));
    all_ways_are_good(&taxi, &laid);
    let hauler = routed(&opened("farm-hauler").job);
    assert_eq!((hauler.proud, hauler.proof), (Some(89.0), Proof::Exhausted));
    assert_eq!(hauler.stopped_by[0].piece_id, "chassis");
}

#[test]
fn an_answer_is_the_same_to_the_last_bit_every_time() {
    let job = opened("camper").job;
    assert_eq!(routed(&job), routed(&job));
}

/// Less room never lets the unit sit deeper, and a bound is never above its answer.
#[test]
fn the_worst_reading_stands_no_less_proud_than_its_bound() {
    let job = opened("camper").job;
    let fit = geometry::fit(&job);
    for reading in [Reading::Best, Reading::Nominal, Reading::Worst] {
        let laid = geometry::routed_on(&job, &fit, reading, 2.0, &mut |_| true);
        let proud = laid.proud.expect("it stands somewhere");
        assert!(proud >= laid.lower_bound - 1e-9);
    }
}
