//! How full a hole can get.

use glam::DVec2;

use super::hole::Hole;
use super::room::Room;
use super::{Passage, Passes, lie_in, lie_in_with, touch};
use crate::packing::{Effort, PackedCircle};

/// Halvings of the span in which the thickest cable more is looked for.
const HALVINGS: usize = 8;

/// How much more a hole takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Fullest {
    /// The leads where they could grow furthest.
    pub passage: Passage,
    /// The thickest cable found that lies in the hole besides them, mm; 0 when
    /// they do not pass themselves. A thicker one may exist.
    pub one_more: f64,
    /// How all lie with it: the leads in the order given, then the cable more.
    pub with_one_more: Vec<PackedCircle>,
}

/// By how much leads could grow in a hole, and the thickest cable that still
/// lies in it besides them.
///
/// * `diameters`: mm
pub fn fullest(diameters: &[f64], hole: &Hole, effort: Effort) -> Fullest {
    let passage = lie_in_with(diameters, hole, f64::INFINITY, effort);
    let mut found = Fullest {
        one_more: 0.0,
        with_one_more: passage.placed.clone(),
        passage,
    };
    let Some(room) = Room::of(hole).filter(|_| found.passage.verdict == Passes::Yes) else {
        return found;
    };
    let leads = spread(&found.passage, &room);
    beside(&leads, &room, &mut found);
    let most = touch::largest(&room, &[]).map_or(0.0, |(_, radius)| 2.0 * radius);
    let taken: f64 = diameters.iter().map(|d| d * d).sum();
    let by_area = (hole.area() / std::f64::consts::FRAC_PI_4 - taken)
        .max(0.0)
        .sqrt();
    let mut high = most.min(by_area);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (found.one_more + high);
        let mut with = diameters.to_vec();
        with.push(middle);
        let passage = lie_in(&with, hole, effort);
        if passage.verdict == Passes::Yes {
            beside(
                &spread(&passage, &room)[..diameters.len()],
                &room,
                &mut found,
            );
            if found.one_more < middle {
                found.one_more = middle;
                found.with_one_more = passage.placed;
            }
        } else {
            high = middle;
        }
    }
    found
}

/// The places of leads; in a round hole, where they were packed tight, drawn
/// apart until one touches the rim.
fn spread(passage: &Passage, room: &Room) -> Vec<PackedCircle> {
    let apart = match room {
        Room::Disc(rim) => (passage.placed.iter())
            .map(|lead| (rim - 0.5 * lead.diameter) / lead.centre.length())
            .filter(|apart| apart.is_finite())
            .fold(f64::INFINITY, f64::min),
        Room::Flat { .. } => 1.0,
    };
    let apart = if apart.is_finite() { apart } else { 1.0 };
    let drawn = |lead: &PackedCircle| PackedCircle {
        centre: apart.max(1.0) * lead.centre,
        ..*lead
    };
    passage.placed.iter().map(drawn).collect()
}

/// Lays the largest circle beside leads where they lie, if it is a larger one.
fn beside(leads: &[PackedCircle], room: &Room, found: &mut Fullest) {
    let taken: Vec<(DVec2, f64)> = (leads.iter())
        .filter(|lead| lead.diameter > 0.0)
        .map(|lead| (lead.centre, 0.5 * lead.diameter))
        .collect();
    if let Some((centre, radius)) = touch::largest(room, &taken) {
        let diameter = 2.0 * radius;
        if diameter > found.one_more {
            found.one_more = diameter;
            found.with_one_more = leads.to_vec();
            found.with_one_more.push(PackedCircle { diameter, centre });
        }
    }
}
