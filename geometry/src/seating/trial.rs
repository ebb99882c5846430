//! A job with ribs that are exchanged between one look and the next: does
//! everything hold with the unit this far proud and the ribs cut like that?
//!
//! What was laid for one cut is the start for the next: ways that still stand
//! stay, the others are laid anew beside them.

use super::arrangements::Arrangement;
use super::attempt::{Attempt, Failed, Wanted, again, alone, attempt};
use super::ends::{Ends, Sits};
use super::plan::plans;
use super::scene::{Scene, VOXEL};
use super::settle::settle;
use super::variants::VARIANTS;
use super::{Answer, HeldOut, held};
use crate::distance::signed_distance;
use crate::fit::{Fit, Stop, StopKind};
use crate::fitting::stiff_proud;
use crate::frame::DEPTH;
use crate::job::Job;
use crate::layout::{FixedClass, Layout};
use crate::measure::Reading;
use crate::path::{Path, Piece, closer_than};
use crate::routed::{LeftOver, Routed};
use crate::routing::{Before, Effort, NoWay};
use crate::solids::Solid;

/// The reading every look is made at.
const READING: Reading = Reading::Nominal;

/// Further out than this is further out, mm.
const SAME: f64 = 1e-6;

/// A job in place with some of its ribs loose.
pub struct Setting<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its answer by the instant layer.
    pub fit: &'a Fit,
    /// Its solids in place, ribs as they are.
    pub layout: &'a Layout,
    /// Where each module sits.
    pub arrangement: &'a Arrangement,
    /// Ids of the ribs that are exchanged.
    pub loose: &'a [String],
}

/// Every lead laid, with the unit at one proud.
#[derive(Clone, Debug)]
pub struct Laid {
    variant: usize,
    /// The unit stood this far proud, mm.
    pub proud: f64,
    /// The way of each cable that runs in the cavity.
    pub ways: Vec<Path>,
}

/// What is known when nothing holds.
#[derive(Clone, Debug, Default)]
pub struct Short {
    /// Leads without a way.
    pub left_over: Vec<LeftOver>,
    /// Whether one of them has no way even alone, or something stiff no room.
    pub hopeless: bool,
}

/// What came of laying everything in one variant.
struct Missed {
    short: Short,
    /// Cables that had no way, one of them not even alone.
    plans: Vec<usize>,
    /// Whether no other variant is worth a look.
    last: bool,
}

/// A setting that is asked again and again.
pub struct Trial<'a> {
    setting: Setting<'a>,
    /// The layout without its loose ribs.
    rest: Layout,
    scenes: [Option<Scene<'a>>; VARIANTS],
    effort: Effort,
    /// What holds the unit out whatever is cut, the worst first.
    pub held: Vec<Stop>,
    /// No cut stands less proud than this, mm.
    pub floor: f64,
    /// Looks that laid leads.
    pub looks: u64,
}

impl<'a> Trial<'a> {
    /// A setting ready to be asked.
    pub fn new(setting: Setting<'a>) -> Trial<'a> {
        let mut rest = setting.layout.clone();
        rest.fixed
            .retain(|fixed| !is_loose(&setting, fixed.class, &fixed.id));
        let stiff = stiff_proud(setting.job, &rest, READING);
        let ends = Ends::new(setting.job, setting.layout, READING, setting.arrangement, 0);
        let (plans, _) = plans(setting.job, READING, &ends);
        let held = held(&plans, &rest, setting.job);
        let floor = held
            .iter()
            .map(|(_, held)| held.proud)
            .fold(stiff, f64::max);
        let mut stops: Vec<Stop> = (setting.fit.stopped_by.iter())
            .filter(|stop| {
                stop.what != StopKind::Cable && !setting.loose.contains(&stop.against_id)
            })
            .filter(|stop| stop.short <= floor + SAME)
            .cloned()
            .collect();
        stops.extend(held.iter().map(|(number, held)| {
            let plan = &plans[*number];
            held_stop(setting.job, plan.lead, plan.from(0.0), held)
        }));
        stops.sort_by(|a, b| b.short.total_cmp(&a.short));
        Trial {
            setting,
            rest,
            scenes: Default::default(),
            effort: Effort::default(),
            held: stops,
            floor,
            looks: 0,
        }
    }

    /// Whether everything stiff has its room with the loose ribs as `ribs`,
    /// modules that are not pinned included.
    pub fn stiff_holds(&self, proud: f64, ribs: &[Solid]) -> bool {
        let mut only = Layout {
            fixed: self.loose_ones(ribs),
            walls: Vec::new(),
            ..self.rest.clone()
        };
        let modules = self.setting.job.modules.iter().all(|module| {
            let pinned = matches!(module.place, crate::job::ModulePlace::Pinned(_));
            match self.setting.arrangement.get(&module.id) {
                Some(Sits::Cavity(block)) if !pinned => only.fixed.iter().all(|rib| {
                    signed_distance(block, &rib.solid) >= rib.clear.max(module.clear) - SAME
                }),
                _ => true,
            }
        });
        only.fixed.retain(|rib| rib.clear >= 0.0);
        modules && stiff_proud(self.setting.job, &only, READING) <= proud + SAME
    }

    fn loose_ones(&self, ribs: &[Solid]) -> Vec<crate::layout::Fixed> {
        let loose = (self.setting.layout.fixed.iter())
            .filter(|fixed| is_loose(&self.setting, fixed.class, &fixed.id));
        loose
            .zip(ribs)
            .map(|(fixed, solid)| crate::layout::Fixed {
                solid: solid.clone(),
                ..fixed.clone()
            })
            .collect()
    }

    /// Lays everything anew, whatever was laid before.
    pub fn lay(
        &mut self,
        proud: f64,
        ribs: &[Solid],
        watch: &mut dyn FnMut() -> bool,
    ) -> Result<Laid, Short> {
        if !self.stiff_holds(proud, ribs) {
            return Err(Short {
                left_over: Vec::new(),
                hopeless: true,
            });
        }
        let mut first: Option<Short> = None;
        let mut suspects: Vec<usize> = Vec::new();
        for variant in 0..VARIANTS {
            // What has no way alone has none beside others, and is sooner found out.
            let effort = self.effort;
            let scene = self.scene(variant, ribs);
            let known = scene.plans.len();
            let mut again = suspects.iter().filter(|plan| **plan < known);
            if again.any(|plan| alone(scene, proud, *plan, &effort).is_some()) {
                continue;
            }
            match self.lay_variant(variant, proud, ribs, watch) {
                Ok(laid) => return Ok(laid),
                Err(missed) => {
                    suspects.extend(missed.plans);
                    first.get_or_insert(missed.short);
                    if missed.last {
                        break;
                    }
                }
            }
        }
        Err(first.unwrap_or_default())
    }

    /// Everything anew in one variant.
    fn lay_variant(
        &mut self,
        variant: usize,
        proud: f64,
        ribs: &[Solid],
        watch: &mut dyn FnMut() -> bool,
    ) -> Result<Laid, Missed> {
        let effort = self.effort;
        self.looks += 1;
        let scene = self.scene(variant, ribs);
        if !scene.unplanned.is_empty() {
            return Err(Missed {
                short: short(scene, &[], true),
                plans: Vec::new(),
                last: true,
            });
        }
        let mut found = attempt(scene, proud, &mut 0, Wanted::Most, &effort, &mut |_| {
            watch()
        });
        // What no way is short enough for is said of it, and holds nothing out.
        let (too_short, failed): (Vec<Failed>, Vec<Failed>) = (found.failed.into_iter())
            .partition(|failed| matches!(failed.why, NoWay::TooShort { .. }));
        let failed: Vec<usize> = failed.iter().map(|failed| failed.plan).collect();
        let hopeless = !found.cancelled && found.hopeless;
        if found.cancelled || hopeless {
            return Err(Missed {
                short: short(scene, &failed, hopeless),
                plans: failed,
                last: found.cancelled,
            });
        }
        found.failed = Vec::new();
        if !too_short.is_empty() {
            for failed in &too_short {
                scene.plans[failed.plan].longest = None;
            }
            let before: Vec<Before> = (found.ways.into_iter())
                .map(|way| Before {
                    stands: way.is_some(),
                    way,
                })
                .collect();
            found = again(scene, proud, &before, &effort, watch);
            if !found.holds() && !found.hopeless && !found.cancelled {
                found = attempt(scene, proud, &mut 0, Wanted::Most, &effort, &mut |_| {
                    watch()
                });
            }
        }
        if found.cancelled || !failed.is_empty() || !found.holds() {
            let failed: Vec<usize> = if failed.is_empty() {
                found.failed.iter().map(|failed| failed.plan).collect()
            } else {
                failed
            };
            return Err(Missed {
                short: short(scene, &failed, false),
                plans: Vec::new(),
                last: found.cancelled,
            });
        }
        Ok(Laid {
            variant,
            proud,
            ways: found.ways.into_iter().flatten().collect(),
        })
    }

    /// Keeps every way that still stands, and lays the others beside them.
    pub fn keep(
        &mut self,
        before: &Laid,
        proud: f64,
        ribs: &[Solid],
        watch: &mut dyn FnMut() -> bool,
    ) -> Result<Laid, Short> {
        if !self.stiff_holds(proud, ribs) {
            return Err(Short {
                left_over: Vec::new(),
                hopeless: true,
            });
        }
        let effort = self.effort;
        let moved = (proud - before.proud).abs() > SAME;
        let scene = self.scene(before.variant, ribs);
        let kept = kept(scene, before, proud, moved);
        if !moved && kept.iter().all(|it| it.stands) {
            return Ok(before.clone());
        }
        let found = again(scene, proud, &kept, &effort, watch);
        if !found.holds() {
            let failed: Vec<usize> = found.failed.iter().map(|failed| failed.plan).collect();
            let short = short(scene, &failed, found.hopeless);
            self.looks += 1;
            return Err(short);
        }
        self.looks += 1;
        Ok(Laid {
            variant: before.variant,
            proud,
            ways: found.ways.into_iter().flatten().collect(),
        })
    }

    /// The same, and where that fails, all leads laid anew, unless one has no
    /// way even alone.
    pub fn thorough(
        &mut self,
        before: &Laid,
        proud: f64,
        ribs: &[Solid],
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Laid> {
        match self.keep(before, proud, ribs, watch) {
            Ok(laid) => Some(laid),
            Err(short) if short.hopeless || !watch() => None,
            Err(_) => self.lay(proud, ribs, watch).ok(),
        }
    }

    /// The complete answer for what is laid; checked once more from the start.
    ///
    /// * `job`: the job with the cut in it
    pub fn answer(&mut self, job: &Job, laid: &Laid, ribs: &[Solid]) -> Option<Routed> {
        let floor = self.floor;
        let Setting {
            fit,
            layout,
            arrangement,
            ..
        } = self.setting;
        let scene = self.scene(laid.variant, ribs);
        let before: Vec<Before> = (laid.ways.iter())
            .map(|way| Before {
                way: Some(way.clone()),
                stands: true,
            })
            .collect();
        let checked = again(scene, laid.proud, &before, &Effort::default(), &mut || true);
        let attempt = Attempt {
            variant: laid.variant,
            ..checked
        };
        attempt
            .holds()
            .then(|| Answer::at(job, layout, fit, scene, arrangement, floor, &attempt))
    }

    /// The ways that are laid, each with half its greatest thickness, mm.
    pub fn ways<'l>(&'l self, laid: &'l Laid) -> impl Iterator<Item = (&'l Path, f64)> {
        let scene = self.scenes[laid.variant].as_ref();
        let plans = scene.map_or(&[][..], |scene| &scene.plans);
        laid.ways.iter().zip(plans).map(|(way, plan)| {
            let lumps = plan.lumps.iter().map(|lump| lump.diameter);
            (way, 0.5 * lumps.fold(plan.od, f64::max))
        })
    }

    /// The scene of a variant with these ribs in it.
    fn scene(&mut self, variant: usize, ribs: &[Solid]) -> &mut Scene<'a> {
        let Setting {
            job,
            layout,
            arrangement,
            loose,
            ..
        } = self.setting;
        let (floor, effort) = (self.floor, self.effort);
        let scene = self.scenes[variant].get_or_insert_with(|| {
            let mut scene =
                Scene::with_loose(job, layout, READING, arrangement, VOXEL, variant, loose);
            let whole = stiff_proud(job, layout, READING).max(floor);
            settle(&mut scene, whole, &effort);
            scene.exchange(ribs);
            settle(&mut scene, floor, &effort);
            scene
        });
        scene.exchange(ribs);
        scene
    }
}

fn is_loose(setting: &Setting<'_>, class: FixedClass, id: &String) -> bool {
    matches!(class, FixedClass::Obstacle(_)) && setting.loose.contains(id)
}

fn held_stop(job: &Job, lead: usize, at: glam::DVec3, held: &HeldOut) -> Stop {
    let lead = &job.leads[lead];
    Stop {
        what: StopKind::Cable,
        piece: lead.name.clone(),
        part: "way of its cable".to_owned(),
        piece_id: lead.id.clone(),
        against: held.name.clone(),
        against_id: held.against.clone(),
        short: held.proud,
        at,
    }
}

/// Leads without a way, in words.
fn short(scene: &Scene<'_>, failed: &[usize], hopeless: bool) -> Short {
    let unplanned =
        (scene.unplanned.iter()).filter_map(|it| Some((scene.lead(it.lead)?, it.why.clone())));
    let failed =
        (failed.iter()).filter_map(|plan| Some((scene.name_of(*plan)?, "no way found".to_owned())));
    let all = unplanned.chain(failed);
    Short {
        hopeless,
        left_over: all
            .map(|(named, why)| LeftOver {
                id: named.id,
                name: named.name,
                why,
                closest_miss: None,
                miss: None,
            })
            .collect(),
    }
}

/// The ways from before with the unit moved, and whether each still stands
/// beside the loose ribs.
fn kept(scene: &Scene<'_>, before: &Laid, proud: f64, moved: bool) -> Vec<Before> {
    let stand = scene.at(proud);
    let mut kept: Vec<Before> = (before.ways.iter().enumerate())
        .map(|(number, way)| {
            let plan = &scene.plans[number];
            let further = if plan.slides {
                proud - before.proud
            } else {
                0.0
            };
            let drawn = drawn_out(way, further);
            Before {
                stands: drawn.is_some(),
                way: Some(drawn.unwrap_or_else(|| way.clone())),
            }
        })
        .collect();
    if moved {
        let ways: Vec<Option<Path>> = (kept.iter())
            .map(|it| it.way.clone().filter(|_| it.stands))
            .collect();
        for breach in crate::routing::verify(&stand.surroundings, &stand.tasks, &ways) {
            kept[breach.lead].stands = false;
        }
        return kept;
    }
    for (number, before) in kept.iter_mut().enumerate() {
        let half = 0.5 * stand.tasks[number].thickest();
        let end = &scene.plans[number].end;
        let out = end.last + end.run_beyond * end.way;
        let run = Solid::capsule(end.at, out, scene.plans[number].od);
        before.stands &= scene.loose().all(|kept| {
            let way = before.way.as_ref();
            let free = |way| closer_than(way, &kept.solid, half + kept.clear).is_none();
            way.is_some_and(free) && signed_distance(&run, &kept.solid) >= kept.clear
        });
    }
    kept
}

/// A way with its start pulled out against the slide; `None` when it does not
/// begin along it.
fn drawn_out(way: &Path, further: f64) -> Option<Path> {
    if further.abs() <= SAME {
        return Some(way.clone());
    }
    if further < 0.0 || way.start_direction().dot(DEPTH) < 1.0 - 1e-12 {
        return None;
    }
    let mut way = way.clone();
    let start = way.start() - further * DEPTH;
    match way.pieces.first_mut() {
        Some(Piece::Line { from, .. }) => *from = start,
        _ => {
            let to = way.start();
            way.pieces.insert(0, Piece::Line { from: start, to });
        }
    }
    Some(way)
}
