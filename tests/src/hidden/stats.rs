//! How hard a hidden cavity is, in figures.

use geometry::{Path, Piece, bends::direct, closer_than, paths_closer_than};
use glam::DVec3;

use super::free::Room;
use super::grown::Grown;
use super::stage::{Cable, Port, Spare, Stage};

/// Figures of one hidden cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct Stats {
    /// Leads.
    pub leads: usize,
    /// Cables of all leads.
    pub cables: usize,
    /// Obstacles, ribs and shelves among them.
    pub obstacles: usize,
    /// Plates of 2 to 3 mm.
    pub ribs: usize,
    /// Share of the room behind and beside the chassis that is free.
    pub free_share: f64,
    /// The same of the whole cavity, the chassis counted as taken.
    pub free_of_cavity: f64,
    /// Least room that a hidden route has beyond what an obstacle asks, mm.
    pub nearest_clearance: f64,
    /// Obstacles that some route passes within 2 mm of what they ask.
    pub near_obstacles: usize,
    /// Length of each route over the straight distance of its ends.
    pub over_direct: Vec<f64>,
    /// Cables whose own shortest way meets a solid or another's shortest way.
    pub direct_failing: usize,
    /// Drafts thrown away before this one.
    pub thrown_away: u64,
}

/// The figures of a cavity.
pub fn stats(
    stage: &Stage,
    cables: &[Cable],
    paths: &[Path],
    grown: &[Grown],
    room: &Room,
    thrown_away: u64,
) -> Stats {
    let spare = |grown: &Grown| {
        let gaps = cables.iter().zip(paths);
        gaps.map(|(cable, path)| Stage::gap(cable, path, &grown.solid) - grown.clear)
            .fold(f64::INFINITY, f64::min)
    };
    let spares: Vec<f64> = grown.iter().map(spare).collect();
    let straight = |path: &Path| path.start().distance(path.end());
    Stats {
        leads: stage.leads,
        cables: cables.len(),
        obstacles: grown.len(),
        ribs: grown.iter().filter(|grown| grown.is_plate()).count(),
        free_share: room.free_share(),
        free_of_cavity: room.free_of_cavity(),
        nearest_clearance: spares.iter().copied().fold(f64::INFINITY, f64::min),
        near_obstacles: spares.iter().filter(|spare| **spare <= 2.0).count(),
        over_direct: paths
            .iter()
            .map(|path| path.length() / straight(path))
            .collect(),
        direct_failing: direct_failing(stage, cables, paths, grown),
        thrown_away,
    }
}

/// How many cables fail when each takes its own shortest way between the ends
/// of its hidden route.
fn direct_failing(stage: &Stage, cables: &[Cable], paths: &[Path], grown: &[Grown]) -> usize {
    let ways: Vec<Option<Path>> = cables
        .iter()
        .zip(paths)
        .map(|(cable, path)| shortest(stage, cable, path))
        .collect();
    let meets_other = |index: usize, way: &Path| {
        ways.iter().enumerate().any(|(other, path)| {
            let room = 0.5 * (cables[index].od + cables[other].od);
            let met = |path: &Path| paths_closer_than(way, path, room).is_some();
            other != index && path.as_ref().is_some_and(met)
        })
    };
    let fails = |index: usize| {
        let Some(way) = &ways[index] else {
            return true;
        };
        let half = 0.5 * cables[index].od;
        !stage.allows(&cables[index], way, &[], Spare::NONE)
            || meets_other(index, way)
            || grown
                .iter()
                .any(|grown| closer_than(way, &grown.solid, half + grown.clear).is_some())
    };
    (0..cables.len()).filter(|index| fails(*index)).count()
}

/// The shortest way found from the straight end at the start of a route to the
/// straight end at its end.
fn shortest(stage: &Stage, cable: &Cable, path: &Path) -> Option<Path> {
    let out = cable.straight.max(0.5 * cable.od + 0.3);
    let (start, ahead) = (path.start(), path.start_direction());
    let (end, onward) = (path.end(), path.end_direction());
    let back = match cable.to {
        Port::Door(door, _) => stage.doors[door].beyond + 0.5 * cable.od + stage.wall_clear + 0.3,
        _ => 0.5 * cable.od + super::boxes::CLEAR + 0.3,
    };
    let (from, to) = (start + out * ahead, end - back * onward);
    let mut pieces = vec![line(start, from)];
    pieces.extend(direct(from, ahead, to, onward, cable.radius)?.pieces);
    pieces.push(line(to, end));
    Some(Path { pieces })
}

fn line(from: DVec3, to: DVec3) -> Piece {
    Piece::Line { from, to }
}
