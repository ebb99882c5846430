//! How far out a lead holds the unit whatever way it takes: a bound in closed form.
//!
//! A cable that heads into the dash and may turn no tighter than `radius`
//! cannot get aside faster than along one arc: by the time it has gone `d`
//! deeper it is at most radius - sqrt(radius² - d²) aside, and it cannot turn
//! back before it has gone `radius` deeper. So a flat face square to the slide
//! line holds it out unless there is depth enough before the face to pass its
//! nearest edge, or to turn. Elementary geometry; no way of any layer can
//! stand less proud.

use glam::{DQuat, DVec2};

use crate::frame::DEPTH;
use crate::layout::{CableStart, Layout};
use crate::solids::{Shape, Solid};

/// A cable and the room it asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// Tightest turn at its middle, mm.
    pub radius: f64,
    /// Outside diameter, mm.
    pub od: f64,
    /// Straight run behind the plug, mm.
    pub straight: f64,
}

/// What holds a lead out, and by how much.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldOut {
    /// Id of the solid.
    pub against: String,
    /// What the installer calls it.
    pub name: String,
    /// The unit stands at least this far proud, mm; more than 0.
    pub proud: f64,
}

/// The solid that holds a lead out furthest, if any does for certain.
pub fn held_out(layout: &Layout, start: &CableStart, cable: Stiffness) -> Option<HeldOut> {
    if start.way != DEPTH {
        return None;
    }
    layout
        .fixed
        .iter()
        .filter_map(|fixed| {
            let proud = proud_before(start, cable, &fixed.solid, fixed.clear)?;
            (proud > 0.0).then(|| HeldOut {
                against: fixed.id.clone(),
                name: fixed.name.clone(),
                proud,
            })
        })
        .max_by(|a, b| a.proud.total_cmp(&b.proud))
}

/// The least proud at which a cable gets round one upright block, mm; negative
/// with depth to spare, `None` when the block is not ahead of it.
fn proud_before(start: &CableStart, cable: Stiffness, solid: &Solid, clear: f64) -> Option<f64> {
    let upright =
        matches!(solid.shape(), Shape::Block { .. }) && solid.pose().turn == DQuat::IDENTITY;
    if !upright {
        return None;
    }
    let bounds = solid.bounds();
    let at = DVec2::new(start.at.x, start.at.z);
    let low = at - DVec2::new(bounds.min.x, bounds.min.z);
    let high = DVec2::new(bounds.max.x, bounds.max.z) - at;
    let aside = low.min(high).min_element();
    if aside <= 0.0 || bounds.max.y <= start.at.y {
        return None;
    }
    let ahead = bounds.min.y - clear - 0.5 * cable.od - start.at.y - cable.straight;
    Some(depth_to_pass(cable.radius, aside) - ahead)
}

/// Depth in which a cable of the given tightest radius gets `aside`, or turns, mm.
fn depth_to_pass(radius: f64, aside: f64) -> f64 {
    if aside >= radius {
        return radius;
    }
    (aside * (2.0 * radius - aside)).sqrt()
}

#[cfg(test)]
mod tests {
    use glam::DVec3;

    use super::*;

    fn start(at: DVec3) -> CableStart {
        CableStart {
            lead: "lead".into(),
            at,
            way: DEPTH,
            abreast: DVec3::X,
            stiff: 20.0,
        }
    }

    const CABLE: Stiffness = Stiffness {
        radius: 20.0,
        od: 4.0,
        straight: 0.0,
    };

    fn plate() -> Solid {
        Solid::block(DVec3::new(-100., 130., -50.), DVec3::new(100., 133., 50.))
    }

    #[test]
    fn before_a_wide_plate_it_needs_its_whole_turn() {
        // Room ahead 130 - 3 - 2 - 110 = 15 of the 20 that the turn takes.
        let proud = proud_before(&start(DVec3::new(0., 110., 0.)), CABLE, &plate(), 3.0);
        assert_eq!(proud, Some(5.0));
    }

    #[test]
    fn near_an_edge_it_passes_sooner() {
        // 4 aside in sqrt(4 x 36) = 12 deep.
        let proud = proud_before(&start(DVec3::new(0., 110., 46.)), CABLE, &plate(), 3.0);
        assert_eq!(proud, Some(-3.0));
    }

    #[test]
    fn what_is_not_ahead_holds_nothing() {
        let beside = proud_before(&start(DVec3::new(0., 110., 60.)), CABLE, &plate(), 3.0);
        assert_eq!(beside, None);
        let behind = proud_before(&start(DVec3::new(0., 140., 0.)), CABLE, &plate(), 3.0);
        assert_eq!(behind, None);
    }
}
