//! What stands in the cavity, what it is made of, and what of it may be cut.

use glam::{DVec2, DVec3};

use crate::measure::Measure;

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

impl Edge {
    /// The word for it on screen and in answers.
    pub fn word(self) -> &'static str {
        match self {
            Edge::Near => "near",
            Edge::Far => "far",
            Edge::Upper => "upper",
            Edge::Lower => "lower",
            Edge::Left => "left",
            Edge::Right => "right",
        }
    }
}
