//! The unit as one rigid thing, and everything it must pass.

use glam::{DQuat, DVec2, DVec3};

use super::{Posture, Tight, TiltAxis};
use crate::distance::signed_distance;
use crate::fit::{FINISHED_FACE, OPENING, WALL};
use crate::fitting::insertion::{WallRoom, is_fed_in_first};
use crate::fitting::mounting::face_depth;
use crate::fitting::wall_room;
use crate::frame::{DEPTH, Pose};
use crate::job::{Job, NoseSeat};
use crate::layout::{Layout, Sliding, SlidingClass};
use crate::measure::Reading;
use crate::solids::{Bounds, Solid};
use crate::sweep::{GLIDE, stop_along};

/// How far the dash face reaches out beside the opening, mm. Nothing gets
/// round its edge without passing through it.
const FACE_BESIDE: f64 = 80.0;

/// Straight pieces that stand for one rounded corner of the opening. They lie
/// inside of it, so the opening is never taken for larger than it is.
const CORNER_PIECES: usize = 8;

/// The finished face as a slab: half its size and its thickness, mm.
const SLAB: [f64; 2] = [400.0, 200.0];

/// Something that stays.
struct Stay {
    solid: Solid,
    bounds: Bounds,
    name: String,
    id: String,
}

/// A piece and a solid that could meet.
#[derive(Clone, Copy, Debug)]
pub struct Pair {
    /// Index of the piece.
    pub piece: usize,
    /// Index of what stays.
    stay: usize,
    /// Room to be kept, mm.
    clear: f64,
}

/// How near a pair comes at a posture.
#[derive(Clone, Copy, Debug)]
pub struct Near {
    /// The pair.
    pub pair: Pair,
    /// Distance over the room to be kept, mm.
    pub spare: f64,
    /// The posture.
    pub at: Posture,
}

/// The unit and all it could meet when it is tilted about one axis.
pub struct Passage<'a> {
    /// The axis.
    pub axis: TiltAxis,
    /// Depth of the chassis' rear at the seat, mm.
    pub rear: f64,
    /// Play of the chassis in the opening, to each side, mm.
    pub play: f64,
    pieces: Vec<&'a Sliding>,
    boxes: Vec<Bounds>,
    stays: Vec<Stay>,
    pairs: Vec<Pair>,
    /// Where the chassis' middle line passes the opening at its seat.
    pivot: DVec3,
}

impl<'a> Passage<'a> {
    /// * `layout`: the job's solids at `reading`, the unit at its seat
    pub fn new(job: &Job, layout: &'a Layout, reading: Reading, axis: TiltAxis) -> Passage<'a> {
        let pieces: Vec<&Sliding> = layout.sliding.iter().collect();
        let boxes: Vec<Bounds> = pieces.iter().map(|it| it.solid.bounds()).collect();
        let [low, high] = layout.chassis_face;
        let centre = 0.5 * (low + high);
        let play = layout.opening_half - 0.5 * (high - low);
        let mut passage = Passage {
            axis,
            rear: layout.chassis_rear,
            play: axis.aside().dot(DVec3::new(play.x, 0.0, play.y)).max(0.0),
            pieces,
            boxes,
            stays: Vec::new(),
            pairs: Vec::new(),
            pivot: DVec3::new(centre.x, 0.0, centre.y),
        };
        passage.gather(job, layout, reading);
        passage
    }

    fn gather(&mut self, job: &Job, layout: &Layout, reading: Reading) {
        let room = wall_room(job);
        for fixed in &layout.fixed {
            let named = (fixed.name.as_str(), fixed.id.as_str());
            self.stay(&fixed.solid, named, |_| Some(fixed.clear));
        }
        for wall in &layout.walls {
            self.stay(&wall.solid, (&wall.name, WALL), |piece| {
                (!piece.is_in_front()).then(|| wall_clear(piece, room))
            });
        }
        let enters = job.unit.nose.seat == NoseSeat::Enters;
        for edge in edges(layout.opening_half, job.cavity.opening.corner_radius) {
            let named = ("edge of the opening", OPENING);
            self.stay(&edge, named, |piece| {
                let in_front = match piece.class {
                    SlidingClass::Nose => !enters,
                    SlidingClass::Overhang => true,
                    _ => is_fed_in_first(layout, piece),
                };
                (!in_front).then_some(room.unit)
            });
        }
        let face = face(job, reading);
        self.stay(&face, ("finished face", FINISHED_FACE), |piece| {
            let laps = match piece.class {
                SlidingClass::Nose => !enters,
                SlidingClass::Overhang => true,
                _ => false,
            };
            laps.then_some(0.0)
        });
        // What a plug that is fed in first has behind it when the unit follows.
        let (pieces, stays, rear) = (&self.pieces, &self.stays, self.rear);
        self.pairs.retain(|pair| {
            let first = is_fed_in_first(layout, pieces[pair.piece]);
            !(first && stays[pair.stay].bounds.max.y <= rear)
        });
    }

    /// Takes in a solid that stays, with the room each piece keeps from it.
    ///
    /// Everything moves square to the axis: two solids that are far enough
    /// apart along it stay so.
    fn stay(
        &mut self,
        solid: &Solid,
        named: (&str, &str),
        clear: impl Fn(&Sliding) -> Option<f64>,
    ) {
        let along = self.axis.direction();
        for solid in solid.pieces() {
            let bounds = solid.bounds();
            for (piece, box_of) in self.boxes.iter().enumerate() {
                let Some(clear) = clear(self.pieces[piece]) else {
                    continue;
                };
                let gap = (bounds.min - box_of.max).max(box_of.min - bounds.max);
                if gap.dot(along) < clear - GLIDE {
                    self.pairs.push(Pair {
                        piece,
                        stay: self.stays.len(),
                        clear,
                    });
                }
            }
            self.stays.push(Stay {
                solid,
                bounds,
                name: named.0.to_owned(),
                id: named.1.to_owned(),
            });
        }
    }

    /// All pairs that could meet.
    pub fn pairs(&self) -> &[Pair] {
        &self.pairs
    }

    /// The placement of a posture, from the seat.
    pub fn pose(&self, posture: &Posture) -> Pose {
        let turn = DQuat::from_axis_angle(self.axis.direction(), posture.tilt);
        let turned = Pose::turned_about(turn, self.pivot);
        Pose {
            shift: turned.shift + posture.aside * self.axis.aside()
                - posture.proud * (turn * DEPTH),
            ..turned
        }
    }

    /// All pieces at a posture, with the boxes around them.
    pub fn placed(&self, posture: &Posture) -> Vec<(Solid, Bounds)> {
        let pose = self.pose(posture);
        let place = |piece: &&Sliding| {
            let solid = piece.solid.posed(&pose);
            let bounds = solid.bounds();
            (solid, bounds)
        };
        self.pieces.iter().map(place).collect()
    }

    /// No two points of a pair are nearer to each other than this over the room
    /// they keep, by their boxes, mm.
    pub fn rough_spare(&self, pair: &Pair, placed: &[(Solid, Bounds)]) -> f64 {
        placed[pair.piece].1.gap(&self.stays[pair.stay].bounds) - pair.clear
    }

    /// Exactly how much more than the room they keep two solids are apart, mm.
    pub fn spare(&self, pair: &Pair, placed: &[(Solid, Bounds)]) -> f64 {
        signed_distance(&placed[pair.piece].0, &self.stays[pair.stay].solid) - pair.clear
    }

    /// How far no point of a piece moves between two postures, mm.
    pub fn moves(&self, piece: usize, from: &Posture, to: &Posture) -> f64 {
        let arm = self.arm(piece, from.proud).max(self.arm(piece, to.proud));
        (to.proud - from.proud).abs()
            + (to.aside - from.aside).abs()
            + arm * (to.tilt - from.tilt).abs()
    }

    /// How far a piece reaches from the axis, mm.
    fn arm(&self, piece: usize, proud: f64) -> f64 {
        let aside = self.axis.aside();
        let [low, high] = [self.boxes[piece].min, self.boxes[piece].max].map(|corner| {
            let from = corner - self.pivot;
            DVec2::new(from.y - proud, from.dot(aside)).abs()
        });
        low.max(high).length()
    }

    /// How far out everything stands in front of the opening at any tilt up to
    /// `most`, mm.
    pub fn outside(&self, most: f64) -> f64 {
        let through = self
            .pieces
            .iter()
            .zip(&self.boxes)
            .filter(|(piece, _)| !piece.is_in_front());
        let aside = self.axis.aside();
        let out = through.map(|(_, bounds)| {
            let reach = [bounds.min, bounds.max].map(|it| (it - self.pivot).dot(aside).abs());
            bounds.max.y + reach[0].max(reach[1]) * most.tan()
        });
        out.fold(0.0, f64::max)
    }

    /// Ranges of `aside` within `reach` in which the unit is free at a proud and
    /// a tilt, mm, and how many sweeps that took.
    pub fn free(&self, proud: f64, tilt: f64, reach: f64) -> (Vec<[f64; 2]>, usize) {
        let placed = self.placed(&Posture {
            proud,
            tilt,
            aside: 0.0,
        });
        let way = self.axis.aside();
        let mut barred: Vec<[f64; 2]> = Vec::new();
        let mut work = 0;
        for pair in &self.pairs {
            let stay = &self.stays[pair.stay];
            let (solid, bounds) = &placed[pair.piece];
            let swept = Bounds {
                min: bounds.min - reach * way,
                max: bounds.max + reach * way,
            };
            if swept.gap(&stay.bounds) >= pair.clear.max(GLIDE) {
                continue;
            }
            work += 2;
            let ends = stop_along(solid, &stay.solid, way, pair.clear).zip(stop_along(
                solid,
                &stay.solid,
                -way,
                pair.clear,
            ));
            if let Some((up, down)) = ends {
                barred.push([-up.travel, down.travel]);
            }
        }
        barred.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut free = Vec::new();
        let mut from = -reach;
        for [low, high] in barred {
            if low > from {
                free.push([from, low.min(reach)]);
            }
            from = from.max(high);
            if from >= reach {
                break;
            }
        }
        if from < reach {
            free.push([from, reach]);
        }
        (free, work)
    }

    /// The pair with the least to spare at a posture.
    pub fn nearest(&self, at: &Posture) -> Option<Near> {
        let placed = self.placed(at);
        let mut nearest: Option<Near> = None;
        for pair in &self.pairs {
            let known = nearest.map_or(f64::INFINITY, |it| it.spare);
            if self.rough_spare(pair, &placed) > known.max(0.0) {
                continue;
            }
            let spare = self.spare(pair, &placed);
            if spare < known {
                nearest = Some(Near {
                    pair: *pair,
                    spare,
                    at: *at,
                });
            }
        }
        nearest
    }

    /// A near pair in words.
    pub fn tight(&self, near: &Near) -> Tight {
        let stay = &self.stays[near.pair.stay];
        Tight {
            piece: self.pieces[near.pair.piece].name.clone(),
            against: stay.name.clone(),
            against_id: stay.id.clone(),
            gap: near.spare + near.pair.clear,
            spare: near.spare,
            at: near.at,
        }
    }
}

/// Room a piece keeps from the walls, mm.
fn wall_clear(piece: &Sliding, room: WallRoom) -> f64 {
    if piece.is_plug() {
        room.plug
    } else {
        room.unit
    }
}

/// The dash face around the opening, a plate without thickness in pieces.
fn edges(half: DVec2, radius: f64) -> Vec<Solid> {
    let out = half + DVec2::splat(FACE_BESIDE);
    let plate = |low: DVec2, high: DVec2| {
        Solid::block(
            DVec3::new(low.x, 0.0, low.y),
            DVec3::new(high.x, 0.0, high.y),
        )
    };
    let mut edges = vec![
        plate(DVec2::new(-out.x, -out.y), DVec2::new(-half.x, out.y)),
        plate(DVec2::new(half.x, -out.y), DVec2::new(out.x, out.y)),
        plate(DVec2::new(-out.x, half.y), DVec2::new(out.x, out.y)),
        plate(DVec2::new(-out.x, -out.y), DVec2::new(out.x, -half.y)),
    ];
    let radius = radius.min(half.min_element());
    if radius <= 0.0 {
        return edges;
    }
    for quarter in 0..4 {
        let sign =
            DVec2::from_angle(std::f64::consts::FRAC_PI_4 * (2 * quarter + 1) as f64).signum();
        let corner = sign * half;
        let centre = corner - sign * radius;
        let rim = |step: usize| {
            let turn = std::f64::consts::FRAC_PI_2 * step as f64 / CORNER_PIECES as f64;
            centre + radius * sign * DVec2::from_angle(turn)
        };
        for step in 0..CORNER_PIECES {
            let corners = [corner, rim(step), rim(step + 1)];
            let flat = corners.map(|it| DVec3::new(it.x, 0.0, it.y));
            edges.push(Solid::hull(flat.to_vec()));
        }
    }
    edges
}

/// The finished face as a thick slab behind it.
fn face(job: &Job, reading: Reading) -> Solid {
    let [half, thick] = SLAB;
    let mut corners = Vec::with_capacity(8);
    for x in [-half, half] {
        for z in [-half, half] {
            let depth = face_depth(job, reading, DVec2::new(x, z));
            corners.push(DVec3::new(x, depth, z));
            corners.push(DVec3::new(x, depth + thick, z));
        }
    }
    Solid::hull(corners)
}
