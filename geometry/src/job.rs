//! What there is to fit: the cavity, the unit, its mount, leads and modules.
//!
//! Everything here is plain: no names to look up, no units to choose, no
//! defaults left open. Lengths are mm in the frame of [`crate::frame`].
//! `Measure` stands wherever a person measured, so that every question can be
//! asked at the stated value and at both ends of what is believed.

use glam::{DVec2, DVec3};

use crate::frame::Side;
use crate::measure::Measure;

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
    /// Proud that the customer accepts, mm.
    pub proud_limit: f64,
    /// Which of a cable's two bend rules counts.
    pub rules: RuleSet,
    /// Names of the measures that could not be taken.
    pub unmeasured: Vec<String>,
}

// ---------------------------------------------------------------- cavity

/// The hole in the dash: its walls by depth and what stands in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cavity {
    /// The opening in the dash face, centred on the origin.
    pub opening: Opening,
    /// Depth at which the mount's reference stops (trim off), mm.
    pub seat_plane: Measure,
    /// Depth at which the finished face (trim on) cuts the slide line, mm.
    pub finished_face: Measure,
    /// How the face leans against the slide line, radians:
    /// x positive = the top of the face lies further in, y positive = its right side.
    pub face_rake: DVec2,
    /// How far the slide line dips toward the rear below level, radians.
    pub slide_dip: f64,
    /// Room that leads, plugs and modules keep from the cavity's walls, mm.
    pub wall_clear: f64,
    /// Room the unit itself keeps from the cavity's walls while sliding, mm.
    pub slide_gap: f64,
    /// Cross-sections by rising depth; empty when only the opening is known.
    pub stations: Vec<Station>,
    /// Whether the last station is a wall across the cavity.
    pub closed: bool,
    /// Ribs, beams, ducts, brackets, looms: everything solid.
    pub obstacles: Vec<Obstacle>,
    /// Where leads leave the cavity.
    pub exits: Vec<Exit>,
    /// Rooms outside the cavity, reached through an exit.
    pub spaces: Vec<Space>,
    /// Rooms inside the cavity where a module may sit.
    pub pockets: Vec<Pocket>,
    /// Plugs of the factory loom.
    pub factory_plugs: Vec<FactoryPlug>,
}

/// The opening in the dash face, centred on the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Across, mm.
    pub width: Measure,
    /// Up, mm.
    pub height: Measure,
    /// Radius of its corners, mm.
    pub corner_radius: f64,
}

/// The cavity's cross-section at one depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Station {
    /// Depth, mm.
    pub at: Measure,
    /// The free cross-section there.
    pub section: Section,
    /// How the walls run from here to the next station.
    pub to_next: Run,
}

/// A free cross-section, in (across, up) from the opening's centre.
#[derive(Clone, Debug, PartialEq)]
pub enum Section {
    /// Four distances from the opening's centre, each positive outward, mm.
    Sides {
        /// To the left wall.
        left: Measure,
        /// To the right wall.
        right: Measure,
        /// To the roof.
        up: Measure,
        /// To the floor.
        down: Measure,
    },
    /// A polygon, counter-clockwise seen by the installer looking in, mm.
    Outline(Vec<DVec2>),
}

/// How the walls run from one station to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// Straight lines from corner to corner.
    Blended,
    /// This section holds up to the next station, then steps.
    Stepped,
}

/// Something solid in or around the cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// What it is; decides what may ever be cut.
    pub kind: Kind,
    /// What it is made of.
    pub material: Material,
    /// Its shape and place.
    pub form: Form,
    /// Room that leads, plugs, modules and the unit keep from it, mm.
    pub clear: f64,
    /// Room that a notch keeps from it, mm.
    pub cut_keep_out: f64,
    /// Whether and how it may be cut; read it through [`Obstacle::cut`].
    pub cut_as_stated: Cut,
    /// Obstacles it grows from or is fixed to, and may therefore touch or overlap.
    pub joined_to: Vec<String>,
}

impl Obstacle {
    /// Whether it may be cut: what the file says, unless its kind is never cut.
    pub fn cut(&self) -> &Cut {
        if self.kind.is_never_cut() {
            &Cut::Never
        } else {
            &self.cut_as_stated
        }
    }
}

/// Shape and place of an obstacle.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A box by its two faces along each axis, then turned about its centre.
    Block {
        /// Left and right face, mm.
        across: [Measure; 2],
        /// Near and far face, mm.
        depth: [Measure; 2],
        /// Lower and upper face, mm.
        up: [Measure; 2],
        /// Turns about (across, depth, up) through its centre, degrees.
        turned: DVec3,
    },
    /// A round bar between the centres of its two end faces.
    Cylinder {
        /// Centre of one end, (across, depth, up), mm.
        from: [Measure; 3],
        /// Centre of the other end, mm.
        to: [Measure; 3],
        /// Diameter, mm.
        diameter: Measure,
    },
    /// A flat outline pushed along the axis square to it.
    Outline {
        /// The plane the outline is drawn in.
        plane: Plane,
        /// Corners in that plane's two axes, mm; either way round.
        corners: Vec<DVec2>,
        /// Where it starts and ends along the third axis, mm.
        along: [Measure; 2],
        /// Turns about (across, depth, up) through its middle, degrees.
        turned: DVec3,
    },
}

/// The plane an outline is drawn in: its first axis, then its second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plane {
    /// Looking in: (across, up), pushed along depth.
    AcrossUp,
    /// From above: (across, depth), pushed along up.
    AcrossDepth,
    /// From the side: (depth, up), pushed along across.
    DepthUp,
}

/// What a solid is, as the trade names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Stiffening rib of the sub-dash.
    Rib,
    /// Shelf or carrier of another panel.
    Shelf,
    /// Screw boss.
    Boss,
    /// Bracket that holds something other than an airbag.
    Bracket,
    /// Beam across the vehicle.
    Beam,
    /// Air duct.
    Duct,
    /// Heater or cooling box.
    HeaterBox,
    /// Factory loom.
    Loom,
    /// Plug of the factory loom.
    FactoryPlug,
    /// Airbag, its bracket, sensor or wiring.
    AirbagPart,
    /// Support of the steering column.
    ColumnSupport,
    /// Support that meets the knees in a crash.
    KneeSupport,
    /// High-voltage part.
    HighVoltage,
    /// Coolant pipe.
    CoolantPipe,
    /// Refrigerant pipe.
    RefrigerantPipe,
    /// Aerial of the key system.
    KeyAerial,
    /// Air vent in the dash face.
    Vent,
    /// Switch or control in the dash face.
    Switch,
    /// Gear selector.
    Selector,
    /// Steering column or wheel.
    Column,
    /// Break-off tab of a mount.
    Tab,
    /// Something else, or not known.
    Unknown,
}

impl Kind {
    /// Every kind, in the order it is listed.
    pub const ALL: [Kind; 22] = [
        Kind::Rib,
        Kind::Shelf,
        Kind::Boss,
        Kind::Bracket,
        Kind::Beam,
        Kind::Duct,
        Kind::HeaterBox,
        Kind::Loom,
        Kind::FactoryPlug,
        Kind::AirbagPart,
        Kind::ColumnSupport,
        Kind::KneeSupport,
        Kind::HighVoltage,
        Kind::CoolantPipe,
        Kind::RefrigerantPipe,
        Kind::KeyAerial,
        Kind::Vent,
        Kind::Switch,
        Kind::Selector,
        Kind::Column,
        Kind::Tab,
        Kind::Unknown,
    ];

    /// Kinds that are never cut, whatever a file says.
    pub fn is_never_cut(self) -> bool {
        match self {
            Kind::Rib | Kind::Shelf | Kind::Boss | Kind::Bracket | Kind::Tab => false,
            Kind::Beam
            | Kind::Duct
            | Kind::HeaterBox
            | Kind::Loom
            | Kind::FactoryPlug
            | Kind::AirbagPart
            | Kind::ColumnSupport
            | Kind::KneeSupport
            | Kind::HighVoltage
            | Kind::CoolantPipe
            | Kind::RefrigerantPipe
            | Kind::KeyAerial
            | Kind::Vent
            | Kind::Switch
            | Kind::Selector
            | Kind::Column
            | Kind::Unknown => true,
        }
    }

    /// The word for it on screen and in answers.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Rib => "rib",
            Kind::Shelf => "shelf",
            Kind::Boss => "boss",
            Kind::Bracket => "bracket",
            Kind::Beam => "beam",
            Kind::Duct => "duct",
            Kind::HeaterBox => "heater box",
            Kind::Loom => "factory loom",
            Kind::FactoryPlug => "factory plug",
            Kind::AirbagPart => "airbag part",
            Kind::ColumnSupport => "column support",
            Kind::KneeSupport => "knee support",
            Kind::HighVoltage => "high-voltage part",
            Kind::CoolantPipe => "coolant pipe",
            Kind::RefrigerantPipe => "refrigerant pipe",
            Kind::KeyAerial => "key aerial",
            Kind::Vent => "vent",
            Kind::Switch => "switch",
            Kind::Selector => "selector",
            Kind::Column => "steering column",
            Kind::Tab => "break-off tab",
            Kind::Unknown => "unknown part",
        }
    }
}

/// What something is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// What the trade calls it.
    pub name: String,
    /// Which family it belongs to; decides its hatch.
    pub family: MaterialFamily,
    /// Modulus of elasticity, MPa, where known.
    pub e_modulus: Option<f64>,
}

/// Families of material that are drawn alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MaterialFamily {
    /// Moulded plastics.
    Plastic,
    /// Steel.
    Steel,
    /// Aluminium or magnesium alloys.
    LightAlloy,
    /// Foam, felt, rubber, tape.
    Soft,
    /// Wires and cables.
    Wire,
    /// Not known.
    Unknown,
}

/// Whether a solid may be cut.
#[derive(Clone, Debug, PartialEq)]
pub enum Cut {
    /// It may be trimmed, within limits.
    Allowed(CutLimits),
    /// Only when the customer agrees, within limits.
    Ask(CutLimits),
    /// Not at any price. Unknown or unstated counts as this.
    Never,
}

/// How far a cut may go.
#[derive(Clone, Debug, PartialEq)]
pub struct CutLimits {
    /// The edges a notch may start from.
    pub cut_from: Vec<Edge>,
    /// Deepest notch from that edge, mm.
    pub max_depth: f64,
    /// Distance a notch keeps from the rib's ends, mm.
    pub min_from_ends: f64,
    /// Material that must stay, mm.
    pub min_web: f64,
}

/// An edge of a solid, named as the installer sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// The edge toward the installer.
    Near,
    /// The edge furthest in.
    Far,
    /// The upper edge.
    Upper,
    /// The lower edge.
    Lower,
    /// The left edge.
    Left,
    /// The right edge.
    Right,
}

/// A hole that leads leave the cavity through.
#[derive(Clone, Debug, PartialEq)]
pub struct Exit {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its centre, mm.
    pub centre: DVec3,
    /// Unit vector along which leads pass it, outward.
    pub direction: DVec3,
    /// Its shape, square to `direction`.
    pub shape: ExitShape,
    /// Straight run beyond it before a lead may turn, mm.
    pub run_beyond: f64,
}

/// The shape of an exit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ExitShape {
    /// A round hole by its diameter, mm.
    Round(f64),
    /// A rectangular hole: its width and its height, mm. Width runs as level as it can.
    Rectangle(DVec2),
}

/// A named room outside the cavity, reached through an exit.
#[derive(Clone, Debug, PartialEq)]
pub struct Space {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Free size (across, depth, up), mm.
    pub size: [Measure; 3],
    /// Its centre where it is known, mm.
    pub centre: Option<DVec3>,
    /// The exit that leads to it.
    pub exit: String,
    /// Length of lead from the cavity's exit to it, mm.
    pub run: f64,
}

/// A named room inside the cavity where a module may sit.
#[derive(Clone, Debug, PartialEq)]
pub struct Pocket {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its two faces along (across, depth, up), mm.
    pub faces: [[Measure; 2]; 3],
}

/// A plug of the factory loom that a lead may end at.
#[derive(Clone, Debug, PartialEq)]
pub struct FactoryPlug {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Centre of its mating face, mm.
    pub at: DVec3,
    /// Unit vector out of its mating face.
    pub direction: DVec3,
    /// Width, height and length, mm.
    pub size: DVec3,
    /// Length of its own tail, mm.
    pub tail: f64,
    /// How far it pulls out of the dash, mm.
    pub pulls_out: f64,
    /// Room that leads and the unit keep from it, mm.
    pub clear: f64,
    /// Whether a lead of this job uses it; an unused one stays where it is, a solid.
    pub used: bool,
}

// ---------------------------------------------------------------- unit and mount

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
    /// Module that comes with it and must find a place (name in [`Job::modules`]).
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

// ---------------------------------------------------------------- leads and modules

/// One lead: a plug, its cable or cables, and where they end.
#[derive(Clone, Debug, PartialEq)]
pub struct Lead {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The socket it plugs into (name in [`Unit::sockets`]), or the module that carries it.
    pub from: LeadStart,
    /// Its plug.
    pub plug: Plug,
    /// Its cable.
    pub cable: Cable,
    /// How many such cables leave the plug.
    pub cables: u32,
    /// Length from the plug's mating face, mm, where known.
    pub length: Option<Measure>,
    /// Where it ends.
    pub end: LeadEnd,
    /// Further run after the exit before its end, mm, where known.
    pub beyond: Option<f64>,
    /// Lumps in it.
    pub lumps: Vec<Lump>,
    /// What becomes of its slack.
    pub slack: Slack,
    /// Whether it must be long enough to plug in with the unit held out.
    pub service_reach: ServiceReach,
}

/// What a lead starts from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadStart {
    /// A socket of the unit.
    Socket(String),
    /// A module that carries it.
    Module(String),
}

/// Where a lead ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadEnd {
    /// It leaves the cavity through this exit.
    Exit(String),
    /// It plugs into this module.
    Module(String),
    /// It plugs into this factory plug.
    FactoryPlug(String),
}

/// A plug as mated: what stands out of the socket.
#[derive(Clone, Debug, PartialEq)]
pub struct Plug {
    /// Its name in the library or the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its family; a socket takes plugs of its own family.
    pub family: String,
    /// Across and up as it sits in the socket, mm.
    pub width: Measure,
    /// See `width`.
    pub height: Measure,
    /// How it leaves the socket.
    pub style: PlugStyle,
}

/// How a plug leaves its socket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlugStyle {
    /// Straight back.
    Straight {
        /// Stiff body beyond the socket's face, mm.
        body: Measure,
        /// Strain relief beyond the body, mm; 0 = none.
        relief: f64,
        /// Diameter of the strain relief, mm.
        relief_diameter: f64,
    },
    /// Turned square, close to the chassis.
    RightAngle {
        /// How far it stands out of the socket's face, mm.
        stands: Measure,
        /// The way its cable leaves.
        toward: Side,
        /// Stiff length from the socket's centre that way, mm.
        reach: f64,
    },
}

/// A cable, and how tightly it may bend.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// Its name in the library or the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Outside diameter, mm.
    pub od: Measure,
    /// What is published for it.
    pub published: BendRule,
    /// What fitters do with it.
    pub shop: BendRule,
    /// ± of the turn room measured on the bench, mm.
    pub turn_plus_minus: f64,
    /// Tightest fold it may be stowed with, centreline radius, mm.
    pub fold_radius: f64,
    /// Straight run it needs behind the plug before a bend, mm.
    pub straight_run: f64,
}

impl Cable {
    /// The rule that counts in a job.
    pub fn rule(&self, rules: RuleSet) -> BendRule {
        match rules {
            RuleSet::Published => self.published,
            RuleSet::Shop => self.shop,
        }
    }
}

/// The tightest bend a cable may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendRule {
    /// The radius, as a multiple of the outside diameter or in mm.
    pub radius: BendRadius,
    /// Where that radius is measured.
    pub measured: BendLine,
}

impl BendRule {
    /// Radius at the cable's centreline, mm, for a cable of outside diameter `od` mm.
    pub fn centreline(&self, od: f64) -> f64 {
        let radius = match self.radius {
            BendRadius::TimesOd(times) => times * od,
            BendRadius::Millimetres(radius) => radius,
        };
        match self.measured {
            BendLine::Inside => radius + 0.5 * od,
            BendLine::Centreline => radius,
        }
    }
}

/// A bend radius as a rule states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BendRadius {
    /// So many times the outside diameter.
    TimesOd(f64),
    /// A length, mm.
    Millimetres(f64),
}

/// Where a bend radius is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BendLine {
    /// At the inside of the curve, as published rules do.
    Inside,
    /// At the middle of the cable.
    Centreline,
}

/// Which of a cable's two bend rules a job goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RuleSet {
    /// What is published.
    Published,
    /// What fitters do.
    Shop,
}

/// A lump in a lead: mated pair, joint, fuse holder, filter, booster.
#[derive(Clone, Debug, PartialEq)]
pub struct Lump {
    /// What it is.
    pub name: String,
    /// Length along the lead, width and height, mm.
    pub size: DVec3,
    /// From the plug's mating face to its middle, mm.
    pub at: f64,
}

/// What becomes of a lead's slack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slack {
    /// Where it goes.
    pub goes: SlackGoes,
    /// Length lost in a joint, mm.
    pub joint_waste: f64,
}

/// Where slack goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlackGoes {
    /// Folded into a pocket of the cavity.
    Stow,
    /// Beyond the exit.
    Beyond,
    /// The lead is cut to length and joined.
    Cut,
}

/// Whether a lead must reach with the unit held out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ServiceReach {
    /// How far out the unit is held, mm.
    pub pull_out: f64,
    /// Too short is an error rather than a warning.
    pub required: bool,
}

/// An interface module.
#[derive(Clone, Debug, PartialEq)]
pub struct Module {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its three sizes, mm; as placed (across, depth, up) when it is pinned.
    pub size: [Measure; 3],
    /// Room that leads, plugs and the unit keep from it, mm.
    pub clear: f64,
    /// Where it is or may go.
    pub place: ModulePlace,
    /// Length of lead it can be reached with, mm, where known.
    pub lead_length: Option<f64>,
}

/// Where a module is or may go.
#[derive(Clone, Debug, PartialEq)]
pub enum ModulePlace {
    /// It stays here: its two faces along (across, depth, up), mm.
    Pinned([[Measure; 2]; 3]),
    /// It may go to any of these spaces and pockets; empty = to any in the job.
    Movable(Vec<String>),
}
