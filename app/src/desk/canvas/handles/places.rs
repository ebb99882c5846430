//! Exits and sockets in the hand.

use std::collections::BTreeMap;

use geometry::{Side, Socket, SocketFace};
use glam::DVec3;
use profiles::schema::{FaceFile, JobFile, PartUse, SocketFile, UnitPart};
use profiles::{Length, Library};

use super::boxes::place;
use super::{AXES, Handle, Held, Moved, Reading, Source};
use crate::desk::edit::{Edit, ListEdit, Target};

/// An exit moved.
pub fn exit(job: &JobFile, at: usize, by: DVec3) -> Option<Moved> {
    let mut next = job.cavity.exits.get(at)?.clone();
    let mut readings = Vec::new();
    for (axis, length) in next.centre.iter_mut().enumerate() {
        *length = length.moved(by[axis])?;
        readings.push(Reading {
            name: format!("centre, {}", AXES[axis]),
            length: length.clone(),
            axis,
            from_to: [0.0, length.measure()?.value()],
        });
    }
    Some(Moved {
        edit: Edit::Exit(ListEdit::set(at, next)),
        readings,
    })
}

/// The handle of an exit.
pub fn of_exit(source: Source, target: &Target) -> Vec<Handle> {
    let exits = source.job.cavity.exits.iter().enumerate();
    let mut handles = Vec::new();
    for (at, exit) in exits.filter(|(_, exit)| *target == Target::Exit(exit.id.clone())) {
        if let Some(centre) = place(&exit.centre) {
            handles.push(Handle {
                held: Held::Exit(at),
                target: target.clone(),
                name: format!("{}: centre", exit.name),
                room: [centre, centre],
                free: [true; 3],
                outward: DVec3::ZERO,
                readings: Vec::new(),
            });
        }
    }
    handles
}

/// The axes that the two lengths of a socket are measured along.
fn axes(face: FaceFile) -> [usize; 2] {
    match face {
        FaceFile::Rear => [0, 2],
        FaceFile::Left | FaceFile::Right => [1, 2],
        FaceFile::Top | FaceFile::Bottom => [1, 0],
    }
}

/// The unit as the job has it before changes by name, and those changes.
fn unit_of<'a>(
    job: &'a JobFile,
    library: &'a Library,
) -> Option<(&'a UnitPart, BTreeMap<String, String>)> {
    Some(match &job.unit {
        PartUse::Inline(unit) => (unit, BTreeMap::new()),
        PartUse::Named(base) => (library.get::<UnitPart>(base)?, BTreeMap::new()),
        PartUse::Changed { base, with } => (library.get::<UnitPart>(base)?, with.clone()),
    })
}

/// The key that a change of a socket's place goes by.
fn key(id: &str, number: usize) -> String {
    format!("sockets.{id}.at.{number}")
}

/// A socket moved on its face. A unit of the library becomes one with changes.
pub fn socket(job: &JobFile, library: &Library, id: &str, by: DVec3) -> Option<Moved> {
    let (unit, mut with) = unit_of(job, library)?;
    let at = unit.sockets.iter().position(|socket| socket.id == *id)?;
    let file: &SocketFile = &unit.sockets[at];
    let mut lengths = file.at.clone();
    for (number, length) in lengths.iter_mut().enumerate() {
        if let Some(text) = with.get(&key(id, number)) {
            *length = Length::parse(text).ok()?;
        }
    }
    let mut readings = Vec::new();
    for (number, axis) in axes(file.face).into_iter().enumerate() {
        lengths[number] = lengths[number].moved(by[axis])?;
        readings.push(Reading {
            name: format!("{}, {}", file.name, AXES[axis]),
            length: lengths[number].clone(),
            axis,
            from_to: [0.0, lengths[number].measure()?.value()],
        });
    }
    let next = match &job.unit {
        PartUse::Inline(unit) => {
            let mut unit = unit.clone();
            unit.sockets[at].at = lengths;
            PartUse::Inline(unit)
        }
        PartUse::Named(base) | PartUse::Changed { base, .. } => {
            for (number, length) in lengths.iter().enumerate() {
                if *length == file.at[number] {
                    with.remove(&key(id, number));
                } else {
                    with.insert(key(id, number), length.as_written().to_owned());
                }
            }
            if with.is_empty() {
                PartUse::Named(base.clone())
            } else {
                PartUse::Changed {
                    base: base.clone(),
                    with,
                }
            }
        }
    };
    Some(Moved {
        edit: Edit::Unit(next),
        readings,
    })
}

/// The handles of some sockets, each with its lead's target.
pub fn of_sockets(source: Source, wanted: impl Fn(&str) -> bool) -> Vec<Handle> {
    let Some(job) = &source.model.job else {
        return Vec::new();
    };
    let sockets = job.unit.sockets.iter();
    sockets
        .filter(|socket| wanted(&socket.id))
        .filter_map(|socket| {
            let (at, free) = seat(source, socket)?;
            Some(Handle {
                held: Held::Socket(socket.id.clone()),
                target: Target::Unit,
                name: format!("socket {}", socket.name),
                room: [at, at],
                free,
                outward: DVec3::ZERO,
                readings: Vec::new(),
            })
        })
        .collect()
}

/// Where a socket is with the unit as it stands, and the axes it may go along.
fn seat(source: Source, socket: &Socket) -> Option<(DVec3, [bool; 3])> {
    let layout = source.model.layout.as_ref()?;
    let proud = source.model.drawn_proud();
    let [low, high] = layout.chassis_face;
    let middle = 0.5 * (low + high);
    let front = layout.chassis_front - proud;
    let at = socket.at;
    Some(match socket.face {
        SocketFace::Rear => (
            DVec3::new(
                middle.x + at.x,
                layout.chassis_rear - proud,
                middle.y + at.y,
            ),
            [true, false, true],
        ),
        SocketFace::On(side) => {
            let depth = front + at.x;
            match side {
                Side::Left | Side::Right => {
                    let across = if side == Side::Left { low.x } else { high.x };
                    (
                        DVec3::new(across, depth, middle.y + at.y),
                        [false, true, true],
                    )
                }
                Side::Top | Side::Bottom => {
                    let up = if side == Side::Bottom { low.y } else { high.y };
                    (DVec3::new(middle.x + at.y, depth, up), [true, true, false])
                }
            }
        }
    })
}
