//! What holds the unit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{HoleFile, Provenance, SideFile, is_default};
use crate::length::Length;

/// A mount: exactly one of `factory_brackets`, `sleeve`, `kit_pocket`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MountPart {
    /// Short name, unique among mounts.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// From the seat plane to the chassis front; positive into the dash.
    pub setback: Length,
    /// The vehicle's own brackets.
    #[serde(default, skip_serializing_if = "is_default")]
    pub factory_brackets: Option<FactoryBracketsFile>,
    /// A folded sleeve.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sleeve: Option<SleeveFile>,
    /// A fitting kit's pocket.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kit_pocket: Option<KitPocketFile>,
    /// Whether something of it takes a rear pin or strap.
    #[serde(default, skip_serializing_if = "is_default")]
    pub takes_rear_support: bool,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// A plate on each side of the unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SideBracketFile {
    /// Thickness.
    pub thickness: Length,
    /// Height, centred on the chassis.
    pub height: Length,
    /// Length along depth from the chassis front.
    pub length: Length,
}

/// The vehicle's own brackets, screwed to the unit's sides.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FactoryBracketsFile {
    /// The bracket on each side.
    pub bracket: SideBracketFile,
    /// Holes in each bracket.
    #[serde(default, skip_serializing_if = "is_default")]
    pub holes: Vec<HoleFile>,
    /// How far a screw's head stands out of the bracket; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub screw_head_height: Option<Length>,
    /// Diameter of a screw's head; 9 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub screw_head_diameter: Option<Length>,
}

/// A folded metal sleeve with bend tabs. Its rear edge is sharp.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SleeveFile {
    /// Wall thickness.
    pub wall: Length,
    /// Length from the seat plane into the dash.
    pub depth: Length,
}

/// A fitting kit's pocket.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KitPocketFile {
    /// Plates screwed to the unit's sides.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bracket: Option<SideBracketFile>,
    /// Room the pocket leaves on each side of the plates; as the cavity when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub side_room: Option<Length>,
    /// Tabs to keep or to break off.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tabs: Vec<TabFile>,
}

/// A break-off tab.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TabFile {
    /// Short name.
    pub id: String,
    /// Where it is, in words.
    pub name: String,
    /// Left and right face.
    pub across: [Length; 2],
    /// Near and far face.
    pub depth: [Length; 2],
    /// Lower and upper face.
    pub up: [Length; 2],
    /// The side of the pocket it grows from.
    pub grows_from: SideFile,
    /// What is to be done with it.
    pub decision: TabDecisionFile,
}

/// What is to be done with a break-off tab.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TabDecisionFile {
    /// It stays.
    Keep,
    /// It comes off.
    Remove,
    /// Nobody knows yet; the job is then not ready to fit.
    NotSure,
}
