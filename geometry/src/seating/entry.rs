//! How the unit gets to where it can stand, the modules in their places.

use super::arrangements::Arrangement;
use super::ends::Sits;
use crate::fitting::Berth;
use crate::job::{Cut, Job, MaterialFamily};
use crate::layout::{Fixed, FixedClass, Layout};
use crate::measure::Reading;
use crate::slide_in::{Barred, SlideIn, way_in};

/// The berths that the unit can be brought to before any module is placed, and
/// why the least proud of the others cannot be reached.
pub fn open(
    job: &Job,
    layout: &Layout,
    reading: Reading,
    berths: Vec<Berth>,
) -> (Vec<Berth>, Option<Barred>) {
    let mut barred = None;
    let open = berths
        .into_iter()
        .filter(
            |berth| match way_in(job, layout, reading, berth, berth.from) {
                Ok(_) => true,
                Err(no_way) => {
                    barred.get_or_insert(no_way);
                    false
                }
            },
        )
        .collect();
    (open, barred)
}

/// Ways in with one arrangement of the modules.
pub struct Entries<'a> {
    job: &'a Job,
    layout: &'a Layout,
    reading: Reading,
    arrangement: &'a Arrangement,
    /// The same solids with the modules where they are placed.
    furnished: Option<Layout>,
}

impl<'a> Entries<'a> {
    /// * `layout`: the job's solids at `reading`, the unit at its seat
    pub fn new(
        job: &'a Job,
        layout: &'a Layout,
        reading: Reading,
        arrangement: &'a Arrangement,
    ) -> Entries<'a> {
        Entries {
            job,
            layout,
            reading,
            arrangement,
            furnished: None,
        }
    }

    /// How the unit comes to stand at `proud` mm within a berth.
    pub fn way_in(&mut self, berth: &Berth, proud: f64) -> Result<SlideIn, Barred> {
        if berth.straight {
            return Ok(SlideIn::straight(proud));
        }
        let (job, layout, arrangement) = (self.job, self.layout, self.arrangement);
        let furnished = (self.furnished).get_or_insert_with(|| furnish(job, layout, arrangement));
        way_in(job, furnished, self.reading, berth, proud)
    }
}

/// A layout with the movable modules in it.
fn furnish(job: &Job, layout: &Layout, arrangement: &Arrangement) -> Layout {
    let mut furnished = layout.clone();
    for module in &job.modules {
        let pinned = layout.fixed.iter().any(|fixed| fixed.id == module.id);
        let Some(Sits::Cavity(solid)) = arrangement.get(&module.id).filter(|_| !pinned) else {
            continue;
        };
        furnished.fixed.push(Fixed {
            id: module.id.clone(),
            name: module.name.clone(),
            class: FixedClass::Module,
            family: MaterialFamily::Plastic,
            solid: solid.clone(),
            clear: module.clear,
            cut: Cut::Never,
        });
    }
    furnished
}
