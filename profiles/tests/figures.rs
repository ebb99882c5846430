//! The figures of the embedded jobs, each worked out again from the job in
//! plain numbers by the quick rule in its simplest form, unturned boxes only.
//!
//! The figures themselves were worked out by hand beside each job.

use approx::assert_abs_diff_eq;
use geometry::{
    Cavity, Form, Job, LeadStart, Measure, ModulePlace, PlugStyle, Section, SocketFace,
};
use glam::DVec2;
use profiles::schema::JobFile;
use profiles::{Inlined, Library, embedded_job, inline};

/// Room beside a plug that counts as its shadow, mm.
const SHADOW: f64 = 3.0;

fn embedded(name: &str) -> Inlined {
    let text = embedded_job(name).expect("the job is embedded");
    let file: JobFile = serde_yaml::from_str(text).expect("it reads");
    inline(&file, &Library::embedded()).expect("it inlines")
}

fn alternative<'a>(inlined: &'a Inlined, id: &str) -> &'a Job {
    &inlined
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
    let obstacles = job.cavity.obstacles.iter().map(|obstacle| {
        let Form::Block {
            across, depth, up, ..
        } = obstacle.form
        else {
            panic!("{} is not a box", obstacle.id)
        };
        (&obstacle.id, [across, depth, up], obstacle.clear)
    });
    let modules = job.modules.iter().filter_map(|module| match module.place {
        ModulePlace::Pinned(faces) => Some((&module.id, faces, module.clear)),
        ModulePlace::Movable(_) => None,
    });
    let overlaps = |faces: &[Measure; 2], centre: f64, half: f64| {
        faces[0].value() < centre + half && centre - half < faces[1].value()
    };
    obstacles
        .chain(modules)
        .filter(|(_, [across, _, up], _)| {
            overlaps(across, centre.x, half.x) && overlaps(up, centre.y, half.y)
        })
        .map(|(id, [_, depth, _], clear)| (id.clone(), depth[0].value() - clear))
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
    let inlined = embedded("demo");
    check(
        &quick_rule(&inlined.job),
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
    let inlined = embedded("post-van");
    check(
        &quick_rule(alternative(&inlined, "move_data_module")),
        &[("L5", "R1", -9.25), ("L3", "D1", 3.75)],
    );
    check(
        &quick_rule(alternative(&inlined, "no_cut")),
        &[("L3", "D1", 3.75), ("L10", "R1", 4.75)],
    );
    check(
        &quick_rule(alternative(&inlined, "slim_video")),
        &[("L3", "D1", 3.75), ("L5S", "R1", 4.0)],
    );
}
