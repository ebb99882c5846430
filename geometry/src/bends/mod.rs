//! Closed forms of the turns a cable makes, mm and rad.
//!
//! Every radius is at the centreline; a rule measured at the inside becomes
//! one by adding half the outside diameter ([`BendRule::centreline`]). Unless
//! said otherwise a formula is elementary geometry, and stands with its item.
//!
//! * behind a plug: [`turn_room`], [`depth_of_turn`]. A right-angle plug turns
//!   the cable itself; its own height counts instead.
//! * from line to line: [`side_step`], [`u_turn`], [`turn_to`]
//! * from pose to pose: [`dubins`] in a plane, [`direct`] in space
//! * a loom: [`most_sensitive_member`], [`times_largest`]
//! * slack and coils: [`fold`], [`helix_length`], [`helix_bend_radius`]
//!
//! ```
//! use geometry::bends::{direct, turn_room};
//! use glam::DVec3;
//! assert!((turn_room(32.175, 4.95) - 34.65).abs() < 1e-12);
//! // From a plug at the rear to an exit 120 mm further and to the side.
//! let exit = DVec3::new(120., 120., 0.);
//! let way = direct(DVec3::ZERO, DVec3::Y, exit, DVec3::X, 30.0).unwrap();
//! let (turns, straight) = (0.5 * std::f64::consts::PI, 3.0 * 2f64.sqrt());
//! assert!((way.length() - 30.0 * (turns + straight)).abs() < 1e-9);
//! ```
//!
//! [`BendRule::centreline`]: crate::BendRule::centreline

use std::fmt;

mod coil;
mod csc;
mod direct;
mod dubins;
mod flat;
mod loom;
mod side_step;
mod turn;
mod u_turn;
mod word;

pub use coil::{Fold, cable_volume, fold, folded_length, helix_bend_radius, helix_length};
pub use direct::direct;
pub use dubins::{DubinsPath, dubins};
pub use flat::{Stretch, laid, planar};
pub use loom::{LoomRule, SUPPORTED, UNSUPPORTED, most_sensitive_member, times_largest};
pub use side_step::{SideStep, greatest_side_step, side_step, side_step_within};
pub use turn::{depth_of_turn, turn_room, turn_to};
pub use u_turn::{UTurn, u_turn};
pub use word::{Turning, Word};

/// Why there is no such bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BendFault {
    /// A length, radius or angle is not a usable number.
    NotANumber,
    /// Two arcs alone do not step this far aside.
    StepTooFar {
        /// The farthest they do, mm.
        most: f64,
    },
}

impl fmt::Display for BendFault {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            BendFault::NotANumber => write!(f, "a length, radius or angle is not usable"),
            BendFault::StepTooFar { most } => {
                write!(f, "two arcs step aside by {most:.2} mm at most")
            }
        }
    }
}

impl std::error::Error for BendFault {}

/// Whether these are usable figures: a radius above 0, the rest 0 or more.
fn usable(radius: f64, others: &[f64]) -> Result<(), BendFault> {
    let fine = |figure: f64| figure.is_finite() && figure >= 0.0;
    if fine(radius) && radius > 0.0 && others.iter().all(|&other| fine(other)) {
        Ok(())
    } else {
        Err(BendFault::NotANumber)
    }
}
