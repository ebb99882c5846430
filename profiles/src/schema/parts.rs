//! Parts of the library: plugs, cables, wraps, modules, tools, materials, and a file of them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{MountPart, PartUse, SideFile, ToolPart, UnitPart, is_default, is_one, one};
use crate::length::Length;

/// A file of parts, embedded or in the user's own folder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartsFile {
    /// Number of the file format: 1.
    pub format: u32,
    /// Units.
    #[serde(default, skip_serializing_if = "is_default")]
    pub units: Vec<LibraryEntry<UnitPart>>,
    /// Mounts.
    #[serde(default, skip_serializing_if = "is_default")]
    pub mounts: Vec<LibraryEntry<MountPart>>,
    /// Plugs.
    #[serde(default, skip_serializing_if = "is_default")]
    pub plugs: Vec<LibraryEntry<PlugPart>>,
    /// Cables and wires.
    #[serde(default, skip_serializing_if = "is_default")]
    pub cables: Vec<LibraryEntry<CablePart>>,
    /// Wraps.
    #[serde(default, skip_serializing_if = "is_default")]
    pub wraps: Vec<LibraryEntry<WrapPart>>,
    /// Modules.
    #[serde(default, skip_serializing_if = "is_default")]
    pub modules: Vec<LibraryEntry<ModulePart>>,
    /// Cutting tools.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tools: Vec<LibraryEntry<ToolPart>>,
    /// Materials.
    #[serde(default, skip_serializing_if = "is_default")]
    pub materials: Vec<MaterialPart>,
}

/// A part of the library: described in full, or another one with changes
/// (`use:` with `with:`, which must then set `id` and `name`).
pub type LibraryEntry<T> = PartUse<T>;

/// Where a part's figures come from and how far to trust them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Provenance {
    /// The standard with its clause or table, or the page.
    #[serde(skip_serializing_if = "is_default")]
    pub source: String,
    /// How the figures are known.
    #[serde(skip_serializing_if = "is_default")]
    pub how: HowKnown,
    /// What to be careful about.
    #[serde(skip_serializing_if = "is_default")]
    pub note: String,
}

/// How a figure is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum HowKnown {
    /// Not said.
    #[default]
    NotSaid,
    /// Read in the source named.
    Read,
    /// Computed from figures of the source named.
    Computed,
    /// From memory: a default to overwrite with a measurement.
    FromMemory,
    /// Common practice, no source.
    CommonPractice,
    /// Measured on the part.
    Measured,
    /// Invented, for the demo only.
    Invented,
}

/// A plug as mated: exactly one of `straight`, `right_angle`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlugPart {
    /// Short name, unique among plugs.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its family; a socket takes plugs of its own family.
    pub family: String,
    /// Across, as it sits in the socket.
    pub width: Length,
    /// Up, as it sits in the socket.
    pub height: Length,
    /// It leaves the socket straight.
    #[serde(default, skip_serializing_if = "is_default")]
    pub straight: Option<StraightFile>,
    /// It turns square close to the chassis.
    #[serde(default, skip_serializing_if = "is_default")]
    pub right_angle: Option<RightAngleFile>,
    /// How far it goes into the socket; not part of the lengths above.
    #[serde(default, skip_serializing_if = "is_default")]
    pub mating_depth: Option<Length>,
    /// What usually leaves it, for a lead one begins with.
    #[serde(default, skip_serializing_if = "is_default")]
    pub usual: Option<UsualFile>,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// What usually leaves a plug.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UsualFile {
    /// A cable of the library.
    pub cable: String,
    /// How many such cables; 1 when left out.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub cables: u32,
}

/// A straight plug, beyond the face of the socket.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StraightFile {
    /// Stiff body.
    pub body: Length,
    /// Strain relief beyond the body; none when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub relief: Option<Length>,
    /// Diameter of the strain relief; the smaller side of the body when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub relief_diameter: Option<Length>,
}

/// A right-angle plug, beyond the face of the socket.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RightAngleFile {
    /// How far it stands out of the socket's face.
    pub stands: Length,
    /// The way its cable leaves.
    pub toward: SideFile,
    /// Stiff length from the socket's centre that way.
    pub reach: Length,
}

/// A cable or wire, and how tightly it may bend.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CablePart {
    /// Short name, unique among cables.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Outside diameter; of an open tail, that of the round it makes in the hand.
    pub od: Length,
    /// The loose wires of an open tail; one cable in a sheath when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub wires: Option<WiresFile>,
    /// What is published for it.
    pub published: BendRuleFile,
    /// What fitters do with it; as published when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub shop: Option<BendRuleFile>,
    /// Tightest fold it may be stowed with; the bend rule the job goes by when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub fold: Option<BendRuleFile>,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// The loose wires of an open tail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WiresFile {
    /// How many, 1 to 60.
    pub count: u32,
    /// Outside diameter of one.
    pub od: Length,
}

/// The tightest bend: exactly one of `times_od`, `radius`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BendRuleFile {
    /// So many times the outside diameter.
    #[serde(default, skip_serializing_if = "is_default")]
    pub times_od: Option<f64>,
    /// Or a length.
    #[serde(default, skip_serializing_if = "is_default")]
    pub radius: Option<Length>,
    /// Where the radius is measured.
    #[serde(default, skip_serializing_if = "is_default")]
    pub measured: BendLineFile,
    /// Straight run behind the plug before a bend, in outside diameters; 0 when
    /// left out. A fold has none.
    #[serde(default, skip_serializing_if = "is_default")]
    pub straight_run_times_od: f64,
    /// Where the rule comes from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// Where a bend radius is measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BendLineFile {
    /// At the inside of the curve, as published rules do.
    #[default]
    Inside,
    /// At the middle of the cable.
    Centreline,
}

/// What goes round a loom or a part of it: tape, sleeve, tube.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WrapPart {
    /// Short name, unique among wraps.
    pub id: String,
    /// What the trade calls it.
    pub name: String,
    /// Thickness of one layer, from the inside to the outside.
    pub thickness: Length,
    /// Layers that lie one on the other, 2 for tape laid half over itself; 1 when left out.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub layers: u32,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// An interface module.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ModulePart {
    /// Short name, unique among modules.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its three sizes.
    pub size: [Length; 3],
    /// Room that others keep from it; 3 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub clear: Option<Length>,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// A material.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MaterialPart {
    /// Short name, unique among materials.
    pub id: String,
    /// What the trade calls it.
    pub name: String,
    /// Its family; decides its hatch.
    pub family: FamilyFile,
    /// Modulus of elasticity, MPa.
    #[serde(default, skip_serializing_if = "is_default")]
    pub e_modulus_mpa: Option<f64>,
    /// Density, g/cm3.
    #[serde(default, skip_serializing_if = "is_default")]
    pub density_g_cm3: Option<f64>,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// Families of material that are drawn alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the words say it
pub enum FamilyFile {
    Plastic,
    Steel,
    LightAlloy,
    Soft,
    Wire,
    Unknown,
}
