//! Solids that are said to be in the same place.

use geometry::{Fixed, FixedClass, Job, Reading, fixed_solids, signed_distance};

use super::draft::Draft;
use super::findings::{Field, Findings};
use crate::problem::quoted;

/// How deep two solids may lie in each other before it is a mistake, mm: what
/// rounding of typed figures can do.
const ALLOWED: f64 = 0.01;

/// Faults every two of obstacles, pinned modules and unused factory plugs that
/// lie in each other as found, unless one says that it is joined to the other
/// or only tells how far a hand got in.
pub(super) fn check(job: &Job, draft: &Draft<'_>, findings: &mut Findings) {
    let solids: Vec<Fixed> = fixed_solids(job, Reading::Nominal)
        .into_iter()
        .filter(|solid| solid.class != FixedClass::Tab && !is_met(solid, draft))
        .collect();
    for (index, later) in solids.iter().enumerate() {
        for earlier in &solids[..index] {
            let apart = later.solid.bounds().gap(&earlier.solid.bounds()) > 0.0;
            if apart || are_joined(job, &earlier.id, &later.id) {
                continue;
            }
            let deep = -signed_distance(&earlier.solid, &later.solid);
            if deep > ALLOWED {
                findings.error(
                    &place_of(later, draft),
                    format!(
                        "the {} lying {deep:.2} mm in the {} ({})",
                        later.name,
                        earlier.name,
                        quoted(&earlier.id)
                    ),
                    "solids beside each other, or joined_to where one grows from the other",
                );
            }
        }
    }
}

/// Whether one of two obstacles says that it is joined to the other.
fn are_joined(job: &Job, one: &str, other: &str) -> bool {
    job.cavity.obstacles.iter().any(|obstacle| {
        let joined = |id: &str| obstacle.joined_to.iter().any(|to| to == id);
        (obstacle.id == one && joined(other)) || (obstacle.id == other && joined(one))
    })
}

/// Whether an obstacle tells how far a hand got in.
fn is_met(solid: &Fixed, draft: &Draft<'_>) -> bool {
    let obstacles = draft.cavity.obstacles.iter();
    matches!(solid.class, FixedClass::Obstacle(_))
        && obstacles
            .filter(|obstacle| obstacle.id == solid.id)
            .any(|obstacle| obstacle.met.is_some())
}

/// Where the document speaks of a solid.
fn place_of(solid: &Fixed, draft: &Draft<'_>) -> Field {
    let cavity = Field::top("cavity");
    let found = match solid.class {
        FixedClass::Module => draft
            .modules
            .iter()
            .find(|module| module.file.id == solid.id)
            .map(|module| module.at.clone()),
        FixedClass::FactoryPlug => (draft.cavity.factory_plugs.iter())
            .position(|plug| plug.id == solid.id)
            .map(|index| cavity.key("factory_plugs").item(index)),
        FixedClass::Obstacle(_) | FixedClass::Tab => (draft.cavity.obstacles.iter())
            .position(|obstacle| obstacle.id == solid.id)
            .map(|index| cavity.key("obstacles").item(index)),
    };
    found.unwrap_or(cavity)
}
