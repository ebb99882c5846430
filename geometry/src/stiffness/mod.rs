//! How stiff a rib stays when it is cut.
//!
//! A notch is compared with the rib whole: same supports, same push, deflection
//! whole over deflection as cut. It compares; it proves no strength.
//!
//! ```
//! use geometry::stiffness::{Edge, Load, Notch, Rib, stiffness_kept};
//! use glam::DVec2;
//! // A rib 196 by 38, 2.5 thick, notched 28 wide and 12.5 deep beside its middle.
//! let rib = Rib::rectangle(DVec2::new(-98., -12.), DVec2::new(98., 26.), 2.5, 2500.0);
//! let notch = Notch::new(Edge::Lower, [30.0, 58.0], 12.5, 4.0);
//! let kept = stiffness_kept(&rib, &[notch], &Load::AtCentre).unwrap();
//! let (strip, elements) = (kept.strip.unwrap(), kept.in_plane.unwrap());
//! assert_eq!((100.0 * strip).round(), 76.0);
//! assert_eq!((100.0 * elements.value).round(), 70.0); // why: see `Kept::strip`
//! assert!(elements.error < 0.005);
//! ```
//!
//! How it comes about: [`Rib`] and its notches become one strip (`chains`), room
//! about each notch (`holes`), a grid with layers along the notches' walls
//! (`grid`, `layers`, `mesh`); elements in the plane (`membrane`) and out of it
//! (`plate`) are gathered and factored (`system`, `skyline`), pushes spread
//! (`load`), and two meshes make a figure with its error (`kept`).

mod axis;
mod body;
mod chains;
mod cut;
mod doubler;
mod grid;
mod grip;
mod holes;
mod kept;
mod layers;
mod load;
mod membrane;
mod mesh;
#[cfg(test)]
mod patch;
mod plate;
mod rib;
mod section;
mod skyline;
mod stress;
mod strip;
mod system;
mod taken;

pub use cut::{cut, cut_within};
pub use kept::{Deflection, Figure, Kept, OneMesh, Whole, deflection, on_one_mesh, stiffness_kept};
pub use mesh::Fineness;
pub use rib::{Doubler, Edge, Held, Hold, Load, Notch, Push, Rib, RibFault};
pub use section::{Part, Section, section};
pub use stress::{StressRise, stress_rise};
pub use strip::strip_deflection;
pub use taken::{Edges, Taken};
