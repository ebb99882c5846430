//! Whether a tool gets at a notch through the opening, the unit out.
//!
//! What is assumed:
//!
//! * The tool comes along a straight line through the opening: straight in, or
//!   tilted about both axes by up to 30° in steps of 10°. Its body with the hand
//!   about it is a box along that line, from the front of the body to outside
//!   the dash, the blade a thin box in front of it, in the middle of the body.
//!   A blade can be clamped in the body at every eighth of a turn.
//! * A rib that faces the installer is plunged: the blade goes in end first,
//!   through its thickness, and comes out behind by the room the tool needs
//!   there. Two sides and the bottom are three cuts; along each the blade is
//!   set as often as needed, its end corners on the ends of the cut; past the
//!   edge of the rib it may stick out. A bottom no wider than its stop holes is
//!   cut by drilling them; one narrower than the blade by cuts beside each other
//!   along the sides, the corner of the blade on the bottom.
//! * A flat part that lies along the line of approach (a shelf from its near
//!   edge) is cut from its edge, the blade edge-on: it goes in along the part,
//!   square to its faces, cut beside cut, until all of the notch is gone; the
//!   end of the blade makes the bottom. Cutters and nibblers always work so,
//!   with room for their jaws on both faces.
//! * The line of approach may lean by up to 35° from square to the rib, or from
//!   straight along it; the cut then leans as much and is filed square.
//! * In the way is everything of the job that stays: obstacles with the notches
//!   of other ribs cut, pinned modules, factory plugs nobody uses, tabs or their
//!   stubs, walls, the edge of the opening; and the rib itself for the body of
//!   the tool. Touching is passing.

mod tool;

use glam::{DVec2, DVec3};

use super::face::{FaceFault, RibFace};
use super::fault::{TrimFault, mm};
use super::rules::RibRules;
use crate::distance::signed_distance;
use crate::frame::DEPTH;
use crate::job::{Job, Tool, Trim, Works};
use crate::lay_out::{fixed_solid, lay_out};
use crate::measure::Reading;
use crate::solids::{Bounds, Solid};
use crate::stiffness::Taken;
use tool::Pass;

/// How far an approach may tilt about each axis, and its steps, degrees.
const MOST_TILT: i32 = 30;
const TILT_STEP: i32 = 10;

/// How far an approach may lean from square to the rib or from along it: the
/// cosine of 35°.
const LEANS: f64 = 0.819_152_044_288_991_8;

/// Solids that come closer than this have met, mm.
const TOUCH: f64 = 1e-7;

/// How thick the edge of the opening is taken, and how far the face reaches, mm.
const LIP: f64 = 2.0;
const FACE: f64 = 300.0;

/// A cut of a notch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutLine {
    /// The side at the lower figure along the edge.
    FirstSide,
    /// The side at the higher figure.
    SecondSide,
    /// The bottom.
    Bottom,
    /// All of it, cut beside cut from the edge.
    Whole,
}

impl CutLine {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            CutLine::FirstSide => "its first side",
            CutLine::SecondSide => "its second side",
            CutLine::Bottom => "its bottom",
            CutLine::Whole => "it",
        }
    }
}

/// A part of a tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToolPart {
    /// The body and the hand about it.
    Body,
    /// The blade, or the jaws.
    Blade,
}

impl ToolPart {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            ToolPart::Body => "body",
            ToolPart::Blade => "blade",
        }
    }
}

/// Why a tool does not get at a notch.
#[derive(Clone, Debug, PartialEq)]
pub enum Unreachable {
    /// It is no notch that may be cut at all.
    Fault(TrimFault),
    /// No line through the opening meets the rib square enough, or along it
    /// from that edge.
    LooksAway,
    /// The blade or the jaws are wider than the notch.
    TooWide {
        /// The cut it is too wide for.
        cut: CutLine,
        /// Width of the blade, mm.
        blade: f64,
        /// Room for it, mm.
        room: f64,
    },
    /// Something is in the way, whichever way the tool comes.
    InTheWay {
        /// The cut that cannot be made.
        cut: CutLine,
        /// The part of the tool that meets it.
        part: ToolPart,
        /// Id of what is in the way; of walls their name.
        id: String,
        /// What the installer calls it.
        name: String,
        /// How far the tool would have to go into it, the way it comes best, mm.
        short: f64,
    },
}

impl std::fmt::Display for Unreachable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Unreachable::Fault(fault) => write!(f, "{fault}"),
            Unreachable::LooksAway => {
                write!(f, "no straight way through the opening meets it squarely")
            }
            Unreachable::TooWide { cut, blade, room } => write!(
                f,
                "a blade {} mm wide does not cut {}: {} mm",
                mm(*blade),
                cut.words(),
                mm(*room)
            ),
            Unreachable::InTheWay {
                cut,
                part,
                name,
                short,
                ..
            } => write!(
                f,
                "{} cannot be cut: the {} of the tool meets the {name} by {} mm",
                cut.words(),
                part.word(),
                mm(*short)
            ),
        }
    }
}

impl std::error::Error for Unreachable {}

/// How a cut is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Approach {
    /// The cut.
    pub cut: CutLine,
    /// The way the tool points, a unit vector.
    pub direction: DVec3,
    /// How its body is turned against its blade, degrees.
    pub turn: f64,
    /// How near the tool comes to anything, mm.
    pub room: f64,
}

/// What a tool may meet.
struct Stands {
    id: String,
    name: String,
    solid: Solid,
    bounds: Bounds,
}

/// How a tool cuts one notch of a job through the opening, the unit out: an
/// approach for each cut. The first found of a fixed order, straight in first.
///
/// # Errors
/// [`Unreachable`], with what is in the way where the tool comes closest to
/// getting there.
///
/// * `trim`: the notch; it need not be one of the job's
pub fn reach(job: &Job, trim: &Trim, tool: &Tool) -> Result<Vec<Approach>, Unreachable> {
    let rules = RibRules::new(job, &trim.rib, Reading::Nominal).map_err(Unreachable::Fault)?;
    let shape = |fault: FaceFault| Unreachable::Fault(TrimFault::Shape(fault));
    let taken = rules.taken(trim).map_err(shape)?;
    let bench = Bench {
        tool,
        work: Work::new(rules.face(), &taken),
        taken,
        stands: stands(job, &trim.rib),
        rib: itself(job, trim),
    };
    let mut refused = None;
    let plunged = match tool.works {
        Works::EndFirst => bench.plunged(),
        Works::RoundTheEdge => Err(Unreachable::LooksAway),
    };
    match plunged {
        Ok(found) => return Ok(found),
        Err(Unreachable::LooksAway) => {}
        Err(other) => refused = Some(other),
    }
    match (bench.along(), refused) {
        (Ok(found), _) => Ok(vec![found]),
        (Err(Unreachable::LooksAway), Some(other)) => Err(other),
        (Err(other), _) => Err(other),
    }
}

/// The notch in the job's frame.
struct Work {
    /// Foot, bottom, bottom, foot, in the middle of the rib's thickness, mm.
    corners: [DVec3; 4],
    /// From the edge to the bottom.
    inward: DVec3,
    /// From the first side to the second.
    along: DVec3,
    /// Square to the rib.
    square: DVec3,
    /// mm.
    thickness: f64,
}

impl Work {
    fn new(face: &RibFace, taken: &Taken) -> Work {
        let corners = taken.corners.map(|at| face.place(at));
        let along = (corners[3] - corners[0]).normalize_or_zero();
        let inward = (corners[1] - corners[0]).normalize_or_zero();
        Work {
            corners,
            inward,
            along,
            square: along.cross(inward),
            thickness: face.thickness(),
        }
    }
}

/// A notch, a tool and everything that stands about.
struct Bench<'a> {
    tool: &'a Tool,
    work: Work,
    taken: Taken,
    stands: Vec<Stands>,
    rib: Stands,
}

/// The nearest a way to make a cut comes to anything: what, which part, and
/// how near, mm.
type Meets<'a> = (&'a Stands, ToolPart, f64);

impl Bench<'_> {
    /// Plunged through its thickness: three cuts.
    fn plunged(&self) -> Result<Vec<Approach>, Unreachable> {
        let work = &self.work;
        let ways: Vec<DVec3> = ways()
            .into_iter()
            .filter(|way| way.dot(work.square).abs() >= LEANS)
            .collect();
        if ways.is_empty() {
            return Err(Unreachable::LooksAway);
        }
        let [foot, bottom, other_bottom, other_foot] = work.corners;
        let mut cuts = vec![
            (CutLine::FirstSide, [bottom, foot], work.along),
            (CutLine::SecondSide, [other_bottom, other_foot], -work.along),
        ];
        let width = bottom.distance(other_bottom);
        let drilled = width <= 2.0 * self.taken.radius + TOUCH;
        let narrow = self.tool.blade.x > width;
        if !drilled && !narrow {
            let line = [bottom, other_bottom];
            cuts.push((CutLine::Bottom, line, -work.inward));
        }
        let mut found = Vec::with_capacity(3);
        for (cut, line, to_notch) in cuts {
            let pass = |way| Pass::plunge(self.tool, work, line, to_notch, way);
            found.push(self.first(cut, &ways, pass)?);
        }
        if !drilled && narrow {
            let pass = |way| Pass::beside(self.tool, work, way);
            found.push(self.first(CutLine::Bottom, &ways, pass)?);
        }
        Ok(found)
    }

    /// Eaten from its edge.
    fn along(&self) -> Result<Approach, Unreachable> {
        let work = &self.work;
        let ways: Vec<DVec3> = ways()
            .into_iter()
            .filter(|way| way.dot(work.inward) >= LEANS)
            .collect();
        if ways.is_empty() {
            return Err(Unreachable::LooksAway);
        }
        let room = work.corners[0].distance(work.corners[3]);
        let cut = CutLine::Whole;
        let blade = Pass::mouth(self.tool);
        if blade > room + TOUCH {
            return Err(Unreachable::TooWide { cut, blade, room });
        }
        self.first(cut, &ways, |way| Pass::from_edge(self.tool, work, way))
    }

    /// The first way of making a cut that meets nothing.
    fn first(
        &self,
        cut: CutLine,
        ways: &[DVec3],
        pass: impl Fn(DVec3) -> Pass,
    ) -> Result<Approach, Unreachable> {
        let mut best: Option<Meets> = None;
        for &direction in ways {
            let pass = pass(direction);
            for turn in turns(self.tool) {
                let enough = best.map_or(f64::NEG_INFINITY, |(.., known)| known);
                let Some(met) = self.meets(&pass, turn, enough) else {
                    continue;
                };
                if met.2 >= -TOUCH {
                    return Ok(Approach {
                        cut,
                        direction,
                        turn,
                        room: met.2.max(0.0),
                    });
                }
                best = Some(met);
            }
        }
        match best {
            Some((stands, part, room)) => Err(Unreachable::InTheWay {
                cut,
                part,
                id: stands.id.clone(),
                name: stands.name.clone(),
                short: -room,
            }),
            None => Err(Unreachable::LooksAway),
        }
    }

    /// What a pass comes nearest to, unless it comes nearer than is known to be possible.
    fn meets(&self, pass: &Pass, turn: f64, enough: f64) -> Option<Meets<'_>> {
        let body = pass.body(self.tool, turn);
        let parts = [(ToolPart::Body, body), (ToolPart::Blade, pass.blade())];
        let mut least: Option<Meets> = None;
        for (part, solid) in &parts {
            let bounds = solid.bounds();
            let own = (*part == ToolPart::Body).then_some(&self.rib);
            for stands in self.stands.iter().chain(own) {
                let known = least.map_or(f64::INFINITY, |(.., known)| known);
                if bounds.gap(&stands.bounds) > known.max(0.0) {
                    continue;
                }
                let room = signed_distance(solid, &stands.solid);
                if room <= enough {
                    return None;
                }
                if room < known {
                    least = Some((stands, *part, room));
                }
            }
        }
        least
    }
}

/// Every way the tool may point, straight in first, then the less tilted first.
fn ways() -> Vec<DVec3> {
    let steps = MOST_TILT / TILT_STEP;
    let mut tilts: Vec<(i32, i32)> = (-steps..=steps)
        .flat_map(|across| (-steps..=steps).map(move |up| (across, up)))
        .collect();
    tilts.sort_by_key(|(across, up)| (across * across + up * up, *across, *up));
    let slope = |tilt: i32| f64::from(tilt * TILT_STEP).to_radians().tan();
    tilts
        .into_iter()
        .map(|(across, up)| (DEPTH + DVec3::new(slope(across), 0.0, slope(up))).normalize())
        .collect()
}

/// How the body may be turned against the blade, degrees.
fn turns(tool: &Tool) -> Vec<f64> {
    let round = [0.0, 45.0, 90.0, 135.0];
    let square = tool.shank.x == tool.shank.y;
    round[..if square { 2 } else { 4 }].to_vec()
}

/// Everything of a job that stays, but the rib.
fn stands(job: &Job, rib: &str) -> Vec<Stands> {
    let layout = lay_out(job, Reading::Nominal);
    let stand = |id: &str, name: &str, solid: Solid| Stands {
        id: id.to_owned(),
        name: name.to_owned(),
        bounds: solid.bounds(),
        solid,
    };
    let fixed = layout.fixed.iter().filter(|it| it.id != rib);
    let mut all: Vec<Stands> = fixed
        .map(|it| stand(&it.id, &it.name, it.solid.clone()))
        .collect();
    let walls = layout.walls.iter();
    all.extend(walls.map(|it| stand(&it.name, &it.name, it.solid.clone())));
    let name = "edge of the opening";
    all.extend(lips(layout.opening_half).map(|solid| stand(name, name, solid)));
    all
}

/// The dash face about the opening.
fn lips(half: DVec2) -> [Solid; 4] {
    let slab = |low: DVec2, high: DVec2| {
        Solid::block(
            DVec3::new(low.x, 0.0, low.y),
            DVec3::new(high.x, LIP, high.y),
        )
    };
    let far = half + FACE;
    [
        slab(DVec2::new(-far.x, -far.y), DVec2::new(-half.x, far.y)),
        slab(DVec2::new(half.x, -far.y), DVec2::new(far.x, far.y)),
        slab(DVec2::new(-half.x, -far.y), DVec2::new(half.x, -half.y)),
        slab(DVec2::new(-half.x, half.y), DVec2::new(half.x, far.y)),
    ]
}

/// The rib itself, whole.
fn itself(job: &Job, trim: &Trim) -> Stands {
    let mut all = job.cavity.obstacles.iter();
    let rib = all
        .find(|it| it.id == trim.rib)
        .expect("its rules were found");
    let solid = fixed_solid(&rib.form, Reading::Nominal);
    Stands {
        id: rib.id.clone(),
        name: rib.name.clone(),
        bounds: solid.bounds(),
        solid,
    }
}
