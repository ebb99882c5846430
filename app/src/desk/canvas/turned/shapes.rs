//! The model as skins and lines, made once for each picture of a job.

use geometry::section::tube;
use geometry::sight::{Skin, Standing};
use geometry::{Bounds, facets};
use glam::DVec3;

use crate::desk::edit::Target;
use crate::desk::model::{Known, Model, Part};
use crate::desk::theme::Tone;

/// Sides of the rings that a lead is drawn with.
const SIDES: usize = 14;
/// Half the length of the cross that marks a point to pass, mm.
const PIN: f64 = 4.0;
/// Most that a drawn lead strays from its path, mm.
const CHORD: f64 = 0.3;

/// Everything that is seen.
#[derive(Default)]
pub struct Shapes {
    revision: Option<u64>,
    /// What can hide something.
    pub shapes: Vec<Shape>,
    /// Lines of what has no body: the cavity, exits, pockets.
    pub lines: Vec<Line>,
}

/// A solid or a lead.
pub struct Shape {
    /// What it belongs to.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// What part of the picture it is; `None` for a laid lead.
    pub part: Option<Part>,
    /// Its tone.
    pub tone: Tone,
    /// How well its place is known.
    pub known: Known,
    /// Whether it belongs to an earlier state of the job.
    pub stale: bool,
    /// Its outside.
    pub skin: Skin,
}

/// What a line in space stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineOf {
    /// The walls of the cavity.
    Wall,
    /// The rim of an exit.
    Exit,
    /// A pocket with slack in it.
    Pocket,
    /// The circle around the leads of an exit.
    Loom,
    /// A point that a lead is to pass.
    Pin,
    /// The room where something is in the way.
    InTheWay,
}

/// A line in space.
pub struct Line {
    /// What it belongs to.
    pub target: Target,
    /// What it stands for.
    pub kind: LineOf,
    /// What the installer calls it.
    pub name: String,
    /// Its points, mm.
    pub points: Vec<DVec3>,
}

impl Shape {
    /// How it stands in the picture.
    ///
    /// * `through`: whether one sees through the unit, and through obstacles
    pub fn standing(&self, through: [bool; 2]) -> Standing {
        let [unit, obstacles] = through;
        let through = match self.part {
            Some(Part::Unit) => unit,
            Some(Part::Fixed) => obstacles && self.tone != Tone::Module,
            Some(Part::Plug) | None => false,
        };
        if through {
            Standing::SeeThrough
        } else {
            Standing::Solid
        }
    }
}

impl Shapes {
    /// Takes the model in, if it is another than before.
    pub fn take(&mut self, model: &Model) {
        if self.revision == Some(model.revision) {
            return;
        }
        self.revision = Some(model.revision);
        let things = model.things.iter().map(|thing| Shape {
            target: thing.target.clone(),
            name: thing.name.clone(),
            part: Some(thing.part),
            tone: thing.tone,
            known: thing.known,
            stale: false,
            skin: Skin::of(facets(&thing.solid)),
        });
        let ways = model
            .laid
            .iter()
            .flat_map(|laid| laid.ways.iter().map(move |way| (way, laid.stale)));
        let leads = ways.map(|(way, stale)| Shape {
            target: way.target.clone(),
            name: way.name.clone(),
            part: None,
            tone: Tone::Lead,
            known: Known::Measured,
            stale,
            skin: Skin::of(tube(&way.path, way.od, SIDES, CHORD)),
        });
        self.shapes = things.chain(leads).collect();
        self.lines = lines(model);
    }

    /// The revision taken in.
    pub fn revision(&self) -> Option<u64> {
        self.revision
    }
}

fn lines(model: &Model) -> Vec<Line> {
    let wall = |points: Vec<DVec3>| Line {
        target: Target::Walls,
        kind: LineOf::Wall,
        name: String::new(),
        points,
    };
    let ring = |ring: &geometry::cavity::Ring| -> Vec<DVec3> {
        let corners = ring.corners.iter().chain(ring.corners.first());
        corners.map(|c| DVec3::new(c.x, ring.depth, c.y)).collect()
    };
    let rings: Vec<Vec<DVec3>> = model.rings.iter().map(ring).collect();
    let mut lines = Vec::new();
    for pair in rings.windows(2) {
        if pair[0].len() == pair[1].len() && pair[0].len() <= 9 {
            let sides = pair[0].iter().zip(&pair[1]).skip(1);
            lines.extend(sides.map(|(from, to)| wall(vec![*from, *to])));
        }
    }
    lines.extend(rings.into_iter().map(wall));
    for clash in &model.clashes {
        let Some(target) = clash.against.as_ref().or(clash.piece.as_ref()) else {
            continue;
        };
        let [min, max] = clash.room;
        lines.extend(edges(&Bounds { min, max }).into_iter().map(|ends| Line {
            target: target.clone(),
            kind: LineOf::InTheWay,
            name: String::new(),
            points: ends.to_vec(),
        }));
    }
    lines.extend(model.holes.iter().map(|hole| Line {
        target: hole.target.clone(),
        kind: LineOf::Exit,
        name: hole.name.clone(),
        points: hole.rim.clone(),
    }));
    let rings = model.laid.iter().flat_map(|laid| &laid.rings);
    lines.extend(rings.map(|ring| Line {
        target: ring.exit.clone(),
        kind: LineOf::Loom,
        name: String::new(),
        points: ring.line.clone(),
    }));
    for pin in &model.pins {
        lines.extend(DVec3::AXES.map(|axis| Line {
            target: pin.target.clone(),
            kind: LineOf::Pin,
            name: String::new(),
            points: vec![pin.at - PIN * axis, pin.at + PIN * axis],
        }));
    }
    let with_slack = model
        .pockets
        .iter()
        .filter(|pocket| pocket.fill.is_some_and(|fill| fill > 0.0));
    for pocket in with_slack {
        let [min, max] = pocket.room;
        lines.extend(edges(&Bounds { min, max }).into_iter().map(|ends| Line {
            target: pocket.target.clone(),
            kind: LineOf::Pocket,
            name: pocket.name.clone(),
            points: ends.to_vec(),
        }));
    }
    lines
}

/// The twelve edges of a box.
fn edges(bounds: &Bounds) -> Vec<[DVec3; 2]> {
    let size = bounds.max - bounds.min;
    let mut edges = Vec::new();
    for axis in 0..3 {
        let along = DVec3::AXES[axis] * size[axis];
        let (one, other) = ((axis + 1) % 3, (axis + 2) % 3);
        for (a, b) in [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)] {
            let from = bounds.min
                + DVec3::AXES[one] * size[one] * a
                + DVec3::AXES[other] * size[other] * b;
            edges.push([from, from + along]);
        }
    }
    edges
}
