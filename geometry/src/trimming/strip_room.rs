//! Whether a strip bonded over a notch has room on a face of its rib, with
//! everything in place that was laid.

use glam::DVec2;

use super::face::RibFace;
use super::rules::carried_out;
use crate::distance::signed_distance;
use crate::frame::DEPTH;
use crate::job::{Edge, Job, Obstacle, Plane, Strip, Trim};
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::path::path_to_solid;
use crate::routed::{ModuleSeat, Routed};
use crate::solids::{Outline, Solid};
use crate::stiffness;
use crate::sweep::stop_along;

/// Less than this is not in the way, mm.
const SAME: f64 = 1e-6;

/// Where one strip has room.
#[derive(Clone, Debug, PartialEq)]
pub struct StripRoom {
    /// Number of its notch among those of the job.
    pub trim: usize,
    /// The face of the rib that it may be bonded to; where there is none, what
    /// is in its way on the face where the least is.
    pub face: Result<Edge, StripBlocked>,
}

/// What leaves a strip no room.
#[derive(Clone, Debug, PartialEq)]
pub struct StripBlocked {
    /// What the installer calls it.
    pub against: String,
    /// By how much it is short, mm.
    pub short: f64,
}

/// Where the strips over a job's notches have room: clear of everything that
/// stays, of modules and leads where they were laid, and of the unit all the
/// way in. What keeps clear of the rib keeps as clear of a strip on it.
///
/// * `routed`: everything laid with these notches
pub fn strip_rooms(job: &Job, routed: &Routed) -> Vec<StripRoom> {
    let layout = lay_out(job, Reading::Nominal);
    let cut = carried_out(job);
    let here = |trim: &Trim| cut.iter().any(|it| std::ptr::eq(*it, trim));
    let trims = job.trims.iter().enumerate().filter(|(_, trim)| here(trim));
    trims
        .filter_map(|(number, trim)| {
            let strip = trim.doubler.as_ref()?;
            let rib = job.cavity.obstacles.iter().find(|it| it.id == trim.rib)?;
            let around = Around {
                job,
                layout: &layout,
                routed,
                rib,
            };
            Some(StripRoom {
                trim: number,
                face: around.face_for(trim, strip)?,
            })
        })
        .collect()
}

/// A rib with everything around it.
struct Around<'a> {
    job: &'a Job,
    layout: &'a Layout,
    routed: &'a Routed,
    rib: &'a Obstacle,
}

impl Around<'_> {
    /// The face with room; `None` where the rib has no such notch.
    fn face_for(&self, trim: &Trim, strip: &Strip) -> Option<Result<Edge, StripBlocked>> {
        let face = RibFace::new(self.rib, Reading::Nominal).ok()?;
        let outline = over(&face, trim, strip)?;
        let [low, high] = face.faces;
        let sides = match face.plane {
            Plane::AcrossUp => [Edge::Near, Edge::Far],
            Plane::DepthUp => [Edge::Left, Edge::Right],
            Plane::AcrossDepth => [Edge::Lower, Edge::Upper],
        };
        let mut least: Option<StripBlocked> = None;
        for (side, faces) in sides
            .into_iter()
            .zip([[low - strip.thickness, low], [high, high + strip.thickness]])
        {
            let solid = face.prism_between(&outline, faces).ok()?;
            match self.in_the_way(&solid) {
                None => return Some(Ok(side)),
                Some(blocked) if least.as_ref().is_none_or(|it| blocked.short < it.short) => {
                    least = Some(blocked);
                }
                Some(_) => {}
            }
        }
        least.map(Err)
    }

    /// What is most in the way of a strip.
    fn in_the_way(&self, strip: &Solid) -> Option<StripBlocked> {
        let clear = self.rib.clear;
        let fixed = self.layout.fixed.iter().filter(|it| it.id != self.rib.id);
        let fixed = fixed.map(|it| (it.name.as_str(), -signed_distance(strip, &it.solid)));
        let walls = self.layout.walls.iter();
        let walls = walls.map(|it| ("wall", -signed_distance(strip, &it.solid)));
        let unit = self.layout.sliding.iter().filter(|it| !it.is_in_front());
        let unit = unit.filter_map(|it| {
            let meeting = stop_along(&it.solid, strip, DEPTH, clear)?;
            Some((it.name.as_str(), meeting.travel - self.routed.laid_at))
        });
        let modules = self.routed.modules.iter().filter_map(|it| {
            let ModuleSeat::Cavity { centre, size } = &it.place else {
                return None;
            };
            let own = self.job.modules.iter().find(|own| own.id == it.module);
            let clear = own.map_or(clear, |own| own.clear.max(clear));
            let block = Solid::block(*centre - 0.5 * *size, *centre + 0.5 * *size);
            Some((it.name.as_str(), clear - signed_distance(strip, &block)))
        });
        let leads = self.routed.routes.iter().filter_map(|it| {
            let lead = self.job.leads.iter().find(|lead| lead.id == it.lead);
            let lumps = lead.into_iter().flat_map(|lead| &lead.lumps);
            let thickest = lumps.fold(it.od, |most, lump| most.max(lump.size.y.hypot(lump.size.z)));
            let gap = path_to_solid(&it.path, strip)?.distance - 0.5 * thickest;
            Some((it.name.as_str(), clear - gap))
        });
        let all = fixed.chain(walls).chain(unit).chain(modules).chain(leads);
        all.filter(|(_, short)| *short > SAME)
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(name, short)| StripBlocked {
                against: name.to_owned(),
                short,
            })
    }
}

/// A strip's outline in the plane of its rib: from the bottom of the notch
/// across what is left, beyond both sides of it, nowhere beyond the rib.
fn over(face: &RibFace, trim: &Trim, strip: &Strip) -> Option<Outline> {
    let [low, high] = face.bounds();
    let across = [trim.along[0] - strip.lap, trim.along[1] + strip.lap];
    let up = match face.side(trim.edge)? {
        stiffness::Edge::Lower => {
            let bottom = low.y + trim.depth;
            [bottom, bottom + strip.height]
        }
        stiffness::Edge::Upper => {
            let bottom = high.y - trim.depth;
            [bottom - strip.height, bottom]
        }
    };
    let from = DVec2::new(across[0].max(low.x), up[0].max(low.y));
    let to = DVec2::new(across[1].min(high.x), up[1].min(high.y));
    let corners = [from, DVec2::new(to.x, from.y), to, DVec2::new(from.x, to.y)];
    Outline::new(corners.to_vec()).ok()
}
