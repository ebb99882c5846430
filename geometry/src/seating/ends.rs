//! Where leads end: in their slot of an exit, on a face of a module, or at a
//! plug of the factory loom.

use std::collections::BTreeMap;

use glam::DVec3;

use super::plan::abreast;
use super::slots::{LOOSE, Leaver, line_up, slots};
use crate::distance::signed_distance;
use crate::job::{Job, LeadEnd};
use crate::layout::Layout;
use crate::measure::{Harm, Reading};
use crate::solids::Solid;

/// The last straight run before a plug of the factory loom, mm. Common practice, no source.
const BEFORE_PLUG: f64 = 15.0;

/// Room beyond what is asked for at the end of a way, mm, so that rounding never matters.
const HAIR: f64 = 1e-3;

/// Where a lead ends.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// The exit it leaves by.
    pub exit: Option<String>,
    /// Where its way through the cavity ends, mm.
    pub at: DVec3,
    /// The way it goes there, a unit vector.
    pub way: DVec3,
    /// Straight run before it, mm.
    pub straight: f64,
    /// Straight on to here, in the plane of its exit or on the face of its module, mm.
    pub last: DVec3,
    /// And on behind the exit before it may turn, mm.
    pub run_beyond: f64,
    /// Length of lead wanted from `last` on, mm.
    pub beyond: f64,
}

/// Where a module sits while leads are laid.
#[derive(Clone, Debug, PartialEq)]
pub enum Sits {
    /// In the cavity, as this block.
    Cavity(Solid),
    /// In this space outside it.
    Space(String),
}

/// The ends of all leads, each lead of an exit in a slot of its own.
pub struct Ends<'a> {
    job: &'a Job,
    layout: &'a Layout,
    reading: Reading,
    modules: &'a BTreeMap<String, Sits>,
    slots: BTreeMap<(usize, u32), DVec3>,
}

impl<'a> Ends<'a> {
    /// Shares out the exits.
    pub fn new(
        job: &'a Job,
        layout: &'a Layout,
        reading: Reading,
        modules: &'a BTreeMap<String, Sits>,
    ) -> Ends<'a> {
        let mut ends = Ends {
            job,
            layout,
            reading,
            modules,
            slots: BTreeMap::new(),
        };
        for exit in &job.cavity.exits {
            let leaving: Vec<((usize, u32), Leaver)> = layout
                .cables
                .iter()
                .filter_map(|start| {
                    let number = job.leads.iter().position(|lead| lead.id == start.lead)?;
                    let lead = &job.leads[number];
                    (ends.exit_of(&lead.end) == Some(exit.id.as_str())).then_some((number, start))
                })
                .flat_map(|(number, start)| {
                    let lead = &job.leads[number];
                    (0..lead.cables).map(move |cable| {
                        let leaver = Leaver {
                            od: lead.cable.od.at(reading, Harm::Larger),
                            from: start.at + abreast(start, lead, cable),
                        };
                        ((number, cable), leaver)
                    })
                })
                .collect();
            let leavers: Vec<Leaver> = leaving.iter().map(|(_, leaver)| *leaver).collect();
            let numbers = leaving.iter().map(|(number, _)| *number);
            ends.slots.extend(numbers.zip(slots(exit, &leavers)));
        }
        ends
    }

    /// The exit a lead leaves by, if it leaves.
    fn exit_of(&self, end: &'a LeadEnd) -> Option<&'a str> {
        match end {
            LeadEnd::Exit(id) => Some(id),
            LeadEnd::Module(id) => match self.modules.get(id) {
                Some(Sits::Space(space)) => {
                    let mut spaces = self.job.cavity.spaces.iter();
                    let space = spaces.find(|it| it.id == *space)?;
                    Some(space.exit.as_str())
                }
                _ => None,
            },
            LeadEnd::FactoryPlug(_) => None,
        }
    }

    /// Where a cable of a lead ends, by the lead's number in the job; or why
    /// nowhere, in words.
    pub fn end_of(&self, number: usize, cable: u32) -> Result<End, String> {
        let lead = &self.job.leads[number];
        if let Some(id) = self.exit_of(&lead.end) {
            return self.through(number, cable, id);
        }
        match &lead.end {
            LeadEnd::Module(id) => match self.modules.get(id) {
                Some(Sits::Cavity(block)) => Ok(self.on_module(number, cable, id, block)),
                _ => Err("its module has no place".to_owned()),
            },
            LeadEnd::FactoryPlug(id) => self.at_factory_plug(id),
            LeadEnd::Exit(_) => Err("its exit is not in the job".to_owned()),
        }
    }

    fn through(&self, number: usize, cable: u32, id: &str) -> Result<End, String> {
        let lead = &self.job.leads[number];
        let exit = self.job.cavity.exits.iter().find(|exit| exit.id == id);
        let (Some(exit), Some(slot)) = (exit, self.slots.get(&(number, cable))) else {
            return Err("its exit is not in the job".to_owned());
        };
        let walls: Vec<&Solid> = self.layout.walls.iter().map(|wall| &wall.solid).collect();
        let room =
            0.5 * lead.cable.od.at(self.reading, Harm::Larger) + self.job.cavity.wall_clear + HAIR;
        let at = line_up(exit, *slot, &walls, room)
            .ok_or_else(|| format!("no room before the {} to line up with it", exit.name))?;
        let space = match &lead.end {
            LeadEnd::Module(module) => match self.modules.get(module) {
                Some(Sits::Space(space)) => {
                    let mut spaces = self.job.cavity.spaces.iter();
                    spaces.find(|it| it.id == *space).map(|space| space.run)
                }
                _ => None,
            },
            _ => None,
        };
        Ok(End {
            exit: Some(id.to_owned()),
            at,
            way: exit.direction,
            straight: 0.0,
            last: *slot,
            run_beyond: exit.run_beyond,
            beyond: lead.beyond.or(space).unwrap_or(0.0),
        })
    }

    /// The face of the module that the lead reaches with the most room before it.
    fn on_module(&self, number: usize, cable: u32, id: &str, block: &Solid) -> End {
        let lead = &self.job.leads[number];
        let clear = self.job.modules.iter().find(|module| module.id == id);
        let stand = 0.5 * lead.cable.od.at(self.reading, Harm::Larger)
            + clear.map_or(0.0, |module| module.clear)
            + HAIR;
        let od = lead.cable.od.at(self.reading, Harm::Larger);
        let radius = lead.cable.rule(self.job.rules).centreline(od);
        let bounds = block.bounds();
        let centre = block.centre();
        let half = 0.5 * (bounds.max - bounds.min);
        let faces = [DVec3::X, DVec3::Y, DVec3::Z]
            .into_iter()
            .flat_map(|axis| [axis, -axis])
            .map(|out| {
                let face = centre + out * half;
                let ahead = face + (stand + radius) * out;
                (self.room_at(ahead), face, out)
            });
        let best = faces.max_by(|a, b| a.0.total_cmp(&b.0));
        let (_, middle, out) = best.unwrap_or((0.0, centre, DVec3::Y));
        // Several cables side by side.
        let share = f64::from(cable) - 0.5 * f64::from(lead.cables - 1);
        let face = middle + share * (od + LOOSE) * out.any_orthonormal_vector();
        End {
            exit: None,
            at: face + stand * out,
            way: -out,
            straight: lead.cable.straight_run,
            last: face,
            run_beyond: 0.0,
            beyond: lead.beyond.unwrap_or(0.0),
        }
    }

    fn room_at(&self, point: DVec3) -> f64 {
        let dot = Solid::capsule(point, point, 0.0);
        let fixed = self.layout.fixed.iter().map(|fixed| &fixed.solid);
        let walls = self.layout.walls.iter().map(|wall| &wall.solid);
        fixed
            .chain(walls)
            .map(|solid| signed_distance(&dot, solid))
            .fold(f64::INFINITY, f64::min)
    }

    fn at_factory_plug(&self, id: &str) -> Result<End, String> {
        let mut plugs = self.job.cavity.factory_plugs.iter();
        let plug = plugs
            .find(|plug| plug.id == id)
            .ok_or_else(|| "its factory plug is not in the job".to_owned())?;
        Ok(End {
            exit: None,
            at: plug.at,
            way: -plug.direction,
            straight: BEFORE_PLUG,
            last: plug.at,
            run_beyond: 0.0,
            beyond: 0.0,
        })
    }
}
