//! The stiff plugs in the unit's sockets, and the room their cables need to turn.

use glam::{DVec2, DVec3};

use super::Seat;
use crate::frame::{ACROSS, DEPTH, Side, UP};
use crate::job::{Job, Lead, LeadStart, Plug, PlugStyle, Socket, SocketFace};
use crate::layout::{CableStart, Sliding, SlidingClass, TurnRoom};
use crate::measure::{Harm, Reading};
use crate::solids::Solid;

/// Where a socket is and which way its plug leaves it.
struct Mouth {
    /// Centre of the socket's face, mm.
    at: DVec3,
    /// The way out of it.
    out: DVec3,
    /// The way the plug's width lies.
    width: DVec3,
    /// The way the plug's height lies.
    height: DVec3,
}

fn mouth(socket: &Socket, seat: &Seat) -> Mouth {
    let centre = DVec3::new(seat.centre.x, seat.front, seat.centre.y);
    match socket.face {
        SocketFace::Rear => Mouth {
            at: DVec3::new(
                seat.centre.x + socket.at.x,
                seat.rear + socket.stands_out,
                seat.centre.y + socket.at.y,
            ),
            out: DEPTH,
            width: ACROSS,
            height: UP,
        },
        SocketFace::On(side) => {
            let out = side.outward();
            // On a side the width of a plug lies along depth.
            let height = if matches!(side, Side::Left | Side::Right) {
                UP
            } else {
                ACROSS
            };
            let reach = out.abs().dot(DVec3::new(seat.half.x, 0.0, seat.half.y));
            Mouth {
                at: centre
                    + socket.at.x * DEPTH
                    + socket.at.y * height
                    + (reach + socket.stands_out) * out,
                out,
                width: DEPTH,
                height,
            }
        }
    }
}

/// The socket a lead plugs into, if it plugs into one of this unit.
fn socket_of<'a>(job: &'a Job, lead: &Lead) -> Option<&'a Socket> {
    let LeadStart::Socket(id) = &lead.from else {
        return None;
    };
    job.unit.sockets.iter().find(|socket| socket.id == *id)
}

/// A box by the three directions it lies along: its centre, and half its size along each.
fn oriented(centre: DVec3, axes: [DVec3; 3], half: DVec3) -> Solid {
    let size = axes[0].abs() * half.x + axes[1].abs() * half.y + axes[2].abs() * half.z;
    Solid::block(centre - size, centre + size)
}

/// The stiff solids of every plug.
pub fn solids(job: &Job, seat: &Seat) -> Vec<Sliding> {
    let mut solids = Vec::new();
    for lead in &job.leads {
        let Some(socket) = socket_of(job, lead) else {
            continue;
        };
        let mouth = mouth(socket, seat);
        for (class, solid) in plug_solids(&lead.plug, &mouth, seat) {
            solids.push(Sliding {
                id: lead.id.clone(),
                name: lead.name.clone(),
                class,
                solid,
            });
        }
    }
    solids
}

fn plug_solids(plug: &Plug, mouth: &Mouth, seat: &Seat) -> Vec<(SlidingClass, Solid)> {
    let larger = |measure: crate::Measure| measure.at(seat.reading, Harm::Larger);
    let half = 0.5 * DVec2::new(larger(plug.width), larger(plug.height));
    let axes = [mouth.width, mouth.height, mouth.out];
    match plug.style {
        PlugStyle::Straight {
            body,
            relief,
            relief_diameter,
        } => {
            let body = larger(body);
            let centre = mouth.at + 0.5 * body * mouth.out;
            let block = oriented(centre, axes, half.extend(0.5 * body));
            let mut solids = vec![(SlidingClass::Plug, block)];
            if relief > 0.0 {
                let from = mouth.at + body * mouth.out;
                let bar = Solid::cylinder(from, from + relief * mouth.out, relief_diameter);
                solids.push((SlidingClass::StrainRelief, bar));
            }
            solids
        }
        PlugStyle::RightAngle {
            stands,
            toward,
            reach,
        } => {
            // Around the socket it is as wide and high as the plug; toward its
            // cable it goes on to `reach`.
            let stands = larger(stands);
            let way = toward.outward();
            let own = mouth.width.abs() * half.x + mouth.height.abs() * half.y;
            let beyond = (reach - own.dot(way.abs())).max(0.0);
            let low = mouth.at - own + (beyond * way).min(DVec3::ZERO);
            let high = mouth.at + own + (beyond * way).max(DVec3::ZERO);
            let out = stands * mouth.out;
            let solid = Solid::block(low + out.min(DVec3::ZERO), high + out.max(DVec3::ZERO));
            vec![(SlidingClass::Plug, solid)]
        }
    }
}

/// Where the cable of every plugged lead starts.
pub fn cable_starts(job: &Job, seat: &Seat) -> Vec<CableStart> {
    job.leads
        .iter()
        .filter_map(|lead| {
            let mouth = mouth(socket_of(job, lead)?, seat);
            Some(cable_start(lead, &mouth, seat))
        })
        .collect()
}

fn cable_start(lead: &Lead, mouth: &Mouth, seat: &Seat) -> CableStart {
    let larger = |measure: crate::Measure| measure.at(seat.reading, Harm::Larger);
    let (along, aside, way) = match lead.plug.style {
        PlugStyle::Straight { body, relief, .. } => (larger(body) + relief, DVec3::ZERO, mouth.out),
        PlugStyle::RightAngle {
            stands,
            toward,
            reach,
        } => {
            let way = toward.outward();
            (0.5 * larger(stands), reach * way, way)
        }
    };
    let width = larger(lead.plug.width) * mouth.width;
    let height = larger(lead.plug.height) * mouth.height;
    CableStart {
        lead: lead.id.clone(),
        abreast: if way.dot(width) == 0.0 { width } else { height },
        at: mouth.at + along * mouth.out + aside,
        way,
        stiff: along + aside.length(),
    }
}

/// The turn room behind every plug on the rear.
pub fn turn_rooms(job: &Job, seat: &Seat) -> Vec<TurnRoom> {
    job.leads
        .iter()
        .filter_map(|lead| {
            let socket = socket_of(job, lead)?;
            (socket.face == SocketFace::Rear).then(|| turn_room(job, lead, socket, seat))
        })
        .collect()
}

fn turn_room(job: &Job, lead: &Lead, socket: &Socket, seat: &Seat) -> TurnRoom {
    let mouth = mouth(socket, seat);
    let turn = turn(job, lead, seat);
    let plug = match lead.plug.style {
        PlugStyle::Straight { body, .. } => body,
        PlugStyle::RightAngle { stands, .. } => stands,
    };
    let relief = match lead.plug.style {
        PlugStyle::Straight { relief, .. } => relief,
        PlugStyle::RightAngle { .. } => 0.0,
    };
    let larger = |measure: crate::Measure| measure.at(seat.reading, Harm::Larger);
    TurnRoom {
        lead: lead.id.clone(),
        name: lead.name.clone(),
        centre: DVec2::new(mouth.at.x, mouth.at.z),
        half: 0.5 * DVec2::new(larger(lead.plug.width), larger(lead.plug.height)),
        socket: mouth.at.y,
        plug: larger(plug) + relief,
        turn: turn.room,
        od: turn.od,
        radius: turn.radius,
    }
}

/// What a lead needs to turn away behind its plug.
struct Turn {
    room: f64,
    od: f64,
    radius: f64,
}

/// Turn room of a straight plug: straight run + centreline radius + half the
/// cable's diameter. A right-angle plug needs none: its own height counts instead.
///
/// The ± found on the bench is of the whole turn and holds for a cable whose
/// diameter is known; a diameter nobody measured may reach further.
fn turn(job: &Job, lead: &Lead, seat: &Seat) -> Turn {
    let cable = &lead.cable;
    let rule = cable.rule(job.rules);
    let od = cable.od.at(seat.reading, Harm::Larger);
    let radius = rule.centreline(od);
    if matches!(lead.plug.style, PlugStyle::RightAngle { .. }) {
        return Turn {
            room: 0.0,
            od,
            radius,
        };
    }
    let room = |od: f64| cable.straight_run + rule.centreline(od) + 0.5 * od;
    let nominal = room(cable.od.value());
    let room = match seat.reading {
        Reading::Nominal => nominal,
        Reading::Worst => room(od).max(nominal + cable.turn_plus_minus),
        Reading::Best => room(od).min(nominal - cable.turn_plus_minus),
    };
    Turn {
        room: room.max(0.0),
        od,
        radius,
    }
}
