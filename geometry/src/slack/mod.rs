//! Slack: how much of a lead is left over, where it is stowed, and whether the
//! lead reaches with the unit held out.
//!
//! Lengths in millimetres.
//!
//! * [`lead_slack`]: length less what its way and its joint need
//! * [`stow`]: slack folded into pockets
//! * [`service_reach`]: the length it takes to plug in with the unit in hand

mod needed;
mod reach;
mod stow;

pub use needed::{LeadSlack, Ways, lead_slack};
pub use reach::{CableEnd, Reach, ReachAsked, Weight, service_reach};
pub use stow::{FILL_LIMIT, LeftOut, PocketFill, PocketRoom, Stowage, ToStow, stow};
