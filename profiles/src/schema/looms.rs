//! How the looms of a job are made up.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{PartUse, WrapPart, is_default};

/// The loom of one exit: what is taped first, and what goes round the whole.
/// Leads that no loom speaks of lie side by side with nothing round them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoomFile {
    /// The exit it leaves through.
    pub exit: String,
    /// What goes round the whole; nothing when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub wrap: Option<PartUse<WrapPart>>,
    /// Leads taped together before the rest is laid beside them.
    #[serde(default, skip_serializing_if = "is_default")]
    pub taped: Vec<TapedFile>,
}

/// Leads taped into a round of their own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TapedFile {
    /// What the installer calls it.
    pub name: String,
    /// The leads in it, two or more; each in one tape only. One that an
    /// alternative leaves out drops out of it there.
    pub leads: Vec<String>,
    /// What goes round them; nothing when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub wrap: Option<PartUse<WrapPart>>,
}
