//! Ribs that may be cut, each in its own plane, as the bench shows them.

use geometry::trimming::{CutRange, RibFace, faults, limits};
use geometry::{Cut, Job, Obstacle, Reading, Trim};
use glam::DVec2;

use super::{Laid, Model};
use crate::desk::edit::Target;

/// A rib in its own plane.
#[derive(Clone, Debug)]
pub struct RibSheet {
    /// Its id.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its number among the obstacles.
    pub number: usize,
    /// Whether the customer has to agree first.
    pub asks: bool,
    /// The rib in its plane.
    pub face: RibFace,
    /// Its outline as cut, mm.
    pub outline: Vec<DVec2>,
    /// Where it may be cut, edge by edge.
    pub ranges: Vec<CutRange>,
    /// Its notches.
    pub notches: Vec<SheetNotch>,
    /// Leads that pass its plane near it.
    pub passing: Vec<Passing>,
}

/// A notch of a rib.
#[derive(Clone, Debug)]
pub struct SheetNotch {
    /// Its number among the notches of the job.
    pub number: usize,
    /// The notch.
    pub trim: Trim,
    /// Rules it breaks, in words; empty when it may be cut.
    pub faults: Vec<String>,
}

/// A lead that passes the plane of a rib.
#[derive(Clone, Debug)]
pub struct Passing {
    /// The lead.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// Where, in the rib's plane, mm.
    pub at: DVec2,
    /// Outside diameter, mm.
    pub od: f64,
    /// The room it keeps from the rib, mm.
    pub clear: f64,
    /// Whether it comes so near that it is named.
    pub is_close: bool,
}

/// A lead is named when it comes this near beyond the room it keeps, mm.
const CLOSE: f64 = 4.0;

/// How far beside a rib leads are shown, mm.
const BESIDE: f64 = 16.0;

/// The ribs of a job that may be cut.
pub fn rib_sheets(job: &Job) -> Vec<RibSheet> {
    let obstacles = job.cavity.obstacles.iter().enumerate();
    obstacles
        .filter_map(|(number, obstacle)| sheet(job, number, obstacle))
        .collect()
}

fn sheet(job: &Job, number: usize, obstacle: &Obstacle) -> Option<RibSheet> {
    let asks = match obstacle.cut() {
        Cut::Never => return None,
        Cut::Ask(_) => true,
        Cut::Allowed(_) => false,
    };
    let face = RibFace::new(obstacle, Reading::Nominal).ok()?;
    let own: Vec<(usize, &Trim)> = (job.trims.iter().enumerate())
        .filter(|(_, trim)| trim.rib == obstacle.id)
        .collect();
    let trims: Vec<&Trim> = own.iter().map(|(_, trim)| *trim).collect();
    let outline = match face.outline_as_cut(&trims, 0.0) {
        Ok(outline) => outline.corners().to_vec(),
        Err(_) => face.outline.clone(),
    };
    let edges = face.long_edges();
    let words = |number| {
        let faults = faults(job, number, Reading::Nominal);
        faults.iter().map(ToString::to_string).collect()
    };
    Some(RibSheet {
        id: obstacle.id.clone(),
        name: obstacle.name.clone(),
        number,
        asks,
        ranges: (edges.iter())
            .filter_map(|edge| limits(job, &obstacle.id, *edge).ok())
            .collect(),
        notches: own
            .into_iter()
            .map(|(number, trim)| SheetNotch {
                number,
                trim: trim.clone(),
                faults: words(number),
            })
            .collect(),
        outline,
        face,
        passing: Vec::new(),
    })
}

impl Model {
    /// The leads that pass near each rib, as they were laid.
    pub(super) fn pass_ribs(&mut self) {
        let (Some(job), Some(laid)) = (&self.job, &self.laid) else {
            return;
        };
        for rib in &mut self.ribs {
            rib.passing = passing(job, laid, rib);
        }
    }
}

fn passing(job: &Job, laid: &Laid, rib: &RibSheet) -> Vec<Passing> {
    let [low, high] = rib.face.bounds();
    let clear = (job.cavity.obstacles.get(rib.number)).map_or(0.0, |it| it.clear);
    let ways = laid.ways.iter();
    ways.flat_map(|way| {
        let near = |at: &DVec2| {
            let room = DVec2::splat(BESIDE);
            at.cmpge(low - room).all() && at.cmple(high + room).all()
        };
        let places = rib.face.crossings(&way.path).into_iter().filter(near);
        places.map(|at| Passing {
            target: way.target.clone(),
            name: way.name.clone(),
            at,
            od: way.od,
            clear,
            is_close: (at - at.clamp(low, high)).length() <= 0.5 * way.od + clear + CLOSE,
        })
    })
    .collect()
}
