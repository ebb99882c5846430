//! One draft of a hidden cavity, from its parts to its answer.

use geometry::{Job, Lead, LeadEnd, LeadStart, Path, Verdict, fit};
use glam::{DVec2, DVec3};
use profiles::Library;
use profiles::schema::{BendRules, JobFile, LeadEndFile, SlackGoesFile};

use super::boxes::{self, Placed};
use super::fill::Site;
use super::free::Room;
use super::parts::{self, Kind};
use super::shell::{self, Door, Shell, mm};
use super::stage::{self, Cable, Port, Stage};
use super::{FREE, Hidden, HiddenAnswer, HiddenRoute, loom, stats, ways};
use crate::chance::Chance;

/// A cavity with everything in it but routes and obstacles.
pub struct Draft<'a> {
    library: &'a Library,
    number: u64,
    chance: Chance,
    shell: Shell,
    file: JobFile,
    job: Job,
    stage: Stage,
    cables: Vec<Cable>,
}

impl<'a> Draft<'a> {
    /// A draft of a seed; `None` when something found no place.
    pub fn new(library: &'a Library, seed: u64, number: u64) -> Option<Draft<'a>> {
        let mut chance = Chance::new(seed, number);
        let total = 10 + (seed % 5) as usize;
        let carried: Vec<Option<Kind>> = (0..2)
            .map(|_| chance.happens(0.5).then(|| *chance.pick(&parts::CARRIED)))
            .collect();
        let plugged = parts::choose(total - carried.iter().flatten().count(), &mut chance);
        let (base, depth) = *chance.pick(&[("full_depth", 165.0), ("short_110", 110.0)]);
        let shell = shell::shell(depth, &mut chance);
        let numbers = shell::plugs_in_numbers(&plugged, library);
        let plugs: Vec<_> = plugged
            .iter()
            .map(|kind| (kind, numbers[kind.plug].clone()))
            .collect();
        let unit = shell::unit(base, &plugs, library, &mut chance)?;
        let rules = *chance.pick(&[BendRules::Published, BendRules::Shop]);
        let doors = shell::doors(&shell, 4 + chance.below(3), &mut chance)?;
        let mut file = shell::bare_file(seed, &shell, unit, rules);

        // Leads to modules first: each module has one lead, its own or the unit's.
        let mut plugged_end: Vec<Option<usize>> = vec![None; plugged.len()];
        for (module, own) in carried.iter().enumerate() {
            if own.is_none() {
                // Not the main plug: it never ends at a module.
                let thin: Vec<usize> = (1..plugged.len())
                    .filter(|i| plugged_end[*i].is_none() && plugged[*i].cables == 1)
                    .collect();
                plugged_end[*chance.pick(&thin)] = Some(module);
            }
        }
        for (index, kind) in plugged.iter().enumerate() {
            let end = match plugged_end[index] {
                Some(module) => to_module(module),
                None => to_door(&doors, &file, index, &mut chance),
            };
            let mut lead = shell::lead_file(format!("L{}", index + 1), kind, end);
            lead.socket = Some(format!("S{}", index + 1));
            file.leads.push(lead);
        }
        for (module, kind) in carried.iter().enumerate() {
            if let Some(kind) = kind {
                let door = chance.pick(&doors).id.clone();
                let id = format!("L{}", file.leads.len() + 1);
                let mut lead = shell::lead_file(id, kind, exit_end(door));
                lead.module = Some(format!("M{}", module + 1));
                file.leads.push(lead);
            }
        }
        Draft::staged(library, number, chance, shell, file, doors)
    }

    /// Finds places for the modules and for every lead in its exit.
    fn staged(
        library: &'a Library,
        number: u64,
        mut chance: Chance,
        shell: Shell,
        mut file: JobFile,
        mut doors: Vec<Door>,
    ) -> Option<Draft<'a>> {
        file.cavity.exits = doors.iter().map(shell::exit_file).collect();
        let parts = [*chance.pick(&parts::MODULES), *chance.pick(&parts::MODULES)];
        file.modules = (0..2)
            .map(|i| boxes::module_file(&format!("M{}", i + 1), parts[i], None))
            .collect();
        let job = profiles::inline(&file, library).ok()?.job;
        let bare = Stage::new(&job, doors.clone(), Vec::new());
        let mut kept = bare.kept_free();
        kept.extend(doors.iter().map(|door| {
            let inward = door.centre - 45.0 * door.way;
            geometry::Solid::cylinder(inward, door.centre, 2.0 * door.radius)
        }));
        let mut modules: Vec<Placed> = Vec::new();
        for (i, part) in parts.into_iter().enumerate() {
            let id = format!("M{}", i + 1);
            let mut placed = boxes::place(&id, part, &shell, &kept, library, &mut chance)?;
            placed.pinned = i == 1 && chance.happens(0.4);
            kept.push(geometry::Solid::block(placed.pocket[0], placed.pocket[1]));
            modules.push(placed);
        }
        let mut cables = cables(&job, &bare)?;
        lay_looms(&mut cables, &mut doors);
        file.cavity.exits = doors.iter().map(shell::exit_file).collect();
        for (module, placed) in file.modules.iter_mut().zip(&modules) {
            if placed.pinned {
                module.pinned = Some(boxes::box_file(placed.faces));
            } else {
                file.cavity.pockets.push(placed.pocket_file());
            }
        }
        let job = profiles::inline(&file, library).ok()?.job;
        let stage = Stage::new(&job, doors, modules);
        Some(Draft {
            library,
            number,
            chance,
            shell,
            file,
            job,
            stage,
            cables,
        })
    }

    /// Lays the leads, fills the room, and checks that the unit goes in.
    pub fn finished(mut self) -> Option<Hidden> {
        let paths = ways::lay(&self.stage, &self.shell, &self.cables, &mut self.chance)?;
        self.tighten(&paths)?;
        let mut room = Room::new(&self.job, &self.stage.layout);
        for module in &self.stage.modules {
            room.take(&module.solid());
        }
        let ribs = 3 + self.chance.below(3);
        let site = Site::new(&self.stage, &self.shell, &self.cables, &paths);
        let grown = site.fill(ribs, FREE, &mut room, &mut self.chance)?;
        let stats = stats::stats(
            &self.stage,
            &self.cables,
            &paths,
            &grown,
            &room,
            self.number,
        );
        if stats.nearest_clearance > 2.0 {
            return None;
        }
        let files = grown.iter().enumerate();
        self.file.cavity.obstacles = files.map(|(i, grown)| grown.file(i + 1)).collect();
        self.set_lengths(&paths);
        let inlined = profiles::inline(&self.file, self.library).ok()?;
        (fit(&inlined.job).verdict == Verdict::Flush).then(|| Hidden {
            answer: HiddenAnswer {
                routes: (self.cables.iter().zip(paths))
                    .map(|(cable, path)| HiddenRoute {
                        lead: cable.id.clone(),
                        cable: cable.number,
                        path,
                    })
                    .collect(),
                modules: (self.stage.modules.iter())
                    .map(|module| (module.id.clone(), module.centre(), module.size()))
                    .collect(),
            },
            file: self.file,
            job: inlined.job,
            stats,
        })
    }

    /// Moves the walls without an exit in to what the answer takes.
    fn tighten(&mut self, paths: &[Path]) -> Option<()> {
        let clear = self.stage.wall_clear + 0.25;
        let kept = self.stage.kept_free();
        let mut taken: Vec<[DVec3; 2]> = kept
            .iter()
            .map(|solid| [solid.bounds().min, solid.bounds().max + clear * DVec3::Y])
            .collect();
        for (cable, path) in self.cables.iter().zip(paths) {
            let around = path.bounds()?.grown(0.5 * cable.od + clear);
            taken.push([around.min, around.max]);
        }
        let all = taken
            .into_iter()
            .reduce(|all, one| [all[0].min(one[0]), all[1].max(one[1])])?;
        let doors = &self.stage.doors;
        self.shell = self.shell.tightened(doors, all, &mut self.chance);
        self.file.cavity.stations = shell::stations(&self.shell);
        self.job = profiles::inline(&self.file, self.library).ok()?.job;
        self.stage.layout = geometry::lay_out(&self.job, geometry::Reading::Nominal);
        Some(())
    }

    /// Every lead through an exit long enough for its hidden route, the rest
    /// of it beyond the exit.
    fn set_lengths(&mut self, paths: &[Path]) {
        for lead in &mut self.file.leads {
            let of_it = self
                .cables
                .iter()
                .zip(paths)
                .filter(|(cable, _)| cable.id == lead.id);
            let needed = of_it
                .filter(|(cable, _)| matches!(cable.to, Port::Door(..)))
                .map(|(cable, path)| cable.stiff + path.length())
                .reduce(f64::max);
            if let Some(needed) = needed {
                lead.length = Some(mm((needed + self.chance.within(30.0, 300.0)).ceil()));
                lead.slack.goes = SlackGoesFile::Beyond;
            }
        }
    }
}

fn exit_end(id: String) -> LeadEndFile {
    LeadEndFile {
        exit: Some(id),
        ..Default::default()
    }
}

fn to_module(module: usize) -> LeadEndFile {
    LeadEndFile {
        module: Some(format!("M{}", module + 1)),
        ..Default::default()
    }
}

/// The nearer of two exits drawn, as seen from the socket of a lead.
fn to_door(doors: &[Door], file: &JobFile, socket: usize, chance: &mut Chance) -> LeadEndFile {
    let (one, other) = (chance.pick(doors), chance.pick(doors));
    let at = match &file.unit {
        profiles::schema::PartUse::Inline(unit) => {
            let place = |i: usize| {
                unit.sockets[socket].at[i]
                    .measure()
                    .map_or(0.0, |it| it.value())
            };
            DVec2::new(place(0), place(1))
        }
        _ => DVec2::ZERO,
    };
    let away = |door: &Door| DVec2::new(door.centre.x, door.centre.z).distance(at);
    let nearer = if away(one) <= away(other) { one } else { other };
    exit_end(nearer.id.clone())
}

/// The cables of a job's leads as they are to be laid; places in the exits still open.
fn cables(job: &Job, stage: &Stage) -> Option<Vec<Cable>> {
    let mut cables = Vec::new();
    for lead in &job.leads {
        for number in 0..lead.cables {
            cables.push(cable(job, stage, lead, number)?);
        }
    }
    Some(cables)
}

/// One cable of a lead; several leave their plug side by side across its width.
fn cable(job: &Job, stage: &Stage, lead: &Lead, number: u32) -> Option<Cable> {
    let module_number = |id: &str| job.modules.iter().position(|module| module.id == id);
    let (from, stiff) = match &lead.from {
        LeadStart::Socket(_) => {
            let (at, way, stiff) = stage::plug_end(job, &stage.layout, lead)?;
            let share = (f64::from(number) + 0.5) / f64::from(lead.cables) - 0.5;
            let abreast = share * lead.plug.width.value() * DVec3::X;
            (Port::Plug(at + abreast, way), stiff)
        }
        LeadStart::Module(id) => (Port::Module(module_number(id)?), 0.0),
    };
    let to = match &lead.end {
        LeadEnd::Exit(id) => {
            let door = stage.doors.iter().position(|door| door.id == *id)?;
            Port::Door(door, stage.doors[door].centre)
        }
        LeadEnd::Module(id) => Port::Module(module_number(id)?),
        LeadEnd::FactoryPlug(_) => return None,
    };
    let od = lead.cable.od.value();
    Some(Cable {
        id: lead.id.clone(),
        number,
        from,
        to,
        od,
        radius: lead.cable.rule(job.rules).centreline(od),
        straight: lead.cable.straight_run,
        stiff,
    })
}

/// Gives the leads of every exit their places in it, and the exit its size.
fn lay_looms(cables: &mut [Cable], doors: &mut [Door]) {
    for (number, door) in doors.iter_mut().enumerate() {
        let through: Vec<usize> = (0..cables.len())
            .filter(|i| matches!(cables[*i].to, Port::Door(it, _) if it == number))
            .collect();
        let exit = geometry::Exit {
            id: door.id.clone(),
            name: String::new(),
            centre: door.centre,
            direction: door.way,
            shape: geometry::ExitShape::Round(2.0 * door.radius),
            run_beyond: door.beyond,
        };
        let [width, height] = exit.axes();
        let ods: Vec<f64> = through.iter().map(|i| cables[*i].od).collect();
        let toward: Vec<DVec2> = through
            .iter()
            .map(|i| {
                let from = match cables[*i].from {
                    Port::Plug(at, _) => at - door.centre,
                    _ => DVec3::ZERO,
                };
                DVec2::new(from.dot(width), from.dot(height))
            })
            .collect();
        let (places, radius) = loom::lay(&ods, &toward);
        door.radius = shell::typed(radius.max(6.0));
        for (index, place) in through.into_iter().zip(places) {
            cables[index].to = Port::Door(number, exit.place(place));
        }
    }
}
