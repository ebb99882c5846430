//! A job as the router sees it: what stays, what moves with the unit, and a
//! task for every lead.

use std::cell::Cell;
use std::collections::BTreeMap;

use glam::DVec3;

use super::ends::{Ends, HAIR, Sits};
use super::plan::{Plan, Unplanned, plans};
use crate::cavity;
use crate::distance::signed_distance;
use crate::fit::WALL;
use crate::fitting::{VENT_AIR, vent_plate};
use crate::frame::DEPTH;
use crate::job::Job;
use crate::layout::{Fixed, FixedClass, Layout, Sliding};
use crate::measure::Reading;
use crate::path::Path;
use crate::routing::{Kept, NoWay, Surroundings, Task, Tools};
use crate::solids::{Bounds, Solid};
use crate::space::FreeSpace;

/// Edge of the voxels that the search reads room from, mm.
pub const VOXEL: f64 = 2.0;

/// How many threads look at the space; the answer is the same for any number.
const THREADS: usize = 2;

/// Room beside a unit whose cavity nobody measured, mm.
const AROUND: f64 = 40.0;

/// Room behind the unit in a cavity that is open at its back, mm.
const BEHIND: f64 = 120.0;

/// However deep an open cavity is, leads stay this near the unit, mm.
const FURTHEST_BEHIND: f64 = 300.0;

/// What stands in the way, by id and in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// Id of the obstacle, module, lead, `chassis`, `wall`.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
}

/// A job with its modules in place, ready to be asked at any proud.
pub struct Scene<'a> {
    job: &'a Job,
    layout: &'a Layout,
    fixed: Vec<Kept>,
    fixed_names: Vec<Named>,
    modules: &'a BTreeMap<String, Sits>,
    free: FreeSpace,
    /// Solids that may be exchanged, not in the free space.
    loose: Vec<(Kept, Named)>,
    /// Every lead that runs in the cavity.
    pub plans: Vec<Plan>,
    /// Leads without a way to look for.
    pub unplanned: Vec<Unplanned>,
    /// Every plan's own way at one proud, mm, if that is known.
    pub own: Option<Own>,
    /// What searches in it work with.
    pub tools: Cell<Tools>,
}

/// The ways of all plans, each as if the others were not laid.
pub struct Own {
    /// The unit stands this far proud, mm.
    pub proud: f64,
    /// One for each plan.
    pub ways: Vec<Result<Path, NoWay>>,
}

impl Own {
    /// A plan that has no way at all, and why.
    pub fn stuck(&self) -> Option<(usize, NoWay)> {
        let mut ways = self.ways.iter().enumerate();
        ways.find_map(|(plan, way)| Some((plan, *way.as_ref().err()?)))
    }
}

/// The same at one proud.
pub struct Stand<'a> {
    /// What leads run between.
    pub surroundings: Surroundings<'a>,
    /// One task per plan.
    pub tasks: Vec<Task>,
    /// Names of all solids, the fixed ones first.
    pub names: Vec<Named>,
    /// Number of the first wall among the fixed solids; walls are the last of them.
    pub first_wall: usize,
    /// Number of fixed solids.
    pub fixed: usize,
    /// Numbers of the plugs that a lead starts in.
    pub own_plugs: Vec<usize>,
}

impl Stand<'_> {
    /// All solids by their number, the fixed ones first.
    pub fn solids(&self) -> impl Iterator<Item = &Kept> {
        self.surroundings
            .fixed
            .iter()
            .chain(&self.surroundings.movable)
    }
}

impl<'a> Scene<'a> {
    /// * `layout`: the job's solids, the unit at its seat
    /// * `reading`: the end of every band the layout was built with
    /// * `modules`: where each module sits, by its id
    /// * `voxel`: edge of the voxels the search reads room from, mm
    /// * `variant`: which way cables lie in their exits
    pub fn new(
        job: &'a Job,
        layout: &'a Layout,
        reading: Reading,
        modules: &'a BTreeMap<String, Sits>,
        voxel: f64,
        variant: usize,
    ) -> Scene<'a> {
        Scene::with_loose(job, layout, reading, modules, voxel, variant, &[])
    }

    /// The same with some obstacles that may be exchanged ([`Scene::exchange`])
    /// without looking at the space anew.
    ///
    /// * `loose`: their ids
    pub fn with_loose(
        job: &'a Job,
        layout: &'a Layout,
        reading: Reading,
        modules: &'a BTreeMap<String, Sits>,
        voxel: f64,
        variant: usize,
        loose: &[String],
    ) -> Scene<'a> {
        let (loose, stays): (Vec<&Fixed>, Vec<&Fixed>) = layout
            .fixed
            .iter()
            .filter(|fixed| fixed.class != FixedClass::Module)
            .partition(|fixed| {
                matches!(fixed.class, FixedClass::Obstacle(_)) && loose.contains(&fixed.id)
            });
        let mut fixed = Vec::new();
        let mut fixed_names = Vec::new();
        let kept = |obstacle: &Fixed| {
            let kept = Kept {
                solid: obstacle.solid.clone(),
                clear: obstacle.clear,
                not_for: None,
            };
            let named = Named {
                id: obstacle.id.clone(),
                name: obstacle.name.clone(),
            };
            (kept, named)
        };
        for (kept, named) in stays.into_iter().map(kept) {
            fixed.push(kept);
            fixed_names.push(named);
        }
        for wall in &layout.walls {
            fixed.push(Kept {
                solid: wall.solid.clone(),
                clear: job.cavity.wall_clear,
                not_for: None,
            });
            fixed_names.push(Named {
                id: WALL.to_owned(),
                name: wall.name.clone(),
            });
        }
        let ends = Ends::new(job, layout, reading, modules, variant);
        let (plans, unplanned) = plans(job, reading, &ends);
        let free = free_space(&fixed, &bounds(job, layout, reading, &plans), voxel);
        Scene {
            job,
            layout,
            fixed,
            fixed_names,
            modules,
            free,
            loose: loose.into_iter().map(kept).collect(),
            plans,
            unplanned,
            own: None,
            tools: Cell::default(),
        }
    }

    /// Puts other solids in the place of the loose ones, in their order.
    pub fn exchange(&mut self, solids: &[Solid]) {
        for ((kept, _), solid) in self.loose.iter_mut().zip(solids) {
            kept.solid = solid.clone();
        }
    }

    /// The loose ones as they are now.
    pub fn loose(&self) -> impl Iterator<Item = &Kept> {
        self.loose.iter().map(|(kept, _)| kept)
    }

    /// Everything with the unit at `proud` mm.
    pub fn at(&self, proud: f64) -> Stand<'_> {
        self.at_heeding(proud, 0)
    }

    /// The same, with the own plug of some plans, a bit for each, in their way
    /// but for the end they start from.
    pub fn at_heeding(&self, proud: f64, plugs: u64) -> Stand<'_> {
        let mut names = self.fixed_names.clone();
        let mut movable = Vec::new();
        for (kept, named) in &self.loose {
            movable.push(kept.clone());
            names.push(named.clone());
        }
        let mut own_plugs = Vec::new();
        for module in &self.job.modules {
            if let Some(Sits::Cavity(block)) = self.modules.get(&module.id) {
                movable.push(Kept {
                    solid: block.clone(),
                    clear: module.clear,
                    not_for: None,
                });
                names.push(Named {
                    id: module.id.clone(),
                    name: module.name.clone(),
                });
            }
        }
        for (number, plan) in self.plans.iter().enumerate() {
            let out = plan.end.last + plan.end.run_beyond * plan.end.way;
            for (from, to) in [(plan.end.at, out), (plan.first, plan.start.at)] {
                if from.distance(to) > 0.0 {
                    movable.push(Kept {
                        solid: Solid::capsule(from, to, plan.od),
                        clear: 0.0,
                        not_for: Some(number),
                    });
                    names.extend(self.name_of(number));
                }
            }
        }
        for piece in self.layout.sliding.iter().filter(|it| !it.is_in_front()) {
            for (part, owner) in self.shares(piece) {
                movable.push(Kept {
                    solid: part.shifted(-proud * DEPTH),
                    clear: 0.0,
                    not_for: owner,
                });
                let named = Named {
                    id: piece.id.clone(),
                    name: piece.name.clone(),
                };
                names.push(named.clone());
                if let Some(owner) = owner {
                    own_plugs.push(self.fixed.len() + movable.len() - 1);
                    // All of its own plug but the end it starts from.
                    let plan = &self.plans[owner];
                    if plugs >> owner.min(63) & 1 == 0 {
                        continue;
                    }
                    let back = -(0.5 * plan.od + HAIR) * plan.start.way;
                    movable.push(Kept {
                        solid: part.shifted(back - proud * DEPTH),
                        clear: 0.0,
                        not_for: None,
                    });
                    names.push(named);
                }
            }
        }
        for vent in &self.job.unit.vents {
            let plate = vent_plate(vent, self.layout).shifted(-proud * DEPTH);
            movable.push(Kept {
                clear: self.air(&plate, proud),
                solid: plate,
                not_for: None,
            });
            names.push(Named {
                id: vent.name.clone(),
                name: vent.name.clone(),
            });
        }
        Stand {
            surroundings: Surroundings {
                free: &self.free,
                fixed: &self.fixed,
                movable,
            },
            tasks: self
                .plans
                .iter()
                .map(|plan| self.task(plan, proud))
                .collect(),
            names,
            first_wall: self.fixed.len() - self.layout.walls.len(),
            fixed: self.fixed.len(),
            own_plugs,
        }
    }

    /// Air before a vent, mm: what is usual, or less where a socket is nearer.
    fn air(&self, plate: &Solid, proud: f64) -> f64 {
        let starts = self.plans.iter().filter(|plan| plan.slides).map(|plan| {
            let start = plan.from(proud);
            let dot = Solid::capsule(start, start, plan.od);
            signed_distance(&dot, plate) - HAIR
        });
        starts.fold(VENT_AIR, f64::min).max(0.0)
    }

    /// A piece that slides in, with the plan that starts in it. A plug with
    /// several cables has a part for each, side by side.
    fn shares(&self, piece: &Sliding) -> Vec<(Solid, Option<usize>)> {
        let own: Vec<usize> = (0..self.plans.len())
            .filter(|plan| piece.is_plug() && self.job.leads[self.plans[*plan].lead].id == piece.id)
            .collect();
        if own.len() < 2 {
            return vec![(piece.solid.clone(), own.first().copied())];
        }
        let bounds = piece.solid.bounds();
        let abreast = self.plans[own[0]].start.abreast.abs().normalize_or_zero();
        let size = bounds.max - bounds.min;
        let share = size * abreast / own.len() as f64;
        own.iter()
            .enumerate()
            .map(|(number, plan)| {
                let low = bounds.min + number as f64 * share;
                let high = low + size * (DVec3::ONE - abreast) + share;
                (Solid::block(low, high), Some(*plan))
            })
            .collect()
    }

    /// The job's solids, the unit at its seat.
    pub fn layout(&self) -> &'a Layout {
        self.layout
    }

    /// Where a module sits, by its id.
    pub fn sits(&self, id: &str) -> Option<&Sits> {
        self.modules.get(id)
    }

    /// Id and name of the lead of a plan.
    pub fn name_of(&self, number: usize) -> Option<Named> {
        self.lead(self.plans.get(number)?.lead)
    }

    /// Id and name of a lead by its number in the job.
    pub fn lead(&self, number: usize) -> Option<Named> {
        let lead = self.job.leads.get(number)?;
        Some(Named {
            id: lead.id.clone(),
            name: lead.name.clone(),
        })
    }

    fn task(&self, plan: &Plan, proud: f64) -> Task {
        let lead = &self.job.leads[plan.lead];
        let exits = &self.job.cavity.exits;
        Task {
            od: plan.od,
            radius: plan.radius,
            from: plan.from(proud),
            from_way: plan.start.way,
            straight_from: if plan.slides {
                lead.cable.straight_run
            } else {
                (lead.cable.straight_run - plan.start.stiff).max(0.0)
            },
            to: plan.end.at,
            to_way: plan.end.way,
            straight_to: plan.end.straight,
            length: plan.longest,
            lumps: plan.lumps.clone(),
            through: if plan.cable == 0 {
                lead.through.clone()
            } else {
                Vec::new()
            },
            cluster: plan
                .end
                .exit
                .as_ref()
                .and_then(|id| exits.iter().position(|exit| exit.id == *id)),
        }
    }
}

/// The space that solids leave free.
pub fn free_space(solids: &[Kept], bounds: &Bounds, voxel: f64) -> FreeSpace {
    let solids: Vec<(Solid, f64)> = solids
        .iter()
        .map(|kept| (kept.solid.clone(), kept.clear))
        .collect();
    FreeSpace::of(&solids, bounds, voxel, THREADS)
}

/// Where leads may run: the cavity as far as it was measured, and everything named in it.
fn bounds(job: &Job, layout: &Layout, reading: Reading, plans: &[Plan]) -> Bounds {
    let rings = cavity::rings(&job.cavity, reading);
    let mut points: Vec<DVec3> = rings
        .iter()
        .flat_map(|ring| {
            let corners = ring.corners.iter();
            corners.map(|corner| DVec3::new(corner.x, ring.depth, corner.y))
        })
        .collect();
    points.extend(plans.iter().flat_map(|plan| [plan.start.at, plan.end.at]));
    if rings.is_empty() {
        let [from, to] = layout.chassis_face;
        points.push(DVec3::new(from.x - AROUND, 0.0, from.y - AROUND));
        points.push(DVec3::new(to.x + AROUND, 0.0, to.y + AROUND));
    }
    if rings.is_empty() || !job.cavity.closed {
        // Nobody measured where the cavity ends: as far as anything stands in it.
        let fixed = layout.fixed.iter().map(|fixed| fixed.solid.bounds().max.y);
        let deepest = fixed.fold(layout.chassis_rear + BEHIND, f64::max);
        points.push(points[0].with_y(deepest.min(layout.chassis_rear + FURTHEST_BEHIND)));
    }
    let around = |bounds: Bounds, point: &DVec3| Bounds {
        min: bounds.min.min(*point),
        max: bounds.max.max(*point),
    };
    let nowhere = Bounds {
        min: DVec3::INFINITY,
        max: DVec3::NEG_INFINITY,
    };
    let mut bounds = points.iter().fold(nowhere, around);
    bounds.min.y = bounds.min.y.max(0.0);
    bounds
}
