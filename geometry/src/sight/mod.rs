//! Solids seen from any side: what hides what, and which edges show.
//!
//! 1. An [`Eye`] says from where; parallel rays, as in a technical drawing.
//! 2. A [`Skin`] is the outside of one solid or lead, its edges found once.
//! 3. [`Sight::look`] fills a grid with the facet seen in each cell, solid and
//!    see-through ones apart, and cuts every edge into runs that show and runs
//!    that are hidden.
//!
//! Cells are square, counted right and down from the top left of the picture.

mod eye;
mod fill;
mod look;
mod runs;
mod skin;

pub use eye::Eye;
pub use look::{Place, Seen, Sight, Standing};
pub use runs::Run;
pub use skin::Skin;
