//! Whether the mount and the unit belong together: holes, tabs, rear support, nose.

use glam::{DVec2, DVec3};

use crate::fit::{FINISHED_FACE, HolePair, MOUNT, Stop, StopKind};
use crate::frame::Side;
use crate::job::{Hold, Hole, Job, NoseSeat, TabDecision};
use crate::layout::{Layout, SlidingClass};
use crate::measure::{Harm, Reading};

/// Pairs per side a bracket needs to hold the unit. Common practice, no source.
const PAIRS_PER_SIDE: usize = 2;

/// Every bracket hole with the unit's hole nearest to it.
pub fn hole_pairs(job: &Job, layout: &Layout) -> Vec<HolePair> {
    let Hold::FactoryBrackets { holes, .. } = &job.mount.hold else {
        return Vec::new();
    };
    let seat_plane = job.cavity.seat_plane.value();
    let mut pairs = Vec::new();
    for side in [Side::Left, Side::Right] {
        let on = |hole: &&Hole| hole.side.is_none_or(|only| only == side);
        for bracket in holes.iter().filter(on) {
            let nearest = job
                .unit
                .side_holes
                .iter()
                .filter(on)
                .map(|unit| {
                    let depth = (seat_plane + bracket.depth) - (layout.chassis_front + unit.depth);
                    let along = (depth.abs() - 0.5 * bracket.slot.max(unit.slot)).max(0.0);
                    (along.hypot(bracket.up - unit.up), unit)
                })
                .min_by(|a, b| a.0.total_cmp(&b.0));
            if let Some((off, unit)) = nearest {
                let play = (0.5 * (bracket.diameter - unit.diameter)).max(0.0);
                pairs.push(HolePair {
                    side,
                    bracket_hole: bracket.id.clone(),
                    unit_hole: unit.id.clone(),
                    off,
                    lines_up: off <= play + 1e-9,
                });
            }
        }
    }
    pairs
}

/// What still keeps the job from being ready to fit, in words.
pub fn not_ready(job: &Job, pairs: &[HolePair]) -> Vec<String> {
    let mut reasons = Vec::new();
    if let Hold::KitPocket { tabs, .. } = &job.mount.hold {
        for tab in tabs
            .iter()
            .filter(|tab| tab.decision == TabDecision::NotSure)
        {
            reasons.push(format!(
                "Break-off tab '{}': keep it or remove it?",
                tab.name
            ));
        }
    }
    if matches!(job.mount.hold, Hold::FactoryBrackets { .. }) && !pairs.is_empty() {
        for side in [Side::Left, Side::Right] {
            let good = pairs
                .iter()
                .filter(|pair| pair.side == side && pair.lines_up)
                .count();
            if good < PAIRS_PER_SIDE {
                reasons.push(format!(
                    "{good} of the {} bracket's holes line up with the unit; {PAIRS_PER_SIDE} are needed.",
                    side.word()
                ));
            }
        }
    }
    if let Some(support) = &job.unit.rear_support
        && support.required
        && !job.mount.takes_rear_support
    {
        reasons.push("The unit needs a rear support and the mount has none.".to_owned());
    }
    if let Some(steepest) = job.unit.max_dip
        && job.cavity.slide_dip > steepest
    {
        reasons.push(format!(
            "The unit would sit {:.0}° from level; its maker allows {:.0}°.",
            job.cavity.slide_dip.to_degrees(),
            steepest.to_degrees()
        ));
    }
    reasons
}

/// Room that a kit's pocket leaves beside the unit and its plates, mm, where it is known.
pub fn pocket_room(job: &Job, reading: Reading) -> Option<f64> {
    match &job.mount.hold {
        Hold::KitPocket { side_room, .. } => side_room.map(|room| room.at(reading, Harm::Smaller)),
        _ => None,
    }
}

/// A unit that is too wide for its kit's pocket.
pub fn pocket_stop(job: &Job, layout: &Layout, reading: Reading) -> Option<Stop> {
    let room = pocket_room(job, reading)?;
    (room < 0.0).then(|| Stop {
        what: StopKind::Opening,
        piece: "chassis".to_owned(),
        part: String::new(),
        piece_id: "chassis".to_owned(),
        against: "pocket of the kit".to_owned(),
        against_id: MOUNT.to_owned(),
        short: -room,
        at: DVec3::new(layout.chassis_face[1].x, layout.chassis_front, 0.0),
    })
}

/// Depth of the finished face at a place, mm.
pub(crate) fn face_depth(job: &Job, reading: Reading, place: DVec2) -> f64 {
    let rake = job.cavity.face_rake;
    job.cavity.finished_face.at(reading, Harm::Smaller)
        + place.x * rake.y.tan()
        + place.y * rake.x.tan()
}

/// Corners of the nose's back: (across, up), and its depths front and back, mm.
fn nose_box(layout: &Layout) -> Option<([DVec2; 4], f64, f64)> {
    let nose = layout
        .sliding
        .iter()
        .find(|piece| piece.class == SlidingClass::Nose)?;
    let bounds = nose.solid.bounds();
    let corner = |x: f64, z: f64| DVec2::new(x, z);
    let (low, high) = (bounds.min, bounds.max);
    let corners = [
        corner(low.x, high.z),
        corner(high.x, high.z),
        corner(high.x, low.z),
        corner(low.x, low.z),
    ];
    Some((corners, low.y, high.y))
}

/// A lapping nose, or a floating face, that meets the finished face before the
/// mount's seat is reached.
pub fn face_stops(job: &Job, layout: &Layout, reading: Reading) -> Vec<Stop> {
    let mut stops = Vec::new();
    for piece in &layout.sliding {
        let laps = match piece.class {
            SlidingClass::Nose => job.unit.nose.seat == NoseSeat::Laps,
            SlidingClass::Overhang => true,
            _ => false,
        };
        if !laps {
            continue;
        }
        let bounds = piece.solid.bounds();
        let worst = [bounds.min, bounds.max]
            .into_iter()
            .flat_map(|x| [bounds.min, bounds.max].map(|z| DVec2::new(x.x, z.z)))
            .map(|place| (bounds.max.y - face_depth(job, reading, place), place))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((short, place)) = worst
            && short > 1e-9
        {
            stops.push(Stop {
                what: StopKind::Nose,
                piece: piece.name.clone(),
                part: String::new(),
                piece_id: piece.id.clone(),
                against: "finished face".to_owned(),
                against_id: FINISHED_FACE.to_owned(),
                short,
                at: DVec3::new(place.x, bounds.max.y - short, place.y),
            });
        }
    }
    stops
}

/// How far the nose stands out of the finished face when its corners stand
/// proud by `proud` (top left, top right, bottom right, bottom left), less what
/// a trim ring hides, worst corner, mm.
pub fn look_proud(job: &Job, layout: &Layout, proud: [f64; 4]) -> Option<f64> {
    let (corners, front, _) = nose_box(layout)?;
    let hidden = job.unit.nose.trim_ring.map_or(0.0, |ring| ring.lip);
    corners
        .into_iter()
        .zip(proud)
        .map(|(corner, proud)| face_depth(job, Reading::Nominal, corner) - (front - proud) - hidden)
        .reduce(f64::max)
}

/// Remarks on how the nose covers the opening.
pub fn nose_remarks(job: &Job, layout: &Layout) -> Vec<String> {
    let Some((corners, _, back)) = nose_box(layout) else {
        return Vec::new();
    };
    let mut remarks = Vec::new();
    if job.unit.nose.seat == NoseSeat::Laps {
        let half = 0.5 * (corners[1] - corners[3]);
        let bare = layout.opening_half - half;
        let ring = job.unit.nose.trim_ring;
        let covered = |half: f64, ring: Option<f64>| ring.is_some_and(|size| 0.5 * size >= half);
        let sides = [
            (
                bare.x,
                covered(layout.opening_half.x, ring.map(|ring| ring.width)),
                "each side",
            ),
            (
                bare.y,
                covered(layout.opening_half.y, ring.map(|ring| ring.height)),
                "top and bottom",
            ),
        ];
        for (bare, covered, place) in sides {
            if bare > 0.05 && !covered {
                remarks.push(format!(
                    "The nose leaves a gap of {bare:.1} mm at {place} of the opening."
                ));
            }
        }
        let face = corners
            .into_iter()
            .map(|corner| face_depth(job, Reading::Nominal, corner) - back)
            .fold(f64::INFINITY, f64::min);
        if face > 0.05 {
            remarks.push(format!(
                "At its seat the nose stays {face:.1} mm clear of the finished face."
            ));
        }
    }
    remarks
}
