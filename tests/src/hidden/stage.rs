//! The unit in its empty cavity: what a hidden route has to keep away from.

use geometry::{
    Job, Layout, Lead, LeadStart, Path, PlugStyle, Reading, SlidingClass, SocketFace, Solid,
    lay_out, path_to_solid,
};
use glam::DVec3;

use super::boxed::Boxed;
use super::boxes::Placed;
use super::shell::Door;

/// Room that hidden routes keep beyond what the rules ask, mm.
#[derive(Clone, Copy, Debug)]
pub struct Spare {
    /// To other leads, plugs and the chassis.
    pub apart: f64,
    /// To walls, modules and the air of vents.
    pub little: f64,
}

impl Spare {
    /// Nothing but what the rules ask.
    pub const NONE: Spare = Spare {
        apart: 0.0,
        little: 0.0,
    };

    /// What hidden routes keep.
    pub const HIDDEN: Spare = Spare {
        apart: 0.5,
        little: 0.2,
    };
}

/// What a lead ends or starts at.
#[derive(Clone, Debug)]
pub enum Port {
    /// A socket: where the cable leaves the plug, and the way it leaves.
    Plug(DVec3, DVec3),
    /// A module of this number.
    Module(usize),
    /// An exit of this number: the middle of the lead in its plane.
    Door(usize, DVec3),
}

/// One cable of a lead, to be laid.
#[derive(Clone, Debug)]
pub struct Cable {
    /// Id of the lead.
    pub id: String,
    /// Which of its cables, from 0.
    pub number: u32,
    /// Where it starts.
    pub from: Port,
    /// Where it ends.
    pub to: Port,
    /// Diameter, mm.
    pub od: f64,
    /// Tightest turn at its middle, mm.
    pub radius: f64,
    /// Straight run behind its plug, mm.
    pub straight: f64,
    /// Stiff length of its plug, mm.
    pub stiff: f64,
}

/// Everything in place.
pub struct Stage {
    /// The job without obstacles, as solids.
    pub layout: Layout,
    /// How many leads there are.
    pub leads: usize,
    /// Room to the walls, mm.
    pub wall_clear: f64,
    /// Exits.
    pub doors: Vec<Door>,
    /// Modules.
    pub modules: Vec<Placed>,
    /// Vents of the unit, each a plate.
    pub vents: Vec<Solid>,
}

/// The end of the plug of a lead on the rear: where its cable leaves it, the
/// way, and the stiff length up to there, mm.
pub fn plug_end(job: &Job, layout: &Layout, lead: &Lead) -> Option<(DVec3, DVec3, f64)> {
    let LeadStart::Socket(id) = &lead.from else {
        return None;
    };
    let socket = job.unit.sockets.iter().find(|socket| socket.id == *id)?;
    if socket.face != SocketFace::Rear {
        return None;
    }
    let rear = layout.chassis_rear + socket.stands_out;
    let face = DVec3::new(
        job.unit.offset.x + socket.at.x,
        rear,
        job.unit.offset.y + socket.at.y,
    );
    Some(match lead.plug.style {
        PlugStyle::Straight { body, relief, .. } => {
            let stiff = body.value() + relief;
            (face + stiff * DVec3::Y, DVec3::Y, stiff)
        }
        PlugStyle::RightAngle {
            stands,
            toward,
            reach,
        } => {
            let (out, way) = (0.5 * stands.value(), toward.outward());
            (face + out * DVec3::Y + reach * way, way, out + reach)
        }
    })
}

impl Stage {
    /// The draft of a job in place.
    pub fn new(job: &Job, doors: Vec<Door>, modules: Vec<Placed>) -> Stage {
        let layout = lay_out(job, Reading::Nominal);
        let vents = job
            .unit
            .vents
            .iter()
            .map(|vent| {
                let at = DVec3::new(
                    job.unit.offset.x + vent.at.x,
                    layout.chassis_rear,
                    job.unit.offset.y + vent.at.y,
                );
                let half = 0.5 * DVec3::new(vent.size.x, 0.0, vent.size.y);
                Solid::block(at - half, at + half)
            })
            .collect();
        Stage {
            layout,
            leads: job.leads.len(),
            wall_clear: job.cavity.wall_clear,
            doors,
            modules,
            vents,
        }
    }

    /// Whether a path may lie here, the others laid already or reserved.
    ///
    /// * `others`: each with its diameter, mm
    /// * `spare`: room beyond what the rules ask
    pub fn allows(
        &self,
        cable: &Cable,
        path: &Path,
        others: &[(f64, Boxed)],
        spare: Spare,
    ) -> bool {
        let Spare { apart, little } = spare;
        let half = 0.5 * cable.od;
        let boxed = Boxed::new(path);
        let count = path.pieces.len();
        let meets = |(od, other): &(f64, Boxed)| boxed.meets(other, half + 0.5 * od + apart);
        if others.iter().any(meets) {
            return false;
        }
        let first = usize::from(!matches!(cable.from, Port::Door(..)));
        let sliding = self.layout.sliding.iter().any(|piece| {
            let own = piece.is_plug() && piece.id == cable.id;
            let pieces = if own { first } else { 0 }..count;
            let room = half + if own { 0.0 } else { apart };
            boxed.comes_near(pieces, &piece.solid, &piece.solid.bounds(), room)
        });
        let air = half + geometry::VENT_AIR + little;
        let near_vent = |vent: &Solid| boxed.comes_near(0..count, vent, &vent.bounds(), air);
        !sliding
            && !self.vents.iter().any(near_vent)
            && self.walls_allow(cable, &boxed, count, little)
            && self.modules_allow(cable, &boxed, count, little)
    }

    fn walls_allow(&self, cable: &Cable, path: &Boxed, count: usize, little: f64) -> bool {
        let room = 0.5 * cable.od + self.wall_clear + little;
        let (own_wall, inside) = match cable.to {
            Port::Door(door, _) => (self.doors[door].wall, count - 1),
            _ => ("", count),
        };
        !self.layout.walls.iter().any(|wall| {
            let pierced = !own_wall.is_empty() && wall.name.starts_with(own_wall);
            let pieces = 0..if pierced { inside } else { count };
            path.comes_near(pieces, &wall.solid, &wall.solid.bounds(), room)
        })
    }

    fn modules_allow(&self, cable: &Cable, path: &Boxed, count: usize, little: f64) -> bool {
        let room = 0.5 * cable.od + super::boxes::CLEAR + little;
        !self.modules.iter().enumerate().any(|(number, module)| {
            let is = |port: &Port| matches!(port, Port::Module(own) if *own == number);
            let from = usize::from(is(&cable.from));
            let to = count - usize::from(is(&cable.to));
            let solid = module.solid();
            path.comes_near(from..to.max(from), &solid, &solid.bounds(), room)
        })
    }

    /// Solids that no obstacle comes near, at the seat or on the way in.
    pub fn kept_free(&self) -> Vec<Solid> {
        let layout = &self.layout;
        let mut kept: Vec<Solid> = layout
            .sliding
            .iter()
            .filter(|piece| !matches!(piece.class, SlidingClass::Nose | SlidingClass::Overhang))
            .map(|piece| {
                let bounds = piece.solid.bounds();
                let outside = DVec3::new(bounds.min.x, -20.0, bounds.min.z);
                Solid::block(outside, bounds.max)
            })
            .collect();
        // What the quick rule asks behind every plug.
        let [low, high] = layout.chassis_face;
        for turn in &layout.turns {
            let grown = turn.half + glam::DVec2::splat(geometry::SHADOW);
            let from = (turn.centre - grown).max(low);
            let to = (turn.centre + grown).min(high);
            kept.push(Solid::block(
                DVec3::new(from.x, turn.socket, from.y),
                DVec3::new(to.x, turn.end() + 0.1, to.y),
            ));
        }
        for door in &self.doors {
            let [from, to] = [-20.0, 15.0].map(|along| door.centre + along * door.way);
            kept.push(Solid::cylinder(from, to, 2.0 * door.radius));
        }
        for vent in &self.vents {
            let bounds = vent.bounds();
            let air = DVec3::new(0.0, geometry::VENT_AIR, 0.0);
            kept.push(Solid::block(bounds.min, bounds.max + air));
        }
        for module in &self.modules {
            kept.push(Solid::block(module.pocket[0], module.pocket[1]));
        }
        kept
    }

    /// From the surface of a lead to a solid, mm.
    pub fn gap(cable: &Cable, path: &Path, solid: &Solid) -> f64 {
        path_to_solid(path, solid).map_or(f64::INFINITY, |near| near.distance - 0.5 * cable.od)
    }
}
