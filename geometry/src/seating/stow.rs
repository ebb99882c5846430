//! Where the slack of laid leads goes.

use super::arrangements::Arrangement;
use super::ends::Sits;
use crate::job::{Job, Pocket};
use crate::measure::Reading;
use crate::routed::Route;
use crate::slack::{FILL_LIMIT, PocketRoom, Stowage, ToStow, stow};
use crate::solids::Solid;

/// The slack that must find room in the cavity, folded into its pockets.
pub fn stowed(job: &Job, arrangement: &Arrangement, routes: &[Route]) -> Stowage {
    let wanting: Vec<ToStow> = routes
        .iter()
        .filter(|route| route.cable == 0)
        .filter_map(|route| {
            let slack = route.slack.as_ref()?;
            let lead = job.leads.iter().find(|lead| lead.id == slack.lead)?;
            Some(ToStow {
                lead: slack.lead.clone(),
                od: lead.cable.od.value(),
                cables: lead.cables,
                fold_radius: lead.cable.fold_radius,
                length: slack.to_stow(),
            })
        })
        .collect();
    let rooms: Vec<PocketRoom> = job
        .cavity
        .pockets
        .iter()
        .map(|pocket| PocketRoom {
            taken: taken(pocket, arrangement),
            ..PocketRoom::of(pocket, Reading::Nominal)
        })
        .collect();
    stow(&wanting, &rooms, FILL_LIMIT)
}

/// Volume of a pocket that modules take, mm3.
fn taken(pocket: &Pocket, arrangement: &Arrangement) -> f64 {
    let inside = |block: &Solid| {
        let bounds = block.bounds();
        (0..3)
            .map(|axis| {
                let [low, high] = pocket.faces[axis].map(|face| face.value());
                (bounds.max[axis].min(high) - bounds.min[axis].max(low)).max(0.0)
            })
            .product::<f64>()
    };
    let blocks = arrangement.values().filter_map(|sits| match sits {
        Sits::Cavity(block) => Some(block),
        Sits::Space(_) => None,
    });
    blocks.map(inside).sum()
}
