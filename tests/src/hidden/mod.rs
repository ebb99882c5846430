//! Cavities built around a known good answer.
//!
//! First the unit with its plugs, the exits and the modules; then a route for
//! every lead, legal and apart from the others; then ribs, ducts and pipes
//! grown against what the routes ask until half of the room is taken. Whoever
//! solves such a cavity knows that there is an answer, and not which.
//!
//! All parts are those of the library; everything else is drawn from the seed.

mod answer;
mod boxed;
pub(crate) mod boxes;
mod draft;
mod drafts;
mod fill;
mod free;
mod grown;
pub(crate) mod loom;
pub(crate) mod parts;
mod rear;
pub(crate) mod shell;
pub(crate) mod stage;
mod stats;
mod ways;

use std::sync::LazyLock;

use geometry::{CAVITY, Job, ModulePlace, Path};
use glam::DVec3;
use profiles::Library;
use profiles::schema::JobFile;

use draft::Draft;

pub use answer::{answer_json_of, path_json};
pub use stats::Stats;

/// Share of the room behind and beside the unit that may stay free.
pub const FREE: f64 = 0.5;

/// Drafts thrown away before a seed is given up.
const DRAFTS: u64 = 2000;

/// A cavity with a known good answer.
#[derive(Clone, Debug)]
pub struct Hidden {
    /// The job as a file.
    pub file: JobFile,
    /// The job in plain numbers.
    pub job: Job,
    /// The answer nobody is told.
    pub answer: HiddenAnswer,
    /// How hard it is.
    pub stats: Stats,
}

/// The known good answer, the unit at proud 0.
#[derive(Clone, Debug)]
pub struct HiddenAnswer {
    /// The route of every cable of every lead.
    pub routes: Vec<HiddenRoute>,
    /// Id of each module, its middle and its size (across, depth, up), mm.
    pub modules: Vec<(String, DVec3, DVec3)>,
}

/// The way of one cable.
#[derive(Clone, Debug, PartialEq)]
pub struct HiddenRoute {
    /// Id of its lead.
    pub lead: String,
    /// Which cable of the lead, from 0.
    pub cable: u32,
    /// Its middle, from the plug or module to its end.
    pub path: Path,
}

/// The cavity of a seed.
///
/// # Panics
/// When no draft of the seed came to an end; the tests say that the first
/// hundred do.
pub fn hidden_job(seed: u64) -> Hidden {
    let known = drafts::KNOWN.get(seed as usize).copied().unwrap_or(0);
    from_draft(seed, u64::from(known))
}

/// The cavity of a seed, every draft tried anew.
///
/// # Panics
/// As [`hidden_job`].
pub fn hidden_job_anew(seed: u64) -> Hidden {
    from_draft(seed, 0)
}

/// The same job with every module free to go anywhere in the cavity: its
/// pockets are left for slack only.
pub fn modules_anywhere(job: &Job) -> Job {
    let mut job = job.clone();
    for module in &mut job.modules {
        module.place = ModulePlace::Movable(vec![CAVITY.to_owned()]);
    }
    job
}

/// The parts that come with the program, read once.
pub fn library() -> &'static Library {
    static LIBRARY: LazyLock<Library> = LazyLock::new(Library::embedded);
    &LIBRARY
}

fn from_draft(seed: u64, first: u64) -> Hidden {
    (first..DRAFTS)
        .find_map(|draft| Draft::new(library(), seed, draft)?.finished())
        .unwrap_or_else(|| panic!("no cavity of seed {seed} in {DRAFTS} drafts"))
}
