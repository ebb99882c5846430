//! The cavity's walls in the hand: each cross-section by its sides and its depth.

use glam::DVec3;
use profiles::Length;
use profiles::schema::{JobFile, StationFile};

use super::{AXES, Handle, Held, Moved, Reading, Source, unit};
use crate::desk::edit::{Edit, Target};

/// What of a cross-section is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wall {
    /// The depth it was measured at.
    Depth,
    /// The left wall.
    Left,
    /// The right wall.
    Right,
    /// The roof.
    Up,
    /// The floor.
    Down,
    /// A corner of an outline.
    Corner(usize),
}

const SIDES: [Wall; 4] = [Wall::Left, Wall::Right, Wall::Up, Wall::Down];

impl Wall {
    /// The axis it is measured along, and whether outward is toward less.
    fn axis(self) -> (usize, f64) {
        match self {
            Wall::Left => (0, -1.0),
            Wall::Right => (0, 1.0),
            Wall::Up => (2, 1.0),
            Wall::Down => (2, -1.0),
            Wall::Depth | Wall::Corner(_) => (1, 1.0),
        }
    }

    fn word(self) -> String {
        match self {
            Wall::Depth => "depth".to_owned(),
            Wall::Left => "left wall".to_owned(),
            Wall::Right => "right wall".to_owned(),
            Wall::Up => "roof".to_owned(),
            Wall::Down => "floor".to_owned(),
            Wall::Corner(number) => format!("corner {}", number + 1),
        }
    }

    fn side(self, station: &mut StationFile) -> Option<&mut Length> {
        match self {
            Wall::Left => station.left.as_mut(),
            Wall::Right => station.right.as_mut(),
            Wall::Up => station.up.as_mut(),
            Wall::Down => station.down.as_mut(),
            Wall::Depth => Some(&mut station.at),
            Wall::Corner(_) => None,
        }
    }
}

/// A cross-section with one of its lengths moved.
pub fn station(job: &JobFile, at: usize, wall: Wall, by: DVec3) -> Option<Moved> {
    let mut next = job.cavity.stations.clone();
    let station = next.get_mut(at)?;
    let mut readings = Vec::new();
    if let Wall::Corner(number) = wall {
        let corner = station.outline.get_mut(number)?;
        for (length, axis) in corner.iter_mut().zip([0, 2]) {
            *length = length.moved(by[axis])?;
            readings.push(Reading {
                name: format!("{}, {}", wall.word(), AXES[axis]),
                length: length.clone(),
                axis,
                from_to: [0.0, length.measure()?.value()],
            });
        }
    } else {
        let (axis, outward) = wall.axis();
        let length = wall.side(station)?;
        *length = length.moved(outward * by[axis])?;
        let value = length.measure()?.value();
        readings.push(Reading {
            name: wall.word(),
            length: length.clone(),
            axis,
            from_to: [0.0, outward * value],
        });
    }
    Some(Moved {
        edit: Edit::Stations(next),
        readings,
    })
}

/// The handles of every cross-section.
pub fn of_walls(source: Source) -> Vec<Handle> {
    let stations = &source.job.cavity.stations;
    let each = |(at, station): (usize, &StationFile)| of_station(at, station);
    stations.iter().enumerate().flat_map(each).collect()
}

fn of_station(at: usize, station: &StationFile) -> Vec<Handle> {
    let Some(depth) = station.at.measure().map(|depth| depth.value()) else {
        return Vec::new();
    };
    let handle = |wall: Wall, room: [DVec3; 2], free: [bool; 3], outward: DVec3| Handle {
        held: Held::Station(at, wall),
        target: Target::Walls,
        name: format!("station {}: {}", at + 1, wall.word()),
        room,
        free,
        outward,
        readings: Vec::new(),
    };
    let mut known = station.clone();
    let side = |known: &mut StationFile, wall: Wall| {
        let length = wall.side(known)?.measure()?;
        Some(wall.axis().1 * length.value())
    };
    let sides = SIDES.map(|wall| side(&mut known, wall));
    let mut handles = Vec::new();
    if let [Some(left), Some(right), Some(up), Some(down)] = sides {
        let low = DVec3::new(left, depth, down);
        let high = DVec3::new(right, depth, up);
        for (wall, place) in SIDES.into_iter().zip([left, right, up, down]) {
            let (axis, outward) = wall.axis();
            let mut room = [low, high];
            room[0][axis] = place;
            room[1][axis] = place;
            let mut free = [false; 3];
            free[axis] = true;
            handles.push(handle(wall, room, free, outward * unit(axis)));
        }
        handles.push(handle(
            Wall::Depth,
            [low, high],
            [false, true, false],
            DVec3::ZERO,
        ));
        return handles;
    }
    let corners: Vec<DVec3> = station
        .outline
        .iter()
        .filter_map(|[across, up]| {
            let (across, up) = (across.measure()?, up.measure()?);
            Some(DVec3::new(across.value(), depth, up.value()))
        })
        .collect();
    if corners.len() == station.outline.len() && !corners.is_empty() {
        for (number, &corner) in corners.iter().enumerate() {
            let wall = Wall::Corner(number);
            handles.push(handle(
                wall,
                [corner, corner],
                [true, false, true],
                DVec3::ZERO,
            ));
        }
        let low = corners.iter().copied().fold(corners[0], DVec3::min);
        let high = corners.iter().copied().fold(corners[0], DVec3::max);
        handles.push(handle(
            Wall::Depth,
            [low, high],
            [false, true, false],
            DVec3::ZERO,
        ));
    }
    handles
}
