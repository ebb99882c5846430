//! What is cut out of ribs so that everything goes in.
//!
//! [`RibFace`] is a flat obstacle in its own plane: there a notch is open to an
//! edge, has a depth and a width, and the stiffness that is left can be asked
//! for. [`as_cut`] is the obstacle as a solid with its notches.
//!
//! [`least_cut`] looks for the least cut at one proud, [`steps`] for one proud
//! after the other. In the order of the work, by file: which ribs may be cut and
//! where (`windows`); with everything opened that may be, what laid leads and
//! stiff pieces ask of each rib (`demand`); the question whether a cut holds
//! (`shop`); notches made smaller while it does (`polish`); the whole (`least`).

mod answer;
mod demand;
mod face;
mod least;
mod polish;
mod shop;
mod windows;

pub use answer::{TrimOutcome, TrimStep};
pub use face::{FaceFault, RibFace, as_cut};
pub use least::{FURTHEST_STEP, least_cut, steps};
