//! The figures of the embedded jobs, each worked out again from the job in
//! plain numbers by the quick rule in its simplest form, unturned boxes only.
//!
//! The figures themselves were worked out by hand beside each job.

use approx::assert_abs_diff_eq;
use geometry::{
    Cavity, ExitShape, Form, Job, LeadStart, Measure, ModulePlace, PlugStyle, Section, SocketFace,
};
use glam::DVec2;
use profiles::{Library, Opened, embedded_jobs, open_job};

/// Room beside a plug that counts as its shadow, mm.
const SHADOW: f64 = 3.0;

fn embedded(name: &str) -> Opened {
    open_job(name, &Library::embedded()).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn alternative<'a>(opened: &'a Opened, id: &str) -> &'a Job {
    &opened
        .alternatives
        .iter()
        .find(|alternative| alternative.id == id)
        .expect("the alternative is there")
        .job
}

/// What one lead, or the chassis, has to spare against the nearest thing behind it.
#[derive(Debug)]
struct Spare {
    what: String,
    against: String,
    mm: f64,
}

/// Every lead on the rear and the chassis itself, the tightest first.
fn quick_rule(job: &Job) -> Vec<Spare> {
    let setback = job.cavity.seat_plane.value() + job.mount.setback.value();
    let rear = setback + job.unit.depth.value();
    let mut spare = Vec::new();
    let chassis = 0.5 * DVec2::new(job.unit.width.value(), job.unit.height.value());
    spare.extend(behind(job, "chassis", job.unit.offset, chassis, rear, rear));
    for lead in &job.leads {
        let LeadStart::Socket(socket) = &lead.from else {
            continue;
        };
        let socket = job.unit.sockets.iter().find(|known| known.id == *socket);
        let socket = socket.expect("inlining checked the socket");
        if socket.face != SocketFace::Rear {
            continue;
        }
        let od = lead.cable.od.value();
        let stands = match lead.plug.style {
            PlugStyle::Straight { body, relief, .. } => {
                let radius = lead.cable.rule(job.rules).centreline(od);
                body.value() + relief + radius + 0.5 * od
            }
            PlugStyle::RightAngle { stands, .. } => stands.value(),
        };
        let half = 0.5 * DVec2::new(lead.plug.width.value(), lead.plug.height.value());
        let needed = rear + socket.stands_out + stands;
        let centre = job.unit.offset + socket.at;
        spare.extend(behind(job, &lead.id, centre, half + SHADOW, rear, needed));
    }
    spare.sort_by(|a, b| a.mm.total_cmp(&b.mm));
    spare
}

/// What is left between `needed` and the nearest thing in a shadow; nothing when nothing is there.
fn behind(
    job: &Job,
    what: &str,
    centre: DVec2,
    half: DVec2,
    rear: f64,
    needed: f64,
) -> Option<Spare> {
    let overlaps = |faces: [f64; 2], centre: f64, half: f64| {
        faces[0] < centre + half && centre - half < faces[1]
    };
    boxes(job)
        .into_iter()
        .filter(|solid| {
            let [across, _, up] = solid.faces;
            overlaps(across, centre.x, half.x) && overlaps(up, centre.y, half.y)
        })
        .map(|solid| (solid.id.to_owned(), solid.faces[1][0] - solid.clear))
        .chain(wall(&job.cavity, centre, half, rear))
        .map(|(against, available)| Spare {
            what: what.to_owned(),
            against,
            mm: available - needed,
        })
        .min_by(|a, b| a.mm.total_cmp(&b.mm))
}

/// The first depth beyond the chassis at which a shadow leaves the cavity.
fn wall(cavity: &Cavity, centre: DVec2, half: DVec2, rear: f64) -> Option<(String, f64)> {
    let reach = [
        half.x - centre.x,
        half.x + centre.x,
        half.y + centre.y,
        half.y - centre.y,
    ];
    let stations: Vec<(f64, [f64; 4])> = cavity
        .stations
        .iter()
        .map(|station| {
            let Section::Sides {
                left,
                right,
                up,
                down,
            } = &station.section
            else {
                panic!("the embedded jobs give sides")
            };
            (
                station.at.value(),
                [left, right, up, down].map(Measure::value),
            )
        })
        .collect();
    let last = stations.last().filter(|_| cavity.closed);
    let back = last.map(|(at, _)| ("back".to_owned(), at - cavity.wall_clear));
    let leaves = stations.windows(2).filter_map(|pair| {
        let [(near, from), (far, to)] = pair else {
            unreachable!("windows of two")
        };
        (0..4)
            .filter(|side| to[*side] < reach[*side] && *far > rear)
            .map(|side| {
                let fall = from[side] - to[side];
                let into = if fall > 0.0 {
                    ((from[side] - reach[side]) / fall).max(0.0)
                } else {
                    0.0
                };
                (near + into * (far - near)).max(rear)
            })
            .min_by(f64::total_cmp)
    });
    leaves
        .map(|depth| ("wall".to_owned(), depth - cavity.wall_clear))
        .chain(back)
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A box that stays where it is.
struct Still<'a> {
    id: &'a str,
    faces: [[f64; 2]; 3],
    clear: f64,
}

/// Every obstacle and every pinned module of a job.
fn boxes(job: &Job) -> Vec<Still<'_>> {
    let obstacles = job.cavity.obstacles.iter().map(|obstacle| {
        let Form::Block {
            across, depth, up, ..
        } = obstacle.form
        else {
            panic!("{} is not a box", obstacle.id)
        };
        (obstacle.id.as_str(), [across, depth, up], obstacle.clear)
    });
    let modules = job.modules.iter().filter_map(|module| match module.place {
        ModulePlace::Pinned(faces) => Some((module.id.as_str(), faces, module.clear)),
        ModulePlace::Movable(_) => None,
    });
    obstacles
        .chain(modules)
        .map(|(id, faces, clear)| Still {
            id,
            faces: faces.map(|face| face.map(|end| end.value())),
            clear,
        })
        .collect()
}

#[test]
fn nothing_lies_in_anything_else_as_found() {
    for (name, _) in embedded_jobs() {
        let job = embedded(name).job;
        let boxes = boxes(&job);
        for (index, one) in boxes.iter().enumerate() {
            for other in &boxes[..index] {
                let deep = one
                    .faces
                    .iter()
                    .zip(&other.faces)
                    .map(|(a, b)| (a[1] - b[0]).min(b[1] - a[0]))
                    .fold(f64::INFINITY, f64::min);
                assert!(
                    deep <= 1e-9,
                    "{name}: {} lies {deep} mm in {}",
                    one.id,
                    other.id
                );
            }
        }
    }
}

/// Every exit is free for its whole width.
#[test]
fn nothing_stands_in_an_exit() {
    for (name, _) in embedded_jobs() {
        let job = embedded(name).job;
        for exit in &job.cavity.exits {
            let ExitShape::Round(diameter) = exit.shape else {
                panic!("the embedded jobs have round exits")
            };
            for Still { id, faces, .. } in boxes(&job) {
                let apart = (0..3)
                    .map(|axis| {
                        let at = exit.centre[axis];
                        (faces[axis][0] - at).max(at - faces[axis][1]).max(0.0)
                    })
                    .map(|gap| gap * gap)
                    .sum::<f64>()
                    .sqrt();
                assert!(
                    apart >= 0.5 * diameter,
                    "{name}: {id} stands {apart} mm from the middle of {}",
                    exit.id
                );
            }
        }
    }
}

fn check(spare: &[Spare], expected: &[(&str, &str, f64)]) {
    for (found, (what, against, mm)) in spare.iter().zip(expected) {
        assert_eq!(
            (&*found.what, &*found.against),
            (*what, *against),
            "{spare:#?}"
        );
        assert_abs_diff_eq!(found.mm, *mm, epsilon = 1e-9);
    }
}

#[test]
fn the_post_van_stands_13_5_proud_as_found() {
    let opened = embedded("demo");
    check(
        &quick_rule(&opened.job),
        &[
            ("L1", "M1", -13.5),
            ("L5", "R1", -9.25),
            ("L2", "M1", -3.5),
            ("L3", "D1", 3.75),
            ("L10", "R1", 4.75),
            ("chassis", "M2", 6.0),
            ("L9", "R1", 10.5),
        ],
    );
}

#[test]
fn the_post_van_with_modules_moved() {
    let opened = embedded("post-van");
    check(
        &quick_rule(alternative(&opened, "move-m1")),
        &[("L5", "R1", -9.25), ("L3", "D1", 3.75)],
    );
    check(
        &quick_rule(alternative(&opened, "no-cut")),
        &[("L3", "D1", 3.75), ("L10", "R1", 4.75)],
    );
    check(
        &quick_rule(alternative(&opened, "slim-video")),
        &[("L3", "D1", 3.75), ("L5S", "R1", 4.0)],
    );
}

#[test]
fn the_town_taxi_has_18_75_to_spare() {
    check(
        &quick_rule(&embedded("town-taxi").job),
        &[
            ("L2", "BK", 18.75),
            ("L4", "BK", 21.0),
            ("L3", "BK", 23.25),
            ("L1", "BK", 28.5),
            ("L5", "BK", 31.75),
            // The low rib at 150 - 3 behind the lower edge of the chassis.
            ("chassis", "RB", 36.0),
        ],
    );
}

#[test]
fn no_unit_passes_the_beam_of_the_farm_hauler() {
    let opened = embedded("farm-hauler");
    check(&quick_rule(&opened.job), &[("chassis", "BM", -89.0)]);
    for (id, what, mm) in [
        ("u110", "chassis", -34.0),
        ("u88", "chassis", -12.0),
        ("u165-right-angle", "L1", -106.0),
        ("u110-right-angle", "L1", -51.0),
        ("u88-right-angle", "L1", -29.0),
    ] {
        check(&quick_rule(alternative(&opened, id)), &[(what, "BM", mm)]);
    }
}

#[test]
fn the_short_unit_with_right_angle_plugs_wins_in_the_camper() {
    let opened = embedded("camper");
    check(
        &quick_rule(&opened.job),
        &[
            ("L4", "HB", -57.5),
            ("L3", "HB", -57.25),
            ("L2", "HB", -56.25),
            ("L1", "HB", -44.5),
            ("chassis", "HB", -6.0),
        ],
    );
    check(
        &quick_rule(alternative(&opened, "u110")),
        &[
            ("L4", "HB", -2.5),
            ("L3", "HB", -2.25),
            ("L2", "HB", -1.25),
            ("L1", "HB", 10.5),
        ],
    );
    check(
        &quick_rule(alternative(&opened, "u110-right-angle")),
        &[("L1", "HB", 10.5)],
    );
    let shallow = alternative(&opened, "u75");
    check(&quick_rule(shallow), &[("L4", "HB", 32.5)]);
    let remote = shallow.unit.remote_module.as_deref();
    let remote = shallow
        .modules
        .iter()
        .find(|module| Some(&*module.id) == remote);
    let size = remote.expect("its box is a module of the job").size;
    let [space] = &shallow.cavity.spaces[..] else {
        panic!("the camper has one space")
    };
    let longest = |sides: [Measure; 3]| sides.iter().map(Measure::value).fold(0.0, f64::max);
    assert_abs_diff_eq!(longest(size) - longest(space.size), 20.0);
}
