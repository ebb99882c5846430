//! The hole in the dash: its walls by depth, its exits, spaces and pockets.

use glam::{DVec2, DVec3};

use super::Obstacle;
use crate::measure::Measure;

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

impl Exit {
    /// Unit vectors along its width and its height, square to its direction.
    ///
    /// Width runs as level as it can; where the direction is up or down, across.
    pub fn axes(&self) -> [DVec3; 2] {
        let level = self.direction.cross(DVec3::Z);
        let width = if level.length() > 1e-6 {
            level.normalize()
        } else {
            DVec3::X
        };
        [width, width.cross(self.direction).normalize_or_zero()]
    }

    /// Its outline about its centre along [`Exit::axes`], mm, first corner
    /// not repeated; a round hole as 48 points on its rim.
    pub fn outline(&self) -> Vec<DVec2> {
        match &self.shape {
            ExitShape::Round(diameter) => (0..48)
                .map(|i| {
                    let turn = std::f64::consts::TAU * f64::from(i) / 48.0;
                    0.5 * diameter * DVec2::from_angle(turn)
                })
                .collect(),
            ExitShape::Rectangle(size) => [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
                .map(|(x, y)| DVec2::new(x, y) * *size)
                .to_vec(),
            ExitShape::Polygon(corners) => corners.clone(),
        }
    }

    /// A point of its plane in the frame, mm.
    pub fn place(&self, at: DVec2) -> DVec3 {
        let [width, height] = self.axes();
        self.centre + width * at.x + height * at.y
    }
}

/// The shape of an exit.
#[derive(Clone, Debug, PartialEq)]
pub enum ExitShape {
    /// A round hole by its diameter, mm.
    Round(f64),
    /// A rectangular hole: its width and its height, mm. Width runs as level as it can.
    Rectangle(DVec2),
    /// Any other hole: its corners in order about its centre, (width, height), mm.
    Polygon(Vec<DVec2>),
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
