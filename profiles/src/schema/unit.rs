//! A unit as its maker's sheet or a rule on the bench gives it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{ModulePart, PartUse, Provenance, is_default};
use crate::length::Length;

/// A unit: a box with a face, and sockets at its back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UnitPart {
    /// Short name, unique among units.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The box.
    pub chassis: ChassisFile,
    /// The face in front of the box.
    pub nose: NoseFile,
    /// A face larger than the opening, floating in front of the dash.
    #[serde(default, skip_serializing_if = "is_default")]
    pub overhang: Option<OverhangFile>,
    /// Threaded holes in its sides.
    #[serde(default, skip_serializing_if = "is_default")]
    pub side_holes: Vec<HoleFile>,
    /// Where leads plug in.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sockets: Vec<SocketFile>,
    /// Fan outlets and vent faces that must stay free.
    #[serde(default, skip_serializing_if = "is_default")]
    pub vents: Vec<VentFile>,
    /// What holds its rear.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rear_support: Option<RearSupportFile>,
    /// Mass, kg; 0 when it is not known.
    #[serde(default, skip_serializing_if = "is_default")]
    pub mass_kg: f64,
    /// Steepest dip its maker allows, degrees, 0 to 90.
    #[serde(default, skip_serializing_if = "is_default")]
    pub max_dip_deg: Option<f64>,
    /// A module that comes with it and must find a place.
    #[serde(default, skip_serializing_if = "is_default")]
    pub remote_module: Option<PartUse<ModulePart>>,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// The box of a unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChassisFile {
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
    /// From its datum to the back.
    pub depth: Length,
    /// What `depth` is measured from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub datum: DatumFile,
    /// How far behind the back of the nose that datum lies; 0 when left out, and
    /// always 0 for `nose_back`.
    #[serde(default, skip_serializing_if = "is_default")]
    pub datum_behind_nose: Option<Length>,
    /// Centre of the chassis from the opening's centre (across, up); 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub offset: Option<[Length; 2]>,
}

/// What a unit's depth is measured from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DatumFile {
    /// The back of the nose.
    #[default]
    NoseBack,
    /// The mounting flange.
    Flange,
    /// The front hole for the bracket's screw.
    BracketHole,
}

/// The face just in front of the chassis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NoseFile {
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
    /// From its front to the front of the chassis.
    pub thickness: Length,
    /// Whether it laps the opening's edge or enters it.
    pub seat: NoseSeatFile,
    /// A ring of trim around it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub trim_ring: Option<TrimRingFile>,
}

/// How a nose meets the opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NoseSeatFile {
    /// It rests on the finished face.
    Laps,
    /// It goes into the opening and must fit it.
    Enters,
}

/// A trim ring around the nose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrimRingFile {
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
    /// How much of the nose's standing out its lip hides; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lip: Option<Length>,
}

/// A floating face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OverhangFile {
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
    /// From its front to its back.
    pub thickness: Length,
    /// From its back to the front of the chassis.
    pub stands_off: Length,
    /// Its centre from the chassis centre (across, up); 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub offset: Option<[Length; 2]>,
}

/// A hole in a side of the unit or in a bracket.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoleFile {
    /// Short name.
    pub id: String,
    /// The side it is on, left or right; both when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub side: Option<SideFile>,
    /// From the chassis front (unit) or the seat plane (bracket).
    pub depth: Length,
    /// From the chassis centre.
    pub up: Length,
    /// Diameter; of a threaded hole, that of its screw.
    pub diameter: Length,
    /// Length of a slot along depth; a round hole when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub slot: Option<Length>,
}

/// A side, named as the installer sees it looking in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the words say it
pub enum SideFile {
    Left,
    Right,
    Top,
    Bottom,
}

/// The face of the chassis a socket is on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the words say it
pub enum FaceFile {
    #[default]
    Rear,
    Left,
    Right,
    Top,
    Bottom,
}

/// Where a lead plugs in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SocketFile {
    /// Short name, unique on the unit.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The face it is on; the rear when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face: FaceFile,
    /// Its centre. Rear: (across, up) from the chassis centre. A side: (depth
    /// from the chassis front, and up or across from the chassis centre).
    pub at: [Length; 2],
    /// The family of plugs it takes.
    pub family: String,
    /// How far its face stands out of the chassis; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub stands_out: Option<Length>,
}

/// A fan outlet or vent face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VentFile {
    /// What it is called.
    pub name: String,
    /// The face it is on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face: FaceFile,
    /// Its centre, measured as a socket's is.
    pub at: [Length; 2],
    /// Its two sizes along the same axes.
    pub size: [Length; 2],
    /// Whether a fan blows out of it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub fan: bool,
}

/// What holds the rear of the unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RearSupportFile {
    /// A pin or a strap.
    pub style: RearStyleFile,
    /// Centre on the rear (across, up) from the chassis centre.
    pub at: [Length; 2],
    /// Diameter of a pin, width of a strap.
    pub width: Length,
    /// How far it stands out behind.
    pub length: Length,
    /// Whether the unit's maker requires it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub required: bool,
}

/// The two usual rear supports.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the words say it
pub enum RearStyleFile {
    Pin,
    Strap,
}
