//! What is cut out of ribs so that everything goes in.
//!
//! [`RibFace`] is a flat obstacle in its own plane: there a notch is open to an
//! edge, has a depth and a width, and the stiffness that is left can be asked
//! for. [`as_cut`] is the obstacle as a solid with its notches.

mod face;

pub use face::{FaceFault, RibFace, as_cut};
