//! Slack: how much of a lead is left over, where it is stowed, and whether the
//! lead reaches with the unit held out.
//!
//! Lengths in millimetres.
//!
//! * [`lead_slack`]: length less what its way and its joint need
//! * [`stow`]: slack folded into pockets
//! * [`half_way`]: the same with the unit held out, the room behind it a pocket more
//! * [`service_reach`]: the length it takes to plug in with the unit in hand

mod half_way;
mod needed;
mod reach;
mod stow;

pub use half_way::{HalfWay, NoRoom, half_way};
pub use needed::{LeadSlack, Ways, lead_slack};
pub use reach::{CableEnd, Reach, ReachAsked, Weight, service_reach};
pub use stow::{FILL_LIMIT, LeftOut, PocketFill, PocketRoom, Stowage, ToStow, stow};
