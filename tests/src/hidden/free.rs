//! The room that is still free, on a grid of points.

use geometry::cavity::{rings, section_at};
use geometry::{Job, Layout, Reading, Shape, SlidingClass, Solid};
use glam::{DVec2, DVec3};

use crate::chance::Chance;

/// From point to point, mm.
const STEP: f64 = 6.0;

/// The room behind and beside the unit: the cavity less the chassis.
#[derive(Clone, Debug)]
pub struct Room {
    /// Points of the whole cavity, the chassis's included.
    cavity: usize,
    /// Points of it that the chassis leaves.
    all: usize,
    free: Vec<DVec3>,
    /// Those of the free points where something may be put.
    open: Vec<DVec3>,
}

impl Room {
    /// The room of a job, its plugs and mount taken already.
    pub fn new(job: &Job, layout: &Layout) -> Room {
        let rings = rings(&job.cavity, Reading::Nominal);
        let (Some(first), Some(last)) = (rings.first(), rings.last()) else {
            return Room {
                cavity: 0,
                all: 0,
                free: Vec::new(),
                open: Vec::new(),
            };
        };
        let mut points = Vec::new();
        let mut depth = first.depth + 0.5 * STEP;
        while depth < last.depth {
            if let Some(section) = section_at(&rings, depth) {
                points.extend(grid(&section).map(|at| DVec3::new(at.x, depth, at.y)));
            }
            depth += STEP;
        }
        let cavity = points.len();
        let mut room = Room {
            cavity,
            all: 0,
            open: points.clone(),
            free: points,
        };
        let is_chassis = |class| class == SlidingClass::Chassis;
        let (chassis, others): (Vec<_>, Vec<_>) = layout
            .sliding
            .iter()
            .partition(|piece| is_chassis(piece.class));
        chassis.iter().for_each(|piece| room.take(&piece.solid));
        room.all = room.free.len();
        others.iter().for_each(|piece| room.take(&piece.solid));
        room
    }

    /// Takes what a solid covers.
    pub fn take(&mut self, solid: &Solid) {
        let held = holder(solid);
        self.free.retain(|point| !held(*point));
        self.keep_empty(solid);
    }

    /// Says that nothing is to be put where a solid is.
    pub fn keep_empty(&mut self, solid: &Solid) {
        let held = holder(solid);
        self.open.retain(|point| !held(*point));
    }

    /// How many points a solid would take.
    pub fn would_take(&self, solid: &Solid) -> usize {
        let held = holder(solid);
        self.free.iter().filter(|point| held(**point)).count()
    }

    /// Share of the room behind and beside the unit that is free.
    pub fn free_share(&self) -> f64 {
        self.free.len() as f64 / self.all.max(1) as f64
    }

    /// Share of the whole cavity that is free.
    pub fn free_of_cavity(&self) -> f64 {
        self.free.len() as f64 / self.cavity.max(1) as f64
    }

    /// Somewhere free where something may be put.
    pub fn free_point(&self, chance: &mut Chance) -> Option<DVec3> {
        if self.open.is_empty() {
            return None;
        }
        let jitter = chance.point(DVec3::splat(-0.5 * STEP), DVec3::splat(0.5 * STEP));
        Some(*chance.pick(&self.open) + jitter)
    }
}

/// Points of a section, half a step in from its lowest corner.
fn grid(section: &[DVec2]) -> impl Iterator<Item = DVec2> {
    let low = section
        .iter()
        .copied()
        .reduce(DVec2::min)
        .unwrap_or_default();
    let high = section
        .iter()
        .copied()
        .reduce(DVec2::max)
        .unwrap_or_default();
    let count = ((high - low) / STEP).ceil();
    let section = section.to_vec();
    (0..count.x as usize)
        .flat_map(move |i| (0..count.y as usize).map(move |j| DVec2::new(i as f64, j as f64)))
        .map(move |cell| low + STEP * (cell + 0.5))
        .filter(move |point| inside(&section, *point))
}

fn inside(section: &[DVec2], point: DVec2) -> bool {
    (0..section.len())
        .filter(|&i| {
            let (a, b) = (section[i], section[(i + 1) % section.len()]);
            let crosses = (a.y > point.y) != (b.y > point.y);
            crosses && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
        })
        .count()
        % 2
        == 1
}

/// Whether a block or a bar covers a point.
fn holder(solid: &Solid) -> impl Fn(DVec3) -> bool {
    let (bounds, pose, shape) = (solid.bounds(), *solid.pose(), solid.shape().clone());
    move |point| {
        if point.cmplt(bounds.min).any() || point.cmpgt(bounds.max).any() {
            return false;
        }
        let local = pose.point_back(point);
        match &shape {
            Shape::Block { half } => (local.abs() - *half).max_element() <= 0.0,
            Shape::Cylinder {
                radius,
                half_length,
            } => local.truncate().length() <= *radius && local.z.abs() <= *half_length,
            _ => false,
        }
    }
}
