//! Seatwell: will the unit seat fully, with everything plugged in?
//!
//! * [`command`]: the command line
//! * [`desk`]: the window
//! * [`answer`]: answers as other programs read them
//! * [`words`], [`cautions`], [`figures`]: answers as people read them
//!
//! Nothing is measured here: `profiles` reads files, `geometry` computes.

pub mod answer;
pub mod cautions;
pub mod command;
pub mod desk;
pub mod figures;
pub mod ranking;
pub mod words;

/// A frame builds and drops thousands of small things; the system's own
/// allocator takes a quarter of its time for them.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;
