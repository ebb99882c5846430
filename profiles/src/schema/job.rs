//! A job file.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    CavityFile, CuttingFile, LeadFile, LoomFile, ModuleFile, MountPart, PartUse, PlugPart,
    RibLoadFile, TrimFile, UnitPart, is_default,
};

/// One fitting job: a cavity as measured, a unit, its mount, leads and modules.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobFile {
    /// Number of the file format: 1.
    pub format: u32,
    /// What the installer calls the job.
    pub name: String,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "is_default")]
    pub notes: String,
    /// How far the unit may stand proud, mm; 3 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub proud_limit_mm: Option<f64>,
    /// How steeply the unit may be tilted on its way in, degrees; 10 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub enter_tilt_deg: Option<f64>,
    /// Which bend rules count; `published` when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bend_rules: BendRules,
    /// The hole and everything in it.
    pub cavity: CavityFile,
    /// The unit to seat.
    pub unit: PartUse<UnitPart>,
    /// What holds it.
    pub mount: PartUse<MountPart>,
    /// Every lead.
    #[serde(default, skip_serializing_if = "is_default")]
    pub leads: Vec<LeadFile>,
    /// How the looms are made up, at most one for each exit.
    #[serde(default, skip_serializing_if = "is_default")]
    pub looms: Vec<LoomFile>,
    /// Every interface module.
    #[serde(default, skip_serializing_if = "is_default")]
    pub modules: Vec<ModuleFile>,
    /// Notches to be cut.
    #[serde(default, skip_serializing_if = "is_default")]
    pub trims: Vec<TrimFile>,
    /// What hangs on obstacles that may be cut.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rib_loads: Vec<RibLoadFile>,
    /// How the shop cuts and how far it goes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub cutting: CuttingFile,
    /// Other units or plugs to answer for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub alternatives: Vec<AlternativeFile>,
}

/// Which of a cable's two bend rules a job goes by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BendRules {
    /// What is published for the cable.
    #[default]
    Published,
    /// What fitters do with it.
    Shop,
}

/// The same job with something changed, answered beside it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AlternativeFile {
    /// Short name, unique among the alternatives.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Another unit.
    #[serde(default, skip_serializing_if = "is_default")]
    pub unit: Option<PartUse<UnitPart>>,
    /// Another mount.
    #[serde(default, skip_serializing_if = "is_default")]
    pub mount: Option<PartUse<MountPart>>,
    /// Other plugs, by the id of their lead.
    #[serde(default, skip_serializing_if = "is_default")]
    pub plugs: BTreeMap<String, PartUse<PlugPart>>,
    /// Leads that the job itself does not have.
    #[serde(default, skip_serializing_if = "is_default")]
    pub leads: Vec<LeadFile>,
    /// Leads of the job left out here.
    #[serde(default, skip_serializing_if = "is_default")]
    pub without: Vec<String>,
    /// Modules moved: the id of the module, and the spaces or pockets it may go to.
    #[serde(default, skip_serializing_if = "is_default")]
    pub move_modules: BTreeMap<String, Vec<String>>,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "is_default")]
    pub notes: String,
}
