//! How the unit stands when only some of its corners are held out.
//!
//! A contact near one corner need not hold the others out as far. The unit
//! then rests as low as its play in the opening lets it tilt: worst corner
//! least, then the sum of the four. The plane is proposed here by a small
//! linear programme; whether the unit really stands free at that tilt is for
//! exact distances to say ([`stands_free`]).

use glam::{DQuat, DVec2, DVec3};

use super::insertion::WallRoom;
use crate::distance::signed_distance;
use crate::frame::{DEPTH, Pose};
use crate::layout::Layout;

/// A place of the unit that must stand out at least so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Where (across, up), mm.
    pub at: DVec2,
    /// How far out it is held, mm.
    pub proud: f64,
}

/// How far the front stands out at (across, up): `base + slope . at`, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// At the opening's centre, mm.
    pub base: f64,
    /// Per mm across and up.
    pub slope: DVec2,
}

impl Lean {
    /// How far out the front stands at a place, mm.
    pub fn at(&self, place: DVec2) -> f64 {
        self.base + self.slope.dot(place)
    }
}

/// Differences of proud smaller than this do not count, mm.
const LEVEL: f64 = 1e-7;

/// The four corners of a rectangle in the order answers list them: top left,
/// top right, bottom right, bottom left, seen looking in.
pub fn corners(face: [DVec2; 2]) -> [DVec2; 4] {
    let [low, high] = face;
    [
        DVec2::new(low.x, high.y),
        high,
        DVec2::new(high.x, low.y),
        low,
    ]
}

/// The lowest rigid plane over what holds the unit out.
///
/// * `face`: lower left and upper right corner of the chassis, mm
/// * `held`: places held out; at least one with `proud` > 0
/// * `play`: greatest slope the opening's play allows, across and up
pub fn lowest_lean(face: [DVec2; 2], held: &[Held], play: DVec2) -> Lean {
    let worst = held.iter().map(|held| held.proud).fold(0.0, f64::max);
    let level = Lean {
        base: worst,
        slope: DVec2::ZERO,
    };
    let play = play.max(DVec2::ZERO);
    let corners = corners(face);
    let mut planes: Vec<Half> = Vec::new();
    for corner in corners {
        planes.push(Half::at_least(corner, 0.0));
        planes.push(Half::at_most(corner, worst));
    }
    for (slope, limit) in [(DVec3::Y, play.x), (DVec3::Z, play.y)] {
        planes.push(Half {
            normal: slope,
            limit,
        });
        planes.push(Half {
            normal: -slope,
            limit,
        });
    }
    planes.extend(
        held.iter()
            .filter(|held| held.proud > 0.0)
            .map(|held| Half::at_least(held.at, held.proud)),
    );
    // The sum over the corners is four times the plane at the chassis centre.
    let centre = 0.5 * (face[0] + face[1]);
    let cost = DVec3::new(1.0, centre.x, centre.y);
    let mut best = worst;
    let mut found: Vec<DVec3> = Vec::new();
    for i in 0..planes.len() {
        for j in i + 1..planes.len() {
            for k in j + 1..planes.len() {
                let Some(vertex) = meet([&planes[i], &planes[j], &planes[k]]) else {
                    continue;
                };
                if planes
                    .iter()
                    .any(|plane| plane.normal.dot(vertex) > plane.limit + LEVEL)
                {
                    continue;
                }
                let sum = cost.dot(vertex);
                if sum < best - LEVEL {
                    best = sum;
                    found.clear();
                }
                if sum <= best + LEVEL {
                    found.push(vertex);
                }
            }
        }
    }
    if found.is_empty() {
        return level;
    }
    // Of equally low planes the middle one: the unit has no reason to favour a side.
    let low = found.iter().copied().reduce(DVec3::min).unwrap_or_default();
    let high = found.iter().copied().reduce(DVec3::max).unwrap_or_default();
    let mean = found.iter().sum::<DVec3>() / found.len() as f64;
    let middle = mean.clamp(low, high);
    Lean {
        base: middle.x,
        slope: DVec2::new(middle.y, middle.z),
    }
}

/// normal . (base, slope) <= limit.
struct Half {
    normal: DVec3,
    limit: f64,
}

impl Half {
    fn at_most(place: DVec2, proud: f64) -> Half {
        Half {
            normal: DVec3::new(1.0, place.x, place.y),
            limit: proud,
        }
    }

    fn at_least(place: DVec2, proud: f64) -> Half {
        Half {
            normal: -DVec3::new(1.0, place.x, place.y),
            limit: -proud,
        }
    }
}

/// The point where three boundaries meet.
fn meet(planes: [&Half; 3]) -> Option<DVec3> {
    let [a, b, c] = planes.map(|plane| plane.normal);
    let det = a.dot(b.cross(c));
    let scale = a.length() * b.length() * c.length();
    if det.abs() <= 1e-12 * scale {
        return None;
    }
    let limits = planes.map(|plane| plane.limit);
    Some((limits[0] * b.cross(c) + limits[1] * c.cross(a) + limits[2] * a.cross(b)) / det)
}

/// The placement of the unit that stands at a lean, from its seat.
pub fn pose(layout: &Layout, lean: &Lean) -> Pose {
    let centre = 0.5 * (layout.chassis_face[0] + layout.chassis_face[1]);
    let normal = DVec3::new(lean.slope.x, 1.0, lean.slope.y).normalize();
    let pivot = DVec3::new(centre.x, layout.chassis_front, centre.y);
    let turned = Pose::turned_about(DQuat::from_rotation_arc(DEPTH, normal), pivot);
    Pose {
        shift: turned.shift - lean.at(centre) * DEPTH,
        ..turned
    }
}

/// Whether every sliding piece keeps its room from every solid and wall at a lean.
pub fn stands_free(layout: &Layout, lean: &Lean, wall_room: WallRoom) -> bool {
    let pose = pose(layout, lean);
    let free = |distance: f64, clear: f64| distance >= clear - 1e-6;
    layout.sliding.iter().all(|piece| {
        let solid = piece.solid.posed(&pose);
        let fixed_free = layout
            .fixed
            .iter()
            .all(|fixed| free(signed_distance(&solid, &fixed.solid), fixed.clear));
        let room = if piece.is_plug() {
            wall_room.plug
        } else {
            wall_room.unit
        };
        let walls_free = piece.is_in_front()
            || layout
                .walls
                .iter()
                .all(|wall| free(signed_distance(&solid, &wall.solid), room));
        fixed_free && walls_free
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    const FACE: [DVec2; 2] = [DVec2::new(-89.0, -50.0), DVec2::new(89.0, 50.0)];
    const LOOSE: DVec2 = DVec2::splat(1.0);

    fn at_corners(lean: &Lean) -> [f64; 4] {
        corners(FACE).map(|corner| lean.at(corner))
    }

    #[test]
    fn a_contact_in_the_middle_holds_all_corners_alike() {
        let held = [Held {
            at: DVec2::new(-52.0, -30.0),
            proud: 13.5,
        }];
        for corner in at_corners(&lowest_lean(FACE, &held, LOOSE)) {
            assert_abs_diff_eq!(corner, 13.5, epsilon = 1e-6);
        }
    }

    #[test]
    fn a_contact_at_one_corner_lets_the_opposite_one_home() {
        let held = [Held {
            at: DVec2::new(89.0, 50.0),
            proud: 10.0,
        }];
        let [top_left, top_right, bottom_right, bottom_left] =
            at_corners(&lowest_lean(FACE, &held, LOOSE));
        assert_abs_diff_eq!(top_right, 10.0, epsilon = 1e-6);
        assert_abs_diff_eq!(bottom_left, 0.0, epsilon = 1e-6);
        assert_abs_diff_eq!(top_left + bottom_right, 10.0, epsilon = 1e-6);
    }

    #[test]
    fn play_limits_the_tilt() {
        let held = [Held {
            at: DVec2::new(0.0, 50.0),
            proud: 10.0,
        }];
        let play = DVec2::new(0.0, 0.03);
        let [top_left, top_right, bottom_right, _] = at_corners(&lowest_lean(FACE, &held, play));
        assert_abs_diff_eq!(top_left, 10.0, epsilon = 1e-6);
        assert_abs_diff_eq!(top_right, 10.0, epsilon = 1e-6);
        assert_abs_diff_eq!(bottom_right, 7.0, epsilon = 1e-6);
    }

    #[test]
    fn the_worst_corner_is_never_below_the_worst_contact() {
        let held = [
            Held {
                at: DVec2::new(80.0, 40.0),
                proud: 6.0,
            },
            Held {
                at: DVec2::new(-70.0, -20.0),
                proud: 2.0,
            },
        ];
        let lean = lowest_lean(FACE, &held, LOOSE);
        for held in held {
            assert!(lean.at(held.at) >= held.proud - 1e-6);
        }
        let worst = at_corners(&lean).into_iter().fold(0.0, f64::max);
        assert_abs_diff_eq!(worst, 6.0, epsilon = 1e-6);
    }
}
