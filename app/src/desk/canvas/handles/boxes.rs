//! Obstacles, pinned modules and pockets in the hand: whole, or one piece of them.

use glam::DVec3;
use profiles::Length;
use profiles::schema::{BoxFile, JobFile, ObstacleFile, PlaneFile};

use super::{AXES, Handle, Held, Moved, Reading, Source, unit};
use crate::desk::edit::{Edit, ListEdit, Target};

/// A piece of something solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece {
    /// All of it.
    Whole,
    /// The face of a box, or the end of an outline pushed along its axis:
    /// which axis, and whether it is the far, right or upper one.
    Face(usize, bool),
    /// The centre of one end of a round bar: whether it is the second.
    End(bool),
    /// A corner of an outline.
    Corner(usize),
}

/// What the faces of a box are called.
const FACES: [[&str; 2]; 3] = [
    ["left face", "right face"],
    ["near face", "far face"],
    ["lower face", "upper face"],
];

/// The two axes an outline is drawn in, and the third.
fn axes(plane: PlaneFile) -> ([usize; 2], usize) {
    match plane {
        PlaneFile::AcrossUp => ([0, 2], 1),
        PlaneFile::AcrossDepth => ([0, 1], 2),
        PlaneFile::DepthUp => ([1, 2], 0),
    }
}

fn faces(block: &mut BoxFile) -> [&mut [Length; 2]; 3] {
    [&mut block.across, &mut block.depth, &mut block.up]
}

/// Moves one length, and notes what it comes to.
fn shift(
    length: &mut Length,
    name: &str,
    axis: usize,
    by: DVec3,
    readings: &mut Vec<Reading>,
) -> Option<()> {
    *length = length.moved(by[axis])?;
    readings.push(Reading {
        name: name.to_owned(),
        length: length.clone(),
        axis,
        from_to: [0.0, length.measure()?.value()],
    });
    Some(())
}

fn move_box(block: &mut BoxFile, piece: Piece, by: DVec3) -> Option<Vec<Reading>> {
    let mut readings = Vec::new();
    for (axis, pair) in faces(block).into_iter().enumerate() {
        for (end, length) in pair.iter_mut().enumerate() {
            if piece == Piece::Whole || piece == Piece::Face(axis, end == 1) {
                shift(length, FACES[axis][end], axis, by, &mut readings)?;
            }
        }
    }
    Some(readings)
}

/// An obstacle moved.
pub fn obstacle(job: &JobFile, at: usize, piece: Piece, by: DVec3) -> Option<Moved> {
    let mut next = job.cavity.obstacles.get(at)?.clone();
    let readings = move_obstacle(&mut next, piece, by)?;
    Some(Moved {
        edit: Edit::Obstacle(ListEdit::set(at, next)),
        readings,
    })
}

fn move_obstacle(next: &mut ObstacleFile, piece: Piece, by: DVec3) -> Option<Vec<Reading>> {
    if let Some(block) = &mut next.block {
        return move_box(block, piece, by);
    }
    let mut readings = Vec::new();
    if let Some(bar) = &mut next.cylinder {
        for (end, name) in [(false, "one end"), (true, "the other end")] {
            let centre = if end { &mut bar.to } else { &mut bar.from };
            if piece == Piece::Whole || piece == Piece::End(end) {
                for (axis, length) in centre.iter_mut().enumerate() {
                    let name = format!("{name}, {}", AXES[axis]);
                    shift(length, &name, axis, by, &mut readings)?;
                }
            }
        }
        return Some(readings);
    }
    let outline = next.outline.as_mut()?;
    let (in_plane, along) = axes(outline.plane);
    for (number, corner) in outline.corners.iter_mut().enumerate() {
        if piece == Piece::Whole || piece == Piece::Corner(number) {
            for (length, axis) in corner.iter_mut().zip(in_plane) {
                let name = format!("corner {}, {}", number + 1, AXES[axis]);
                shift(length, &name, axis, by, &mut readings)?;
            }
        }
    }
    for (end, length) in outline.along.iter_mut().enumerate() {
        if piece == Piece::Whole || piece == Piece::Face(along, end == 1) {
            shift(length, FACES[along][end], along, by, &mut readings)?;
        }
    }
    Some(readings)
}

/// A pinned module moved.
pub fn module(job: &JobFile, at: usize, by: DVec3) -> Option<Moved> {
    let mut next = job.modules.get(at)?.clone();
    let readings = move_box(next.pinned.as_mut()?, Piece::Whole, by)?;
    Some(Moved {
        edit: Edit::Module(ListEdit::set(at, next)),
        readings,
    })
}

/// A pocket moved, or a face of it.
pub fn pocket(job: &JobFile, at: usize, piece: Piece, by: DVec3) -> Option<Moved> {
    let mut next = job.cavity.pockets.get(at)?.clone();
    let readings = move_box(&mut next.block, piece, by)?;
    Some(Moved {
        edit: Edit::Pocket(ListEdit::set(at, next)),
        readings,
    })
}

/// The handles of an obstacle.
pub fn of_obstacle(source: Source, target: &Target) -> Vec<Handle> {
    let Target::Obstacle(id) = target else {
        return Vec::new();
    };
    let obstacles = &source.job.cavity.obstacles;
    let Some(at) = obstacles.iter().position(|other| other.id == *id) else {
        return Vec::new();
    };
    let Some(thing) = source.model.thing(target) else {
        return Vec::new();
    };
    let obstacle = &obstacles[at];
    let bounds = thing.solid.bounds();
    let room = [bounds.min, bounds.max];
    let held = |piece| Held::Obstacle(at, piece);
    let mut handles = vec![whole(held(Piece::Whole), target, &obstacle.name, room)];
    if let Some(block) = &obstacle.block {
        // The faces of a turned box do not run along the axes they are measured by.
        if block.turned_deg == [0.0; 3] {
            handles.extend(face_handles(
                &held,
                target,
                &obstacle.name,
                room,
                &[0, 1, 2],
            ));
        }
    } else if let Some(bar) = &obstacle.cylinder {
        for (end, centre, name) in [
            (false, &bar.from, "one end"),
            (true, &bar.to, "the other end"),
        ] {
            if let Some(at) = place(centre) {
                handles.push(Handle {
                    held: held(Piece::End(end)),
                    target: target.clone(),
                    name: format!("{}: {name}", obstacle.name),
                    room: [at, at],
                    free: [true; 3],
                    outward: DVec3::ZERO,
                    readings: Vec::new(),
                });
            }
        }
    } else if let Some(outline) = obstacle
        .outline
        .as_ref()
        .filter(|outline| outline.turned_deg == [0.0; 3])
    {
        let (in_plane, along) = axes(outline.plane);
        handles.extend(face_handles(&held, target, &obstacle.name, room, &[along]));
        for (number, corner) in outline.corners.iter().enumerate() {
            let lengths = corner.each_ref().map(|length| length.measure());
            let [Some(one), Some(other)] = lengths else {
                continue;
            };
            let flat = one.value() * unit(in_plane[0]) + other.value() * unit(in_plane[1]);
            let [low, high] = room.map(|corner| flat + corner[along] * unit(along));
            let mut free = [true; 3];
            free[along] = false;
            handles.push(Handle {
                held: held(Piece::Corner(number)),
                target: target.clone(),
                name: format!("{}: corner {}", obstacle.name, number + 1),
                room: [low, high],
                free,
                outward: DVec3::ZERO,
                readings: Vec::new(),
            });
        }
    }
    handles
}

/// The handles of a module.
pub fn of_module(source: Source, target: &Target) -> Vec<Handle> {
    let modules = &source.job.modules;
    let at = modules
        .iter()
        .position(|module| *target == Target::Module(module.id.clone()) && module.pinned.is_some());
    let (Some(at), Some(thing)) = (at, source.model.thing(target)) else {
        return Vec::new();
    };
    let bounds = thing.solid.bounds();
    let room = [bounds.min, bounds.max];
    vec![whole(Held::Module(at), target, &modules[at].name, room)]
}

/// The handles of a pocket.
pub fn of_pocket(source: Source, target: &Target) -> Vec<Handle> {
    let pockets = &source.job.cavity.pockets;
    let at = pockets
        .iter()
        .position(|pocket| *target == Target::Pocket(pocket.id.clone()));
    let shown = source
        .model
        .pockets
        .iter()
        .find(|pocket| pocket.target == *target);
    let (Some(at), Some(shown)) = (at, shown) else {
        return Vec::new();
    };
    let name = &pockets[at].name;
    let held = |piece| Held::Pocket(at, piece);
    let mut handles = vec![whole(held(Piece::Whole), target, name, shown.room)];
    handles.extend(face_handles(&held, target, name, shown.room, &[0, 1, 2]));
    handles
}

fn whole(held: Held, target: &Target, name: &str, room: [DVec3; 2]) -> Handle {
    Handle {
        held,
        target: target.clone(),
        name: format!("{name}: whole"),
        room,
        free: [true; 3],
        outward: DVec3::ZERO,
        readings: Vec::new(),
    }
}

fn face_handles(
    held: &dyn Fn(Piece) -> Held,
    target: &Target,
    name: &str,
    [low, high]: [DVec3; 2],
    axes: &[usize],
) -> Vec<Handle> {
    let face = |axis: usize, far: bool| {
        let mut room = [low, high];
        room[usize::from(!far)][axis] = room[usize::from(far)][axis];
        let mut free = [false; 3];
        free[axis] = true;
        Handle {
            held: held(Piece::Face(axis, far)),
            target: target.clone(),
            name: format!("{name}: {}", FACES[axis][usize::from(far)]),
            room,
            free,
            outward: if far { unit(axis) } else { -unit(axis) },
            readings: Vec::new(),
        }
    };
    let both = |&axis: &usize| [face(axis, false), face(axis, true)];
    axes.iter().flat_map(both).collect()
}

/// A place all of whose three lengths are known.
pub fn place(lengths: &[Length; 3]) -> Option<DVec3> {
    let [x, y, z] = lengths.each_ref().map(|length| length.measure());
    Some(DVec3::new(x?.value(), y?.value(), z?.value()))
}
