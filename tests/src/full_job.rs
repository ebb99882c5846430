//! A job as full as one gets: forty obstacles, thirty leads.
//!
//! For measuring how long the window takes. The cavity is the demo's; behind
//! the unit stands a thicket of small things, and its back is a field of small
//! sockets. Drawn from one seed, the same every time.

use profiles::Library;
use profiles::schema::{BoxFile, CylinderFile, JobFile, KindFile, ObstacleFile, PartUse, UnitPart};

use crate::chance::Chance;
use crate::hidden::shell::mm;

/// How many obstacles there are.
pub const OBSTACLES: usize = 40;
/// How many leads there are.
pub const LEADS: usize = 30;

/// Sockets side by side.
const COLUMNS: usize = 6;
/// Obstacles side by side.
const ABREAST: usize = 8;

const KINDS: [KindFile; 6] = [
    KindFile::Rib,
    KindFile::Boss,
    KindFile::Duct,
    KindFile::Loom,
    KindFile::Bracket,
    KindFile::CoolantPipe,
];

/// The job.
///
/// # Panics
/// When the demo is not as it was: without its unit or its leads.
pub fn full_job() -> JobFile {
    let library = Library::embedded();
    let mut job = profiles::open_job(profiles::DEMO, &library)
        .unwrap_or_else(|problems| panic!("{problems:?}"))
        .file;
    job.name = "full job".to_owned();
    job.modules.clear();
    job.looms.clear();
    job.alternatives.clear();
    job.cavity.pockets.clear();
    let mut chance = Chance::new(0x0f11, 0);
    job.cavity.obstacles = (0..OBSTACLES).map(|i| obstacle(i, &mut chance)).collect();
    fill_sockets(&mut job, &library);
    job
}

/// A small thing in its own cell of a lattice, so that none meets another.
fn obstacle(number: usize, chance: &mut Chance) -> ObstacleFile {
    let across = -84.0 + 24.0 * (number % ABREAST) as f64 + chance.typed(-2.0, 2.0);
    let up = -82.0 + 26.0 * (number / ABREAST) as f64 + chance.typed(-2.0, 2.0);
    let depth = 236.0 + chance.typed(-6.0, 6.0);
    let half = chance.typed(3.0, 7.0);
    let kind = KINDS[number % KINDS.len()];
    let round = kind == KindFile::CoolantPipe;
    let pair = |middle: f64, half: f64| [mm(middle - half), mm(middle + half)];
    let block = BoxFile {
        across: pair(across, half),
        depth: pair(depth, 8.0),
        up: pair(up, half),
        turned_deg: if number.is_multiple_of(5) {
            [0.0, chance.typed(-20.0, 20.0), 0.0]
        } else {
            [0.0; 3]
        },
    };
    let [id, name] = ["O", "thing "].map(|word| format!("{word}{}", number + 1));
    ObstacleFile {
        block: (!round).then_some(block),
        cylinder: round.then(|| CylinderFile {
            from: [mm(across), mm(depth - 10.0), mm(up)],
            to: [mm(across), mm(depth + 10.0), mm(up)],
            diameter: mm(2.0 * half),
        }),
        clear: Some(mm(3.0)),
        ..ObstacleFile::bare(id, name, kind)
    }
}

/// Thirty small sockets at the unit's back, a thin lead in each.
fn fill_sockets(job: &mut JobFile, library: &Library) {
    let base = job.unit.base().expect("the demo names its unit");
    let mut unit = library
        .get::<UnitPart>(base)
        .expect("it is in the library")
        .clone();
    let template = job
        .leads
        .iter()
        .find(|lead| lead.id == "L10")
        .expect("the demo has it")
        .clone();
    let socket = template.socket.as_deref().expect("it plugs in");
    let socket = unit
        .sockets
        .iter()
        .find(|it| it.id == socket)
        .expect("the unit has it")
        .clone();
    unit.sockets.clear();
    job.leads.clear();
    let exits: Vec<String> = job.cavity.exits.iter().map(|it| it.id.clone()).collect();
    for number in 0..LEADS {
        let (column, row) = (number % COLUMNS, number / COLUMNS);
        let mut socket = socket.clone();
        socket.id = format!("S{}", number + 1);
        socket.name = format!("socket {}", number + 1);
        socket.at = [
            mm(-70.0 + 28.0 * column as f64),
            mm(-36.0 + 18.0 * row as f64),
        ];
        let mut lead = template.clone();
        lead.id = format!("L{}", number + 1);
        lead.name = format!("lead {}", number + 1);
        lead.socket = Some(socket.id.clone());
        lead.end.exit = Some(exits[number % exits.len()].clone());
        unit.sockets.push(socket);
        job.leads.push(lead);
    }
    job.unit = PartUse::Inline(Box::new(unit));
}
