//! Some leads laid anew beside others that stay where they are.

use super::site::Tools;
use super::together::{Laying, Progress, Routing};
use super::{Effort, Surroundings, Task};
use crate::path::Path;

/// The way of a lead from before.
#[derive(Clone, Debug)]
pub struct Before {
    /// The way, if it had one; roughly where it was when it no longer stands.
    pub way: Option<Path>,
    /// Whether it still stands.
    pub stands: bool,
}

/// Lays the leads whose way no longer stands; the others make room when asked.
/// What is found is verified.
///
/// Nothing counts but all of them: where one has no way even alone the routing
/// ends with it ([`Routing::stuck`]).
///
/// * `before`: one for each task
/// * `tools`: kept from one time to the next
/// * `watch`: told how far it is; `false` stops
pub fn route_again(
    around: &Surroundings,
    tasks: &[Task],
    before: &[Before],
    effort: &Effort,
    tools: &mut Tools,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Routing {
    let mut laying = Laying::new(around, tasks, effort, std::mem::take(tools));
    if !laying.none_alone {
        for (lead, before) in before.iter().enumerate() {
            if let Some(way) = &before.way {
                laying.keep(lead, way, before.stands);
            }
        }
        // What has no way alone has none beside the others, and is sooner found out.
        laying.quickly();
        if laying.apart(watch) && laying.settle(effort.rounds, watch) {
            laying.take();
        }
    }
    *tools = std::mem::take(&mut laying.site.tools);
    if laying.none_alone {
        laying.give_up()
    } else {
        laying.finish()
    }
}
