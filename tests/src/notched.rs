//! Small cavities in which a rib or two stand in the way of some leads, so
//! small that every cut on whole snaps can be tried.

use geometry::trimming::{RibBook, faults, limits};
use geometry::{
    Cut, CutLimits, Edge, Exit, ExitShape, Job, Kind, LeadEnd, Reading, Run, Section, Station, Trim,
};
use glam::DVec3;

use crate::chance::Chance;
use crate::jobs::{add_lead, bare, block, mm};

/// Cuts that are tried at most.
pub const MOST: usize = 500;

/// A cavity and the proud it is asked about.
pub struct SmallCase {
    /// The job.
    pub job: Job,
    /// mm.
    pub proud: f64,
    /// Every cut there is on whole snaps, the least volume first, with it, mm3.
    pub cuts: Vec<(f64, Vec<Trim>)>,
}

impl SmallCase {
    /// Whether everything holds with these notches.
    pub fn holds(&self, trims: &[Trim]) -> bool {
        let job = Job {
            trims: trims.to_vec(),
            ..self.job.clone()
        };
        geometry::routed_at(&job, self.proud, &mut || true).is_some()
    }
}

/// The small cavity of a seed.
///
/// # Panics
/// When no draft of the seed has few enough cuts.
pub fn small_case(seed: u64) -> SmallCase {
    // Nine in ten are to need a cut that exists.
    let needs_cut = !seed.is_multiple_of(10);
    (0..200)
        .find_map(|draft| {
            let mut chance = Chance::new(seed ^ 0x0c07, draft);
            let job = cavity(&mut chance);
            let proud = *chance.pick(&[0.0, 0.0, 1.0, 2.0]);
            let cuts = cuts(&job)?;
            let case = SmallCase { job, proud, cuts };
            let (_, most) = case.cuts.last()?;
            let right = !needs_cut || (case.holds(most) && !case.holds(&[]));
            right.then_some(case)
        })
        .unwrap_or_else(|| panic!("no small cavity of seed {seed}"))
}

/// A box behind a small unit, one or two ribs across it, an exit in its floor
/// behind them.
pub fn cavity(chance: &mut Chance) -> Job {
    let mut job = bare([104.0, 54.0], [100.0, 50.0, 100.0], 0.0);
    let sides = |at: f64| Station {
        at: mm(at),
        section: Section::Sides {
            left: mm(58.0),
            right: mm(58.0),
            up: mm(40.0),
            down: mm(60.0),
        },
        to_next: Run::Blended,
    };
    job.cavity.stations = vec![sides(0.0), sides(170.0)];
    job.cavity.closed = true;
    job.cutting.snap = 4.0;
    job.cutting.edge_trim = 0.5;
    job.cutting.stop_hole = *chance.pick(&[0.0, 3.0]);
    job.cutting.keep_stiffness = 0.2;
    let exit_at = chance.typed(-20.0, 20.0);
    job.cavity.exits.push(Exit {
        id: "floor".into(),
        name: "hole in the floor".into(),
        centre: DVec3::new(exit_at, chance.typed(135.0, 150.0), -60.0),
        direction: DVec3::NEG_Z,
        shape: ExitShape::Round(24.0),
        run_beyond: 10.0,
    });
    let lower = chance.typed(-20.0, -12.0);
    let near = chance.typed(112.0, 118.0);
    rib(&mut job, "R1", [lower, 12.0], near, 48.0, chance);
    if chance.happens(0.3) {
        let lower = lower - chance.typed(0.0, 6.0);
        rib(&mut job, "R2", [lower, 10.0], near + 9.0, 50.0, chance);
    }
    let wanted = 1 + chance.below(4);
    let mut places: Vec<[f64; 2]> = Vec::new();
    for _ in 0..40 {
        let low = places.len() < 2;
        let up = if low {
            chance.typed(lower - 2.0, lower + 9.0)
        } else {
            chance.typed(-20.0, 20.0)
        };
        let reach = if low { 10.0 } else { 40.0 };
        let at = [chance.typed(-reach, reach), up];
        let apart =
            |other: &[f64; 2]| (at[0] - other[0]).abs() >= 11.0 || (at[1] - other[1]).abs() >= 11.0;
        if up.abs() <= 19.0 && places.iter().all(apart) && places.len() < wanted {
            places.push(at);
        }
    }
    for (number, at) in places.into_iter().enumerate() {
        let plug = [10.0, 10.0, chance.typed(6.0, 11.0)];
        let od = chance.typed(2.5, 5.0);
        let id = format!("L{}", number + 1);
        add_lead(&mut job, &id, at, plug, od, chance.typed(1.5, 3.0), 0.0);
        let lead = job.leads.last_mut().expect("one was added");
        lead.end = LeadEnd::Exit("floor".into());
    }
    job
}

fn rib(job: &mut Job, id: &str, up: [f64; 2], near: f64, from_ends: f64, chance: &mut Chance) {
    let mut rib = block(
        id,
        Kind::Rib,
        [-58.0, near, up[0]],
        [58.0, near + 2.5, up[1]],
    );
    rib.clear = *chance.pick(&[1.0, 2.0]);
    rib.cut_as_stated = Cut::Allowed(CutLimits {
        cut_from: vec![Edge::Lower],
        max_depth: *chance.pick(&[8.0, 12.0]),
        min_from_ends: from_ends - *chance.pick(&[0.0, 4.0]),
        min_web: 8.0,
    });
    job.cavity.obstacles.push(rib);
}

/// Every cut there is: up to two notches in each rib; `None` when they are too many.
fn cuts(job: &Job) -> Option<Vec<(f64, Vec<Trim>)>> {
    let mut all: Vec<(f64, Vec<Trim>)> = vec![(0.0, Vec::new())];
    for obstacle in &job.cavity.obstacles {
        let Ok(range) = limits(job, &obstacle.id, Edge::Lower) else {
            continue;
        };
        let book = RibBook::new(job, &obstacle.id).ok()?;
        let notch = |from: usize, to: usize, depth: i32| Trim {
            rib: obstacle.id.clone(),
            edge: Edge::Lower,
            along: [from, to].map(|at| f64::from(range.first + at as i32) * range.snap),
            depth: f64::from(depth) * range.snap,
            radius: 0.5 * job.cutting.stop_hole,
            locked: false,
            doubler: None,
        };
        let mut single: Vec<Trim> = Vec::new();
        for from in 0..range.deepest.len() {
            for to in from + 1..=range.deepest.len() {
                let deepest = (range.most() / range.snap + 1e-6).floor() as i32;
                single.extend((1..=deepest).map(|depth| notch(from, to, depth)));
            }
        }
        let mut own: Vec<Vec<Trim>> = single.iter().map(|one| vec![one.clone()]).collect();
        for one in &single {
            let beyond = single.iter().filter(|other| other.along[0] > one.along[1]);
            own.extend(beyond.map(|other| vec![one.clone(), other.clone()]));
        }
        own.retain(|trims| {
            let job = Job {
                trims: trims.clone(),
                ..job.clone()
            };
            (0..trims.len()).all(|number| faults(&job, number, Reading::Nominal).is_empty())
        });
        let mut grown = all.clone();
        for (volume, so_far) in &all {
            for trims in &own {
                let (_, taken) = book.removed(&trims.iter().collect::<Vec<_>>()).ok()?;
                let both = so_far.iter().chain(trims).cloned().collect();
                grown.push((volume + taken, both));
            }
        }
        if grown.len() > MOST {
            return None;
        }
        all = grown;
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    Some(all)
}

/// The least volume of all cuts below `most` mm3 with which everything holds,
/// by trying them one after the other.
///
/// * `every`: also those that take nothing that did not do before
pub fn least_by_trying(case: &SmallCase, most: f64, every: bool) -> Option<f64> {
    let mut failed: Vec<&Vec<Trim>> = Vec::new();
    // The largest first, so that what lies within a failed one is known to fail.
    let mut below: Vec<&(f64, Vec<Trim>)> = case.cuts.iter().filter(|it| it.0 < most).collect();
    below.reverse();
    let mut least = None;
    for (volume, trims) in below {
        if !every && failed.iter().any(|other| is_within(trims, other)) {
            continue;
        }
        if case.holds(trims) {
            least = Some(*volume);
        } else {
            failed.push(trims);
        }
    }
    least
}

/// The same kind of cavity, with parts in it that may not be cut: of kinds that
/// never are, unstated, to be asked about, left alone; some with room that
/// notches keep from them.
pub fn guarded_cavity(seed: u64) -> Job {
    let mut chance = Chance::new(seed ^ 0x6a4d, 0);
    let mut job = cavity(&mut chance);
    job.cutting.snap = *chance.pick(&[1.0, 2.0, 4.0]);
    let as_rib = job.cavity.obstacles[0].cut_as_stated.clone();
    let Cut::Allowed(limits) = &as_rib else {
        unreachable!("the first rib may be cut");
    };
    let ask = Cut::Ask(limits.clone());
    let kinds = [
        Kind::Beam,
        Kind::AirbagPart,
        Kind::Loom,
        Kind::Duct,
        Kind::Rib,
        Kind::Unknown,
    ];
    for number in 0..1 + chance.below(4) {
        let low = chance.point(DVec3::new(-55., 104., -35.), DVec3::new(30., 130., 15.));
        let size = chance.point(DVec3::new(4., 2., 4.), DVec3::new(60., 8., 25.));
        let high = low + size;
        let kind = *chance.pick(&kinds);
        let id = format!("N{number}");
        let mut part = block(&id, kind, low.to_array(), high.to_array());
        part.clear = chance.typed(0.0, 3.0);
        part.cut_keep_out = *chance.pick(&[0.0, 3.0, 8.0]);
        part.cut_as_stated = chance
            .pick(&[Cut::Never, as_rib.clone(), ask.clone()])
            .clone();
        if kind == Kind::Rib && matches!(part.cut_as_stated, Cut::Allowed(_)) {
            job.cutting.left_alone.push(id);
        }
        job.cavity.obstacles.push(part);
    }
    job
}

fn is_within(trims: &[Trim], other: &[Trim]) -> bool {
    let covers = |one: &Trim, big: &Trim| {
        one.rib == big.rib
            && one.along[0] >= big.along[0]
            && one.along[1] <= big.along[1]
            && one.depth <= big.depth
    };
    trims
        .iter()
        .all(|one| other.iter().any(|big| covers(one, big)))
}
