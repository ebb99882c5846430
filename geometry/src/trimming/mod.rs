//! What is cut out of ribs so that everything goes in.
//!
//! [`RibFace`] is a flat obstacle in its own plane: there a notch is open to an
//! edge, has a depth and a width, and the stiffness that is left can be asked
//! for. [`as_cut`] is the obstacle as a solid with its notches.
//!
//! What a notch may do is asked of [`faults`], cheap enough for a search, and
//! of [`limits`]; what it takes and what the rib keeps, of [`account()`]; whether a tool gets there, of [`reach()`].

mod account;
mod face;
mod fault;
mod flat;
mod reach;
mod rules;

pub use account::{
    Account, Doublers, NotchAccount, RibBook, RibKept, TabOff, account, accounts, tabs_off,
};
pub use face::{FaceFault, RibFace, as_cut};
pub use fault::TrimFault;
pub use reach::{Approach, CutLine, ToolPart, Unreachable, reach};
pub use rules::{CutRange, RibRules, carried_out, faults, limits};
