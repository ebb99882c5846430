//! Whether a lead reaches its socket with the unit held out.

use glam::DVec3;

use crate::bends;
use crate::frame::DEPTH;
use crate::job::ServiceReach;

/// Where a cable begins or ends, and which way it goes there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CableEnd {
    /// Place, mm.
    pub at: DVec3,
    /// Unit vector: at a plug out of it, at an exit out of the cavity.
    pub way: DVec3,
}

/// What service reach is asked of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReachAsked {
    /// Where the cable leaves its plug with the unit home.
    pub plug: CableEnd,
    /// From the plug's mating face to there, mm.
    pub stiff: f64,
    /// Where the cable leaves the cavity, or meets its module or factory plug.
    pub end: CableEnd,
    /// What the lead needs from there on, joint included, mm.
    pub beyond: f64,
    /// Length of the lead from its plug's mating face, mm.
    pub length: f64,
    /// Tightest bend at the centreline, mm.
    pub radius: f64,
}

/// How a lead reaches its socket with the unit held out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// How far out the unit is held, mm.
    pub pull_out: f64,
    /// Length it takes without a bend too tight, nothing in the way, mm;
    /// `None` when no such way was found.
    pub needed: Option<f64>,
    /// Length it takes at the very least: stiff plug and straight lines, mm.
    pub at_least: f64,
    /// Length of the lead, mm.
    pub length: f64,
    /// What it lacks, mm; 0 = it reaches.
    pub short_by: f64,
    /// Whether it would still be short drawn straight: then no doubt is left.
    pub surely_short: bool,
    /// What a lead that is short counts as.
    pub weight: Weight,
}

/// What a lead that is short counts as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// To be told.
    Warning,
    /// The job asks for it.
    Error,
}

impl Reach {
    /// Whether the lead is long enough.
    pub fn enough(&self) -> bool {
        self.short_by <= 0.0
    }
}

/// Whether a lead is long enough to plug in with the unit held out.
///
/// The plug is drawn out along depth as it is, and the cable laid from it to its
/// end the short way ([`bends::direct`]). That way knows no obstacles: round a
/// rib a lead needs more.
pub fn service_reach(asked: &ReachAsked, service: ServiceReach) -> Reach {
    let drawn_out = asked.plug.at - service.pull_out * DEPTH;
    let ends = asked.stiff + asked.beyond;
    let at_least = ends + drawn_out.distance(asked.end.at);
    let way = bends::direct(
        drawn_out,
        asked.plug.way,
        asked.end.at,
        asked.end.way,
        asked.radius,
    );
    let needed = way.map(|path| ends + path.length());
    let short_by = (needed.unwrap_or(at_least) - asked.length).max(0.0);
    Reach {
        pull_out: service.pull_out,
        needed,
        at_least,
        length: asked.length,
        short_by,
        surely_short: at_least > asked.length,
        weight: if service.required {
            Weight::Error
        } else {
            Weight::Warning
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use std::f64::consts::PI;

    fn straight_back(length: f64) -> ReachAsked {
        let end = |depth: f64| CableEnd {
            at: DVec3::new(0.0, depth, 0.0),
            way: DEPTH,
        };
        ReachAsked {
            plug: end(170.0),
            stiff: 30.0,
            end: end(260.0),
            beyond: 50.0,
            length,
            radius: 20.0,
        }
    }

    const HELD_OUT: ServiceReach = ServiceReach {
        pull_out: 120.0,
        required: true,
    };

    #[test]
    fn straight_back_it_takes_the_pull_out_more() {
        let reach = service_reach(&straight_back(280.0), HELD_OUT);
        assert_abs_diff_eq!(reach.needed.unwrap(), 290.0, epsilon = 1e-9);
        assert_abs_diff_eq!(reach.short_by, 10.0, epsilon = 1e-9);
        assert!(reach.surely_short && reach.weight == Weight::Error);
        assert!(service_reach(&straight_back(290.1), HELD_OUT).enough());
    }

    #[test]
    fn a_turn_to_the_side_takes_its_arc() {
        let mut asked = straight_back(400.0);
        asked.end = CableEnd {
            at: DVec3::new(100.0, 250.0, 0.0),
            way: DVec3::X,
        };
        let reach = service_reach(&asked, HELD_OUT);
        // From turn to turn, their middles 180 deep and 80 aside from each other.
        let length = 80.0 + 180f64.hypot(80.0) + 0.5 * PI * 20.0;
        assert_abs_diff_eq!(reach.needed.unwrap(), length, epsilon = 1e-9);
        assert!(reach.enough() && reach.at_least < length);
    }
}
