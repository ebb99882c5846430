//! What a module keeps clear of, and what it may be fixed to.

use glam::{DVec2, DVec3};

use crate::cavity::{self, Ring, section_at};
use crate::distance::signed_distance;
use crate::fit::WALL;
use crate::fitting::{VENT_AIR, vent_plate};
use crate::frame::DEPTH;
use crate::job::{Exit, Job, Kind, Lead, LeadEnd, LeadStart, Module};
use crate::layout::{FixedClass, Layout, Sliding};
use crate::measure::{Harm, Reading};
use crate::solids::{Bounds, Shape, Solid};

/// How far out the unit starts on its way in, mm.
const OUTSIDE: f64 = 500.0;

/// Room before an exit that stays open for the leads through it, mm. Common
/// practice, no source.
const BEFORE_EXIT: f64 = 30.0;

/// Room before a plug of the factory loom for the plug that goes into it, mm.
/// Common practice, no source.
const BEFORE_PLUG: f64 = 25.0;

/// Rounding, mm.
pub const EPS: f64 = 1e-6;

/// Whether a module may be fixed to an obstacle of this kind: firm parts that
/// neither move nor get warm, and that nobody has to get at. Never airbag
/// parts and the supports about them, ducts, pipes, looms, vents, switches or
/// anything not known. Common practice, no source.
pub fn holds(kind: Kind) -> bool {
    matches!(kind, Kind::Rib | Kind::Shelf | Kind::Bracket | Kind::Beam)
}

/// Something a module keeps clear of.
pub struct Still {
    /// Its id, `wall` for a wall.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its shape.
    pub solid: Solid,
    /// The box around it.
    pub bounds: Bounds,
    /// Whether it fills that box.
    pub fills: bool,
    /// Room a module keeps from it, mm.
    pub clear: f64,
    /// Whether a module may be fixed to it.
    pub holds: bool,
    /// What it is.
    pub sort: Sort,
}

/// What something is that a module keeps clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A wall beside, above or below the unit.
    Wall,
    /// The wall across the cavity behind it.
    BackWall,
    /// An obstacle, a pinned module, a factory plug, a tab.
    Fixed,
    /// The unit and its mount, with the way they come in by.
    Unit,
    /// A plug on it, or a vent of it.
    Plug,
    /// Room that has to stay open: before exits and plugs, for straight runs.
    Open,
}

/// What is in the way of a module somewhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Short {
    /// Id of it.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// By how much, mm.
    pub by: f64,
}

/// The cavity as one module sees it.
pub struct Room {
    /// Everything it keeps clear of.
    pub stills: Vec<Still>,
    /// The box the cavity fills, mm.
    pub bounds: Bounds,
    rings: Vec<Ring>,
}

impl Room {
    /// The cavity with the unit at `proud` mm; `None` when nobody measured it.
    pub fn of(
        job: &Job,
        layout: &Layout,
        reading: Reading,
        module: &Module,
        proud: f64,
    ) -> Option<Room> {
        let rings = cavity::rings(&job.cavity, reading);
        let corners = rings.iter().flat_map(|ring| {
            let corners = ring.corners.iter();
            corners.map(|corner| DVec3::new(corner.x, ring.depth, corner.y))
        });
        let bounds = Bounds::around(corners)?;
        let mut stills = fixed(job, layout, module);
        stills.extend(unit(job, layout, module, proud));
        stills.extend(open(job, layout, reading, module, proud));
        Some(Room {
            stills,
            bounds,
            rings,
        })
    }

    /// What a box is shortest of room against, and by how much, mm: negative
    /// with room to spare. What is under the face it is fixed by counts from
    /// the tape on, not from its clear.
    ///
    /// * `mount`: the way out of that face
    pub fn worst(&self, block: &Solid, mount: DVec3) -> Short {
        let bounds = block.bounds();
        let mut worst = self.outside(&bounds);
        for still in &self.stills {
            let apart = bounds.gap(&still.bounds);
            if still.clear - apart <= worst.by {
                continue;
            }
            let gap = signed_distance(block, &still.solid);
            let mut by = still.clear - gap;
            if by > 0.0 && still.holds && gap <= super::FIXED && is_under(&bounds, mount, still) {
                by = -gap;
            }
            if by > worst.by {
                worst = still.short(by);
            }
        }
        worst
    }

    /// The same by the boxes of what fills its box alone, so never more: quick.
    ///
    /// * `enough`: whoever asks does not care how much more it is than this, mm
    pub fn at_least_short(&self, bounds: &Bounds, mount: DVec3, enough: f64) -> f64 {
        let mut worst = f64::NEG_INFINITY;
        for still in self.stills.iter().filter(|still| still.fills) {
            let apart = (bounds.min - still.bounds.max).max(still.bounds.min - bounds.max);
            let furthest = apart.max_element();
            if still.clear - furthest <= worst.max(0.0) {
                continue;
            }
            let gap = if furthest > 0.0 {
                apart.max(DVec3::ZERO).length()
            } else {
                furthest
            };
            let mut by = still.clear - gap;
            if still.holds && gap <= super::FIXED && is_under(bounds, mount, still) {
                by = -gap;
            }
            worst = worst.max(by);
            if worst > enough {
                break;
            }
        }
        worst
    }

    /// How far a box reaches out of the cavity as it was measured.
    fn outside(&self, bounds: &Bounds) -> Short {
        let by = (self.bounds.min - bounds.min)
            .max(bounds.max - self.bounds.max)
            .max_element();
        let centre = bounds.middle();
        let section = section_at(&self.rings, centre.y).unwrap_or_default();
        let by = if holds_point(&section, DVec2::new(centre.x, centre.z)) {
            by
        } else {
            by.max(0.5 * bounds.size().min_element())
        };
        Short {
            id: WALL.to_owned(),
            name: "end of the cavity".to_owned(),
            by,
        }
    }
}

impl Still {
    fn short(&self, by: f64) -> Short {
        Short {
            id: self.id.clone(),
            name: self.name.clone(),
            by,
        }
    }
}

/// Whether something lies under the face a box is fixed by: all of the box
/// but a layer as thick as the clear keeps that clear.
fn is_under(bounds: &Bounds, mount: DVec3, still: &Still) -> bool {
    let layer = still.clear * mount;
    let rest = Bounds {
        min: bounds.min - layer.min(DVec3::ZERO),
        max: bounds.max - layer.max(DVec3::ZERO),
    };
    if (rest.max - rest.min).min_element() <= 0.0 {
        return false;
    }
    let gap = if still.fills {
        rest.gap(&still.bounds)
    } else {
        signed_distance(&Solid::block(rest.min, rest.max), &still.solid)
    };
    gap >= still.clear - EPS
}

fn fixed(job: &Job, layout: &Layout, module: &Module) -> Vec<Still> {
    let mut stills: Vec<Still> = (layout.fixed.iter())
        .filter(|fixed| fixed.id != module.id)
        .map(|fixed| {
            let (clear, holds) = match fixed.class {
                FixedClass::Obstacle(kind) => (fixed.clear, holds(kind)),
                FixedClass::Module => (fixed.clear.max(module.clear), false),
                FixedClass::FactoryPlug | FixedClass::Tab => (fixed.clear, false),
            };
            still(&fixed.id, &fixed.name, &fixed.solid, clear, Sort::Fixed).holding(holds)
        })
        .collect();
    let clear = job.cavity.wall_clear;
    stills.extend(layout.walls.iter().map(|wall| {
        let sort = if wall.back {
            Sort::BackWall
        } else {
            Sort::Wall
        };
        still(WALL, &wall.name, &wall.solid, clear, sort).holding(true)
    }));
    stills
}

/// The unit, its mount and its plugs, with the way they come in by. A plug
/// that reaches past the outline of the chassis is led in before the unit.
fn unit(job: &Job, layout: &Layout, module: &Module, proud: f64) -> Vec<Still> {
    let [low, high] = layout.chassis_face;
    let past = |piece: &Sliding| {
        let bounds = piece.solid.bounds();
        piece.is_plug()
            && (bounds.min.x < low.x - EPS
                || bounds.min.z < low.y - EPS
                || bounds.max.x > high.x + EPS
                || bounds.max.z > high.y + EPS)
    };
    let pieces = layout.sliding.iter().map(|piece| {
        let seated = piece.solid.shifted(-proud * DEPTH);
        let solid = if past(piece) || piece.is_in_front() {
            seated
        } else {
            let bounds = seated.bounds();
            Solid::block(bounds.min.with_y(-OUTSIDE), bounds.max)
        };
        let sort = if piece.is_plug() {
            Sort::Plug
        } else {
            Sort::Unit
        };
        still(&piece.id, &piece.name, &solid, module.clear, sort)
    });
    let vents = job.unit.vents.iter().map(|vent| {
        let plate = vent_plate(vent, layout).shifted(-proud * DEPTH);
        still(&vent.name, &vent.name, &plate, VENT_AIR, Sort::Plug)
    });
    pieces.chain(vents).collect()
}

/// What has to stay open: straight runs of cables, exits and factory plugs in use.
fn open(job: &Job, layout: &Layout, reading: Reading, module: &Module, proud: f64) -> Vec<Still> {
    let mut stills = Vec::new();
    for start in &layout.cables {
        let Some(lead) = job.leads.iter().find(|lead| lead.id == start.lead) else {
            continue;
        };
        let od = lead.cable.od.at(reading, Harm::Larger);
        let from = start.at - proud * DEPTH;
        let half = 0.5 * (start.abreast.length() - od).max(0.0);
        let aside = half * start.abreast.normalize_or_zero();
        let run = (lead.cable.straight_run + 0.5 * od) * start.way;
        for aside in [-aside, aside] {
            let run = Solid::capsule(from + aside, from + aside + run, od);
            stills.push(still(&lead.id, &lead.name, &run, module.clear, Sort::Open));
        }
    }
    for exit in job.cavity.exits.iter().filter(|exit| is_used(job, exit)) {
        let half = (exit.outline().iter()).fold(0.0, |most: f64, corner| most.max(corner.length()));
        let mouth = Solid::cylinder(
            exit.centre - BEFORE_EXIT * exit.direction,
            exit.centre,
            2.0 * half,
        );
        stills.push(still(&exit.id, &exit.name, &mouth, 0.0, Sort::Open));
    }
    for plug in job.cavity.factory_plugs.iter().filter(|plug| plug.used) {
        let half = 0.5 * plug.size.x.max(plug.size.y);
        let body = Solid::cylinder(
            plug.at - plug.size.z * plug.direction,
            plug.at + BEFORE_PLUG * plug.direction,
            2.0 * half,
        );
        stills.push(still(&plug.id, &plug.name, &body, plug.clear, Sort::Open));
    }
    stills
}

/// Whether a lead leaves by an exit, or might to reach a module in a space.
fn is_used(job: &Job, exit: &Exit) -> bool {
    let leaves = |lead: &Lead| lead.end == LeadEnd::Exit(exit.id.clone());
    let carried = |lead: &Lead| {
        matches!(lead.from, LeadStart::Module(_)) || matches!(lead.end, LeadEnd::Module(_))
    };
    let spaces = (job.cavity.spaces.iter()).any(|space| space.exit == exit.id);
    job.leads.iter().any(leaves) || (spaces && job.leads.iter().any(carried))
}

fn still(id: &str, name: &str, solid: &Solid, clear: f64, sort: Sort) -> Still {
    let bounds = solid.bounds();
    let upright = solid.pose().turn == glam::DQuat::IDENTITY;
    let fills = match solid.shape() {
        Shape::Block { .. } => upright,
        // A wall between two like stations.
        Shape::Hull(hull) => {
            let corners = hull.corners();
            let at_corner = |corner: &DVec3| {
                let off = (*corner - bounds.min)
                    .abs()
                    .min((*corner - bounds.max).abs());
                off.max_element() < 1e-9
            };
            upright && corners.len() == 8 && corners.iter().all(at_corner)
        }
        _ => false,
    };
    Still {
        id: id.to_owned(),
        name: name.to_owned(),
        bounds,
        fills,
        solid: solid.clone(),
        clear,
        holds: false,
        sort,
    }
}

impl Still {
    fn holding(self, holds: bool) -> Still {
        Still { holds, ..self }
    }
}

/// Whether a point lies within an outline.
fn holds_point(outline: &[DVec2], point: DVec2) -> bool {
    let mut inside = false;
    for (index, from) in outline.iter().enumerate() {
        let to = outline[(index + 1) % outline.len()];
        let crosses = (from.y > point.y) != (to.y > point.y);
        if crosses && point.x < from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x) {
            inside = !inside;
        }
    }
    inside
}
