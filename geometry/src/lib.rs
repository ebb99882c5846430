//! Solids, distances, and the fit of a unit in a dash.
//!
//! Everything is in millimetres and radians, in one right-handed frame,
//! (across, depth, up), with its origin at the centre of the opening on the
//! dash face ([`frame`]). Standing proud is positive toward the installer;
//! a distance between solids is negative where they overlap.
//!
//! The way through, in the order the work happens:
//!
//! 1. A measured length carries its band, and is read at the end that asks most:
//!
//! ```
//! use geometry::{Harm, Measure, Reading};
//! let opening = Measure::within(184.0, 0.5);
//! assert_eq!(opening.at(Reading::Worst, Harm::Smaller), 183.5);
//! ```
//!
//! 2. Solids have exact signed distances:
//!
//! ```
//! use geometry::{Solid, signed_distance};
//! use glam::DVec3;
//! let rib = Solid::block(DVec3::new(-98., 212., -12.), DVec3::new(98., 214.5, 26.));
//! let plug = Solid::block(DVec3::new(34., 167., -13.), DVec3::new(54., 199., -3.));
//! assert_eq!(signed_distance(&plug, &rib), 13.0);
//! ```
//!
//! 3. A solid that slides in stops where it comes too close:
//!
//! ```
//! # use geometry::{Solid, frame::DEPTH, stop_along};
//! # use glam::DVec3;
//! # let rib = Solid::block(DVec3::new(-98., 212., -12.), DVec3::new(98., 214.5, 26.));
//! # let plug = Solid::block(DVec3::new(34., 167., -13.), DVec3::new(54., 199., -3.));
//! let meeting = stop_along(&plug, &rib, DEPTH, 3.0).unwrap();
//! assert_eq!(meeting.travel, -10.0); // 10 mm to spare at its seat
//! ```
//!
//! 4. A cable turns no tighter than its rule, measured at its middle:
//!
//! ```
//! use geometry::{BendLine, BendRadius, BendRule};
//! let inside_six = BendRule { radius: BendRadius::TimesOd(6.0), measured: BendLine::Inside };
//! assert!((inside_six.centreline(4.95) - 32.175).abs() < 1e-12);
//! ```
//!
//! 5. A [`Job`] becomes a [`Layout`], solids in place at proud 0 ([`lay_out()`]),
//!    and a [`Fit`]: the verdict, how far the unit stands proud, and what stops
//!    it ([`fit()`], module [`fitting`]).
//!
//! 6. A search for a lead's way reads the [`space::FreeSpace`] of the cavity; what
//!    it finds is measured on the solids.
//!
//! 7. A rib as cut is compared with the rib whole (module [`stiffness`]):
//!
//! ```
//! use geometry::stiffness::{Edge, Load, Notch, Rib, Whole};
//! use glam::DVec2;
//! let rib = Rib::rectangle(DVec2::new(-98., -12.), DVec2::new(98., 26.), 2.5, 2500.0);
//! let notch = Notch::new(Edge::Lower, [30.0, 58.0], 12.5, 4.0);
//! let kept = Whole::new(rib).unwrap().kept(&[notch], &Load::AtNotch(0)).unwrap();
//! assert_eq!((100.0 * kept.strip.unwrap()).round(), 55.0); // by hand
//! assert_eq!((100.0 * kept.in_plane.unwrap().value).round(), 49.0); // by elements
//! ```
//!
//! Not here: files and their formats, screens, clocks, chance, threads (but for
//! [`space`], which works on as many as it is told); how hard one may push, how
//! warm it gets, whether a part is strong enough.

pub mod bends;
pub mod cavity;
mod cells;
pub mod distance;
pub mod fit;
pub mod fitting;
pub mod frame;
pub mod job;
mod lay_out;
pub mod layout;
pub mod looms;
pub mod measure;
pub mod packing;
pub mod path;
pub mod routed;
pub mod routing;
pub mod seating;
pub mod section;
pub mod sight;
pub mod slack;
pub mod slide_in;
pub mod solids;
pub mod space;
pub mod stiffness;
pub mod sweep;
pub mod trimming;

pub use cells::cells;
pub use distance::{Nearest, nearest, nearest_of_all, signed_distance};
pub use fit::*;
pub use fitting::{SHADOW, VENT_AIR, fit};
pub use frame::{Pose, Side};
pub use job::*;
pub use lay_out::{fixed_solids, lay_out};
pub use layout::*;
pub use measure::{Harm, Measure, Reading};
pub use packing::{Effort, PackedCircle, Packing, handbook_multiplier, pack, rule_of_thumb};
pub use path::{
    Near, Path, PathFault, Piece, closer_than, path_to_path, path_to_solid, paths_closer_than,
};
pub use routed::*;
pub use seating::{routed, routed_at, routed_on};
pub use section::{Facet, facets, silhouette, slice};
pub use slide_in::{Barred, Posture, SlideIn, TiltedWay, slide_in};
pub use solids::{Bounds, Outline, OutlineFault, Shape, Solid};
pub use sweep::{Meeting, stop_along};
