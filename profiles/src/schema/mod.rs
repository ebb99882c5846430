//! Files as written: the types a job file and a parts file are read into.
//!
//! Nothing here is resolved: lengths keep the text a person typed, parts may be
//! named rather than described, and what is left out stays left out. See
//! [`mod@crate::inline`] for what turns this into numbers.

mod cavity;
mod job;
mod leads;
mod looms;
mod mount;
mod part_use;
mod parts;
mod trims;
mod unit;

pub use cavity::*;
pub use job::*;
pub use leads::*;
pub use looms::*;
pub use mount::*;
pub use part_use::PartUse;
pub use parts::*;
pub use trims::*;
pub use unit::*;

/// The `format:` number this program writes and reads.
pub const FORMAT: u32 = 1;

/// Whether a value equals its type's default and need not be written.
fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// What a number is that counts from 1 and was left out.
fn one() -> u32 {
    1
}

/// Whether a number that counts from 1 need not be written.
fn is_one(number: &u32) -> bool {
    *number == 1
}
