//! Where a lead that found no way came nearest to one.

use super::attempt::{Attempt, Failed};
use super::scene::{Named, Scene};
use crate::routed::LeadMiss;
use crate::routing::{Effort, NoWay, nearest_miss};

/// Less than this is no miss worth telling, mm.
const LEAST: f64 = 0.05;

/// The least that was lacking of any way looked at, the other leads as they
/// were laid; `None` where no way came near, or where the reason is another.
pub fn closest_miss(scene: &Scene<'_>, laid: &Attempt, failed: &Failed) -> Option<LeadMiss> {
    let open = matches!(failed.why, NoWay::Exhausted | NoWay::GaveUp);
    if !open || failed.against.is_some() {
        return None;
    }
    let stand = scene.at_heeding(laid.proud, laid.heed);
    let miss = nearest_miss(
        &stand.surroundings,
        &stand.tasks,
        &laid.ways,
        failed.plan,
        &Effort::default(),
    )?;
    if miss.by < LEAST {
        return None;
    }
    let named: Named = match (miss.solid, miss.lead) {
        (Some(solid), _) => stand.names.get(solid)?.clone(),
        (None, Some(lead)) => scene.name_of(lead)?,
        (None, None) => return None,
    };
    Some(LeadMiss {
        short: miss.by,
        against: named.id,
        name: named.name,
        at: miss.at,
    })
}
