//! Looms: the leads that leave the cavity by one exit, laid up together.
//!
//! Lengths in millimetres, areas in square millimetres; a loom's cross-section
//! is drawn about its own centre. In the order the work happens:
//!
//! 1. [`leaves_by`]: the exits a lead passes.
//! 2. [`looms`]: the loom of each exit. Leads that are taped together are
//!    packed first and lie in the loom as one round; then come its diameter, the
//!    bend it may take, and whether it passes its exit.
//! 3. [`passage`]: does a set of leads lie in a hole, and in which order do
//!    their plugs go through it?
//! 4. [`conduit_bore`], [`next_hole`], [`next_grommet`]: what to bore for it.

mod conduit;
mod gather;
mod holes;
mod lay_up;
pub mod passage;
pub mod tail;
mod thickest;

use glam::DVec2;

use crate::bends::{LoomRule, most_sensitive_member};
use crate::job::{Exit, Job};
use crate::measure::{Harm, Reading};
use crate::packing::{Effort, Packing, pack, rule_of_thumb};

pub use conduit::{Jam, conduit_bore, conduit_fill, conduit_limit, may_jam};
pub use gather::leaves_by;
pub use holes::{Cutter, Grommet, HoleSize, PLAY, next_grommet, next_hole};
pub use passage::{Hole, Passage, Passes, WhyNot, lie_in};
pub use thickest::Thickest;

use gather::{Bundle, bundles};
use lay_up::{Laid, lay_up};

/// The leads that leave the cavity by one exit, laid up together.
#[derive(Clone, Debug, PartialEq)]
pub struct Loom {
    /// The exit it leaves by (its id).
    pub exit: String,
    /// What the installer calls that exit.
    pub name: String,
    /// Over what is wrapped round it, mm: `bare` + 2 `wrap`.
    pub diameter: f64,
    /// Of the leads and tapes alone, mm.
    pub bare: f64,
    /// Thickness of what is wrapped round the whole, mm.
    pub wrap: f64,
    /// Every cable and loose wire in it.
    pub strands: Vec<Strand>,
    /// Leads taped into a round of their own.
    pub tapes: Vec<Tape>,
    /// How tightly it may bend.
    pub bend: BundleBend,
    /// Whether it passes its exit: as one round when it is wrapped, otherwise
    /// lead by lead, taped ones as one.
    pub at_exit: Passage,
    /// Area of its cables with tapes and wrap as a share of the exit's area.
    pub fill: f64,
    /// [`rule_of_thumb`] of all strands, mm, bare.
    pub rule_of_thumb: f64,
    /// Least round hole it passes with [`PLAY`], of those usually cut.
    pub next_hole: Option<HoleSize>,
    /// How thick it is where its lumps are.
    pub thickest: Thickest,
}

/// A cable or a loose wire in its place in a loom.
#[derive(Clone, Debug, PartialEq)]
pub struct Strand {
    /// The lead it belongs to (its id).
    pub lead: String,
    /// What the installer calls that lead.
    pub name: String,
    /// Outside diameter, mm.
    pub diameter: f64,
    /// Its centre from the loom's centre, mm.
    pub centre: DVec2,
    /// The tape it lies in, by its place among the loom's tapes.
    pub tape: Option<usize>,
}

/// Leads taped into a round of their own, in its place in a loom.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// What the installer calls it.
    pub name: String,
    /// The leads in it (their ids), in the order of the job.
    pub leads: Vec<String>,
    /// Over the tape, mm.
    pub diameter: f64,
    /// Thickness of the tape, mm.
    pub wrap: f64,
    /// Its centre from the loom's centre, mm.
    pub centre: DVec2,
}

/// How tightly a loom may bend, and which lead says so.
#[derive(Clone, Debug, PartialEq)]
pub struct BundleBend {
    /// Least radius at the loom's centreline, mm.
    pub centreline: f64,
    /// Least radius at the inside of its curve, mm.
    pub inside: f64,
    /// The lead whose cable asks for most (its id).
    pub lead: String,
}

/// The loom of every exit that a lead leaves by, in the order of the cavity's
/// exits, at the stated diameters.
///
/// An exit without a makeup has its leads side by side and nothing round them.
/// An open tail lies in it as the wires it consists of; its bend is that of the
/// tail as a whole.
pub fn looms(job: &Job, effort: Effort) -> Vec<Loom> {
    looms_at(job, Reading::Nominal, effort)
}

/// The same with every diameter at one end of its band: [`Reading::Worst`]
/// gives the thickest looms.
pub fn looms_at(job: &Job, reading: Reading, effort: Effort) -> Vec<Loom> {
    bundles(job)
        .iter()
        .filter_map(|bundle| loom(job, bundle, reading, effort))
        .collect()
}

/// Cables of these outside diameters, mm, as one round: `loom --od`.
///
/// Diameters that are not finite and above 0 are left out.
pub fn loom_of(diameters: &[f64], effort: Effort) -> Packing {
    let real: Vec<f64> = (diameters.iter().copied())
        .filter(|d| d.is_finite() && *d > 0.0)
        .collect();
    pack(&real, effort)
}

fn loom(job: &Job, bundle: &Bundle, reading: Reading, effort: Effort) -> Option<Loom> {
    let wrap = bundle.wrap();
    let laid = lay_up(bundle, &|lead| tail::rounds(lead, reading), effort);
    let diameter = laid.bare + 2.0 * wrap;
    let hole = Hole::of(bundle.exit);
    let at_exit = if wrap > 0.0 {
        lie_in(&[diameter], &hole, effort)
    } else {
        lie_in(&laid.outer(), &hole, effort)
    };
    let strands: Vec<f64> = laid.strands.iter().map(|strand| strand.diameter).collect();
    Some(Loom {
        exit: bundle.exit.id.clone(),
        name: bundle.exit.name.clone(),
        diameter,
        bare: laid.bare,
        wrap,
        bend: bend(job, bundle, reading, diameter)?,
        at_exit,
        fill: fill(&laid, wrap, bundle.exit),
        rule_of_thumb: rule_of_thumb(&strands),
        next_hole: next_hole(diameter),
        thickest: thickest::thickest(bundle, reading, laid.bare, effort),
        strands: laid.strands,
        tapes: laid.tapes,
    })
}

/// The rule of the most sensitive lead. `None` without leads.
fn bend(job: &Job, bundle: &Bundle, reading: Reading, diameter: f64) -> Option<BundleBend> {
    let members: Vec<_> = (bundle.leads.iter())
        .map(|lead| {
            let od = lead.cable.od.at(reading, Harm::Larger);
            (od, lead.cable.rule(job.rules))
        })
        .collect();
    let LoomRule {
        inside,
        centreline,
        member,
    } = most_sensitive_member(&members, diameter)?;
    Some(BundleBend {
        centreline,
        inside,
        lead: bundle.leads[member].id.clone(),
    })
}

/// Area of strands, tapes and wrap as a share of the exit's area.
fn fill(laid: &Laid, wrap: f64, exit: &Exit) -> f64 {
    let ring = |inner: f64, wrap: f64| conduit::area(inner + 2.0 * wrap) - conduit::area(inner);
    let strands: f64 = (laid.strands.iter())
        .map(|strand| conduit::area(strand.diameter))
        .sum();
    let tapes: f64 = (laid.tapes.iter())
        .map(|tape| ring(tape.diameter - 2.0 * tape.wrap, tape.wrap))
        .sum();
    (strands + tapes + ring(laid.bare, wrap)) / Hole::of(exit).area()
}
