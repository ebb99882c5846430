//! The cavity: opening, planes, spaces, pockets, factory plugs.

use geometry::{CAVITY, Cavity, FactoryPlug, Measure, Opening, Pocket, Space};
use glam::{DVec2, DVec3};

use super::exit::exit;
use super::findings::{Field, Findings, Range};
use super::names::{Names, check_known};
use super::obstacle::obstacle;
use super::shapes::{direction, faces, point, three};
use super::stations::stations;
use crate::length::Length;
use crate::library::Library;
use crate::schema::{
    BoxFile, CavityFile, FactoryPlugFile, OpeningFile, PocketFile, RakeFile, SpaceFile,
};

/// Steepest lean or dip that is taken for more than a slip of the pen, degrees.
const STEEPEST_DEG: f64 = 60.0;

/// The cavity in plain numbers; `used` names the factory plugs that leads end at.
pub(super) fn cavity(
    file: &CavityFile,
    used: &[&str],
    library: &Library,
    names: &mut Names,
    findings: &mut Findings,
) -> Cavity {
    let at = Field::top("cavity");
    let plane = |length: &Option<Length>, key: &str, what: &str, findings: &mut Findings| {
        length.as_ref().map_or(Measure::exact(0.0), |length| {
            findings.measure(length, &at.key(key), what, Range::COORDINATE)
        })
    };
    let opening = opening(&file.opening, &at.key("opening"), findings);
    let seat_plane = plane(
        &file.seat_plane,
        "seat_plane",
        "depth of the seat plane",
        findings,
    );
    let finished_face = plane(
        &file.finished_face,
        "finished_face",
        "depth of the finished face",
        findings,
    );
    let face_rake = rake(file.face_rake, &at.key("face_rake"), findings);
    let dip_field = at.key("slide_dip_deg");
    let slide_dip = lean(file.slide_dip_deg, &dip_field, findings);
    let wall_clear = findings.plain_or(
        file.clear.as_ref(),
        &at.key("clear"),
        "room kept from the walls",
        Range::ROOM,
        2.0,
    );
    let slide_gap = findings.plain_or(
        file.slide_gap.as_ref(),
        &at.key("slide_gap"),
        "room the unit keeps from the walls",
        Range::ROOM,
        0.0,
    );
    let stations = stations(&file.stations, &at.key("stations"), findings);
    if file.closed && file.stations.is_empty() {
        findings.error(
            &at.key("closed"),
            "true without a station",
            "true where the last station is a wall",
        );
    }
    let obstacles = file
        .obstacles
        .iter()
        .enumerate()
        .filter_map(|(index, obstacle_file)| {
            let at = at.key("obstacles").item(index);
            names.give(&obstacle_file.id, &obstacle_file.name, &at, findings);
            obstacle(obstacle_file, &at, library, findings)
        })
        .collect();
    check_joints(file, &at, findings);
    let exits = each(&file.exits, &at.key("exits"), |file, at| {
        names.give(&file.id, &file.name, at, findings);
        exit(file, at, findings)
    });
    let exit_ids: Vec<&str> = file.exits.iter().map(|exit| exit.id.as_str()).collect();
    let spaces = each(&file.spaces, &at.key("spaces"), |file, at| {
        names.give(&file.id, &file.name, at, findings);
        check_place_id(&file.id, at, findings);
        space(file, &exit_ids, at, findings)
    });
    let pockets = each(&file.pockets, &at.key("pockets"), |file, at| {
        names.give(&file.id, &file.name, at, findings);
        check_place_id(&file.id, at, findings);
        pocket(file, at, findings)
    });
    let factory_plugs = each(&file.factory_plugs, &at.key("factory_plugs"), |file, at| {
        names.give(&file.id, &file.name, at, findings);
        factory_plug(file, used.contains(&file.id.as_str()), at, findings)
    });
    Cavity {
        opening,
        seat_plane,
        finished_face,
        face_rake,
        slide_dip,
        wall_clear,
        slide_gap,
        stations,
        closed: file.closed,
        obstacles,
        exits,
        spaces,
        pockets,
        factory_plugs,
    }
}

/// The word for anywhere in the cavity is no name for a place.
fn check_place_id(id: &str, at: &Field, findings: &mut Findings) {
    if id == CAVITY {
        findings.error(
            &at.key("id"),
            format!("\"{CAVITY}\""),
            "another name: a module that may go there may go anywhere in the cavity",
        );
    }
}

/// Every item of a list with its place.
fn each<F, P>(files: &[F], at: &Field, mut plain: impl FnMut(&F, &Field) -> P) -> Vec<P> {
    files
        .iter()
        .enumerate()
        .map(|(index, file)| plain(file, &at.item(index)))
        .collect()
}

fn opening(file: &OpeningFile, at: &Field, findings: &mut Findings) -> Opening {
    let width = findings.measure(
        &file.width,
        &at.key("width"),
        "width of the opening",
        Range::SIZE.or_within(180.0, 186.0),
    );
    let height = findings.measure(
        &file.height,
        &at.key("height"),
        "height of the opening",
        Range::SIZE.or_within(100.0, 113.0),
    );
    let radius_field = at.key("corner_radius");
    let corner_radius = findings.plain_or(
        file.corner_radius.as_ref(),
        &radius_field,
        "corner radius of the opening",
        Range::ROOM,
        0.0,
    );
    let widest = 0.5 * width.value().min(height.value());
    if corner_radius > widest && widest > 0.0 {
        findings.error(
            &radius_field,
            format!("{corner_radius} mm"),
            format!("up to {widest} mm, half the opening's smaller side"),
        );
    }
    Opening {
        width,
        height,
        corner_radius,
    }
}

fn rake(file: RakeFile, at: &Field, findings: &mut Findings) -> DVec2 {
    DVec2::new(
        lean(file.top_in_deg, &at.key("top_in_deg"), findings),
        lean(file.right_in_deg, &at.key("right_in_deg"), findings),
    )
}

/// Degrees of lean in radians.
fn lean(degrees: f64, at: &Field, findings: &mut Findings) -> f64 {
    if degrees.is_nan() || degrees.abs() > STEEPEST_DEG {
        findings.error(
            at,
            format!("{degrees} degrees"),
            format!("-{STEEPEST_DEG} to {STEEPEST_DEG} degrees"),
        );
    }
    degrees.to_radians()
}

/// Every name in a `joined_to` is that of another obstacle.
fn check_joints(file: &CavityFile, at: &Field, findings: &mut Findings) {
    for (index, obstacle) in file.obstacles.iter().enumerate() {
        let others = || {
            file.obstacles
                .iter()
                .map(|other| other.id.as_str())
                .filter(|id| *id != obstacle.id)
        };
        for (joint, id) in obstacle.joined_to.iter().enumerate() {
            let at = at.key("obstacles").item(index).key("joined_to").item(joint);
            check_known(id, others(), "other obstacle", &at, findings);
        }
    }
}

fn space(file: &SpaceFile, exits: &[&str], at: &Field, findings: &mut Findings) -> Space {
    let name = &file.name;
    check_known(
        &file.exit,
        exits.iter().copied(),
        "exit",
        &at.key("exit"),
        findings,
    );
    Space {
        id: file.id.clone(),
        name: name.clone(),
        size: three(
            &file.size,
            &at.key("size"),
            &format!("size of the {name}"),
            Range::SIZE,
            findings,
        ),
        centre: file.centre.as_ref().map(|centre| {
            let what = format!("centre of the {name}");
            point(centre, &at.key("centre"), &what, findings)
        }),
        exit: file.exit.clone(),
        run: findings.plain(
            &file.run,
            &at.key("run"),
            &format!("run to the {name}"),
            Range::RUN,
        ),
    }
}

fn pocket(file: &PocketFile, at: &Field, findings: &mut Findings) -> Pocket {
    Pocket {
        id: file.id.clone(),
        name: file.name.clone(),
        faces: square_box(&file.block, &at.key("box"), &file.name, "pocket", findings),
    }
}

/// A box that stands square in the frame.
///
/// * `kind`: what it is the box of, for the message about a turn
pub(super) fn square_box(
    file: &BoxFile,
    at: &Field,
    name: &str,
    kind: &str,
    findings: &mut Findings,
) -> [[Measure; 2]; 3] {
    if file.turned_deg != [0.0; 3] {
        findings.error(
            &at.key("turned_deg"),
            format!("{:?}", file.turned_deg),
            format!("no turn: a {kind} stands square"),
        );
    }
    faces(file, at, name, findings)
}

fn factory_plug(
    file: &FactoryPlugFile,
    used: bool,
    at: &Field,
    findings: &mut Findings,
) -> FactoryPlug {
    let name = &file.name;
    let size = three(
        &file.size,
        &at.key("size"),
        &format!("size of the {name}"),
        Range::SIZE,
        findings,
    );
    let mut room = |length: &Option<Length>, key: &str, what: &str, range, default| {
        let what = format!("{what} of the {name}");
        findings.plain_or(length.as_ref(), &at.key(key), &what, range, default)
    };
    let tail = room(&file.tail, "tail", "tail", Range::RUN, 0.0);
    let pulls_out = room(&file.pulls_out, "pulls_out", "pull-out", Range::RUN, 0.0);
    let clear = room(&file.clear, "clear", "clear", Range::ROOM, 2.0);
    FactoryPlug {
        id: file.id.clone(),
        name: name.clone(),
        at: point(
            &file.at,
            &at.key("at"),
            &format!("place of the {name}"),
            findings,
        ),
        direction: direction(file.direction, &at.key("direction"), findings),
        size: DVec3::from_array(size.map(|side| side.value())),
        tail,
        pulls_out,
        clear,
        used,
    }
}
