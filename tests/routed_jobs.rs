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

/// 40 m of the taxi's aerial lead: half its depth out the chassis leaves
/// 178 x 100 x 55 = 979 cm3, two fifths of that for slack; the cable alone,
/// 0.25 pi x 4.5 x 4.5 x 40 m, is 636, less what its way takes.
#[test]
fn slack_without_room_half_way_in_is_told_with_its_lead() {
    let mut job = opened("town-taxi").job;
    let free = routed(&job);
    assert!(free.half_way_short(&job).is_empty());
    let lead = job.leads.iter_mut().find(|lead| lead.id == "L2").unwrap();
    lead.length = Some(geometry::Measure::exact(40_000.0));
    lead.slack.goes = geometry::SlackGoes::Stow;
    let name = lead.name.clone();
    let laid = routed(&job);
    let half = &laid.half_way[0];
    assert_eq!(half.out, 55.0);
    let behind = half.stowage.fills.last().unwrap();
    assert!((700.0..979.0).contains(&behind.room_cm3), "{behind:?}");
    let short = half.short.iter().find(|it| it.lead == "L2").unwrap();
    assert!(short.slack_cm3 > 600.0 && short.short_cm3 > 600.0 - 0.4 * 979.0);
    let said = laid.half_way_short(&job);
    assert!(said.iter().any(|(required, words)| {
        !required && words.contains(&name) && words.contains("held 55 mm out")
    }));
    // It is a remark, or keeps the job from being ready where the lead has to reach.
    let fit = geometry::fit(&job);
    let layout = geometry::lay_out(&job, Reading::Nominal);
    let over = |job: &Job| laid.over(job, &layout, &fit, &[laid.clone(), laid.clone()]);
    assert!(over(&job).remarks.len() > fit.remarks.len());
    let lead = job.leads.iter_mut().find(|lead| lead.id == "L2").unwrap();
    lead.service_reach.required = true;
    assert!(over(&job).not_ready.len() > fit.not_ready.len());
}

#[test]
fn the_embedded_jobs_go_straight_in() {
    for name in ["camper", "town-taxi", "farm-hauler"] {
        let laid = routed(&opened(name).job);
        assert!(laid.slide_in.is_some_and(|way| way.is_straight()), "{name}");
        assert!(laid.barred.is_none(), "{name}");
    }
}

/// The grid only proposes: on one of 1.5, of 2 or of 3 mm every embedded job and
/// alternative comes to the same proud, to a millimetre.
#[test]
fn the_grid_does_not_decide() {
    let library = Library::embedded();
    for (name, _) in profiles::embedded_jobs() {
        let Opened {
            job, alternatives, ..
        } = profiles::open_job(name, &library).expect("embedded jobs open");
        let others = alternatives.iter().map(|it| (it.id.as_str(), &it.job));
        for (id, job) in std::iter::once(("as given", &job)).chain(others) {
            let fit = geometry::fit(job);
            let prouds = [1.5, 2.0, 3.0].map(|voxel| {
                geometry::routed_on(job, &fit, Reading::Nominal, voxel, &mut |_| true).proud
            });
            let figures: Vec<f64> = prouds.iter().flatten().copied().collect();
            let spread = figures.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b))
                - figures.iter().fold(f64::INFINITY, |a, b| a.min(*b));
            assert!(
                figures.is_empty() || (figures.len() == 3 && spread <= 1.0),
                "{name}, {id}: {prouds:?}"
            );
        }
    }
}

/// Leads with no more than this between them run side by side, mm.
const BESIDE: f64 = 5.0;

/// Length of the leads of looms that lies beside another of the same loom, and
/// all their length in the cavity, mm: points a millimetre apart.
fn side_by_side(routed: &Routed) -> [f64; 2] {
    let points: Vec<Vec<glam::DVec3>> = (routed.routes.iter())
        .map(|route| {
            let count = route.length as usize;
            (0..count)
                .map(|at| route.path.point_at(at as f64))
                .collect()
        })
        .collect();
    let mut lengths = [0.0; 2];
    for (number, route) in routed.routes.iter().enumerate() {
        let mates: Vec<usize> = (0..routed.routes.len())
            .filter(|&other| other != number && routed.routes[other].exit == route.exit)
            .collect();
        if route.exit.is_none() || mates.is_empty() {
            continue;
        }
        for point in &points[number] {
            let beside = mates.iter().any(|&mate| {
                let near = 0.5 * (route.od + routed.routes[mate].od) + BESIDE;
                points[mate]
                    .iter()
                    .any(|other| other.distance(*point) <= near)
            });
            lengths[0] += f64::from(u8::from(beside));
            lengths[1] += 1.0;
        }
    }
    lengths
}

/// As an installer would tape them: most of their way in the cavity, the leads
/// of one exit lie beside each other.
#[test]
fn leads_of_one_exit_run_side_by_side() {
    for (name, job) in [
        ("demo", opened(DEMO).job),
        ("move-m1", alternative("move-m1")),
        ("slim-video", alternative("slim-video")),
    ] {
        let [beside, all] = side_by_side(&routed(&job));
        println!(
            "{name}: {beside:.0} of {all:.0} mm, {:.0} %",
            100.0 * beside / all
        );
        assert!(beside > 0.5 * all, "{name}: {beside} of {all} mm");
    }
}
