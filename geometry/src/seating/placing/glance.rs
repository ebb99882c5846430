//! One look at an arrangement, and whether looking at others is worth it.

use super::may_go_anywhere;
use crate::job::Job;
use crate::layout::Layout;
use crate::measure::Reading;
use crate::routing::Effort;
use crate::seating::arrangements::Arrangement;
use crate::seating::attempt::{Attempt, Wanted, alone, attempt};
use crate::seating::scene::Scene;
use crate::seating::seat::{Found, Looking};
use crate::seating::variants::Variants;

/// Every lead laid once with the unit at `proud` mm, its cables in the exits as
/// they lie best; whoever wants to know more looks further.
///
/// * `watch`: as for the search for the seat
pub fn glance(
    variants: &Variants<'_>,
    proud: f64,
    effort: &Effort,
    watch: &mut dyn FnMut(Looking) -> bool,
) -> Found {
    let looking = Looking { proud, tried: 0 };
    let first: Attempt = attempt(
        variants.scene(0),
        proud,
        &mut 0,
        Wanted::Most,
        effort,
        &mut |_| watch(looking),
    );
    Found {
        cancelled: first.cancelled,
        first,
        further: None,
        short: None,
    }
}

/// Whether some lead that found no way has none even alone with every module
/// that may go anywhere taken out of the cavity: then it is of no use at that
/// proud to put them elsewhere. Leads at modules are not asked.
///
/// * `scene`: what was looked at
/// * `failed`: what came of it
pub fn elsewhere_is_no_use(
    (job, layout, reading): (&Job, &Layout, Reading),
    arrangement: &Arrangement,
    (scene, failed): (&Scene<'_>, &Attempt),
    voxel: f64,
    effort: &Effort,
) -> bool {
    let free = |id: &String| {
        let mut modules = job.modules.iter();
        modules.any(|module| module.id == *id && may_go_anywhere(module))
    };
    let others = failed.failed.iter().filter_map(|failed| {
        let plan = scene.plans.get(failed.plan)?;
        let at_a_module = plan.modules.iter().any(Option::is_some);
        (!at_a_module).then_some((plan.lead, plan.cable))
    });
    let others: Vec<(usize, u32)> = others.collect();
    if others.is_empty() {
        return false;
    }
    let mut without = arrangement.clone();
    without.retain(|id, _| !free(id));
    let mut bare = Scene::new(job, layout, reading, &without, voxel, 0);
    for plan in &mut bare.plans {
        // Too short is said of a lead, and is no reason to stand proud.
        plan.longest = None;
    }
    others.into_iter().any(|(lead, cable)| {
        let mut plans = bare.plans.iter();
        let number = plans.position(|plan| (plan.lead, plan.cable) == (lead, cable));
        number.is_some_and(|number| alone(&bare, failed.proud, number, effort).is_some())
    })
}
