//! The cavity as measured.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::is_default;
use crate::length::Length;

/// The hole in the dash and everything in it. Depths run into the dash from
/// the plane of the dash face; across and up run from the opening's centre.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CavityFile {
    /// The opening in the dash face.
    pub opening: OpeningFile,
    /// Depth at which the mount's reference stops, trim off; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub seat_plane: Option<Length>,
    /// Depth of the finished face, trim on, where it cuts the slide line; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub finished_face: Option<Length>,
    /// How the dash face leans against the slide line.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face_rake: RakeFile,
    /// How far the slide line dips toward the rear below level, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub slide_dip_deg: f64,
    /// Room that leads, plugs and modules keep from the walls; 2 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub clear: Option<Length>,
    /// Room the unit keeps from the walls while sliding in; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub slide_gap: Option<Length>,
    /// Cross-sections by rising depth.
    #[serde(default, skip_serializing_if = "is_default")]
    pub stations: Vec<StationFile>,
    /// Whether the last station is a wall across the cavity.
    #[serde(default, skip_serializing_if = "is_default")]
    pub closed: bool,
    /// Ribs, beams, ducts, brackets, looms: everything solid.
    #[serde(default, skip_serializing_if = "is_default")]
    pub obstacles: Vec<ObstacleFile>,
    /// Where leads leave the cavity.
    #[serde(default, skip_serializing_if = "is_default")]
    pub exits: Vec<ExitFile>,
    /// Rooms outside the cavity, reached through an exit.
    #[serde(default, skip_serializing_if = "is_default")]
    pub spaces: Vec<SpaceFile>,
    /// Rooms inside the cavity where a module may sit.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pockets: Vec<PocketFile>,
    /// Plugs of the factory loom.
    #[serde(default, skip_serializing_if = "is_default")]
    pub factory_plugs: Vec<FactoryPlugFile>,
}

/// The opening in the dash face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OpeningFile {
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
    /// Radius of its corners; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub corner_radius: Option<Length>,
}

/// How the dash face leans against the slide line, degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct RakeFile {
    /// Positive when the top of the face lies further in.
    #[serde(skip_serializing_if = "is_default")]
    pub top_in_deg: f64,
    /// Positive when the right side of the face lies further in.
    #[serde(skip_serializing_if = "is_default")]
    pub right_in_deg: f64,
}

/// The cavity's cross-section at one depth: four distances, or an outline.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationFile {
    /// Depth.
    pub at: Length,
    /// From the opening's centre to the left wall.
    #[serde(default, skip_serializing_if = "is_default")]
    pub left: Option<Length>,
    /// From the opening's centre to the right wall.
    #[serde(default, skip_serializing_if = "is_default")]
    pub right: Option<Length>,
    /// From the opening's centre to the roof.
    #[serde(default, skip_serializing_if = "is_default")]
    pub up: Option<Length>,
    /// From the opening's centre to the floor.
    #[serde(default, skip_serializing_if = "is_default")]
    pub down: Option<Length>,
    /// Or the corners (across, up) of the free cross-section, looking in.
    #[serde(default, skip_serializing_if = "is_default")]
    pub outline: Vec<[Length; 2]>,
    /// How the walls run to the next station.
    #[serde(default, skip_serializing_if = "is_default")]
    pub to_next: RunFile,
}

/// How the walls run from one station to the next.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RunFile {
    /// Straight lines from corner to corner.
    #[default]
    Blended,
    /// This section holds up to the next station, then steps.
    Stepped,
}

/// Something solid in or around the cavity: exactly one of `box`, `cylinder`, `outline`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ObstacleFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// What it is.
    pub kind: KindFile,
    /// Name of its material in the library; not known when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub material: Option<String>,
    /// A box by its faces.
    #[serde(default, rename = "box", skip_serializing_if = "is_default")]
    pub block: Option<BoxFile>,
    /// A round bar.
    #[serde(default, skip_serializing_if = "is_default")]
    pub cylinder: Option<CylinderFile>,
    /// A flat outline pushed along the axis square to it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub outline: Option<OutlineFile>,
    /// Room that leads, plugs, modules and the unit keep from it; 3 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub clear: Option<Length>,
    /// Room that a notch keeps from it; 10 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub cut_keep_out: Option<Length>,
    /// Whether it may be cut; never when left out. `ask` and `allowed` want
    /// `cut_from` and `max_depth`.
    #[serde(default, skip_serializing_if = "is_default")]
    pub cut: CutFile,
    /// The edges a notch may start from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub cut_from: Vec<EdgeFile>,
    /// Deepest notch from that edge.
    #[serde(default, skip_serializing_if = "is_default")]
    pub max_depth: Option<Length>,
    /// Distance a notch keeps from the rib's ends; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub min_from_ends: Option<Length>,
    /// Material that must stay; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub min_web: Option<Length>,
    /// What the hand met there, reaching in through the opening; then it says how
    /// far one gets, whatever it belongs to, and may overlap other obstacles.
    #[serde(default, skip_serializing_if = "is_default")]
    pub met: Option<MetFile>,
    /// Obstacles it grows from or is fixed to, and may therefore touch or overlap.
    #[serde(default, skip_serializing_if = "is_default")]
    pub joined_to: Vec<String>,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "is_default")]
    pub notes: String,
}

impl ObstacleFile {
    /// One of which nothing is stated but what it is; its form is still to come.
    pub fn bare(id: impl Into<String>, name: impl Into<String>, kind: KindFile) -> ObstacleFile {
        ObstacleFile {
            id: id.into(),
            name: name.into(),
            kind,
            material: None,
            block: None,
            cylinder: None,
            outline: None,
            clear: None,
            cut_keep_out: None,
            cut: CutFile::default(),
            cut_from: Vec::new(),
            max_depth: None,
            min_from_ends: None,
            min_web: None,
            met: None,
            joined_to: Vec::new(),
            notes: String::new(),
        }
    }
}

/// A box by its two faces along each axis, then turned about its centre.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoxFile {
    /// Left and right face.
    pub across: [Length; 2],
    /// Near and far face.
    pub depth: [Length; 2],
    /// Lower and upper face.
    pub up: [Length; 2],
    /// Turns about (across, depth, up) through its centre, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turned_deg: [f64; 3],
}

/// A round bar between the centres of its two ends.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CylinderFile {
    /// Centre of one end (across, depth, up).
    pub from: [Length; 3],
    /// Centre of the other end.
    pub to: [Length; 3],
    /// Diameter.
    pub diameter: Length,
}

/// A flat outline pushed along the axis square to it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OutlineFile {
    /// The plane it is drawn in.
    pub plane: PlaneFile,
    /// Its corners in that plane's two axes.
    pub corners: Vec<[Length; 2]>,
    /// Where it starts and ends along the third axis.
    pub along: [Length; 2],
    /// Turns about (across, depth, up) through its middle, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turned_deg: [f64; 3],
}

/// The plane an outline is drawn in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlaneFile {
    /// Looking in.
    AcrossUp,
    /// From above.
    AcrossDepth,
    /// From the side.
    DepthUp,
}

/// What an obstacle is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the words are those of geometry::Kind
pub enum KindFile {
    Rib,
    Shelf,
    Boss,
    Bracket,
    Beam,
    Duct,
    HeaterBox,
    Loom,
    AirbagPart,
    ColumnSupport,
    KneeSupport,
    HighVoltage,
    CoolantPipe,
    RefrigerantPipe,
    KeyAerial,
    Vent,
    Switch,
    Selector,
    Column,
    Unknown,
}

/// What the hand met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MetFile {
    /// Something that does not give.
    Hard,
    /// Something that gives: foam, felt, a wrapped loom.
    Soft,
    /// Something that can be pushed aside.
    Moves,
    /// Nobody knows.
    NotKnown,
}

/// Whether something may be cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CutFile {
    /// Not at any price.
    #[default]
    Never,
    /// Only when the customer agrees.
    Ask,
    /// Within its limits.
    Allowed,
}

/// An edge of a solid, named as the installer sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the words say it
pub enum EdgeFile {
    Near,
    Far,
    Upper,
    Lower,
    Left,
    Right,
}

/// A hole that leads leave the cavity through: `diameter`, or `width` and
/// `height`, or `corners`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExitFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its centre (across, depth, up).
    pub centre: [Length; 3],
    /// The way leads pass it, outward; any length.
    pub direction: [f64; 3],
    /// Diameter of a round hole.
    #[serde(default, skip_serializing_if = "is_default")]
    pub diameter: Option<Length>,
    /// Width of a rectangular hole.
    #[serde(default, skip_serializing_if = "is_default")]
    pub width: Option<Length>,
    /// Height of a rectangular hole.
    #[serde(default, skip_serializing_if = "is_default")]
    pub height: Option<Length>,
    /// Corners of any other hole about its centre: along its width, which runs
    /// as level as it can, and its height.
    #[serde(default, skip_serializing_if = "is_default")]
    pub corners: Vec<[Length; 2]>,
    /// Straight run beyond it before a lead may turn; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub run_beyond: Option<Length>,
}

/// A named room outside the cavity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpaceFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Free size (across, depth, up).
    pub size: [Length; 3],
    /// Its centre, where it is known.
    #[serde(default, skip_serializing_if = "is_default")]
    pub centre: Option<[Length; 3]>,
    /// The exit that leads to it.
    pub exit: String,
    /// Length of lead from that exit to it.
    pub run: Length,
}

/// A named room inside the cavity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PocketFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its faces; it stands square, without a turn.
    #[serde(rename = "box")]
    pub block: BoxFile,
}

/// A plug of the factory loom.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FactoryPlugFile {
    /// Short name, unique in the job.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Centre of its mating face (across, depth, up).
    pub at: [Length; 3],
    /// The way out of its mating face; any length.
    pub direction: [f64; 3],
    /// Width, height and length.
    pub size: [Length; 3],
    /// Length of its own tail; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tail: Option<Length>,
    /// How far it pulls out of the dash; 0 when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pulls_out: Option<Length>,
    /// Room that leads and the unit keep from it; 2 mm when left out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub clear: Option<Length>,
}
