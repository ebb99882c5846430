//! Random cavities, with an answer or without: what is called good in any of
//! them has to stand before the judge.
//!
//! Three to eight leads of the library, at most one module, ribs, blocks,
//! pipes and angles anywhere but in the unit's way and in the exits.

use geometry::{Job, Reading, Solid, fit, fixed_solids, signed_distance};
use glam::DVec3;
use profiles::Library;
use profiles::schema::{
    BendRules, BoxFile, CylinderFile, FactoryPlugFile, JobFile, KindFile, LeadEndFile,
    ObstacleFile, OutlineFile, PlaneFile,
};

use crate::chance::Chance;
use crate::hidden::shell::{self, Door, Shell, mm, mm3, typed};
use crate::hidden::{boxes, library, loom, parts, stage::Stage};

/// How many there are.
pub const JOBS: u64 = 300;

/// Drafts thrown away before a seed is given up.
const DRAFTS: u64 = 60;

/// Obstacles tried for one cavity.
const TRIES: usize = 60;

/// The random cavity of a seed, as a file and in plain numbers.
///
/// # Panics
/// When no draft of the seed made a valid job; the tests say that the first
/// 300 do.
pub fn random_job(seed: u64) -> (JobFile, Job) {
    (0..DRAFTS)
        .find_map(|draft| drafted(library(), seed, draft))
        .unwrap_or_else(|| panic!("no cavity of seed {seed} in {DRAFTS} drafts"))
}

fn drafted(library: &Library, seed: u64, draft: u64) -> Option<(JobFile, Job)> {
    let mut chance = Chance::new(seed ^ 0x5eed_0000, draft);
    let kinds = parts::choose(3 + chance.below(6), &mut chance);
    let (base, depth) = *chance.pick(&[("full_depth", 165.0), ("short_110", 110.0)]);
    let shell = shell::shell(depth, &mut chance);
    let numbers = shell::plugs_in_numbers(&kinds, library);
    let plugs: Vec<_> = kinds
        .iter()
        .map(|kind| (kind, numbers[kind.plug].clone()))
        .collect();
    let unit = shell::unit(base, &plugs, library, &mut chance)?;
    let rules = *chance.pick(&[BendRules::Published, BendRules::Shop]);
    let mut file = shell::bare_file(seed, &shell, unit, rules);
    file.name = format!("random cavity {seed}");
    let mut doors = shell::doors(&shell, 2 + chance.below(3), &mut chance)?;
    let module = chance.happens(0.6).then(|| *chance.pick(&parts::MODULES));
    for (index, kind) in kinds.iter().enumerate() {
        let end = end(
            &doors,
            module.is_some() && index == 1,
            index == 2,
            &mut chance,
        );
        let mut lead = shell::lead_file(format!("L{}", index + 1), kind, end);
        lead.socket = Some(format!("S{}", index + 1));
        file.leads.push(lead);
    }
    size_exits(&mut doors, &file, library)?;
    file.cavity.exits = doors.iter().map(|door| exit(door, &mut chance)).collect();
    if file
        .leads
        .iter()
        .any(|lead| lead.end.factory_plug.is_some())
    {
        file.cavity
            .factory_plugs
            .push(factory_plug(&shell, &mut chance));
    }
    if let Some(part) = module {
        file.modules.push(boxes::module_file("M1", part, None));
    }
    let mut job = profiles::inline(&file, library).ok()?.job;
    let stage = Stage::new(&job, doors, Vec::new());
    let mut kept = stage.kept_free();
    if let Some(part) = module {
        let mut placed = boxes::place("M1", part, &shell, &kept, library, &mut chance)?;
        placed.pinned = chance.happens(0.4);
        if placed.pinned {
            file.modules[0].pinned = Some(boxes::box_file(placed.faces));
        } else {
            file.cavity.pockets.push(placed.pocket_file());
        }
        kept.push(Solid::block(placed.pocket[0], placed.pocket[1]));
        job = profiles::inline(&file, library).ok()?.job;
    }
    let wanted = 3 + chance.below(8);
    for _ in 0..TRIES {
        if file.cavity.obstacles.len() == wanted {
            break;
        }
        let number = file.cavity.obstacles.len() + 1;
        file.cavity
            .obstacles
            .push(obstacle(number, &shell, &mut chance));
        match profiles::inline(&file, library) {
            Ok(inlined) if stands_apart(&inlined.job, &kept, &mut chance) => job = inlined.job,
            _ => drop(file.cavity.obstacles.pop()),
        }
    }
    let valid = file.cavity.obstacles.len() == wanted && fit(&job).proud.is_some();
    valid.then_some((file, job))
}

/// Where a lead ends: most leave by an exit.
fn end(doors: &[Door], to_module: bool, maybe_plug: bool, chance: &mut Chance) -> LeadEndFile {
    let mut end = LeadEndFile::default();
    if to_module {
        end.module = Some("M1".to_owned());
    } else if maybe_plug && chance.happens(0.3) {
        end.factory_plug = Some("F1".to_owned());
    } else {
        end.exit = Some(chance.pick(doors).id.clone());
    }
    end
}

/// Makes every exit large enough for its leads side by side.
fn size_exits(doors: &mut [Door], file: &JobFile, library: &Library) -> Option<()> {
    for door in doors {
        let through = file
            .leads
            .iter()
            .filter(|lead| lead.end.exit.as_ref() == Some(&door.id));
        let mut ods: Vec<f64> = Vec::new();
        for lead in through {
            let cable = library.get::<profiles::schema::CablePart>(lead.cable.base()?)?;
            let od = cable.od.measure()?.value();
            ods.extend((0..lead.cables).map(|_| od));
        }
        let (_, radius) = loom::lay(&ods, &vec![glam::DVec2::ZERO; ods.len()]);
        door.radius = typed(radius + 2.0).max(8.0);
    }
    Some(())
}

/// An exit as a file states it; some are rectangles.
fn exit(door: &Door, chance: &mut Chance) -> profiles::schema::ExitFile {
    let mut file = shell::exit_file(door);
    if chance.happens(0.3) {
        file.diameter = None;
        file.width = Some(mm(2.0 * door.radius + 4.0));
        file.height = Some(mm(2.0 * door.radius));
    }
    file
}

/// A plug of the factory loom at the floor, its face up.
fn factory_plug(shell: &Shell, chance: &mut Chance) -> FactoryPlugFile {
    let low = DVec3::new(shell.low.x + 25.0, shell.rear + 30.0, shell.low.z + 22.0);
    let high = DVec3::new(shell.high.x - 25.0, shell.high.y - 25.0, shell.low.z + 30.0);
    FactoryPlugFile {
        id: "F1".to_owned(),
        name: "factory plug".to_owned(),
        at: mm3(chance.point(low, high)),
        direction: [0.0, 0.0, 1.0],
        size: [mm(20.0), mm(12.0), mm(20.0)],
        tail: Some(mm(120.0)),
        pulls_out: Some(mm(10.0)),
        clear: Some(mm(2.0)),
    }
}

/// Whether the last obstacle keeps out of the unit's way, the exits and the pockets,
/// now and then only out of the exits.
fn stands_apart(job: &Job, kept: &[Solid], chance: &mut Chance) -> bool {
    let solids = fixed_solids(job, Reading::Nominal);
    let place = job.cavity.obstacles.len() - 1;
    let Some(last) = solids.get(place) else {
        return false;
    };
    let strict = chance.happens(0.8);
    let bounds = last.solid.bounds();
    kept.iter().all(|kept| {
        let is_hole = matches!(kept.shape(), geometry::Shape::Cylinder { .. });
        let asked = strict || is_hole;
        !asked
            || bounds.gap(&kept.bounds()) > last.clear
            || signed_distance(&last.solid, kept) > last.clear
    })
}

/// A rib, a block, a pipe or an angle, somewhere behind the dash.
fn obstacle(number: usize, shell: &Shell, chance: &mut Chance) -> ObstacleFile {
    let low = DVec3::new(shell.low.x, 40.0, shell.low.z);
    let at = chance.point(low, shell.high);
    let kinds = [
        KindFile::Rib,
        KindFile::Rib,
        KindFile::Duct,
        KindFile::Bracket,
    ];
    let kind = *chance.pick(&kinds);
    let mut file = ObstacleFile {
        clear: Some(mm(chance.typed(0.0, 5.0))),
        ..ObstacleFile::bare(format!("O{number}"), format!("obstacle {number}"), kind)
    };
    let turned_deg = if chance.happens(0.4) {
        [0; 3].map(|_| chance.typed(-40.0, 40.0))
    } else {
        [0.0; 3]
    };
    match chance.below(5) {
        0 => {
            let way = chance
                .point(DVec3::splat(-1.0), DVec3::ONE)
                .normalize_or(DVec3::X);
            let half = 0.5 * chance.within(40.0, 120.0) * way;
            file.kind = KindFile::CoolantPipe;
            file.cylinder = Some(CylinderFile {
                from: mm3((at - half).max(DVec3::new(-300.0, 25.0, -300.0))),
                to: mm3(at + half),
                diameter: mm(chance.typed(8.0, 28.0)),
            });
        }
        1 => {
            let (long, thick) = (chance.typed(20.0, 60.0), chance.typed(2.0, 6.0));
            let angle = [
                [0., 0.],
                [long, 0.],
                [long, thick],
                [thick, thick],
                [thick, long],
                [0., long],
            ];
            let half = chance.within(8.0, 40.0);
            file.outline = Some(OutlineFile {
                plane: *chance.pick(&[PlaneFile::AcrossUp, PlaneFile::DepthUp]),
                corners: angle.iter().map(|[x, y]| corner(at, *x, *y)).collect(),
                along: [mm(at.y - half), mm(at.y + half)],
                turned_deg,
            });
            if let Some(OutlineFile {
                plane: PlaneFile::DepthUp,
                along,
                corners,
                ..
            }) = &mut file.outline
            {
                *along = [mm(at.x - half), mm(at.x + half)];
                *corners = angle
                    .iter()
                    .map(|[x, y]| [mm(at.y + x), mm(at.z + y)])
                    .collect();
            }
        }
        shape => {
            let mut half = chance.point(DVec3::splat(5.0), DVec3::new(40.0, 25.0, 35.0));
            if shape > 2 {
                half[chance.below(3)] = 0.5 * chance.typed(2.0, 3.0);
            }
            let block = boxes::box_file([at - half, at + half]);
            file.block = Some(BoxFile {
                turned_deg,
                ..block
            });
        }
    }
    file
}

fn corner(at: DVec3, x: f64, y: f64) -> [profiles::Length; 2] {
    [mm(at.x + x), mm(at.z + y)]
}
