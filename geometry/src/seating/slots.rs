//! Where each lead passes its exit: side by side as in the loom, turned so
//! that the leads cross as little as they can on their way there.

use glam::{DVec2, DVec3};

use crate::distance::signed_distance;
use crate::job::Exit;
use crate::looms::passage::Hole;
use crate::packing::{Effort, pack};
use crate::solids::Solid;

/// Turns of the loom that are tried, and as many of its mirror image.
const TURNS: u32 = 36;

/// Furthest inside the cavity that a lead lines up with its exit, mm.
const FURTHEST: f64 = 80.0;

/// Steps in which the place is looked for, mm.
const STEP: f64 = 0.5;

/// Room between leads that lie side by side in an exit, mm.
pub const LOOSE: f64 = 0.2;

/// Room between them that is wished for, the most first, mm.
const APART: [f64; 5] = [3.0, 2.0, 1.2, 0.6, LOOSE];

/// A cable that leaves by an exit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaver {
    /// Its diameter, mm.
    pub od: f64,
    /// Where its cable starts, mm.
    pub from: DVec3,
}

/// The middle of each lead in the plane of the exit, in the order given, mm.
///
/// * `variant`: from 0 on ever closer together
pub fn slots(exit: &Exit, leavers: &[Leaver], variant: usize) -> Vec<DVec3> {
    let ods: Vec<f64> = leavers.iter().map(|leaver| leaver.od).collect();
    let (middle, rest) = lie(exit, &ods, &APART[variant.min(APART.len() - 1)..]);
    let [width, height] = exit.axes();
    let seen: Vec<DVec2> = leavers
        .iter()
        .map(|leaver| {
            let toward = leaver.from - exit.centre;
            DVec2::new(toward.dot(width), toward.dot(height))
        })
        .collect();
    let mut best: Option<(f64, Vec<DVec2>)> = None;
    for mirrored in [false, true] {
        for turn in 0..TURNS {
            let turn = std::f64::consts::TAU * f64::from(turn) / f64::from(TURNS);
            let mut places: Vec<DVec2> = rest
                .iter()
                .map(|centre| {
                    let centre = if mirrored {
                        DVec2::new(-centre.x, centre.y)
                    } else {
                        *centre
                    };
                    DVec2::from_angle(turn).rotate(centre)
                })
                .collect();
            swap_alike(&ods, &seen, &mut places);
            let pull = pull(&seen, &places);
            if best.as_ref().is_none_or(|(most, _)| pull > *most + 1e-9) {
                best = Some((pull, places));
            }
        }
    }
    let places = best.map_or_else(Vec::new, |(_, places)| places);
    places
        .into_iter()
        .map(|at| exit.place(middle + at))
        .collect()
}

/// Where cables lie in the hole, as far apart as it lets them: the middle of
/// the round they fill, and each about it.
fn lie(exit: &Exit, ods: &[f64], wished: &[f64]) -> (DVec2, Vec<DVec2>) {
    let (middle, round) = Hole::of(exit).largest_round().unwrap_or((DVec2::ZERO, 0.0));
    let packed = |apart: f64| {
        let loose: Vec<f64> = ods.iter().map(|od| od + apart).collect();
        pack(&loose, Effort::Quick)
    };
    let fits = wished
        .iter()
        .map(|apart| (packed(*apart), apart))
        .find(|(packing, apart)| packing.diameter - *apart <= round)
        .map(|(packing, _)| packing);
    let packing = fits.unwrap_or_else(|| packed(LOOSE));
    let centres = packing.circles.iter().map(|circle| circle.centre);
    (middle, centres.collect())
}

/// How well the places lie on the sides their leads come from; more is better.
fn pull(seen: &[DVec2], places: &[DVec2]) -> f64 {
    seen.iter()
        .zip(places)
        .map(|(seen, place)| seen.normalize_or_zero().dot(*place))
        .sum()
}

/// Lets leads of one diameter change places where both gain by it.
fn swap_alike(ods: &[f64], seen: &[DVec2], places: &mut [DVec2]) {
    let toward: Vec<DVec2> = seen.iter().map(|seen| seen.normalize_or_zero()).collect();
    for _ in 0..ods.len() {
        let mut swapped = false;
        for a in 0..ods.len() {
            for b in a + 1..ods.len() {
                let alike = (ods[a] - ods[b]).abs() < 1e-9;
                let gain = (toward[a] - toward[b]).dot(places[b] - places[a]);
                if alike && gain > 1e-9 {
                    places.swap(a, b);
                    swapped = true;
                }
            }
        }
        if !swapped {
            return;
        }
    }
}

/// Where a lead lines up with its exit: the last place inside the cavity, going
/// back from its slot against the exit's direction, from which on it is clear of
/// the walls; beyond it the hole has it. `None` when there is no such place.
///
/// * `slot`: its middle in the plane of the exit, mm
/// * `room`: from its middle to the walls, mm
pub fn line_up(exit: &Exit, slot: DVec3, walls: &[&Solid], room: f64) -> Option<DVec3> {
    let clear = |back: f64| {
        let point = slot - back * exit.direction;
        let dot = Solid::capsule(point, point, 0.0);
        walls.iter().all(|wall| signed_distance(&dot, wall) >= room)
    };
    let steps = (FURTHEST / STEP) as usize;
    (0..=steps)
        .map(|step| step as f64 * STEP)
        .find(|back| clear(*back))
        .map(|back| slot - back * exit.direction)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::ExitShape;

    fn exit() -> Exit {
        Exit {
            id: "left".into(),
            name: "gap".into(),
            centre: DVec3::new(-98., 190., 38.),
            direction: DVec3::NEG_X,
            shape: ExitShape::Round(22.0),
            run_beyond: 20.0,
        }
    }

    #[test]
    fn leads_lie_beside_each_other_on_the_sides_they_come_from() {
        let leaver = |up: f64| Leaver {
            od: 5.0,
            from: DVec3::new(0., 190., up),
        };
        let slots = slots(&exit(), &[leaver(80.), leaver(0.)], 0);
        assert!((slots[0].distance(slots[1]) - 8.0).abs() < 1e-9);
        assert!(slots[0].z > slots[1].z);
        assert!(slots.iter().all(|slot| (slot.x + 98.0).abs() < 1e-9));
    }

    #[test]
    fn a_lead_lines_up_where_the_walls_leave_it_room() {
        let wall = Solid::block(DVec3::new(-138., 0., -98.), DVec3::new(-98., 260., 98.));
        let at = line_up(&exit(), exit().centre, &[&wall], 4.75).unwrap();
        assert_eq!(at, DVec3::new(-93.0, 190., 38.));
    }
}
