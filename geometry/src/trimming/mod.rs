//! What is cut out of ribs so that everything goes in.
//!
//! [`RibFace`] is a flat obstacle in its own plane: there a notch is open to an
//! edge, has a depth and a width, and the stiffness that is left can be asked
//! for. [`as_cut`] is the obstacle as a solid with its notches.
//!
//! What a notch may do is asked of [`faults`], cheap enough for a search, and
//! of [`limits`]; what it takes and what the rib keeps, of [`account()`];
//! whether a tool gets there, of [`reach()`]; how stress rises at its corners, of
//! [`corner_stress`].
//!
//! [`least_cut`] looks for the least cut at one proud, [`steps`] for one proud
//! after the other. In the order of the work, by file: which ribs may be cut and
//! where (`windows`); with everything opened that may be, what laid leads and
//! stiff pieces ask of each rib (`demand`); the question whether a cut holds
//! (`shop`); notches made smaller while it does (`polish`); one that leaves a rib too weak
//! exchanged for one that does not (`stiffen`); the whole (`least`).
//! [`strip_rooms`] says on which face of a rib its strips have room.
//! [`by_hand()`] answers for one drawn notch after the other.

mod account;
mod answer;
mod by_hand;
mod corners;
mod crossing;
mod demand;
mod face;
mod fault;
mod flat;
mod least;
mod ledger;
mod polish;
mod reach;
mod rules;
mod shop;
mod stiffen;
mod strip_room;
mod windows;

pub use account::{
    Account, Doublers, NotchAccount, RibBook, RibKept, TabOff, account, accounts, tabs_off,
};
pub use answer::{TrimOutcome, TrimStep};
pub use by_hand::{ByHand, by_hand};
pub use corners::{CornerStress, corner_stress};
pub use face::{FaceFault, RibFace, as_cut};
pub use fault::TrimFault;
pub use least::{FURTHEST_STEP, least_cut, steps};
pub use ledger::Ledger;
pub use reach::{Approach, CutLine, ToolPart, Unreachable, reach};
pub use rules::{CutRange, RibRules, carried_out, faults, limits};
pub use strip_room::{StripBlocked, StripRoom, strip_rooms};
