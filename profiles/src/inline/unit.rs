//! The unit in plain numbers.

use std::collections::BTreeSet;

use geometry::{
    Hole, Measure, Nose, Overhang, RearSupport, Side, Socket, TrimRing, Unit, VentFace,
};
use glam::DVec2;

use super::findings::{Field, Findings, Range};
use super::shapes::pair;
use crate::length::Length;
use crate::problem::quoted;
use crate::schema::{
    ChassisFile, DatumFile, HoleFile, NoseFile, OverhangFile, RearSupportFile, SideFile,
    SocketFile, TrimRingFile, UnitPart, VentFile,
};

/// The unit in plain numbers.
///
/// * `remote_module`: the id that its own module bears in the job
pub(super) fn unit(
    part: &UnitPart,
    remote_module: Option<String>,
    at: &Field,
    findings: &mut Findings,
) -> Unit {
    let chassis = &part.chassis;
    let at_chassis = at.key("chassis");
    let width = findings.measure(
        &chassis.width,
        &at_chassis.key("width"),
        "width of the chassis",
        Range::UNIT_FACE,
    );
    let height = findings.measure(
        &chassis.height,
        &at_chassis.key("height"),
        "height of the chassis",
        Range::UNIT_FACE,
    );
    let mut ids = BTreeSet::new();
    for (index, socket) in part.sockets.iter().enumerate() {
        if !ids.insert(&socket.id) {
            findings.error(
                &at.key("sockets").item(index).key("id"),
                format!("{} again", quoted(&socket.id)),
                "an id used once among the sockets of a unit",
            );
        }
    }
    if part.mass_kg.is_nan() || part.mass_kg < 0.0 {
        let found = format!("{} kg", part.mass_kg);
        findings.error(&at.key("mass_kg"), found, "0 kg or more");
    }
    if let Some(dip) = part.max_dip_deg.filter(|dip| !(0.0..=90.0).contains(dip)) {
        findings.error(
            &at.key("max_dip_deg"),
            format!("{dip} degrees"),
            "0 to 90 degrees",
        );
    }
    let offset = chassis.offset.as_ref();
    Unit {
        id: part.id.clone(),
        name: part.name.clone(),
        width,
        height,
        depth: depth(chassis, &at_chassis, findings),
        offset: pair_or_zero(offset, &at_chassis, "offset of the chassis", findings),
        nose: nose(&part.nose, &at.key("nose"), findings),
        overhang: part
            .overhang
            .as_ref()
            .map(|file| overhang(file, &at.key("overhang"), findings)),
        side_holes: holes(&part.side_holes, &at.key("side_holes"), "unit", findings),
        sockets: sockets(&part.sockets, &at.key("sockets"), findings),
        vents: vents(&part.vents, &at.key("vents"), findings),
        rear_support: part
            .rear_support
            .as_ref()
            .map(|file| rear_support(file, &at.key("rear_support"), findings)),
        mass: part.mass_kg,
        max_dip: part.max_dip_deg.map(f64::to_radians),
        remote_module,
    }
}

/// From the back of the nose to the back of the chassis.
fn depth(chassis: &ChassisFile, at: &Field, findings: &mut Findings) -> Measure {
    let depth = findings.measure(
        &chassis.depth,
        &at.key("depth"),
        "depth of the chassis",
        Range::UNIT_DEPTH.or_within(75.0, 180.0),
    );
    let behind_field = at.key("datum_behind_nose");
    let behind = findings.plain_or(
        chassis.datum_behind_nose.as_ref(),
        &behind_field,
        "place of the depth's datum",
        Range::COORDINATE,
        0.0,
    );
    if chassis.datum != DatumFile::NoseBack {
        return depth.plus(behind);
    }
    if behind != 0.0 {
        findings.error(
            &behind_field,
            format!("{behind} mm with datum: nose_back"),
            "0, or the datum that the depth is measured from",
        );
    }
    depth
}

fn pair_or_zero(
    file: Option<&[Length; 2]>,
    at: &Field,
    what: &str,
    findings: &mut Findings,
) -> DVec2 {
    file.map_or(DVec2::ZERO, |file| {
        pair(file, &at.key("offset"), what, Range::COORDINATE, findings)
    })
}

fn nose(file: &NoseFile, at: &Field, findings: &mut Findings) -> Nose {
    let mut side = |length: &Length, key: &str, range| {
        findings.measure(length, &at.key(key), &format!("{key} of the nose"), range)
    };
    Nose {
        width: side(&file.width, "width", Range::UNIT_FACE),
        height: side(&file.height, "height", Range::UNIT_FACE),
        thickness: side(&file.thickness, "thickness", Range::ROOM),
        seat: file.seat.into(),
        trim_ring: file
            .trim_ring
            .as_ref()
            .map(|file| trim_ring(file, &at.key("trim_ring"), findings)),
    }
}

fn trim_ring(file: &TrimRingFile, at: &Field, findings: &mut Findings) -> TrimRing {
    let mut side = |length: Option<&Length>, key: &str, range| {
        let what = format!("{key} of the trim ring");
        findings.plain_or(length, &at.key(key), &what, range, 0.0)
    };
    TrimRing {
        width: side(Some(&file.width), "width", Range::UNIT_FACE),
        height: side(Some(&file.height), "height", Range::UNIT_FACE),
        lip: side(file.lip.as_ref(), "lip", Range::ROOM),
    }
}

fn overhang(file: &OverhangFile, at: &Field, findings: &mut Findings) -> Overhang {
    let mut side = |length: &Length, key: &str, what: &str, range| {
        let what = format!("{what} of the floating face");
        findings.measure(length, &at.key(key), &what, range)
    };
    Overhang {
        width: side(&file.width, "width", "width", Range::UNIT_FACE),
        height: side(&file.height, "height", "height", Range::UNIT_FACE),
        thickness: side(&file.thickness, "thickness", "thickness", Range::SIZE),
        stands_off: side(
            &file.stands_off,
            "stands_off",
            "stand-off",
            Range::COORDINATE,
        ),
        offset: pair_or_zero(
            file.offset.as_ref(),
            at,
            "offset of the floating face",
            findings,
        ),
    }
}

/// Holes in the sides of a unit or of its brackets; only left and right have any.
///
/// * `of`: what they are in, for messages
pub(super) fn holes(
    files: &[HoleFile],
    at: &Field,
    of: &str,
    findings: &mut Findings,
) -> Vec<Hole> {
    let mut plain = |file: &HoleFile, at: &Field| {
        if matches!(file.side, Some(SideFile::Top | SideFile::Bottom)) {
            findings.error(
                &at.key("side"),
                "a hole at the top or bottom",
                "left or right, or left out for both",
            );
        }
        let mut size = |length: Option<&Length>, key: &str, range| {
            let what = format!("{key} of hole {} of the {of}", file.id);
            findings.plain_or(length, &at.key(key), &what, range, 0.0)
        };
        Hole {
            id: file.id.clone(),
            side: file.side.map(Side::from),
            depth: size(Some(&file.depth), "depth", Range::COORDINATE),
            up: size(Some(&file.up), "up", Range::COORDINATE),
            diameter: size(Some(&file.diameter), "diameter", Range::SIZE),
            slot: size(file.slot.as_ref(), "slot", Range::ROOM),
        }
    };
    files
        .iter()
        .enumerate()
        .map(|(index, file)| plain(file, &at.item(index)))
        .collect()
}

fn sockets(files: &[SocketFile], at: &Field, findings: &mut Findings) -> Vec<Socket> {
    let mut plain = |file: &SocketFile, at: &Field| Socket {
        id: file.id.clone(),
        name: file.name.clone(),
        face: file.face.into(),
        at: pair(
            &file.at,
            &at.key("at"),
            &format!("place of the {}", file.name),
            Range::COORDINATE,
            findings,
        ),
        family: file.family.clone(),
        stands_out: findings.plain_or(
            file.stands_out.as_ref(),
            &at.key("stands_out"),
            &format!("how far the {} stands out", file.name),
            Range::COORDINATE,
            0.0,
        ),
    };
    files
        .iter()
        .enumerate()
        .map(|(index, file)| plain(file, &at.item(index)))
        .collect()
}

fn vents(files: &[VentFile], at: &Field, findings: &mut Findings) -> Vec<VentFace> {
    let mut plain = |file: &VentFile, at: &Field| {
        let mut pair = |lengths, key: &str, range| {
            let what = format!("{key} of the {}", file.name);
            pair(lengths, &at.key(key), &what, range, findings)
        };
        VentFace {
            name: file.name.clone(),
            face: file.face.into(),
            at: pair(&file.at, "at", Range::COORDINATE),
            size: pair(&file.size, "size", Range::SIZE),
            fan: file.fan,
        }
    };
    files
        .iter()
        .enumerate()
        .map(|(index, file)| plain(file, &at.item(index)))
        .collect()
}

fn rear_support(file: &RearSupportFile, at: &Field, findings: &mut Findings) -> RearSupport {
    let place = pair(
        &file.at,
        &at.key("at"),
        "place of the rear support",
        Range::COORDINATE,
        findings,
    );
    let mut size = |length: &Length, key: &str| {
        let what = format!("{key} of the rear support");
        findings.plain(length, &at.key(key), &what, Range::SIZE)
    };
    RearSupport {
        style: file.style.into(),
        at: place,
        width: size(&file.width, "width"),
        length: size(&file.length, "length"),
        required: file.required,
    }
}
