//! What there is to fit: the cavity, the unit, its mount, leads and modules.
//!
//! Everything here is plain: no names to look up, no units to choose, no
//! defaults left open. Lengths are mm in the frame of [`crate::frame`].
//! `Measure` stands wherever a person measured, so that every question can be
//! asked at the stated value and at both ends of what is believed.

mod cavity;
mod leads;
mod looms;
mod obstacle;
mod trim;
mod unit;

pub use cavity::*;
pub use leads::*;
pub use looms::*;
pub use obstacle::*;
pub use trim::*;
pub use unit::*;

/// One fitting job, complete in itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What the installer calls it.
    pub name: String,
    /// The hole and everything in it.
    pub cavity: Cavity,
    /// The unit to seat.
    pub unit: Unit,
    /// What holds the unit.
    pub mount: Mount,
    /// Every lead, in the order of the file.
    pub leads: Vec<Lead>,
    /// Every interface module, in the order of the file.
    pub modules: Vec<Module>,
    /// How the looms are made up, at most one per exit.
    pub makeups: Vec<Makeup>,
    /// Every notch to be cut, in the order of the file.
    pub trims: Vec<Trim>,
    /// What hangs on obstacles, in the order of the file.
    pub rib_loads: Vec<RibLoad>,
    /// How the shop cuts and how far it goes.
    pub cutting: Cutting,
    /// Proud that the customer accepts, mm.
    pub proud_limit: f64,
    /// Steepest tilt with which the unit may be led in, radians.
    pub enter_tilt: f64,
    /// Which of a cable's two bend rules counts.
    pub rules: RuleSet,
    /// Names of the measures that could not be taken.
    pub unmeasured: Vec<String>,
}
