//! How the unit goes in, with everything plugged in: straight, or tilted past
//! what bars the straight way and levelled behind it.
//!
//! 1. `passage`: the unit as one rigid thing, everything it must pass, and how
//!    near they come at a posture.
//! 2. `search`: a coarse way from posture to posture, by how far out and how
//!    tilted; room sideways is worked out exactly.
//! 3. `certify`: whether a motion is free, by exact distances between which
//!    no point can have moved too far.
//! 4. `shorten`: fewer and longer motions, each certified again.
//!
//! Cables give way and are not looked at; plugs and their strain reliefs are.

mod certify;
mod passage;
mod search;
mod shorten;

use crate::fitting::Berth;
use crate::frame::{ACROSS, UP};
use crate::job::Job;
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use certify::{Checks, certify};
use passage::Passage;
use search::{Found, RUNGS, search};
use shorten::shorten;

pub use certify::THINNEST;

/// Searches and checks end after so many distances and sweeps of two solids.
pub const MOST_WORK: usize = 400_000;

/// One placement of the unit on its way in: first drawn out of its seat by
/// `proud`, then turned by `tilt` about the point where the chassis' middle
/// line passes the opening's plane at the seat, then moved `aside`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Posture {
    /// How far it is drawn out along its own line, mm.
    pub proud: f64,
    /// How far it is turned about the axis of its way, radians, right-hand rule.
    pub tilt: f64,
    /// How far its middle line is off the seat's where it passes the opening:
    /// up for a tilt about the across axis, across for one about the up axis, mm.
    pub aside: f64,
}

impl Posture {
    /// Level and in its own line.
    pub fn level(proud: f64) -> Posture {
        Posture {
            proud,
            tilt: 0.0,
            aside: 0.0,
        }
    }

    /// A posture on the straight way to another one: 0 = this one, 1 = the other.
    pub fn toward(&self, other: &Posture, share: f64) -> Posture {
        let between = |from: f64, to: f64| from + share * (to - from);
        Posture {
            proud: between(self.proud, other.proud),
            tilt: between(self.tilt, other.tilt),
            aside: between(self.aside, other.aside),
        }
    }
}

/// The axis a unit is tilted about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TiltAxis {
    /// Across: the rear goes up or down.
    Across,
    /// Up: the rear goes to the left or the right.
    Up,
}

impl TiltAxis {
    /// The unit vector it is tilted about.
    pub fn direction(self) -> glam::DVec3 {
        match self {
            TiltAxis::Across => ACROSS,
            TiltAxis::Up => UP,
        }
    }

    /// The unit vector along which the unit has play.
    pub fn aside(self) -> glam::DVec3 {
        match self {
            TiltAxis::Across => UP,
            TiltAxis::Up => ACROSS,
        }
    }
}

/// Which way the rear of a tilted unit points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rear {
    /// Up.
    High,
    /// Down.
    Low,
    /// To the installer's left.
    Left,
    /// To the installer's right.
    Right,
}

impl Rear {
    /// Of a tilt about an axis.
    fn of(axis: TiltAxis, tilt: f64) -> Rear {
        match (axis, tilt > 0.0) {
            (TiltAxis::Across, true) => Rear::High,
            (TiltAxis::Across, false) => Rear::Low,
            (TiltAxis::Up, true) => Rear::Left,
            (TiltAxis::Up, false) => Rear::Right,
        }
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Rear::High => "high",
            Rear::Low => "low",
            Rear::Left => "left",
            Rear::Right => "right",
        }
    }
}

/// How the unit goes in.
#[derive(Clone, Debug, PartialEq)]
pub struct SlideIn {
    /// How far out it stands in the end, mm.
    pub proud: f64,
    /// The way when it is not straight.
    pub tilted: Option<TiltedWay>,
}

impl SlideIn {
    /// Straight in.
    pub fn straight(proud: f64) -> SlideIn {
        SlideIn {
            proud,
            tilted: None,
        }
    }

    /// Whether it goes straight in.
    pub fn is_straight(&self) -> bool {
        self.tilted.is_none()
    }
}

/// A way in that is not straight. Between one posture and the next everything
/// changes in proportion.
#[derive(Clone, Debug, PartialEq)]
pub struct TiltedWay {
    /// The axis it is tilted about.
    pub axis: TiltAxis,
    /// From in front of the opening to where it stands. The last motion is
    /// level and straight, proved by a sweep; all others by [`TiltedWay::checks`].
    pub way: Vec<Posture>,
    /// The largest tilt, radians, never negative.
    pub tilt: f64,
    /// Which way the rear points at the largest tilt; `None` when it is only
    /// moved aside and back.
    pub rear: Option<Rear>,
    /// How deep the rear of the chassis is in when it begins to come level, mm.
    pub level_from: f64,
    /// How deep it is when it is level, mm.
    pub level_by: f64,
    /// The tightest place met by the checks.
    pub tightest: Option<Tight>,
    /// Nowhere on its way it has less to spare than this, mm.
    pub spare_at_least: f64,
    /// Postures measured by exact distances.
    pub checks: usize,
}

/// Where two solids come nearest to each other for the room they ask for.
#[derive(Clone, Debug, PartialEq)]
pub struct Tight {
    /// What the installer calls the piece that slides.
    pub piece: String,
    /// What it comes near to, in words.
    pub against: String,
    /// Id of that.
    pub against_id: String,
    /// From surface to surface, mm; negative when they overlap.
    pub gap: f64,
    /// Over the room asked for, mm.
    pub spare: f64,
    /// The posture it was measured at.
    pub at: Posture,
}

/// Why no way in was found to a place where the unit stands free.
#[derive(Clone, Debug, PartialEq)]
pub struct Barred {
    /// The proud it was asked for, mm.
    pub proud: f64,
    /// The steepest tilt that was tried, radians.
    pub most_tilt: f64,
    /// What bars the way where it came furthest.
    pub by: Option<Box<Tight>>,
    /// Whether the search ended for want of effort rather than of ways to try.
    pub gave_up: bool,
}

/// How the unit goes in to stand at `proud` mm, at one end of every measure's
/// band. `None` when it cannot stand there at all.
pub fn slide_in(job: &Job, reading: Reading, proud: f64) -> Option<Result<SlideIn, Barred>> {
    let berths = crate::fitting::berths(job, reading);
    let mut holding = berths.iter();
    let berth = holding.find(|berth| berth.from <= proud && proud < berth.to)?;
    let layout = lay_out(job, reading);
    Some(way_in(job, &layout, reading, berth, proud))
}

/// The same with the solids and the range of proud at hand.
///
/// * `layout`: the job's solids, the unit at its seat
/// * `berth`: the range that `proud` lies in
pub fn way_in(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    berth: &Berth,
    proud: f64,
) -> Result<SlideIn, Barred> {
    if berth.straight {
        return Ok(SlideIn::straight(proud));
    }
    let mut checks = Checks::default();
    let axes = [TiltAxis::Across, TiltAxis::Up];
    let passages = axes.map(|axis| Passage::new(job, layout, reading, axis));
    let mut furthest: Option<(f64, Option<Tight>)> = None;
    for rung in RUNGS {
        for passage in &passages {
            let berth = [proud, berth.to];
            match search(passage, job.enter_tilt, berth, rung, &mut checks) {
                Found::Way(way, spare) => {
                    let way = shorten(passage, &way, spare, &mut checks);
                    if let Some(tilted) = told(passage, way, proud, &mut checks) {
                        return Ok(SlideIn {
                            proud,
                            tilted: Some(tilted),
                        });
                    }
                }
                Found::Nothing { deepest, by } => {
                    if furthest.as_ref().is_none_or(|known| deepest < known.0) {
                        furthest = Some((deepest, by));
                    }
                }
            }
        }
    }
    Err(Barred {
        proud,
        most_tilt: job.enter_tilt,
        by: furthest.and_then(|(_, by)| by).map(Box::new),
        gave_up: checks.is_spent(),
    })
}

/// A way as found with everything to be told of it, certified once more.
fn told(
    passage: &Passage<'_>,
    mut way: Vec<Posture>,
    proud: f64,
    checks: &mut Checks,
) -> Option<TiltedWay> {
    let mut tightest = None;
    let mut spare_at_least = f64::INFINITY;
    let before = checks.postures;
    for motion in way.windows(2) {
        let free = certify(passage, [&motion[0], &motion[1]], THINNEST, checks)?;
        spare_at_least = spare_at_least.min(free.at_least);
        tightest = nearer(tightest, free.tightest);
    }
    let steepest = way.iter().copied().reduce(|steepest, next| {
        if next.tilt.abs() > steepest.tilt.abs() {
            next
        } else {
            steepest
        }
    })?;
    let tilt = steepest.tilt.abs();
    let [level_from, level_by] = levelling(&way).map(|at| passage.rear - way[at].proud);
    way.push(Posture::level(proud));
    Some(TiltedWay {
        axis: passage.axis,
        rear: (tilt > 0.0).then(|| Rear::of(passage.axis, steepest.tilt)),
        tilt,
        level_from,
        level_by,
        tightest: tightest.map(|near| passage.tight(&near)),
        spare_at_least,
        checks: checks.postures - before,
        way,
    })
}

/// Where on a way the unit last begins to come level, and where it is.
fn levelling(way: &[Posture]) -> [usize; 2] {
    let Some(mut from) = way.iter().rposition(|it| it.tilt != 0.0) else {
        return [0; 2];
    };
    let level = (from + 1).min(way.len() - 1);
    while from > 0 && way[from - 1].tilt.abs() > way[from].tilt.abs() {
        from -= 1;
    }
    [from, level]
}

/// The one with less to spare.
fn nearer(one: Option<passage::Near>, other: Option<passage::Near>) -> Option<passage::Near> {
    match (one, other) {
        (Some(a), Some(b)) => Some(if b.spare < a.spare { b } else { a }),
        (one, other) => one.or(other),
    }
}
