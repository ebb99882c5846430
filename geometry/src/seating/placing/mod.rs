//! Places in the open cavity for modules that may go anywhere in it.
//!
//! 1. `room`: what a module keeps clear of, and what it may be fixed to.
//! 2. `spots`: boxes that lie against something, in all ways round; a grid
//!    throws out most of those that meet something.
//! 3. `price`: short leads, out of the way of the others, low.
//! 4. `pick`: the cheapest first, by exact distances, until there are a few
//!    that differ.
//! 5. `tries`: one place for each module, combined with pockets and spaces.

mod glance;
mod mounted;
mod pick;
mod price;
mod reach;
mod room;
mod spots;
mod tries;

pub use glance::glance;
pub use mounted::mounted_on;
pub use pick::{FreePlace, free_places};
pub use tries::{Look, tries};

use glam::DVec3;

use crate::fit::ModuleRoom;
use crate::job::{Job, Module, ModulePlace};
use crate::lay_out::lay_out;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::routed::Miss;

/// A module lies so far off what it is fixed to, mm: the tape pressed flat.
/// Common practice, no source.
const TAPE: f64 = 0.4;

/// A module no further than this from a solid is fixed to it, mm.
const FIXED: f64 = 0.5;

/// A face this near to a part of its module is at its back, mm: hook-and-loop
/// tape is about that thick. Common practice, no source.
const PAD: f64 = 3.0;

/// Share of the module's face that must have something at its back, so that
/// tape holds it. Common practice, no source.
const BACKED: f64 = 0.5;

/// Whether a module may go anywhere in the cavity.
pub fn may_go_anywhere(module: &Module) -> bool {
    match &module.place {
        ModulePlace::Movable(places) => places.iter().any(|place| place == crate::job::CAVITY),
        ModulePlace::Pinned(_) => false,
    }
}

/// Why a module has no place: the closest miss of all places it may go to.
///
/// * `room`: the named places it was tried in
pub fn closest_miss(
    job: &Job,
    layout: &Layout,
    (module, room): (&Module, &ModuleRoom),
    proud: f64,
) -> Option<Miss> {
    let named = room.closest_miss.as_ref().map(|(place, short)| Miss {
        place: place.clone(),
        at: None,
        against: String::new(),
        short: *short,
    });
    let open = if may_go_anywhere(module) {
        free_places(job, layout, Reading::Nominal, module, proud)
            .err()
            .flatten()
    } else {
        None
    };
    named
        .into_iter()
        .chain(open)
        .min_by(|a, b| a.short.total_cmp(&b.short))
}

/// Places for a module in the open cavity with the unit at `proud` mm, the best
/// first, none sharing more with another than it must; or its closest miss,
/// `Err(None)` when the cavity was not measured or nothing in it holds a module.
///
/// * `module`: its number in the job
///
/// # Errors
/// When it has no place.
pub fn places(job: &Job, module: usize, proud: f64) -> Result<Vec<FreePlace>, Option<Miss>> {
    let layout = lay_out(job, Reading::Nominal);
    let module = job.modules.get(module).ok_or(None)?;
    free_places(job, &layout, Reading::Nominal, module, proud)
}

/// Whether any module may.
pub fn any_may_go_anywhere(job: &Job) -> bool {
    job.modules.iter().any(may_go_anywhere)
}

/// The six ways out of a box.
const WAYS: [DVec3; 6] = [
    DVec3::NEG_X,
    DVec3::X,
    DVec3::NEG_Y,
    DVec3::Y,
    DVec3::NEG_Z,
    DVec3::Z,
];

/// The axis a way runs along, 0 to 2.
fn axis_of(way: DVec3) -> usize {
    let way = way.abs();
    if way.x > 0.5 {
        0
    } else if way.y > 0.5 {
        1
    } else {
        2
    }
}
