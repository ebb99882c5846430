//! Where leads end: in their slot of an exit, on a face of a module, or at a
//! plug of the factory loom.

use std::collections::BTreeMap;

use glam::DVec3;

use super::module_ports::{CableAt, ModulePort, module_ports};
use super::plan::abreast;
use super::slots::{Leaver, line_up, slots};
use crate::job::{Job, LeadEnd, LeadStart};
use crate::layout::{CableStart, Layout};
use crate::measure::{Harm, Reading};
use crate::solids::Solid;

/// The last straight run before a plug of the factory loom, mm. Common practice, no source.
const BEFORE_PLUG: f64 = 15.0;

/// Room beyond what is asked for at the end of a way, mm, so that rounding never matters.
pub const HAIR: f64 = 1e-3;

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

/// Where a cable starts.
#[derive(Clone, Debug, PartialEq)]
pub struct Start {
    /// The very first point: on its module's face, or the same as the next, mm.
    pub first: DVec3,
    /// Where its way through the cavity starts, the unit at its seat.
    pub cable: CableStart,
    /// Whether it moves with the unit.
    pub slides: bool,
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
    ports: BTreeMap<CableAt, ModulePort>,
    slots: BTreeMap<(usize, u32), DVec3>,
}

impl<'a> Ends<'a> {
    /// Shares out the exits.
    ///
    /// * `variant`: which way cables lie in them
    pub fn new(
        job: &'a Job,
        layout: &'a Layout,
        reading: Reading,
        modules: &'a BTreeMap<String, Sits>,
        variant: usize,
    ) -> Ends<'a> {
        let mut ends = Ends {
            job,
            layout,
            reading,
            modules,
            ports: module_ports(job, layout, reading, modules),
            slots: BTreeMap::new(),
        };
        for exit in &job.cavity.exits {
            let leaving: Vec<((usize, u32), Leaver)> = (0..job.leads.len())
                .filter(|lead| ends.exit_of(&job.leads[*lead].end) == Some(exit.id.as_str()))
                .flat_map(|lead| (0..job.leads[lead].cables).map(move |cable| (lead, cable)))
                .filter_map(|(lead, cable)| {
                    let leaver = Leaver {
                        od: job.leads[lead].cable.od.at(reading, Harm::Larger),
                        from: ends.start_of(lead, cable)?.cable.at,
                    };
                    Some(((lead, cable), leaver))
                })
                .collect();
            let leavers: Vec<Leaver> = leaving.iter().map(|(_, leaver)| *leaver).collect();
            let numbers = leaving.iter().map(|(number, _)| *number);
            ends.slots
                .extend(numbers.zip(slots(exit, &leavers, variant)));
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
            LeadEnd::Module(id) => self.on_module(number, cable, id),
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

    /// Where a cable starts: behind its plug, or on its module; `None` when it
    /// does not start in the cavity.
    pub fn start_of(&self, number: usize, cable: u32) -> Option<Start> {
        let lead = &self.job.leads[number];
        match &lead.from {
            LeadStart::Socket(_) => {
                let mut cables = self.layout.cables.iter();
                let start = cables.find(|start| start.lead == lead.id)?;
                let at = start.at + abreast(start, lead, cable);
                Some(Start {
                    first: at,
                    cable: CableStart {
                        at,
                        ..start.clone()
                    },
                    slides: true,
                })
            }
            LeadStart::Module(id) => {
                let port = self.ports.get(&(number, cable, true))?;
                let stand = self.stand(number, id);
                Some(Start {
                    first: port.face,
                    cable: CableStart {
                        lead: lead.id.clone(),
                        at: port.face + stand * port.out,
                        way: port.out,
                        abreast: DVec3::ZERO,
                        stiff: stand,
                    },
                    slides: false,
                })
            }
        }
    }

    /// How far a cable keeps from a module before it turns to it, mm.
    fn stand(&self, number: usize, module: &str) -> f64 {
        let od = self.job.leads[number]
            .cable
            .od
            .at(self.reading, Harm::Larger);
        let mut modules = self.job.modules.iter();
        let clear = modules
            .find(|it| it.id == module)
            .map_or(0.0, |it| it.clear);
        0.5 * od + clear + HAIR
    }

    fn on_module(&self, number: usize, cable: u32, id: &str) -> Result<End, String> {
        let lead = &self.job.leads[number];
        let port = self.ports.get(&(number, cable, false));
        let port = port.ok_or_else(|| "its module has no place".to_owned())?;
        let stand = self.stand(number, id);
        Ok(End {
            exit: None,
            at: port.face + stand * port.out,
            way: -port.out,
            straight: (lead.cable.straight_run - stand).max(0.0),
            last: port.face,
            run_beyond: 0.0,
            beyond: lead.beyond.unwrap_or(0.0),
        })
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
