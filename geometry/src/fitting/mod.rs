//! From a job to its answer by the instant layer: depth chain, insertion,
//! exact clearances.

mod berths;
mod chain;
pub(crate) mod insertion;
mod lengths;
pub(crate) mod mounting;
pub(crate) mod places;
mod room;
mod tilt;

use glam::{DVec2, DVec3};

pub use berths::Berth;
pub use chain::SHADOW;
pub use mounting::look_proud;
pub use room::VENT_AIR;
pub(crate) use room::vent_plate;

use crate::fit::{ChainLink, Fit, ModuleRoom, Proof, Stop, StopKind, Sure, Verdict};
use crate::job::{Job, NoseSeat, PlugStyle, SocketFace};
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::slack::Weight;
use insertion::{Contact, WallRoom};
use tilt::{Held, Lean};

/// Shorter than this is not short, mm.
const SHORT: f64 = 1e-6;

/// Answers a job by the instant layer.
///
/// The verdict is at the stated measures; the same question is asked once more
/// with every measure at its worst and once at its best, for the range.
pub fn fit(job: &Job) -> Fit {
    let nominal = Assessment::of(job, Reading::Nominal);
    let worst = Assessment::of(job, Reading::Worst);
    let best = Assessment::of(job, Reading::Best);
    answer(job, &nominal, &worst, &best)
}

/// Where everything stiff lets the unit stand, however it came there: ranges
/// of proud by how far out they are. None when the unit can stand nowhere, as in
/// a kit's pocket that is too narrow or behind an opening that it has to stay out of.
///
/// * `reading`: the end of every measure's band to ask at
pub fn berths(job: &Job, reading: Reading) -> Vec<Berth> {
    Assessment::of(job, reading).berths()
}

/// How far out everything stiff holds the unit among the solids of a layout, mm.
pub(crate) fn stiff_proud(job: &Job, layout: &Layout, reading: Reading) -> f64 {
    let contacts = insertion::contacts(layout, wall_room(job));
    let contact = contacts.first().map_or(0.0, |contact| contact.travel);
    let face = mounting::face_stops(job, layout, reading);
    settle(face.iter().map(|stop| stop.short).fold(contact, f64::max))
}

/// A job looked at with every measure at one end of its band.
struct Assessment {
    layout: Layout,
    wall_room: WallRoom,
    links: Vec<ChainLink>,
    contacts: Vec<Contact>,
    face: Vec<Stop>,
    opening: Vec<Stop>,
    modules: Vec<ModuleRoom>,
    left_over: Vec<Stop>,
}

impl Assessment {
    fn of(job: &Job, reading: Reading) -> Assessment {
        let layout = lay_out(job, reading);
        let links = chain::links(&layout, job.cavity.wall_clear);
        let contacts = insertion::contacts(&layout, wall_room(job));
        let face = mounting::face_stops(job, &layout, reading);
        let mut opening = insertion::opening_stops(
            &layout,
            job.cavity.opening.corner_radius,
            job.cavity.slide_gap,
            job.unit.nose.seat == NoseSeat::Enters,
        );
        opening.extend(mounting::pocket_stop(job, &layout, reading));
        let modules = places::module_rooms(job, &layout, reading);
        let left_over = left_over(&modules);
        Assessment {
            layout,
            wall_room: wall_room(job),
            links,
            contacts,
            face,
            opening,
            modules,
            left_over,
        }
    }

    /// How far out everything stiff holds a unit that slides straight in, mm.
    fn rigid_proud(&self) -> f64 {
        let contact = self.contacts.first().map_or(0.0, |contact| contact.travel);
        settle(contact.max(self.face_proud()))
    }

    /// How far out the finished face holds the unit, mm.
    fn face_proud(&self) -> f64 {
        self.face.iter().map(|stop| stop.short).fold(0.0, f64::max)
    }

    /// Where everything stiff lets the unit stand.
    fn berths(&self) -> Vec<Berth> {
        berths::berths(
            &self.layout,
            &self.contacts,
            &self.opening,
            self.wall_room,
            [self.face_proud(), self.rigid_proud()].map(settle),
        )
    }

    /// Nothing stiff stands less proud than this, mm, whatever way it came.
    fn least_standing(&self) -> f64 {
        let berths = self.berths();
        berths.first().map_or(self.rigid_proud(), |it| it.from)
    }

    /// How far out anything holds the unit, mm; `None` when it does not go in.
    fn proud(&self) -> Option<f64> {
        if !self.opening.is_empty() {
            return None;
        }
        let chain = self
            .links
            .iter()
            .filter_map(|link| link.margin)
            .fold(0.0, |proud, margin| f64::max(proud, -margin));
        Some(settle(chain.max(self.rigid_proud())))
    }

    /// Least depth to spare, mm.
    fn margin(&self) -> f64 {
        let chain = self.links.iter().filter_map(|link| link.margin);
        let contact = self.contacts.first().map(|contact| -contact.travel);
        let face = self.face.iter().map(|stop| -stop.short);
        chain
            .chain(contact)
            .chain(face)
            .fold(f64::INFINITY, f64::min)
    }

    fn verdict(&self, limit: f64) -> Verdict {
        match self.proud() {
            _ if !self.left_over.is_empty() => Verdict::Blocked,
            Some(proud) if proud <= 0.0 => Verdict::Flush,
            Some(proud) if proud <= limit => Verdict::Proud,
            _ => Verdict::Blocked,
        }
    }

    /// Everything that stops the unit, each pair once, the worst first.
    fn stops(&self) -> Vec<Stop> {
        let mut stops = self.opening.clone();
        stops.extend(self.left_over.iter().cloned());
        stops.extend(self.face.iter().cloned());
        stops.extend(self.chain_stops());
        stops.extend(
            self.contacts
                .iter()
                .filter(|contact| contact.travel > SHORT)
                .map(|contact| contact.stop(&self.layout)),
        );
        stops.sort_by(|a, b| b.short.total_cmp(&a.short));
        let mut kept: Vec<Stop> = Vec::new();
        for stop in stops {
            let known = kept.iter().any(|other| {
                other.piece_id == stop.piece_id && other.against_id == stop.against_id
            });
            if !known {
                kept.push(stop);
            }
        }
        kept
    }

    fn chain_stops(&self) -> impl Iterator<Item = Stop> + '_ {
        self.links
            .iter()
            .zip(&self.layout.turns)
            .filter_map(|(link, turn)| {
                let short = -link.margin?;
                if short <= SHORT {
                    return None;
                }
                let stiff = short > link.turn;
                Some(Stop {
                    what: if stiff {
                        StopKind::Plug
                    } else {
                        StopKind::Cable
                    },
                    piece: link.name.clone(),
                    part: if stiff {
                        "stiff plug"
                    } else {
                        "turn of its cable"
                    }
                    .to_owned(),
                    piece_id: link.lead.clone(),
                    against: link.against_name.clone()?,
                    against_id: link.against.clone()?,
                    short,
                    at: DVec3::new(turn.centre.x, link.available?, turn.centre.y),
                })
            })
    }

    /// Every place of the unit that is held out.
    fn held(&self) -> Vec<Held> {
        let chain = self
            .links
            .iter()
            .zip(&self.layout.turns)
            .filter_map(|(link, turn)| {
                link.margin.map(|margin| Held {
                    at: turn.centre,
                    proud: -margin,
                })
            });
        let contacts = self.contacts.iter().map(|contact| Held {
            at: lateral(contact.at),
            proud: contact.travel,
        });
        let face = self.face.iter().map(|stop| Held {
            at: lateral(stop.at),
            proud: stop.short,
        });
        chain
            .chain(contacts)
            .chain(face)
            .filter(|held| held.proud > SHORT)
            .collect()
    }
}

/// Proud smaller than can be told from 0 is 0, mm.
fn settle(proud: f64) -> f64 {
    if proud <= SHORT { 0.0 } else { proud }
}

fn lateral(point: DVec3) -> DVec2 {
    DVec2::new(point.x, point.z)
}

pub(crate) fn wall_room(job: &Job) -> WallRoom {
    WallRoom {
        unit: job.cavity.slide_gap,
        plug: job.cavity.wall_clear,
    }
}

/// A stop for every movable module that has no place. One that may go anywhere
/// in the cavity is not among them: this layer does not look there.
fn left_over(modules: &[ModuleRoom]) -> Vec<Stop> {
    let places = places::assign(modules);
    modules
        .iter()
        .zip(places)
        .filter(|(module, place)| !module.pinned && !module.anywhere && place.is_none())
        .map(|(module, _)| {
            let (against, short) = match &module.closest_miss {
                Some((place, short)) => (place.clone(), *short),
                None if module.fits.is_empty() => ("no space is named for it".to_owned(), 0.0),
                None => ("every place it fits is taken".to_owned(), 0.0),
            };
            Stop {
                what: StopKind::Module,
                piece: module.name.clone(),
                part: String::new(),
                piece_id: module.module.clone(),
                against: against.clone(),
                against_id: against,
                short,
                at: DVec3::ZERO,
            }
        })
        .collect()
}

fn answer(job: &Job, nominal: &Assessment, worst: &Assessment, best: &Assessment) -> Fit {
    let limit = job.proud_limit;
    let verdict = nominal.verdict(limit);
    let proud = nominal.proud();
    let corners = proud.map(|proud| stand(job, nominal, proud));
    let pairs = mounting::hole_pairs(job, &nominal.layout);
    let same = [worst, best]
        .iter()
        .all(|end| end.verdict(limit) == verdict);
    let sure = match (job.unmeasured.is_empty(), same) {
        (true, true) => Sure::Yes,
        (true, false) => Sure::No,
        (false, _) => Sure::Doubtful,
    };
    let mut chain: Vec<ChainLink> = nominal
        .links
        .iter()
        .zip(&worst.links)
        .map(|(link, worst)| ChainLink {
            margin_plus_minus: link
                .margin
                .zip(worst.margin)
                .map_or(0.0, |(at, low)| at - low),
            ..link.clone()
        })
        .collect();
    chain.sort_by(|a, b| {
        let margin = |link: &ChainLink| link.margin.unwrap_or(f64::INFINITY);
        margin(a).total_cmp(&margin(b))
    });
    let lengths = lengths::lengths(job, &nominal.layout);
    let mut not_ready = mounting::not_ready(job, &pairs);
    not_ready.extend(lengths::too_short(&lengths));
    let mut remarks = remarks(job, &nominal.layout);
    remarks.extend(lengths::held_out(&lengths, Weight::Warning));
    let range = [best, worst].map(|end| end.proud().unwrap_or(f64::INFINITY));
    Fit {
        verdict,
        sure,
        proof: Proof::ClosedForm,
        proud,
        proud_corners: corners,
        proud_range: range,
        proud_lower_bound: nominal.least_standing(),
        look_proud: corners.and_then(|corners| mounting::look_proud(job, &nominal.layout, corners)),
        margin: nominal.margin(),
        unmeasured: job.unmeasured.clone(),
        stopped_by: nominal.stops(),
        chain,
        rooms: room::rooms(
            &nominal.layout,
            mounting::pocket_room(job, Reading::Nominal),
        ),
        modules: nominal.modules.clone(),
        not_ready,
        hole_pairs: pairs,
        remarks,
        lengths,
    }
}

/// How far the four corners stand out when the worst one stands out by `proud`, mm.
fn stand(job: &Job, nominal: &Assessment, proud: f64) -> [f64; 4] {
    let level = [proud; 4];
    if proud <= 0.0 {
        return level;
    }
    let layout = &nominal.layout;
    let lean = lean(nominal);
    let corners = tilt::corners(layout.chassis_face).map(|corner| settle(lean.at(corner)));
    let tilted = corners.iter().any(|corner| (corner - proud).abs() > SHORT);
    if tilted && tilt::stands_free(layout, &lean, wall_room(job)) {
        corners
    } else {
        level
    }
}

/// The lowest lean over everything that holds the unit out. Places are taken
/// in as they are found to matter, so that the programme stays small.
fn lean(nominal: &Assessment) -> Lean {
    let layout = &nominal.layout;
    let held = nominal.held();
    let engaged = (layout.chassis_rear).max(1.0);
    let outer = layout
        .sliding
        .iter()
        .filter(|piece| !piece.is_plug() && !piece.is_in_front())
        .map(|piece| piece.solid.bounds())
        .fold(DVec2::ZERO, |outer, bounds| {
            outer.max(lateral(bounds.max)).max(-lateral(bounds.min))
        });
    let play = 2.0 * (layout.opening_half - outer) / engaged;
    let mut counted: Vec<Held> = Vec::new();
    loop {
        let lean = if counted.is_empty() {
            Lean {
                base: 0.0,
                slope: DVec2::ZERO,
            }
        } else {
            tilt::lowest_lean(layout.chassis_face, &counted, play)
        };
        let missed = held
            .iter()
            .map(|held| (held.proud - lean.at(held.at), held))
            .filter(|(short, _)| *short > SHORT)
            .max_by(|a, b| a.0.total_cmp(&b.0));
        match missed {
            Some((_, held)) if counted.len() < LEAN_PLACES => counted.push(*held),
            Some(_) => {
                let worst = held.iter().map(|held| held.proud).fold(0.0, f64::max);
                return Lean {
                    base: worst,
                    slope: DVec2::ZERO,
                };
            }
            None => return lean,
        }
    }
}

/// More places than this and the unit is taken to stand level.
const LEAN_PLACES: usize = 8;

fn remarks(job: &Job, layout: &Layout) -> Vec<String> {
    let mut remarks = mounting::nose_remarks(job, layout);
    remarks.extend(room::vent_remarks(job, layout));
    remarks.extend(side_lead_remarks(job, layout));
    remarks
}

/// Remarks on leads that plug into a side of the unit.
fn side_lead_remarks(job: &Job, layout: &Layout) -> Vec<String> {
    let mut remarks = Vec::new();
    for lead in &job.leads {
        let crate::job::LeadStart::Socket(id) = &lead.from else {
            continue;
        };
        let socket = job.unit.sockets.iter().find(|socket| socket.id == *id);
        let Some(SocketFace::On(side)) = socket.map(|socket| socket.face) else {
            continue;
        };
        let turn = match lead.plug.style {
            PlugStyle::Straight { .. } => {
                let od = lead.cable.od.value();
                lead.cable.straight_run + lead.cable.rule(job.rules).centreline(od) + 0.5 * od
            }
            PlugStyle::RightAngle { .. } => 0.0,
        };
        for piece in layout
            .sliding
            .iter()
            .filter(|piece| piece.is_plug() && piece.id == lead.id)
        {
            remarks.extend(room::side_lead_remark(
                layout,
                &lead.name,
                &piece.solid,
                side,
                turn,
            ));
        }
    }
    remarks
}
