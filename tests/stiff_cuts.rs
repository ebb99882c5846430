//! The least cut where the least of all leaves a rib too weak: beside every cut
//! there is of small cavities.
//!
//! More of them: `cargo test --release -p acceptance --test stiff_cuts -- --include-ignored --nocapture`

use acceptance::jobs::{add_lead, bare as bare_job, block, mm};
use acceptance::notched::{SmallCase, small_case};
use geometry::trimming::{RibBook, TrimOutcome, TrimStep, accounts, least_cut, strip_rooms};
use geometry::{
    Cut, CutLimits, Edge, Exit, ExitShape, Form, Job, Kind, LeadEnd, Run, Section, Station, Trim,
};
use glam::DVec3;

/// Whether every rib keeps enough with these notches; with strips bonded over
/// them where that is asked.
fn is_enough(job: &Job, trims: &[Trim], strips: bool) -> bool {
    job.cavity.obstacles.iter().all(|rib| {
        let own: Vec<&Trim> = trims.iter().filter(|it| it.rib == rib.id).collect();
        let book = || RibBook::new(job, &rib.id).expect("a rib that may be cut");
        own.is_empty()
            || book().is_enough(&own).expect("a notch")
            || (strips && book().with_strips(&own, 0).is_some())
    })
}

/// The least volume of all cuts that hold and leave the ribs stiff enough.
fn least_by_trying(case: &SmallCase, strips: bool) -> Option<f64> {
    let may = |(_, trims): &&(f64, Vec<Trim>)| is_enough(&case.job, trims, strips);
    let tried = case.cuts.iter().filter(may);
    tried
        .filter(|(_, trims)| case.holds(trims))
        .map(|it| it.0)
        .next()
}

/// What the ribs keep as cut, the least, its error taken off.
fn keeps(job: &Job, step: &TrimStep) -> f64 {
    let job = Job {
        trims: step.trims.clone(),
        ..job.clone()
    };
    let kept = accounts(&job).into_iter().map(|account| {
        let judged = account.kept.expect("a figure").judged().expect("a push");
        judged.value - judged.error
    });
    kept.fold(f64::INFINITY, f64::min)
}

/// Asks each cavity for a little more than its least cut leaves, then a lot.
fn compare(seeds: std::ops::Range<u64>) {
    let (mut alone, mut with_strips, mut weak) = (0, 0, 0);
    let mut worse = Vec::new();
    for seed in seeds {
        let mut case = small_case(seed);
        let least = least_cut(&case.job, case.proud, &mut |_| true);
        if least.outcome != TrimOutcome::Cut {
            continue;
        }
        let left = keeps(&case.job, &least);
        for more in [0.02, 0.5] {
            case.job.cutting.keep_stiffness = left + more * (1.0 - left);
            let step = least_cut(&case.job, case.proud, &mut |_| true);
            let best = [false, true].map(|strips| least_by_trying(&case, strips));
            println!(
                "seed {seed}: {:.2} asked, {:?} {:.0} mm3; by trying {best:.0?}",
                case.job.cutting.keep_stiffness, step.outcome, step.removed_mm3
            );
            let bonded = step.trims.iter().any(|it| it.doubler.is_some());
            let own = match step.outcome {
                TrimOutcome::Cut => {
                    assert!(!bonded && is_enough(&case.job, &step.trims, false));
                    alone += 1;
                    [Some(step.removed_mm3), None]
                }
                TrimOutcome::CutWithStrips => {
                    assert!(bonded && keeps(&case.job, &step) >= case.job.cutting.keep_stiffness);
                    assert!(!is_enough(&case.job, &bare(&step.trims), false));
                    with_strips += 1;
                    [None, Some(step.removed_mm3)]
                }
                TrimOutcome::TooWeak => {
                    weak += 1;
                    [None, None]
                }
                other => panic!("seed {seed}: {other:?}"),
            };
            assert!(step.holds() == (own != [None, None]), "seed {seed}");
            // With no strip if any such cut holds, else the least with one.
            let missed = match (own, best) {
                ([Some(own), _], [Some(best), _]) => own > 1.05 * best,
                ([None, Some(own)], [None, Some(best)]) => own > 1.05 * best,
                ([None, _], [Some(_), _]) | ([None, None], [None, Some(_)]) => true,
                _ => false,
            };
            if missed {
                worse.push((seed, more, own, best));
            }
        }
    }
    println!("{alone} without strips, {with_strips} with, {weak} too weak");
    assert!(worse.is_empty(), "{worse:?}");
    assert!(with_strips > 0);
}

fn bare(trims: &[Trim]) -> Vec<Trim> {
    let bare = |trim: &Trim| Trim {
        doubler: None,
        ..trim.clone()
    };
    trims.iter().map(bare).collect()
}

#[test]
fn a_cut_without_strips_is_found_before_one_with_them() {
    compare(1..5);
}

#[test]
#[ignore = "minutes: 20 small cavities, every cut tried"]
fn a_cut_without_strips_is_found_in_any_small_cavity() {
    compare(0..20);
}

/// A lead before two ribs that stand side by side, left of it a low thin one,
/// right of it a high thick one. Below the ribs and above them nothing gets by.
fn side_by_side() -> Job {
    let mut job = bare_job([104.0, 54.0], [100.0, 50.0, 100.0], 0.0);
    let sides = |at: f64| Station {
        at: mm(at),
        section: Section::Sides {
            left: mm(58.0),
            right: mm(58.0),
            up: mm(40.0),
            down: mm(60.0),
        },
        to_next: Run::Blended,
    };
    job.cavity.stations = vec![sides(0.0), sides(190.0)];
    job.cavity.closed = true;
    job.cutting.stop_hole = 3.0;
    job.cavity.exits.push(Exit {
        id: "floor".into(),
        name: "hole in the floor".into(),
        centre: DVec3::new(0.0, 172.0, -60.0),
        direction: DVec3::NEG_Z,
        shape: ExitShape::Round(24.0),
        run_beyond: 10.0,
    });
    let mut rib = |id: &str, across: [f64; 2], thick: f64, top: f64| {
        let [from, to] = across;
        let mut rib = block(
            id,
            Kind::Rib,
            [from, 140.0, -20.0],
            [to, 140.0 + thick, top],
        );
        rib.clear = 1.0;
        rib.cut_as_stated = Cut::Allowed(CutLimits {
            cut_from: vec![Edge::Lower],
            max_depth: 14.0,
            min_from_ends: 4.0,
            min_web: 4.0,
        });
        job.cavity.obstacles.push(rib);
    };
    rib("low", [-58.0, -0.1], 1.5, 0.0);
    rib("high", [0.1, 58.0], 3.0, 25.0);
    let mut never = |id: &str, low: [f64; 3], high: [f64; 3]| {
        job.cavity
            .obstacles
            .push(block(id, Kind::Unknown, low, high));
    };
    never("floor before", [-58.0, 108.0, -59.9], [58.0, 150.0, -20.1]);
    never("over the low rib", [-58.0, 138.0, 0.1], [-0.1, 145.0, 39.9]);
    never("over the high rib", [0.1, 138.0, 25.1], [58.0, 145.0, 39.9]);
    add_lead(
        &mut job,
        "L1",
        [-12.0, -12.0],
        [8.0, 8.0, 7.0],
        4.0,
        1.0,
        0.0,
    );
    job.leads[0].end = LeadEnd::Exit("floor".into());
    job
}

/// Asked for little, the thin rib is notched, which takes least; asked for more
/// than it can keep, the thick one is, with no strip, though that takes more;
/// asked for more than any, the thin one again, a strip bonded over its notch.
#[test]
fn a_stiffer_rib_is_cut_where_the_weak_one_keeps_too_little() {
    let asked = |keep: f64| {
        let mut job = side_by_side();
        job.cutting.keep_stiffness = keep;
        let step = least_cut(&job, 0.0, &mut |_| true);
        println!(
            "{keep}: {:?} {:.0} mm3 {:?}",
            step.outcome, step.removed_mm3, step.trims
        );
        (keeps(&job, &step), step)
    };
    let (kept, least) = asked(0.2);
    assert_eq!(
        (least.outcome, &*least.trims[0].rib),
        (TrimOutcome::Cut, "low")
    );
    let (stiffer, other) = asked(kept + 0.05);
    assert_eq!(
        (other.outcome, &*other.trims[0].rib),
        (TrimOutcome::Cut, "high")
    );
    assert!(stiffer > kept + 0.05 && other.removed_mm3 > least.removed_mm3);
    let (_, bonded) = asked(0.999);
    assert_eq!(bonded.outcome, TrimOutcome::CutWithStrips);
    assert!(bonded.trims.iter().all(|trim| trim.doubler.is_some()));
    assert!(bonded.holds());
}

/// Boxes that a strip takes on both faces of an upright rib notched from below,
/// by the words of the rule: from the bottom of the notch up, beyond its sides.
fn boxes(job: &Job, trim: &Trim) -> [[DVec3; 2]; 2] {
    let rib = job.cavity.obstacles.iter().find(|it| it.id == trim.rib);
    let Form::Block {
        across, depth, up, ..
    } = &rib.expect("its rib").form
    else {
        panic!("a box");
    };
    assert_eq!(trim.edge, Edge::Lower);
    let strip = trim.doubler.expect("a strip");
    let bottom = up[0].value() + trim.depth;
    let from = (trim.along[0] - strip.lap).max(across[0].value());
    let to = (trim.along[1] + strip.lap).min(across[1].value());
    let top = (bottom + strip.height).min(up[1].value());
    let on = |near: f64, far: f64| [DVec3::new(from, near, bottom), DVec3::new(to, far, top)];
    let [near, far] = [depth[0].value(), depth[1].value()];
    [
        on(near - strip.thickness, near),
        on(far, far + strip.thickness),
    ]
}

/// Where a strip is said to have room, no lead comes nearer to it than to the
/// rib: by points along every lead and the box of the strip, worked out here.
#[test]
fn a_strip_lies_where_no_lead_passes() {
    let (mut free, mut barred) = (0, 0);
    for seed in 1..12 {
        let mut case = small_case(seed);
        let least = least_cut(&case.job, case.proud, &mut |_| true);
        if least.outcome != TrimOutcome::Cut {
            continue;
        }
        let left = keeps(&case.job, &least);
        case.job.cutting.keep_stiffness = left + 0.5 * (1.0 - left);
        let step = least_cut(&case.job, case.proud, &mut |_| true);
        let Some(routed) = &step.routed else { continue };
        let job = Job {
            trims: step.trims.clone(),
            ..case.job.clone()
        };
        let rooms = strip_rooms(&job, routed);
        let strips = job.trims.iter().filter(|it| it.doubler.is_some());
        assert_eq!(rooms.len(), strips.count(), "seed {seed}");
        for room in rooms {
            let trim = &job.trims[room.trim];
            let rib = job.cavity.obstacles.iter().find(|it| it.id == trim.rib);
            let clear = rib.expect("its rib").clear;
            let [near, far] = boxes(&job, trim);
            let lets_pass = |[low, high]: [DVec3; 2]| {
                routed.routes.iter().all(|route| {
                    let length = route.path.length();
                    let steps = (length / 0.2).ceil() as u32;
                    (0..=steps).all(|step| {
                        let at = route
                            .path
                            .point_at(length * f64::from(step) / f64::from(steps));
                        let gap = (at - at.clamp(low, high)).length() - 0.5 * route.od;
                        gap >= clear - 1e-4
                    })
                })
            };
            match &room.face {
                Ok(Edge::Near) => assert!(lets_pass(near), "seed {seed}"),
                Ok(Edge::Far) => assert!(lets_pass(far), "seed {seed}"),
                Ok(other) => panic!("an upright rib has no {} face", other.word()),
                Err(blocked) => {
                    assert!(blocked.short > 0.0);
                    if blocked.against.contains("lead") || blocked.against.starts_with('L') {
                        assert!(!lets_pass(near) || !lets_pass(far), "seed {seed}");
                    }
                }
            }
            println!("seed {seed}: {:?}", room.face);
            free += usize::from(room.face.is_ok());
            barred += usize::from(room.face.is_err());
        }
    }
    assert!(free > 0, "{barred} barred");
}

/// With something hard before the rib and behind it there is no room for a
/// strip, and what leaves none is named.
#[test]
fn a_strip_without_room_names_what_is_in_its_way() {
    let mut job = side_by_side();
    job.cutting.keep_stiffness = 0.999;
    let step = least_cut(&job, 0.0, &mut |_| true);
    assert_eq!(step.outcome, TrimOutcome::CutWithStrips);
    let cut = Job {
        trims: step.trims.clone(),
        ..job.clone()
    };
    let routed = step.routed.as_ref().expect("it holds");
    for room in strip_rooms(&cut, routed) {
        assert!(room.face.is_ok(), "{room:?}");
        let trim = &cut.trims[room.trim];
        let mut beset = cut.clone();
        for (name, [low, high]) in ["plate before", "plate behind"]
            .iter()
            .zip(boxes(&cut, trim))
        {
            let [low, high] = [low + 0.5, high - 0.5].map(|it| it.to_array());
            let plate = block(name, Kind::Unknown, low, high);
            beset.cavity.obstacles.push(plate);
        }
        let rooms = strip_rooms(&beset, routed);
        let own = rooms.iter().find(|it| it.trim == room.trim);
        let blocked = own
            .expect("the same strip")
            .face
            .as_ref()
            .expect_err("no room");
        assert!(blocked.against.starts_with("plate"), "{blocked:?}");
    }
}
