//! Where everything stands: the unit as far out as it must be, and the box around it all.

use geometry::cavity::Ring;
use geometry::{Bounds, Fit, Job, Layout, Pose, Reading};
use glam::{DVec2, DVec3};

use super::laid::pins;
use super::{Laid, Model, Part, dims, things};
use crate::desk::edit::Target;

impl Model {
    /// How far out the unit is drawn, mm: where its leads are laid, if they are;
    /// else as the quick rule says.
    pub fn drawn_proud(&self) -> f64 {
        let laid = self.laid.as_ref().and_then(Laid::stands_at);
        let quick = self.fit.as_ref().and_then(|fit| fit.proud);
        laid.or(quick).unwrap_or(0.0)
    }

    /// Puts the unit, its plugs and cables where they stand, with the modules
    /// and pockets that go with them.
    pub(super) fn stand(&mut self) {
        let (Some(job), Some(fit), Some(layout)) = (&self.job, &self.fit, &self.layout) else {
            return;
        };
        let proud = self.drawn_proud();
        let laid = self.laid.as_ref();
        let pose = match laid.and_then(Laid::stands_at) {
            Some(proud) => Pose::shifted(-proud * DVec3::Y),
            None => stands(layout, fit),
        };
        let fixed = layout.fixed.iter().map(|fixed| things::fixed(fixed, job));
        let sliding = layout
            .sliding
            .iter()
            .map(|piece| things::sliding(piece, &pose));
        let things = fixed.chain(sliding).chain(self.placed_modules()).collect();
        // A lead that is laid is drawn as it was laid.
        let is_laid = |id: &str| {
            laid.is_some_and(|laid| laid.of.routed.routes.iter().any(|route| route.lead == id))
        };
        let strands = layout
            .turns
            .iter()
            .filter(|turn| !is_laid(&turn.lead))
            .filter_map(|turn| Some((turn, job.leads.iter().find(|lead| lead.id == turn.lead)?)))
            .flat_map(|(turn, lead)| things::strands(turn, lead, job, proud))
            .collect();
        let furthest = proud.max(fit.proud.unwrap_or(0.0));
        let extent = extent(job, layout, furthest);
        let dims = dims::dims(job, layout, fit, proud, &self.clashes);
        let (pockets, pins) = (self.all_pockets(), pins(job));
        (self.things, self.strands) = (things, strands);
        (self.pockets, self.pins) = (pockets, pins);
        (self.extent, self.dims) = (extent, dims);
    }
}

/// How the unit stands: shifted out, and leaning where its corners differ.
fn stands(layout: &Layout, fit: &Fit) -> Pose {
    let Some([top_left, top_right, bottom_right, bottom_left]) = fit.proud_corners else {
        return Pose::IDENTITY;
    };
    let [low, high] = layout.chassis_face;
    let size = (high - low).max(DVec2::splat(1.0));
    let middle = 0.5 * (low + high);
    let mean = 0.25 * (top_left + top_right + bottom_right + bottom_left);
    let per_across = 0.5 * ((top_right - top_left) + (bottom_right - bottom_left)) / size.x;
    let per_up = 0.5 * ((top_left - bottom_left) + (top_right - bottom_right)) / size.y;
    // The corner that stands furthest out comes toward the installer (minus depth).
    let turn = glam::DQuat::from_rotation_z((-per_across).atan())
        * glam::DQuat::from_rotation_x(per_up.atan());
    let centre = DVec3::new(middle.x, layout.chassis_front, middle.y);
    Pose::shifted(-mean * DVec3::Y).after(&Pose::turned_about(turn, centre))
}

/// How far into the walls one sees, mm.
const WALL_SHOWN: f64 = 12.0;

/// The box walls are shown in: the cavity and a little of what bounds it.
pub fn walls_box(rings: &[Ring]) -> [DVec3; 2] {
    let corners = rings.iter().flat_map(|ring| {
        ring.corners
            .iter()
            .map(|c| DVec3::new(c.x, ring.depth, c.y))
    });
    Bounds::around(corners).map_or([DVec3::ZERO; 2], |bounds| {
        let shown = bounds.grown(WALL_SHOWN);
        [shown.min, shown.max]
    })
}

impl Model {
    /// Points around the cavity and what goes into it, mm: what the turned view looks at.
    pub fn heart(&self) -> impl Iterator<Item = DVec3> {
        let rings = self.rings.iter().flat_map(|ring| {
            let corners = ring.corners.iter();
            corners.map(|corner| DVec3::new(corner.x, ring.depth, corner.y))
        });
        let moving = self.things.iter().filter(|thing| thing.part != Part::Fixed);
        let moving = moving.flat_map(|thing| corners(&thing.solid.bounds()));
        let ways = self.laid.iter().flat_map(|laid| &laid.ways);
        let ways = ways.flat_map(|way| way.line.iter().copied());
        rings.chain(moving).chain(ways)
    }
}

/// The eight corners of a box.
fn corners(bounds: &Bounds) -> [DVec3; 8] {
    let size = bounds.max - bounds.min;
    std::array::from_fn(|i| {
        let share = DVec3::new((i & 1) as f64, (i >> 1 & 1) as f64, (i >> 2) as f64);
        bounds.min + share * size
    })
}

/// How much is shown of what reaches beyond the cavity, mm.
const PASSING: f64 = 12.0;

/// The box that holds all that matters.
fn extent(job: &Job, layout: &Layout, proud: f64) -> [DVec3; 2] {
    let half = 0.5
        * DVec3::new(
            job.cavity.opening.width.value(),
            0.0,
            job.cavity.opening.height.value(),
        );
    let mut points = vec![half, -half];
    for piece in &layout.sliding {
        let bounds = piece.solid.bounds();
        points.extend([bounds.min - proud * DVec3::Y, bounds.max]);
    }
    points.extend(
        layout
            .turns
            .iter()
            .map(|turn| DVec3::new(turn.centre.x, turn.end(), turn.centre.y)),
    );
    for ring in geometry::cavity::rings(&job.cavity, Reading::Nominal) {
        points.extend(
            ring.corners
                .iter()
                .map(|corner| DVec3::new(corner.x, ring.depth, corner.y)),
        );
    }
    let around = Bounds::around(points).unwrap_or(Bounds {
        min: -half,
        max: half,
    });
    // What reaches far beyond (a beam from door to door) is seen only where it passes.
    let reach = around.grown(PASSING);
    let all = layout.fixed.iter().fold(around, |all, fixed| {
        let bounds = fixed.solid.bounds();
        all.joined(&Bounds {
            min: bounds.min.clamp(reach.min, reach.max),
            max: bounds.max.clamp(reach.min, reach.max),
        })
    });
    [all.min, all.max]
}

impl Model {
    /// The middle of everything drawn for a target, mm.
    pub fn middle(&self, target: &Target) -> Option<DVec3> {
        if let Target::Lead(_) = target
            && let Some(strand) = self.strands.iter().find(|strand| strand.target == *target)
        {
            return Some(0.5 * (strand.room[0] + strand.room[1]));
        }
        let bounds = self
            .things
            .iter()
            .filter(|thing| thing.target == *target)
            .map(|thing| thing.solid.bounds())
            .reduce(|a, b| a.joined(&b));
        if let Some(bounds) = bounds {
            let [low, high] = self.extent;
            return Some(bounds.middle().clamp(low, high));
        }
        self.holes
            .iter()
            .find(|hole| hole.target == *target)
            .map(|hole| hole.centre)
    }
}
