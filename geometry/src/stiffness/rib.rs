//! A rib in its own plane, how it is held, and what is cut out of it.

use std::fmt;

use glam::{DVec2, DVec3};

use crate::OutlineFault;

/// A flat rib in its own plane: x along it, y up its height, z square to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Rib {
    /// Corners of the whole rib, either way round, mm. It has two ends, steep
    /// sides at the far left and right; between them its lower and its upper
    /// edge run left to right without turning back. What was cut out of it
    /// earlier is given as notches.
    pub outline: Vec<DVec2>,
    /// mm.
    pub thickness: f64,
    /// Modulus of elasticity, MPa.
    pub modulus: f64,
    /// Poisson's ratio, from 0 to below 0.5.
    pub poisson: f64,
    /// Where it is held; free elsewhere.
    pub held: Vec<Held>,
}

impl Rib {
    /// A rectangular rib held simply at both ends, Poisson's ratio 0.38 (usual
    /// for filled polypropylene and ABS, from memory; it hardly matters here).
    pub fn rectangle(low: DVec2, high: DVec2, thickness: f64, modulus: f64) -> Rib {
        let corner = DVec2::new;
        let outline = vec![low, corner(high.x, low.y), high, corner(low.x, high.y)];
        let end = |x| Held {
            from: corner(x, low.y),
            to: corner(x, high.y),
            how: Hold::Simple,
        };
        Rib {
            outline,
            thickness,
            modulus,
            poisson: 0.38,
            held: vec![end(low.x), end(high.x)],
        }
    }
}

/// A straight stretch of a rib's outline that is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Where it begins, mm.
    pub from: DVec2,
    /// Where it ends, mm.
    pub to: DVec2,
    /// What it keeps from moving.
    pub how: Hold,
}

/// What a held stretch keeps from moving.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// Neither along itself nor out of the rib's plane; free to turn, and to
    /// move square to itself within the plane.
    Simple,
    /// Not at all.
    Clamped,
    /// The rib goes on beyond it as its mirror image, load and all.
    Mirrored,
}

/// The edge of a rib a notch is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// The edge at small y.
    Lower,
    /// The edge at large y.
    Upper,
}

/// A notch open to an edge, its sides straight and square to the line between
/// their feet, its inner corners round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notch {
    /// Where it is open.
    pub edge: Edge,
    /// The x of its two feet on that edge, mm.
    pub along: [f64; 2],
    /// From the line between its feet to its bottom, mm.
    pub depth: f64,
    /// Radius of its inner corners, mm; below 0.25 they count as sharp, and no
    /// more of it counts than there is room for in half the width and in the depth.
    pub radius: f64,
    /// The strip bonded over it, if any.
    pub doubler: Option<Doubler>,
}

impl Notch {
    /// A notch without a doubler.
    pub fn new(edge: Edge, along: [f64; 2], depth: f64, radius: f64) -> Notch {
        Notch {
            edge,
            along,
            depth,
            radius,
            doubler: None,
        }
    }

    /// The x of its middle, mm.
    pub fn middle(&self) -> f64 {
        0.5 * (self.along[0] + self.along[1])
    }

    /// The radius of its inner corners that counts, mm; 0 where they are sharp.
    pub(super) fn round(&self) -> f64 {
        round(self.radius, self.along[1] - self.along[0], self.depth)
    }
}

/// A corner sharper than this counts as sharp, mm: no drill makes one so fine,
/// and a mesh that follows it is all needles.
const ROUND: f64 = 0.25;

/// The radius that counts of the inner corners of a notch so wide and deep, mm.
pub(super) fn round(radius: f64, width: f64, depth: f64) -> f64 {
    if radius < ROUND {
        0.0
    } else {
        radius.min(0.5 * width).min(depth)
    }
}

/// A strip bonded flat to one face of a rib, over a notch: its long edge flush
/// with the bottom of the notch, the strip on the side of the rib that is left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubler {
    /// mm.
    pub thickness: f64,
    /// From the bottom of the notch across what is left, mm.
    pub height: f64,
    /// How far it reaches beyond each side of the notch, mm.
    pub lap: f64,
    /// Modulus of elasticity, MPa.
    pub modulus: f64,
}

/// What pushes on a rib.
#[derive(Clone, Debug, PartialEq)]
pub enum Load {
    /// 1 N at the middle of its length, spread evenly over its height there:
    /// along its height in the plane, square to it out of the plane.
    AtCentre,
    /// The same at the middle of a notch, over what is left of the height.
    AtNotch(usize),
    /// What hangs on it.
    Own(Vec<Push>),
    /// The same, each push spread over what is left of the height there, out of
    /// the plane too: where nobody knows how high it hangs.
    Spread(Vec<Push>),
}

/// A force on a rib.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// Where it acts, mm. In the plane it is spread evenly over the height of
    /// the rib there, so that no local dent is counted; out of the plane it
    /// acts at that place.
    pub at: DVec2,
    /// Along the rib, up its height, square to it, N.
    pub force: DVec3,
}

/// Why there is no figure for a rib. Notches and loads are numbered from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RibFault {
    /// A length, a modulus or a force is not a usable number.
    NotANumber,
    /// The outline is none.
    Outline(OutlineFault),
    /// The outline is not one strip between two steep ends.
    NotAStrip,
    /// This notch does not lie between the ends of its edge.
    NotchOffEdge(usize),
    /// This notch, with those opposite, leaves nothing of the rib.
    CutThrough(usize),
    /// These notches of one edge meet.
    NotchesMeet(usize, usize),
    /// The notches lie so that no sound mesh fits between them.
    TooTight,
    /// There is no such notch.
    NoSuchNotch(usize),
    /// This load does not act on what is left of the rib.
    LoadOff(usize),
    /// What holds the rib does not keep it from moving as a whole.
    Loose,
}

impl fmt::Display for RibFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RibFault::NotANumber => write!(f, "a length, modulus or force is not usable"),
            RibFault::Outline(fault) => write!(f, "the outline of the rib: {fault}"),
            RibFault::NotAStrip => write!(f, "the outline is not one strip between two ends"),
            RibFault::NotchOffEdge(notch) => {
                write!(f, "notch {} does not lie between the ends", notch + 1)
            }
            RibFault::CutThrough(notch) => {
                write!(f, "notch {} leaves nothing of the rib", notch + 1)
            }
            RibFault::NotchesMeet(one, other) => {
                write!(f, "notches {} and {} meet", one + 1, other + 1)
            }
            RibFault::TooTight => write!(f, "the notches leave no room for a sound mesh"),
            RibFault::NoSuchNotch(notch) => write!(f, "there is no notch {}", notch + 1),
            RibFault::LoadOff(load) => {
                write!(f, "load {} does not act on what is left", load + 1)
            }
            RibFault::Loose => write!(f, "what holds the rib lets it move as a whole"),
        }
    }
}

impl std::error::Error for RibFault {}
