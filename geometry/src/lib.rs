//! Solids, distances and the fit of a unit in a dash.

pub mod cavity;
pub mod distance;
pub mod fit;
pub mod fitting;
pub mod frame;
pub mod job;
mod lay_out;
pub mod layout;
pub mod measure;
pub mod section;
pub mod solids;
pub mod sweep;

pub use distance::{Nearest, nearest, signed_distance};
pub use fit::*;
pub use fitting::{SHADOW, VENT_AIR, fit};
pub use frame::{Pose, Side};
pub use job::*;
pub use lay_out::{fixed_solids, lay_out};
pub use layout::*;
pub use measure::{Harm, Measure, Reading};
pub use section::{Facet, facets, silhouette, slice};
pub use solids::{Bounds, Outline, OutlineFault, Shape, Solid};
pub use sweep::{Meeting, stop_along};
