//! The unit and what holds it.

use glam::DVec2;

use crate::frame::Side;
use crate::measure::Measure;

/// The unit: a standard box with a face, and sockets at its back.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// Its name in the library or the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Across, mm.
    pub width: Measure,
    /// Up, mm.
    pub height: Measure,
    /// From the back of the nose to the back of the chassis, mm: the
    /// stated depth already brought to that datum.
    pub depth: Measure,
    /// Centre of the chassis from the opening's centre (across, up), mm.
    pub offset: DVec2,
    /// The face in front of the chassis.
    pub nose: Nose,
    /// A face larger than the opening, floating in front of the dash.
    pub overhang: Option<Overhang>,
    /// Threaded holes in each side.
    pub side_holes: Vec<Hole>,
    /// Where leads plug in.
    pub sockets: Vec<Socket>,
    /// Fan outlets and vent faces that must stay free.
    pub vents: Vec<VentFace>,
    /// What holds its rear.
    pub rear_support: Option<RearSupport>,
    /// Mass, kg.
    pub mass: f64,
    /// Steepest dip its maker allows, radians, where stated.
    pub max_dip: Option<f64>,
    /// Module that comes with it and must find a place (its id among the modules of the job).
    pub remote_module: Option<String>,
}

/// The part of the face just in front of the chassis.
#[derive(Clone, Debug, PartialEq)]
pub struct Nose {
    /// Across, mm.
    pub width: Measure,
    /// Up, mm.
    pub height: Measure,
    /// From its front to the front of the chassis, mm.
    pub thickness: Measure,
    /// Whether it laps the opening's edge or enters it.
    pub seat: NoseSeat,
    /// A ring of trim around it.
    pub trim_ring: Option<TrimRing>,
}

/// How the nose meets the opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoseSeat {
    /// It rests on the finished face, over the edge of the opening.
    Laps,
    /// It goes into the opening and must fit it.
    Enters,
}

/// A trim ring around the nose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrimRing {
    /// Across, mm.
    pub width: f64,
    /// Up, mm.
    pub height: f64,
    /// How much of the nose's standing out its lip hides, mm.
    pub lip: f64,
}

/// A floating face, a solid of its own in front of the dash.
#[derive(Clone, Debug, PartialEq)]
pub struct Overhang {
    /// Across, mm.
    pub width: Measure,
    /// Up, mm.
    pub height: Measure,
    /// From its front to its back, mm.
    pub thickness: Measure,
    /// From its back to the front of the chassis, mm.
    pub stands_off: Measure,
    /// Its centre from the chassis centre (across, up), mm.
    pub offset: DVec2,
}

/// A hole in the side of the unit or of a bracket.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Short name.
    pub id: String,
    /// Which side it is on; `None` when both sides have it.
    pub side: Option<Side>,
    /// From the chassis front (unit) or from the seat plane (bracket), mm.
    pub depth: f64,
    /// From the chassis centre, mm.
    pub up: f64,
    /// Diameter, mm. Of a threaded hole, that of its screw.
    pub diameter: f64,
    /// Length of a slot along depth, mm; 0 for a round hole.
    pub slot: f64,
}

/// Where a lead plugs in.
#[derive(Clone, Debug, PartialEq)]
pub struct Socket {
    /// Short name, unique on the unit.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The face it is on.
    pub face: SocketFace,
    /// Its centre: on the rear (across, up) from the chassis centre; on a side,
    /// (depth from the chassis front, up or across from the chassis centre). mm.
    pub at: DVec2,
    /// Plug family it takes.
    pub family: String,
    /// How far the socket's face stands out of the chassis (negative: sunk), mm.
    pub stands_out: f64,
}

/// The face of the chassis a socket is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SocketFace {
    /// The back: plugs point into the dash.
    Rear,
    /// One of the four sides.
    On(Side),
}

/// A fan outlet or vent face of the chassis.
#[derive(Clone, Debug, PartialEq)]
pub struct VentFace {
    /// What it is called.
    pub name: String,
    /// The face it is on.
    pub face: SocketFace,
    /// Its centre, measured as a socket's is, mm.
    pub at: DVec2,
    /// Its two sizes along the same axes, mm.
    pub size: DVec2,
    /// Whether a fan blows out of it.
    pub fan: bool,
}

/// What holds the rear of the unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RearSupport {
    /// A pin or a strap.
    pub style: RearStyle,
    /// Centre on the rear (across, up) from the chassis centre, mm.
    pub at: DVec2,
    /// Diameter of a pin, width of a strap, mm.
    pub width: f64,
    /// How far it stands out behind, mm.
    pub length: f64,
    /// Whether the unit's maker requires it.
    pub required: bool,
}

/// The two usual rear supports.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RearStyle {
    /// A threaded pin with a rubber boot.
    Pin,
    /// A perforated metal strap.
    Strap,
}

/// What holds the unit in the opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Mount {
    /// Its name in the library or the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// From the seat plane to the chassis front, mm; positive into the dash.
    pub setback: Measure,
    /// Which way it holds.
    pub hold: Hold,
    /// Whether something of it takes a rear pin or strap.
    pub takes_rear_support: bool,
}

/// The three usual ways of holding a unit.
#[derive(Clone, Debug, PartialEq)]
pub enum Hold {
    /// The vehicle's own brackets, screwed to the unit's sides.
    FactoryBrackets {
        /// The bracket on each side.
        bracket: SideBracket,
        /// Holes in each bracket.
        holes: Vec<Hole>,
        /// How far a screw's head stands out of the bracket, mm.
        screw_head_height: f64,
        /// Diameter of a screw's head, mm.
        screw_head_diameter: f64,
    },
    /// A folded metal sleeve with bend tabs.
    Sleeve {
        /// Wall thickness, mm.
        wall: Measure,
        /// Length from the seat plane into the dash, mm. Its rear edge is sharp.
        depth: f64,
    },
    /// A fitting kit's pocket.
    KitPocket {
        /// Plates screwed to the unit's sides.
        bracket: SideBracket,
        /// Room the pocket leaves on each side of the plates, mm; `None` = as the cavity.
        side_room: Option<Measure>,
        /// Tabs to keep or to break off.
        tabs: Vec<Tab>,
    },
}

/// A plate on each side of the unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideBracket {
    /// Thickness, mm; 0 = none.
    pub thickness: Measure,
    /// Height, mm, centred on the chassis.
    pub height: f64,
    /// Length along depth from the chassis front, mm.
    pub length: f64,
}

/// A break-off tab of a kit pocket.
#[derive(Clone, Debug, PartialEq)]
pub struct Tab {
    /// Short name.
    pub id: String,
    /// Where it is, in words.
    pub name: String,
    /// Its two faces along (across, depth, up), mm.
    pub faces: [[f64; 2]; 3],
    /// What is to be done with it.
    pub decision: TabDecision,
    /// Side of the opening it grows from.
    pub grows_from: Side,
}

impl Tab {
    /// The axis it grows along: 0 across, 2 up.
    pub fn axis(&self) -> usize {
        match self.grows_from {
            Side::Left | Side::Right => 0,
            Side::Bottom | Side::Top => 2,
        }
    }

    /// The faces of the stub that stays when it comes off, mm.
    pub fn stub(&self) -> [[f64; 2]; 3] {
        let mut faces = self.faces;
        let axis = self.axis();
        let (root, sign) = match self.grows_from {
            Side::Left | Side::Bottom => (0, 1.0),
            Side::Right | Side::Top => (1, -1.0),
        };
        let height = (faces[axis][1] - faces[axis][0]).min(STUB_HEIGHT);
        faces[axis][1 - root] = faces[axis][root] + sign * height;
        faces
    }
}

/// What is to be done with a break-off tab.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TabDecision {
    /// It stays and is solid.
    Keep,
    /// It comes off; a stub of at most [`STUB_HEIGHT`] stays.
    Remove,
    /// Nobody knows yet: the job is not ready to fit.
    NotSure,
}

/// Highest stub a removed tab may leave, mm. Common practice, no source.
pub const STUB_HEIGHT: f64 = 0.5;
