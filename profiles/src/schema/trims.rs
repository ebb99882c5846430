//! What is cut, with what, and how far one may go.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EdgeFile, PartUse, Provenance, is_default};
use crate::length::Length;

/// A notch to be cut into an obstacle, open to one of its long edges.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrimFile {
    /// The obstacle it is cut into.
    pub rib: String,
    /// The edge it is open to.
    pub edge: EdgeFile,
    /// Where it begins and ends along that edge, from the opening's centre or
    /// the dash face.
    pub along: [Length; 2],
    /// From the edge to its bottom.
    pub depth: Length,
    /// Radius of its inner corners; half the stop hole when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub radius: Option<Length>,
    /// Whether a search for the least cut leaves it as it is.
    #[serde(default, skip_serializing_if = "is_default")]
    pub locked: bool,
    /// The strip bonded over what is left of the rib there.
    #[serde(default, skip_serializing_if = "is_default")]
    pub doubler: Option<StripFile>,
}

/// Something that hangs on an obstacle: how much of its stiffness it keeps for
/// that, once cut, is told beside the usual pushes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RibLoadFile {
    /// The obstacle it hangs on.
    pub rib: String,
    /// Where along it, from the opening's centre or the dash face, as for notches.
    pub along: Length,
    /// Which way it acts.
    pub acts: ActsFile,
    /// N; less than 0 for one that acts against the others.
    pub force_n: f64,
}

/// Which way a load acts on a flat obstacle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ActsFile {
    /// In its plane, square to its long edges.
    InPlane,
    /// Square to its plane.
    OutOfPlane,
}

/// A strip bonded flat to a rib beside a notch. What is left out is taken from
/// the shop's strip stock, or from common practice.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct StripFile {
    /// Thickness; 3 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub thickness: Option<Length>,
    /// From the bottom of the notch across what is left; 25 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub height: Option<Length>,
    /// How far it reaches beyond each side of the notch; 30 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub lap: Option<Length>,
    /// Modulus of elasticity, MPa; 2500 when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub e_modulus_mpa: Option<f64>,
}

/// How the shop cuts and how far it goes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct CuttingFile {
    /// What it cuts with; the oscillating saw when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub tool: Option<PartUse<ToolPart>>,
    /// Diameter of the hole drilled at inner corners, 0 for sharp ones; 8 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub stop_hole: Option<Length>,
    /// Thickness of the trim put on every cut edge; 0.5 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub edge_trim: Option<Length>,
    /// Sides of notches that are looked for lie on whole steps of this; 1 mm when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub snap: Option<Length>,
    /// Least share of a rib's stiffness to keep for a push at its middle, percent;
    /// 60 when left out.
    #[serde(skip_serializing_if = "is_default")]
    pub keep_stiffness_percent: Option<f64>,
    /// Whether the customer has agreed that ribs with `cut: ask` may be cut.
    #[serde(skip_serializing_if = "is_default")]
    pub ask_agreed: bool,
    /// Ribs left alone though they might be cut.
    #[serde(skip_serializing_if = "is_default")]
    pub leave_alone: Vec<String>,
    /// Strip stock for doublers.
    #[serde(skip_serializing_if = "is_default")]
    pub strip: StripFile,
}

/// A cutting tool as it comes to the cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ToolPart {
    /// Short name, unique among tools.
    pub id: String,
    /// What the trade calls it.
    pub name: String,
    /// How its blade meets what it cuts.
    pub works: WorksFile,
    /// Width and height of its body and the hand about it.
    pub shank: [Length; 2],
    /// From the front of the body to the end of the blade.
    pub reach: Length,
    /// Width of the cut.
    pub kerf: Length,
    /// Width and thickness of the blade or jaw.
    pub blade: [Length; 2],
    /// Room it needs behind the cut; none when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub behind: Option<Length>,
    /// Where the figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub known: Provenance,
}

/// How a tool's blade meets what it cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WorksFile {
    /// Pushed in end first.
    EndFirst,
    /// Reaches round the edge from both sides.
    RoundTheEdge,
}
