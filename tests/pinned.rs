//! Leads that are to pass points, on the demo: they do, within half a
//! millimetre, and where they cannot it is said so.

use acceptance::referee::judge;
use geometry::{Job, Measure, Routed};
use glam::DVec3;
use profiles::{DEMO, Library};
use seatwell::answer::{CheckAnswer, PlainJob};
use seatwell::ranking::Answered;

/// The demo as one of its alternatives has it.
fn alternative(id: &str) -> Job {
    let opened = profiles::open_job(DEMO, &Library::embedded()).expect("the demo opens");
    let mut alternatives = opened.alternatives.into_iter();
    alternatives
        .find(|it| it.id == id)
        .expect("it is there")
        .job
}

fn pin(job: &mut Job, lead: &str, points: &[DVec3]) {
    let mut leads = job.leads.iter_mut();
    let lead = leads.find(|it| it.id == lead).expect("a lead of the demo");
    lead.through = points.to_vec();
}

fn routed(job: &Job) -> Routed {
    geometry::routed(job, &mut |_| true)
}

/// A point beside the way that the lead takes by itself.
fn beside(routed: &Routed, lead: &str, share: f64, by: DVec3) -> DVec3 {
    let mut routes = routed.routes.iter();
    let route = routes.find(|it| it.lead == lead).expect("it is laid");
    route.path.point_at(share * route.path.length()) + by
}

#[test]
fn a_pinned_lead_passes_its_points_and_the_judge_agrees() {
    let free = alternative("slim-video");
    let laid = routed(&free);
    for (lead, by) in [
        ("L4", DVec3::new(0., 4., -6.)),
        ("L10", DVec3::new(0., 5., 3.)),
    ] {
        let point = beside(&laid, lead, 0.5, by);
        let mut job = free.clone();
        pin(&mut job, lead, &[point]);
        let answered = Answered::all_routed(&job, &[]).remove(0);
        let found = answered.routed.as_ref().expect("laid");
        assert!(found.left_over.is_empty(), "{lead}: {:?}", found.left_over);
        let route = found
            .routes
            .iter()
            .find(|it| it.lead == lead)
            .expect("laid");
        assert_eq!(route.through.len(), 1);
        assert_eq!(route.through[0].point, point);
        assert!(route.through[0].off <= 0.5, "{lead}: {:?}", route.through);
        let layout = geometry::lay_out(&job, geometry::Reading::Nominal);
        let answer = CheckAnswer::new(&job, &layout, &answered, &[], Vec::new(), None);
        let answer = serde_json::to_value(answer).expect("answers are JSON");
        let plain = serde_json::to_value(PlainJob::of(&job)).expect("plain jobs are JSON");
        assert_eq!(
            plain["leads"].as_array().map(Vec::len),
            Some(job.leads.len())
        );
        let told = answer["routes"].as_array().expect("routes");
        let told = told.iter().find(|it| it["lead"] == lead).expect("laid");
        assert!(told["through"][0]["off_mm"].as_f64().expect("a number") <= 0.5);
        let found = judge(&plain, &answer);
        // The wheel-control lead of the demo is too short, and said to be.
        let found = found.into_iter().filter(|it| it.what != "L11");
        assert_eq!(found.collect::<Vec<_>>(), [], "{lead}");
    }
}

#[test]
fn the_judge_notices_a_point_that_is_not_passed() {
    let mut job = alternative("slim-video");
    let answered = Answered::all_routed(&job, &[]).remove(0);
    let laid = answered.routed.as_ref().expect("laid");
    let point = beside(laid, "L4", 0.5, DVec3::new(0., 3., 0.));
    pin(&mut job, "L4", &[point]);
    let layout = geometry::lay_out(&job, geometry::Reading::Nominal);
    let answer = CheckAnswer::new(&job, &layout, &answered, &[], Vec::new(), None);
    let answer = serde_json::to_value(answer).expect("answers are JSON");
    let plain = serde_json::to_value(PlainJob::of(&job)).expect("plain jobs are JSON");
    let found = judge(&plain, &answer);
    assert!(
        found.iter().any(|it| it.what == "L4" && it.by > 0.5),
        "{found:?}"
    );
}

#[test]
fn a_point_in_a_solid_or_outside_is_told_before_any_search() {
    let free = alternative("slim-video");
    for (point, words) in [
        (DVec3::new(0., 280., -20.), "too near the heater box"),
        (DVec3::new(0., 213., 10.), "too near the rear cross rib"),
        (DVec3::new(0., 900., 0.), "outside the cavity"),
    ] {
        let mut job = free.clone();
        pin(&mut job, "L4", &[point]);
        let found = routed(&job);
        assert_eq!(found.proud, None);
        let left = found.left_over.iter().find(|it| it.id == "L4");
        let why = &left.expect("it is left over").why;
        assert!(why.contains(words), "{why}");
    }
}

#[test]
fn a_point_that_no_way_reaches_is_said_to_be_the_reason() {
    // To and fro 4 mm aside, six times over: no turn is that tight, and a loop
    // for each is more than anyone looks for.
    let mut job = alternative("slim-video");
    let laid = routed(&job);
    let points: Vec<DVec3> = (0..6)
        .map(|turn| {
            let aside = if turn % 2 == 0 { 2.0 } else { -2.0 };
            beside(&laid, "L10", 0.6, DVec3::new(aside, 0.0, 0.0))
        })
        .collect();
    pin(&mut job, "L10", &points);
    let found = routed(&job);
    assert_eq!(found.proud, None);
    let left = found.left_over.iter().find(|it| it.id == "L10");
    let why = &left.expect("it is left over").why;
    assert!(why.starts_with("no way found through the points"), "{why}");
}

#[test]
fn plugs_whose_straight_runs_cross_are_told_at_once() {
    // Two sockets in one place: whatever the proud, their cables start in each other.
    let mut job = alternative("slim-video");
    let place = |job: &Job, id: &str| {
        let mut sockets = job.unit.sockets.iter();
        sockets.find(|it| it.id == id).expect("a socket").at
    };
    let at = place(&job, "usb");
    let mut sockets = job.unit.sockets.iter_mut();
    sockets.find(|it| it.id == "camera").expect("a socket").at = at;
    for lead in &mut job.leads {
        if lead.id == "L4" || lead.id == "L8" {
            lead.plug.width = Measure::exact(3.0);
            lead.plug.height = Measure::exact(3.0);
            lead.cable.straight_run = 6.0;
        }
    }
    let mut prouds = Vec::new();
    let found = geometry::routed(&job, &mut |looking| {
        prouds.push(looking.proud);
        true
    });
    prouds.dedup();
    assert_eq!(found.proud, None);
    let said = found.left_over.iter().map(|it| it.why.as_str());
    assert!(
        said.clone().any(|why| why.contains("straight run")),
        "{:?}",
        found.left_over
    );
    assert_eq!(prouds.len(), 1, "no other proud is looked at");
}
