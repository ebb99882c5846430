//! Solids, distances and the fit of a unit in a dash.

pub mod distance;
pub mod fit;
pub mod frame;
pub mod job;
pub mod layout;
pub mod measure;
pub mod solids;
pub mod sweep;

pub use distance::{Nearest, nearest, signed_distance};
pub use fit::*;
pub use frame::{Pose, Side};
pub use job::*;
pub use layout::*;
pub use measure::{Harm, Measure, Reading};
pub use solids::{Bounds, Outline, OutlineFault, Shape, Solid};
pub use sweep::{Meeting, stop_along};
