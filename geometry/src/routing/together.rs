//! All leads together.
use super::{Effort, NoWay, Surroundings, Task};
use crate::path::Path;

/// How far a search has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Leads that have a way.
    pub routed: usize,
    /// Leads in all.
    pub leads: usize,
}

/// The ways found.
#[derive(Clone, Debug)]
pub struct Routing {
    /// One for each task.
    pub routes: Vec<Result<Path, NoWay>>,
    /// Nodes expanded in all.
    pub work: u64,
}

/// Routes all.
pub fn route_together(
    around: &Surroundings,
    tasks: &[Task],
    effort: &Effort,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Routing {
    todo!()
}
