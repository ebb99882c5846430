//! Leads and modules of a job.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{BoxFile, CablePart, ModulePart, PartUse, PlugPart, is_default, is_one, one};
use crate::length::Length;

/// One lead: a plug, its cable or cables, and where they end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeadFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The unit's socket it plugs into; or else `module`.
    #[serde(default, skip_serializing_if = "is_default")]
    pub socket: Option<String>,
    /// The module that carries it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub module: Option<String>,
    /// Its plug.
    pub plug: PartUse<PlugPart>,
    /// Its cable.
    pub cable: PartUse<CablePart>,
    /// How many such cables leave the plug; 1 when left out.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub cables: u32,
    /// Length from the plug's mating face.
    #[serde(default, skip_serializing_if = "is_default")]
    pub length: Option<Length>,
    /// Where it ends.
    pub end: LeadEndFile,
    /// Further run after the exit before its end.
    #[serde(default, skip_serializing_if = "is_default")]
    pub beyond: Option<Length>,
    /// ± of the turn room as measured on the bench; 3 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn_plus_minus: Option<Length>,
    /// Lumps in it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lumps: Vec<LumpFile>,
    /// Points it passes, in this order from the plug on, each as across, depth,
    /// up; of several cables the first one passes them.
    #[serde(default, skip_serializing_if = "is_default")]
    pub through: Vec<[Length; 3]>,
    /// What becomes of its slack.
    #[serde(default, skip_serializing_if = "is_default")]
    pub slack: SlackFile,
    /// Whether it must reach with the unit held out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub service_reach: ServiceReachFile,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "is_default")]
    pub notes: String,
}

/// Where a lead ends: exactly one of the three.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct LeadEndFile {
    /// It leaves the cavity through this exit.
    #[serde(skip_serializing_if = "is_default")]
    pub exit: Option<String>,
    /// It plugs into this module.
    #[serde(skip_serializing_if = "is_default")]
    pub module: Option<String>,
    /// It plugs into this factory plug.
    #[serde(skip_serializing_if = "is_default")]
    pub factory_plug: Option<String>,
}

/// A lump in a lead: mated pair, joint, fuse holder, filter, booster.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LumpFile {
    /// What it is.
    pub name: String,
    /// Length along the lead, width and height.
    pub size: [Length; 3],
    /// From the plug's mating face to its middle.
    pub at: Length,
}

/// What becomes of a lead's slack.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct SlackFile {
    /// Where it goes.
    #[serde(skip_serializing_if = "is_default")]
    pub goes: SlackGoesFile,
    /// Length lost in a joint; 0 when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub joint_waste: Option<Length>,
}

/// Where slack goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SlackGoesFile {
    /// Folded into a pocket of the cavity.
    #[default]
    Stow,
    /// Beyond the exit.
    Beyond,
    /// Cut to length and joined.
    Cut,
}

/// Whether a lead must reach with the unit held out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ServiceReachFile {
    /// How far out the unit is held; 120 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub pull_out: Option<Length>,
    /// Whether too short is an error rather than a warning.
    #[serde(skip_serializing_if = "is_default")]
    pub required: bool,
}

/// An interface module of the job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ModuleFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// The module itself.
    pub part: PartUse<ModulePart>,
    /// Where it stays, as found or as wished: a box of its own size, lying any
    /// way round, without a turn.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pinned: Option<BoxFile>,
    /// Or where it may go: ids of spaces and pockets, `cavity` for anywhere in
    /// the cavity, fixed to whatever holds it; every space and pocket when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub may_go_to: Vec<String>,
    /// Length of lead it can be reached with.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lead_length: Option<Length>,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "is_default")]
    pub notes: String,
}
