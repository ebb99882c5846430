//! What a place costs: leads as short as can be, out of the way of the others, low.

use glam::DVec3;

use super::axis_of;
use super::reach::Cable;
use super::room::Room;
use super::spots::Spot;
use crate::job::{Job, LeadEnd, Module};
use crate::layout::Layout;
use crate::measure::{Harm, Reading};
use crate::solids::Bounds;

/// What a place in another lead's straight way costs, as mm of lead. No source:
/// a lead that has to go round a module takes about so much more.
const IN_THE_WAY: f64 = 40.0;

/// What a place in the turn room of a plug costs, as mm of lead.
const IN_A_TURN: f64 = 120.0;

/// What each mm above the lowest place costs: what lies low cannot fall.
const ABOVE: f64 = 0.2;

/// Places along a straight way at which it is looked at.
const STEPS: u32 = 8;

/// What it costs to be fixed by a face, as mm of lead: standing on something
/// is best, hanging from the roof is worst. Common practice, no source.
fn by_face(mount: DVec3) -> f64 {
    match (axis_of(mount), mount.max_element() > 0.0) {
        (2, false) => 0.0,
        (2, true) => 30.0,
        (1, false) => 12.0,
        _ => 6.0,
    }
}

/// What has a say in where a module goes.
pub struct Prices<'a> {
    cables: &'a [Cable],
    /// Straight ways of the other leads: points and the room about them, mm.
    ways: Vec<(Vec<DVec3>, f64)>,
    turns: Vec<Bounds>,
    lowest: f64,
}

impl<'a> Prices<'a> {
    /// Of one module.
    pub fn of(
        job: &Job,
        layout: &Layout,
        reading: Reading,
        (module, cables): (&Module, &'a [Cable]),
        room: &Room,
        proud: f64,
    ) -> Prices<'a> {
        let own = |id: &str| {
            let mut cables = cables.iter();
            cables.any(|cable| job.leads[cable.number].id == id)
        };
        let mut ways = Vec::new();
        for start in layout.cables.iter().filter(|start| !own(&start.lead)) {
            let lead = job.leads.iter().find(|lead| lead.id == start.lead);
            let Some(lead) = lead else { continue };
            let end = match &lead.end {
                LeadEnd::Exit(id) => {
                    let mut exits = job.cavity.exits.iter();
                    exits.find(|exit| exit.id == *id).map(|exit| exit.centre)
                }
                LeadEnd::FactoryPlug(id) => {
                    let mut plugs = job.cavity.factory_plugs.iter();
                    plugs.find(|plug| plug.id == *id).map(|plug| plug.at)
                }
                LeadEnd::Module(_) => None,
            };
            let Some(end) = end else { continue };
            let od = lead.cable.od.at(reading, Harm::Larger);
            let turn = lead.cable.rule(job.rules).centreline(od) + 0.5 * od;
            let from = start.at - proud * DVec3::Y + turn * start.way;
            let points = (0..=STEPS).map(|step| from.lerp(end, f64::from(step) / f64::from(STEPS)));
            ways.push((points.collect(), 0.5 * od + module.clear));
        }
        let turns = layout.turns.iter().map(|turn| {
            let [min, max] = turn.room(proud);
            Bounds { min, max }
        });
        Prices {
            cables,
            ways,
            turns: turns.collect(),
            lowest: room.bounds.min.z,
        }
    }

    /// What a spot costs, as mm of lead.
    pub fn of_spot(&self, spot: &Spot) -> f64 {
        let Bounds { min, max } = spot.bounds;
        let mut price = by_face(spot.mount) + ABOVE * (min.z - self.lowest);
        for cable in self.cables {
            if let Some(other) = cable.other {
                price += other.distance(other.clamp(min, max));
            }
        }
        for (points, room) in &self.ways {
            let near = |point: &DVec3| point.distance(point.clamp(min, max)) < *room;
            if points.iter().any(near) {
                price += IN_THE_WAY;
            }
        }
        for turn in &self.turns {
            let over = (turn.max.min(max) - turn.min.max(min)).max(DVec3::ZERO);
            let share = (over / turn.size().max(DVec3::splat(1e-9))).element_product();
            if share > 0.0 {
                price += IN_A_TURN * (0.25 + share);
            }
        }
        price
    }
}
