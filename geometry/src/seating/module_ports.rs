//! Where cables meet a module: on which face, side by side.
//!
//! Nobody measures the sockets of a module that is not fitted yet; a cable may
//! start or end on any face, square to it, as the module may be turned to suit.

use std::collections::BTreeMap;

use glam::DVec3;

use super::ends::Sits;
use super::slots::LOOSE;
use crate::distance::signed_distance;
use crate::job::{Job, LeadEnd, LeadStart};
use crate::layout::Layout;
use crate::measure::{Harm, Reading};
use crate::solids::Solid;

/// Room before a face beyond which more is no better, mm.
const AMPLE: f64 = 40.0;

/// What facing the other end is worth, mm of room.
const FACING: f64 = 15.0;

/// What a cable already on the face costs, mm of room.
const CROWDED: f64 = 4.0;

/// Which end of which cable: the lead's number in the job, the cable, and
/// whether it starts there.
pub type CableAt = (usize, u32, bool);

/// A place on a face of a module.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModulePort {
    /// The place, mm.
    pub face: DVec3,
    /// The way out of the face, a unit vector.
    pub out: DVec3,
}

/// The ports of every module that sits in the cavity.
pub fn module_ports(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    modules: &BTreeMap<String, Sits>,
) -> BTreeMap<CableAt, ModulePort> {
    let mut ports = BTreeMap::new();
    for (id, sits) in modules {
        let Sits::Cavity(block) = sits else { continue };
        let mut faces = faces(layout, modules, id, block);
        for (number, lead) in job.leads.iter().enumerate() {
            let starts = lead.from == LeadStart::Module(id.clone());
            let ends = lead.end == LeadEnd::Module(id.clone());
            for starts in [starts.then_some(true), ends.then_some(false)]
                .into_iter()
                .flatten()
            {
                let other = other_end(job, layout, number, starts, block.centre());
                for cable in 0..lead.cables {
                    let od = lead.cable.od.at(reading, Harm::Larger);
                    let port = take(&mut faces, block.centre(), other, od);
                    ports.insert((number, cable, starts), port);
                }
            }
        }
    }
    ports
}

/// One face and what is taken of it.
struct Face {
    middle: DVec3,
    out: DVec3,
    /// The way cables lie side by side, as long as half the face.
    along: DVec3,
    room: f64,
    /// How far it is taken from its middle each way, mm, and by how many.
    taken: [f64; 2],
    cables: u32,
}

fn faces(layout: &Layout, modules: &BTreeMap<String, Sits>, id: &str, block: &Solid) -> Vec<Face> {
    let bounds = block.bounds();
    let half = 0.5 * (bounds.max - bounds.min);
    let others = modules.iter().filter(|(other, _)| *other != id);
    let others = others.filter_map(|(_, sits)| match sits {
        Sits::Cavity(block) => Some(block),
        Sits::Space(_) => None,
    });
    let solids: Vec<&Solid> = (layout.fixed.iter())
        .filter(|fixed| fixed.id != id)
        .map(|fixed| &fixed.solid)
        .chain(layout.walls.iter().map(|wall| &wall.solid))
        .chain(layout.sliding.iter().map(|piece| &piece.solid))
        .chain(others)
        .collect();
    [DVec3::X, DVec3::Y, DVec3::Z]
        .into_iter()
        .flat_map(|axis| [axis, -axis])
        .map(|out| {
            let middle = block.centre() + out * half;
            let beside = half * (DVec3::ONE - out.abs());
            let along = DVec3::from_array(std::array::from_fn(|axis| {
                let longest = beside.max_element();
                let first = (0..3).position(|it| beside[it] == longest);
                if first == Some(axis) { longest } else { 0.0 }
            }));
            let ahead = Solid::capsule(middle, middle + AMPLE * out, 0.0);
            let gaps = solids.iter().map(|solid| signed_distance(&ahead, solid));
            let free = gaps.fold(AMPLE, f64::min);
            let point = Solid::capsule(middle + 0.5 * AMPLE * out, middle + 0.5 * AMPLE * out, 0.0);
            let near = solids.iter().map(|solid| signed_distance(&point, solid));
            Face {
                middle,
                out,
                along,
                room: free.max(0.0) + near.fold(AMPLE, f64::min),
                taken: [0.0; 2],
                cables: 0,
            }
        })
        .collect()
}

/// Takes a place on the face that suits a cable best.
fn take(faces: &mut [Face], centre: DVec3, other: DVec3, od: f64) -> ModulePort {
    let toward = (other - centre).normalize_or_zero();
    let worth = |face: &Face| {
        let full = face.taken[0].min(face.taken[1]) + od > face.along.length();
        let full = if full && face.cables > 0 {
            AMPLE * 4.0
        } else {
            0.0
        };
        face.room + FACING * face.out.dot(toward) - CROWDED * f64::from(face.cables) - full
    };
    let mut best = 0;
    for number in 1..faces.len() {
        if worth(&faces[number]) > worth(&faces[best]) + 1e-9 {
            best = number;
        }
    }
    let face = &mut faces[best];
    let pitch = od + LOOSE;
    let aside = if face.cables == 0 {
        face.taken = [0.5 * pitch; 2];
        0.0
    } else if face.taken[0] <= face.taken[1] {
        face.taken[0] += pitch;
        face.taken[0] - 0.5 * pitch
    } else {
        face.taken[1] += pitch;
        0.5 * pitch - face.taken[1]
    };
    face.cables += 1;
    ModulePort {
        face: face.middle + aside * face.along.normalize_or_zero(),
        out: face.out,
    }
}

/// Roughly where the other end of a lead is, mm.
pub fn other_end(job: &Job, layout: &Layout, number: usize, starts: bool, here: DVec3) -> DVec3 {
    let lead = &job.leads[number];
    let exit = |id: &str| {
        let mut exits = job.cavity.exits.iter();
        exits.find(|exit| exit.id == id).map(|exit| exit.centre)
    };
    let module = |id: &str| {
        let mut fixed = layout.fixed.iter();
        fixed.find(|it| it.id == id).map(|it| it.solid.centre())
    };
    let found = if starts {
        match &lead.end {
            LeadEnd::Exit(id) => exit(id),
            LeadEnd::Module(id) => module(id),
            LeadEnd::FactoryPlug(id) => {
                let mut plugs = job.cavity.factory_plugs.iter();
                plugs.find(|plug| plug.id == *id).map(|plug| plug.at)
            }
        }
    } else {
        let mut cables = layout.cables.iter();
        let socket = cables.find(|start| start.lead == lead.id).map(|it| it.at);
        socket.or(match &lead.from {
            LeadStart::Module(id) => module(id),
            LeadStart::Socket(_) => None,
        })
    };
    found.unwrap_or(here)
}
