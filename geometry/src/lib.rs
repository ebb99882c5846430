//! Solids, distances and the fit of a unit in a dash.

pub mod fit;
pub mod frame;
pub mod job;
pub mod layout;
pub mod measure;
pub mod solids;

pub use fit::*;
pub use frame::{Pose, Side};
pub use job::*;
pub use layout::*;
pub use measure::{Harm, Measure, Reading};
pub use solids::{Bounds, Outline, OutlineFault, Shape, Solid};
