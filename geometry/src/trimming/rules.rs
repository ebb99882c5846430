//! How far a notch may go.
//!
//! The box of a notch is the whole of what is cut: the kerf falls on its side,
//! so nothing outside it goes. A rib is measured as a strip in its own plane,
//! room to other solids by exact distances in place.

use super::face::{FaceFault, RibFace};
use super::fault::TrimFault;
use super::flat::{polygons_apart, to_run};
use crate::distance::signed_distance;
use crate::job::{Cut, CutLimits, Cutting, Edge, Job, Obstacle, Trim};
use crate::lay_out::{factory_plug_solid, fixed_solid};
use crate::measure::Reading;
use crate::solids::{Bounds, Outline, Solid};
use crate::stiffness::{self, Edges, Notch, RibFault, Taken};

/// Lengths are compared to this, mm: rounding must not refuse a notch that is
/// just as far away as asked.
const HAIR: f64 = 1e-7;

/// The rules of one rib, ready to be asked about many notches.
#[derive(Clone, Debug)]
pub struct RibRules<'a> {
    obstacle: &'a Obstacle,
    cutting: &'a Cutting,
    face: RibFace,
    edges: Edges,
    limits: &'a CutLimits,
    near: Vec<Neighbour<'a>>,
}

/// Another solid that a notch keeps away from.
#[derive(Clone, Debug)]
struct Neighbour<'a> {
    id: &'a str,
    name: &'a str,
    never_cut: bool,
    solid: Solid,
    bounds: Bounds,
    keep_out: f64,
}

/// Every rule that one notch of a job breaks, but for the rib's stiffness.
///
/// * `trim`: its number in [`Job::trims`]
///
/// # Panics
/// When the job has no such notch.
pub fn faults(job: &Job, trim: usize, reading: Reading) -> Vec<TrimFault> {
    let this = &job.trims[trim];
    let others: Vec<&Trim> = (job.trims.iter().enumerate())
        .filter(|(number, other)| *number != trim && other.rib == this.rib)
        .map(|(_, other)| other)
        .collect();
    match RibRules::new(job, &this.rib, reading) {
        Ok(rules) => rules.faults(this, &others),
        Err(fault) => vec![fault],
    }
}

/// The notches of a job that are cut as they are drawn: not those in a solid
/// that is never cut, nor those that reach such a solid or its keep-out; nor
/// any of a rib whose notches meet or cut it through. In the order of the job; judged at stated measures, so that a notch is there at
/// every reading or at none.
pub fn carried_out(job: &Job) -> Vec<&Trim> {
    let mut ribs: Vec<&str> = Vec::new();
    for trim in &job.trims {
        if !ribs.contains(&trim.rib.as_str()) {
            ribs.push(&trim.rib);
        }
    }
    let cut: Vec<Vec<&Trim>> = ribs.into_iter().map(|rib| of_rib(job, rib)).collect();
    let is_cut = |trim: &&Trim| cut.iter().flatten().any(|it| std::ptr::eq(*it, *trim));
    job.trims.iter().filter(is_cut).collect()
}

/// The notches of one rib that are carried out.
fn of_rib<'a>(job: &'a Job, rib: &str) -> Vec<&'a Trim> {
    let Ok(rules) = RibRules::new(job, rib, Reading::Nominal) else {
        return Vec::new();
    };
    let own = job.trims.iter().filter(|trim| trim.rib == rib);
    let own: Vec<&Trim> = own.filter(|trim| !rules.meets_never_cut(trim)).collect();
    let cut = |notches: Vec<Notch>| stiffness::cut(&rules.face.rib(), &notches).is_ok();
    match rules.face.notches(&own).map(cut) {
        Ok(true) => own,
        _ => Vec::new(),
    }
}

impl<'a> RibRules<'a> {
    /// The rules of a rib.
    ///
    /// # Errors
    /// A [`TrimFault`] that holds for every notch of it: there is no such
    /// rib, it is never cut, it is no flat strip.
    pub fn new(job: &'a Job, rib: &str, reading: Reading) -> Result<RibRules<'a>, TrimFault> {
        let mut all = job.cavity.obstacles.iter();
        let obstacle = all.find(|it| it.id == rib).ok_or(TrimFault::NoSuchRib)?;
        let limits = match obstacle.cut() {
            Cut::Allowed(limits) | Cut::Ask(limits) => limits,
            Cut::Never => {
                return Err(TrimFault::NeverCut {
                    kind: obstacle.kind.word(),
                    by_kind: obstacle.kind.is_never_cut(),
                });
            }
        };
        let face = RibFace::new(obstacle, reading).map_err(TrimFault::Shape)?;
        let edges =
            Edges::new(&face.outline).map_err(|fault| TrimFault::Shape(FaceFault::Rib(fault)))?;
        Ok(RibRules {
            obstacle,
            cutting: &job.cutting,
            face,
            edges,
            limits,
            near: neighbours(job, rib, reading),
        })
    }

    /// The rib in its own plane.
    pub fn face(&self) -> &RibFace {
        &self.face
    }

    /// Its id and what the installer calls it.
    pub fn names(&self) -> (&'a str, &'a str) {
        (&self.obstacle.id, &self.obstacle.name)
    }

    /// How far it may be cut.
    pub fn limits(&self) -> &CutLimits {
        self.limits
    }

    /// Every rule that a notch breaks, but for the rib's stiffness. They come
    /// in the order of [`TrimFault`].
    ///
    /// * `others`: the rib's other notches
    pub fn faults(&self, trim: &Trim, others: &[&Trim]) -> Vec<TrimFault> {
        let mut faults = Vec::new();
        if matches!(self.obstacle.cut(), Cut::Ask(_)) && !self.cutting.asked {
            faults.push(TrimFault::NotAsked);
        }
        if self.cutting.left_alone.contains(&self.obstacle.id) {
            faults.push(TrimFault::LeftAlone);
        }
        let taken = match self.taken(trim) {
            Ok(taken) => taken,
            Err(fault) => {
                faults.push(TrimFault::Shape(fault));
                return faults;
            }
        };
        if !self.limits.cut_from.contains(&trim.edge) {
            faults.push(TrimFault::EdgeNotAllowed {
                edge: trim.edge,
                allowed: self.limits.cut_from.clone(),
            });
        }
        let most = self.limits.max_depth;
        if trim.depth > most + HAIR {
            let depth = trim.depth;
            faults.push(TrimFault::TooDeep { depth, most });
        }
        faults.extend(self.near_end(&taken));
        faults.extend(self.thin_web(trim, &taken, others));
        faults.extend(self.near_solids(&taken));
        faults.extend(self.near_notches(trim, others));
        let (width, least) = (trim.along[1] - trim.along[0], self.cutting.tool.kerf);
        if width < least - HAIR {
            faults.push(TrimFault::Narrow { width, least });
        }
        let snap = self.cutting.snap;
        let off = |at: &f64| snap > 0.0 && (at - (at / snap).round() * snap).abs() > 1e-6;
        let places = [trim.along[0], trim.along[1], trim.depth];
        if let Some(at) = places.into_iter().find(off) {
            faults.push(TrimFault::OffSnap { at, snap });
        }
        faults
    }

    /// Whether a notch could be cut but for its price: nothing about its edge,
    /// its depth, its ends, its web and its neighbours is broken. The cheapest
    /// question.
    pub fn may_be(&self, trim: &Trim) -> bool {
        let Ok(taken) = self.taken(trim) else {
            return false;
        };
        self.limits.cut_from.contains(&trim.edge)
            && trim.depth <= self.limits.max_depth + HAIR
            && self.near_end(&taken).is_none()
            && self.thin_web(trim, &taken, &[]).is_none()
            && self.near_solids(&taken).is_empty()
    }

    /// What is left of the rib beyond a notch, or between it and opposite ones:
    /// the least, mm. `None` where there is no such notch.
    pub fn web(&self, trim: &Trim, others: &[&Trim]) -> Option<f64> {
        let taken = self.taken(trim).ok()?;
        self.web_of(trim, &taken, others)
    }

    /// What a notch takes out, in the rib's plane.
    ///
    /// # Errors
    /// Where there is no such notch.
    pub fn taken(&self, trim: &Trim) -> Result<Taken, FaceFault> {
        let notch = self.face.notch(trim)?;
        self.edges.taken(&notch).map_err(FaceFault::Rib)
    }

    /// Area and volume that notches take out, mm² and mm³. Cheap.
    ///
    /// # Errors
    /// Where they cannot be cut.
    pub fn removed(&self, trims: &[&Trim]) -> Result<(f64, f64), FaceFault> {
        let mut area = 0.0;
        for trim in trims {
            area += self.taken(trim)?.area;
        }
        Ok((area, area * self.face.thickness()))
    }

    /// What a notch takes out as a solid in place, its corners square; where
    /// the edge is not straight, all that lies between its corners and the edge's.
    ///
    /// # Errors
    /// Where there is no such notch.
    pub fn taken_solid(&self, trim: &Trim) -> Result<Solid, FaceFault> {
        self.solid_of(&self.taken(trim)?)
    }

    fn solid_of(&self, taken: &Taken) -> Result<Solid, FaceFault> {
        let [left, left_bottom, right_bottom, right] = taken.corners;
        let mut corners = vec![left, left_bottom, right_bottom, right];
        corners.extend(taken.edge.iter().rev());
        let outline =
            Outline::new(corners).map_err(|fault| FaceFault::Rib(RibFault::Outline(fault)))?;
        self.face.prism(&outline)
    }

    /// Whether a notch reaches a solid that is never cut, or its keep-out; or
    /// there is no such notch.
    fn meets_never_cut(&self, trim: &Trim) -> bool {
        match self.taken(trim) {
            Ok(taken) => self.near_solids(&taken).iter().any(TrimFault::is_never),
            Err(_) => true,
        }
    }

    fn near_end(&self, taken: &Taken) -> Option<TrimFault> {
        let gap = (self.edges.ends().iter())
            .flat_map(|end| taken.corners.map(|corner| to_run(corner, end)))
            .fold(f64::INFINITY, f64::min);
        let least = self.limits.min_from_ends;
        (gap < least - HAIR).then_some(TrimFault::NearEnd { gap, least })
    }

    fn thin_web(&self, trim: &Trim, taken: &Taken, others: &[&Trim]) -> Option<TrimFault> {
        let web = self.web_of(trim, taken, others)?;
        let least = self.limits.min_web;
        (web < least - HAIR).then_some(TrimFault::ThinWeb { web, least })
    }

    fn web_of(&self, trim: &Trim, taken: &Taken, others: &[&Trim]) -> Option<f64> {
        let far = match self.face.side(trim.edge)? {
            stiffness::Edge::Lower => stiffness::Edge::Upper,
            stiffness::Edge::Upper => stiffness::Edge::Lower,
        };
        let edge = self.edges.edge(far);
        let runs = edge.windows(2).map(|two| [two[0], two[1]]);
        let beyond = runs.map(|run| polygons_apart(&taken.corners, &run));
        let opposite = (others.iter())
            .filter(|other| self.face.side(other.edge) == Some(far))
            .filter_map(|other| Some(self.taken(other).ok()?.corners))
            .map(|other| polygons_apart(&taken.corners, &other));
        beyond.chain(opposite).reduce(f64::min)
    }

    fn near_solids(&self, taken: &Taken) -> Vec<TrimFault> {
        let Ok(solid) = self.solid_of(taken) else {
            return Vec::new();
        };
        let bounds = solid.bounds();
        (self.near.iter())
            .filter(|other| bounds.gap(&other.bounds) < other.keep_out + HAIR)
            .filter_map(|other| {
                let gap = signed_distance(&solid, &other.solid);
                // What it touches stands on the material that goes.
                let near = if other.keep_out > 0.0 {
                    gap < other.keep_out - HAIR
                } else {
                    gap < HAIR
                };
                near.then(|| TrimFault::NearSolid {
                    id: other.id.to_owned(),
                    name: other.name.to_owned(),
                    never_cut: other.never_cut,
                    gap,
                    least: other.keep_out,
                })
            })
            .collect()
    }

    fn near_notches(&self, trim: &Trim, others: &[&Trim]) -> Option<TrimFault> {
        let gap = |other: &&Trim| {
            let gap = (other.along[0] - trim.along[1]).max(trim.along[0] - other.along[1]);
            (gap, trim.depth.max(other.depth))
        };
        let same = others.iter().copied().filter(|it| it.edge == trim.edge);
        let tight = same
            .map(|it| gap(&it))
            .filter(|(gap, least)| *gap < least - HAIR);
        tight
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(gap, least)| TrimFault::NearNotch { gap, least })
    }
}

/// Every obstacle but the rib, and the plugs of the factory loom.
fn neighbours<'a>(job: &'a Job, rib: &str, reading: Reading) -> Vec<Neighbour<'a>> {
    let obstacles = (job.cavity.obstacles.iter())
        .filter(|other| other.id != rib)
        .map(|other| {
            let solid = fixed_solid(&other.form, reading);
            Neighbour {
                id: &other.id,
                name: &other.name,
                never_cut: *other.cut() == Cut::Never,
                bounds: solid.bounds(),
                solid,
                keep_out: other.cut_keep_out,
            }
        });
    let plugs = job.cavity.factory_plugs.iter().map(|plug| {
        let solid = factory_plug_solid(plug);
        Neighbour {
            id: &plug.id,
            name: &plug.name,
            never_cut: true,
            bounds: solid.bounds(),
            solid,
            keep_out: 0.0,
        }
    });
    obstacles.chain(plugs).collect()
}

/// What may ever be cut from one edge of a rib, other notches aside.
#[derive(Clone, Debug, PartialEq)]
pub struct CutRange {
    /// The rib.
    pub rib: String,
    /// The edge.
    pub edge: Edge,
    /// The step that sides of notches lie on, mm.
    pub snap: f64,
    /// Where the first cell begins along the edge, in steps.
    pub first: i32,
    /// How deep a notch over each step may be, mm; 0 where none may be cut. A
    /// notch over several steps may be as deep as the least of theirs.
    pub deepest: Vec<f64>,
}

impl CutRange {
    /// Where a notch may begin and end at most, mm; `None` where there may be none.
    pub fn along(&self) -> Option<[f64; 2]> {
        let some = |depth: &f64| *depth > 0.0;
        let from = self.deepest.iter().position(some)?;
        let to = self.deepest.iter().rposition(some)? + 1;
        Some([from, to].map(|at| f64::from(self.first + at as i32) * self.snap))
    }

    /// The deepest notch that may be cut anywhere, mm.
    pub fn most(&self) -> f64 {
        self.deepest.iter().copied().fold(0.0, f64::max)
    }

    /// How deep a notch between two places may be, mm; 0 where there may be none.
    pub fn deepest_between(&self, along: [f64; 2]) -> f64 {
        let from = (along[0] / self.snap + 1e-6).floor() as i64 - i64::from(self.first);
        let to = (along[1] / self.snap - 1e-6).ceil() as i64 - i64::from(self.first);
        if from < 0 || to > self.deepest.len() as i64 || to <= from {
            return 0.0;
        }
        let cells = &self.deepest[from as usize..to as usize];
        cells.iter().copied().fold(f64::INFINITY, f64::min)
    }
}

/// What may ever be cut from one edge of a rib, at stated measures and without
/// its other notches. A search and a hand that drags a notch keep within it.
///
/// Along a straight edge it is exact, to the millionth of a millimetre below:
/// the box of a notch is the union of those over its steps. [`faults`] decides.
///
/// # Errors
/// A [`TrimFault`] that holds for every notch from that edge.
pub fn limits(job: &Job, rib: &str, edge: Edge) -> Result<CutRange, TrimFault> {
    let rules = RibRules::new(job, rib, Reading::Nominal)?;
    let side = rules
        .face
        .side(edge)
        .ok_or(TrimFault::Shape(FaceFault::NoSuchEdge(edge)))?;
    if !rules.limits.cut_from.contains(&edge) {
        return Err(TrimFault::EdgeNotAllowed {
            edge,
            allowed: rules.limits.cut_from.clone(),
        });
    }
    let corners = rules.edges.edge(side);
    let ends = [corners[0].x, corners[corners.len() - 1].x];
    let snap = job.cutting.snap;
    let first = (ends[0] / snap - 1e-6).ceil() as i32;
    let last = (ends[1] / snap + 1e-6).floor() as i32;
    let deepest = (first..last).map(|at| rules.deepest(edge, at)).collect();
    Ok(CutRange {
        rib: rib.to_owned(),
        edge,
        snap,
        first,
        deepest,
    })
}

impl RibRules<'_> {
    /// How deep a notch over one step may be, mm.
    fn deepest(&self, edge: Edge, at: i32) -> f64 {
        let snap = self.cutting.snap;
        let may = |depth: f64| {
            self.may_be(&Trim {
                rib: String::new(),
                edge,
                along: [f64::from(at) * snap, f64::from(at + 1) * snap],
                depth,
                radius: 0.0,
                locked: false,
                doubler: None,
            })
        };
        let most = self.limits.max_depth;
        if may(most) {
            return most;
        }
        // What may be at a depth may be at every lesser one.
        if !may(1e-6) {
            return 0.0;
        }
        let (mut known, mut not) = (0.0, most);
        while not - known > 1e-6 {
            let middle = 0.5 * (known + not);
            if may(middle) {
                known = middle;
            } else {
                not = middle;
            }
        }
        if known <= 1e-6 { 0.0 } else { known }
    }
}
