//! A job as solids in place: the unit at its seat, everything it could meet.
//!
//! A layout is a job read at one end of every band. It is what the fit is
//! computed from and what a canvas draws.

use glam::{DVec2, DVec3};

use crate::job::{Cut, Kind, MaterialFamily};
use crate::solids::Solid;

/// A job as solids in place, at proud 0.
#[derive(Clone, Debug)]
pub struct Layout {
    /// Everything that stays: obstacles, pinned modules, unused factory plugs, kept tabs.
    pub fixed: Vec<Fixed>,
    /// The cavity's walls, from the face inward.
    pub walls: Vec<Wall>,
    /// Everything that slides in: chassis, brackets, nose, overhang, plugs.
    pub sliding: Vec<Sliding>,
    /// The room each lead on the rear needs, for its chain and for drawing.
    pub turns: Vec<TurnRoom>,
    /// Where the cable of each plugged lead leaves its plug, in the order of the job.
    pub cables: Vec<CableStart>,
    /// Depth of the chassis front at the seat, mm.
    pub chassis_front: f64,
    /// Depth of the chassis rear at the seat, mm.
    pub chassis_rear: f64,
    /// Lower left and upper right of the chassis (across, up), mm.
    pub chassis_face: [DVec2; 2],
    /// Half the opening's width and height, mm.
    pub opening_half: DVec2,
}

/// A solid that stays where it is.
#[derive(Clone, Debug)]
pub struct Fixed {
    /// Id of the obstacle, module, factory plug or tab.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// What it is.
    pub class: FixedClass,
    /// Its material's family.
    pub family: MaterialFamily,
    /// Its shape in place.
    pub solid: Solid,
    /// Room that others keep from it, mm.
    pub clear: f64,
    /// Whether it may be cut.
    pub cut: Cut,
}

/// What a fixed solid is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FixedClass {
    /// An obstacle of this kind.
    Obstacle(Kind),
    /// A module, pinned where it is.
    Module,
    /// A factory plug nobody uses.
    FactoryPlug,
    /// A break-off tab that stays, or the stub of one that goes.
    Tab,
}

/// One convex piece of the cavity's walls.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Where it is, in words ("left wall, depth 40 to 80").
    pub name: String,
    /// Whether it is the wall that closes the cavity at the back.
    pub back: bool,
    /// The wall's material, a solid from the cavity's surface outward.
    pub solid: Solid,
}

/// A solid that slides in with the unit.
#[derive(Clone, Debug)]
pub struct Sliding {
    /// Id of the part it belongs to: `chassis`, `brackets`, `nose`, `overhang`, `rear support`, or a lead.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// What it is.
    pub class: SlidingClass,
    /// Its shape in place at the seat.
    pub solid: Solid,
}

impl Sliding {
    /// Whether it is a stiff plug or its strain relief.
    pub fn is_plug(&self) -> bool {
        matches!(self.class, SlidingClass::Plug | SlidingClass::StrainRelief)
    }

    /// Whether it stays in front of the cavity.
    pub fn is_in_front(&self) -> bool {
        matches!(self.class, SlidingClass::Nose | SlidingClass::Overhang)
    }

    /// Which part of what it belongs to it is, in words; empty = all of it.
    pub fn part(&self) -> &'static str {
        match self.class {
            SlidingClass::Plug => "stiff plug",
            SlidingClass::StrainRelief => "strain relief",
            _ => "",
        }
    }
}

/// What a sliding solid is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlidingClass {
    /// The box of the unit.
    Chassis,
    /// A side bracket, a plate or a sleeve.
    Bracket,
    /// The head of a side screw.
    ScrewHead,
    /// The face in front of the chassis.
    Nose,
    /// A floating face.
    Overhang,
    /// A rear pin or strap.
    RearSupport,
    /// The stiff body of a plug.
    Plug,
    /// The strain relief of a plug.
    StrainRelief,
}

/// Where a cable leaves its plug, the unit at its seat.
#[derive(Clone, Debug, PartialEq)]
pub struct CableStart {
    /// Id of the lead.
    pub lead: String,
    /// Middle of the cable where it leaves the plug or its strain relief, mm.
    pub at: DVec3,
    /// The way it leaves, a unit vector.
    pub way: DVec3,
    /// The way several cables lie side by side, as long as the plug is that way, mm.
    pub abreast: DVec3,
    /// Stiff length from the plug's mating face to there, mm.
    pub stiff: f64,
}

/// The room behind one plug on the rear that its cable needs to turn.
#[derive(Clone, Debug)]
pub struct TurnRoom {
    /// Id of the lead.
    pub lead: String,
    /// What the installer calls the lead.
    pub name: String,
    /// Centre of the plug (across, up), mm.
    pub centre: DVec2,
    /// Half the plug's width and height, mm.
    pub half: DVec2,
    /// Depth of the socket's face at the seat, mm.
    pub socket: f64,
    /// Stiff length of the plug, mm.
    pub plug: f64,
    /// Turn room of its cable, mm; 0 for a right-angle plug.
    pub turn: f64,
    /// Outside diameter of the cable, mm.
    pub od: f64,
    /// Centreline radius it turns with, mm.
    pub radius: f64,
}

impl TurnRoom {
    /// Where the turn ends at the seat: the deepest point of the lead, mm.
    pub fn end(&self) -> f64 {
        self.socket + self.plug + self.turn
    }

    /// The room as a box from the end of the plug inward, with the unit at `proud` mm:
    /// nearest lower left and furthest upper right corner, mm.
    pub fn room(&self, proud: f64) -> [DVec3; 2] {
        let from = self.socket + self.plug - proud;
        [
            DVec3::new(
                self.centre.x - self.half.x,
                from,
                self.centre.y - self.half.y,
            ),
            DVec3::new(
                self.centre.x + self.half.x,
                from + self.turn,
                self.centre.y + self.half.y,
            ),
        ]
    }
}
