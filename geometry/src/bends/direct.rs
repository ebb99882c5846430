//! The short way from pose to pose in free space.

use glam::DVec3;

use super::csc::{Guess, Poses};
use super::flat::planar;
use crate::path::Path;

/// Legs drawn straight out of both ends where the ends are too near each
/// other for two turns, in radii.
const DRAWN_OUT: [[f64; 2]; 6] = [[1., 0.], [0., 1.], [1., 1.], [2., 0.], [0., 2.], [3., 3.]];

/// Whether each turn goes toward the other pose, 1, or away from it, -1.
const SIDES: [[f64; 2]; 4] = [[1., 1.], [-1., 1.], [1., -1.], [-1., -1.]];

/// Beginnings of the search for each choice of sides.
const GUESSES: [Guess; 3] = [Guess::Touching, Guess::Round, Guess::RoundBack];

/// A path that turns by no more than this in all, rad, is not beaten by one
/// from another beginning.
const PLAIN: f64 = std::f64::consts::PI;

/// The shortest path found from pose to pose, with no regard to obstacles.
///
/// Poses in one plane get the shortest flat path there is
/// ([`dubins`](super::dubins)); where that has to loop, a way out of the plane
/// may be shorter. Others get the shortest arc, straight and arc
/// found with the turns to either side; where there is none, the same between legs drawn
/// out straight. Not a guarantee: a shorter one of another kind may exist.
///
/// `None` when nothing was found, or when both poses are the same. What is
/// returned passes [`Path::check`].
///
/// * `start`, `end`: mm
/// * `start_direction`, `end_direction`: unit vectors, the way it leaves and
///   the way it goes on at its end
/// * `radius`: least at the centreline, mm
pub fn direct(
    start: DVec3,
    start_direction: DVec3,
    end: DVec3,
    end_direction: DVec3,
    radius: f64,
) -> Option<Path> {
    let usable = radius.is_finite() && radius > 0.0 && start.is_finite() && end.is_finite();
    let same = start == end && start_direction == end_direction;
    let ahead = start_direction.try_normalize()?;
    let onward = end_direction.try_normalize()?;
    if !usable || same {
        return None;
    }
    let poses = Poses {
        start,
        ahead,
        end,
        onward,
        radius,
    };
    let flat = planar(start, ahead, end, onward, radius);
    let found = flat.filter(|path| path.check(radius).is_ok());
    found.or_else(|| in_space(&poses)).or_else(|| {
        let drawn_out = DRAWN_OUT.iter().filter_map(|legs| drawn_out(&poses, *legs));
        drawn_out.min_by(|a, b| a.length().total_cmp(&b.length()))
    })
}

/// The shortest arc, straight and arc found that passes the check.
fn in_space(poses: &Poses) -> Option<Path> {
    let mut best: Option<Path> = None;
    let mut least = f64::INFINITY;
    for guess in GUESSES {
        for sides in SIDES {
            let Some(csc) = poses.csc(sides, guess) else {
                continue;
            };
            if csc.length < least - 1e-9 {
                let path = poses.path(&csc);
                if path.check(poses.radius).is_ok() {
                    (best, least) = (Some(path), csc.length);
                }
            }
        }
        if best.as_ref().is_some_and(|path| path.turn() <= PLAIN) {
            break;
        }
    }
    best
}

/// The same between ends moved along their own directions.
fn drawn_out(poses: &Poses, legs: [f64; 2]) -> Option<Path> {
    let moved = Poses {
        start: poses.start + poses.ahead * (legs[0] * poses.radius),
        end: poses.end - poses.onward * (legs[1] * poses.radius),
        ..*poses
    };
    let middle = in_space(&moved)?;
    let line = |from: DVec3, to: DVec3| crate::path::Piece::Line { from, to };
    let mut pieces = Vec::with_capacity(middle.pieces.len() + 2);
    if legs[0] > 0.0 {
        pieces.push(line(poses.start, moved.start));
    }
    pieces.extend(middle.pieces);
    if legs[1] > 0.0 {
        pieces.push(line(moved.end, poses.end));
    }
    let path = Path { pieces };
    path.check(poses.radius).is_ok().then_some(path)
}
