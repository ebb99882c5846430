//! Cautions that apply to a job, in plain words.
//!
//! General advice. The vehicle maker's service information, local codes and
//! licensed practice come first; every list begins by saying so.

use geometry::{Cut, Fit, FixedClass, Job, Kind, Layout, StopKind, TabDecision, Verdict};

/// One caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What it is about.
    pub title: &'static str,
    /// What to do and not to do.
    pub text: &'static str,
}

/// What comes before every caution.
pub const FIRST: Caution = Caution {
    title: "First",
    text: "The vehicle maker's service information, local codes and licensed practice come before anything said here.",
};

const AIRBAGS: Caution = Caution {
    title: "Airbags",
    text: "Airbags, their brackets and yellow-marked wiring may be near this opening. Ignition off, battery off, and wait the time the vehicle maker states before touching or cutting. Never cut, bend, drill, probe or load anything that holds an airbag or a sensor. Never switch on with one unplugged.",
};
const BATTERY: Caution = Caution {
    title: "Battery",
    text: "Negative off first, on last. Note radio codes and settings. High-voltage vehicles: follow the maker's isolation steps or do not start.",
};
const STRUCTURE: Caution = Caution {
    title: "Structure",
    text: "A beam or bracket across the dash holds people, column and airbags. Do not cut, grind or drill it. If you are not sure what a part does, treat it as structure.",
};
const DUCTS: Caution = Caution {
    title: "Heater and air",
    text: "Do not dent, pierce or block a duct or a flap. Try all vents, hot and cold, before the trim goes on.",
};
const LOOK_BEHIND: Caution = Caution {
    title: "Look behind before any cut",
    text: "Mirror or borescope, hand round the back, looms tied away, blade depth set to the plastic plus 2 mm. Eyes, mask, vacuum at the blade. Round every cut edge, then cover it.",
};
const NOT_UNDONE: Caution = Caution {
    title: "Cannot be undone",
    text: "Cut plastic does not grow back. It may affect warranty, lease return and value. Agree in writing first.",
};
const FORCE: Caution = Caution {
    title: "Do not force it",
    text: "A unit pushed on to its leads comes back out or breaks something. Find out why it stops.",
};
const PROJECTING: Caution = Caution {
    title: "Standing proud",
    text: "An edge that sticks out can hurt in a crash. Round it, keep it small; local rules may set a limit (one interior-fittings rule treats items standing more than 9.5 mm specially).",
};
const SHARP: Caution = Caution {
    title: "Chafe",
    text: "No lead may touch a sharp edge, a bracket or the unit's corner. Tie it at least 10 mm away and check again after pushing the unit home.",
};
const TABS: Caution = Caution {
    title: "Break-off tabs",
    text: "A tab once off does not go back. Cut and file it; a snapped stub holds the unit out or starts a crack.",
};
const HEAT: Caution = Caution {
    title: "Heat",
    text: "Leave air behind and above the unit; nothing over its fan.",
};

/// The cautions that apply to a job and its answer, the gravest first.
pub fn cautions(job: &Job, layout: &Layout, fit: &Fit) -> Vec<Caution> {
    let has = |wanted: &[Kind]| {
        job.cavity
            .obstacles
            .iter()
            .any(|obstacle| wanted.contains(&obstacle.kind))
    };
    let stopped_by = |wanted: &[Kind]| {
        fit.stopped_by.iter().any(|stop| {
            layout.fixed.iter().any(|fixed| {
                fixed.id == stop.against_id
                    && matches!(fixed.class, FixedClass::Obstacle(kind) if wanted.contains(&kind))
            })
        })
    };
    let cut_in_question = !job.trims.is_empty() || is_stopped_by_a_rib(layout, fit);
    let tabs = matches!(&job.mount.hold, geometry::Hold::KitPocket { tabs, .. }
        if tabs.iter().any(|tab| tab.decision != TabDecision::Keep));
    let sleeve = matches!(job.mount.hold, geometry::Hold::Sleeve { .. });
    let proud = fit.proud.is_none_or(|proud| proud > 0.0);
    let forced = proud
        && fit
            .stopped_by
            .iter()
            .any(|stop| stop.what != StopKind::Module);
    let warm = !job.unit.vents.is_empty();

    let structure = [
        Kind::Beam,
        Kind::ColumnSupport,
        Kind::KneeSupport,
        Kind::AirbagPart,
    ];
    let air = [Kind::Duct, Kind::HeaterBox];
    let applies = [
        (true, FIRST),
        (true, AIRBAGS),
        (true, BATTERY),
        (
            has(&structure) || stopped_by(&structure) || !job.trims.is_empty(),
            STRUCTURE,
        ),
        (cut_in_question, LOOK_BEHIND),
        (cut_in_question, NOT_UNDONE),
        (has(&air), DUCTS),
        (forced, FORCE),
        (proud, PROJECTING),
        (tabs, TABS),
        (sleeve || cut_in_question, SHARP),
        (warm, HEAT),
    ];
    applies
        .into_iter()
        .filter(|(applies, _)| *applies)
        .map(|(_, caution)| caution)
        .collect()
}

/// Whether something that might be cut holds the unit out.
fn is_stopped_by_a_rib(layout: &Layout, fit: &Fit) -> bool {
    fit.verdict != Verdict::Flush
        && fit.stopped_by.iter().any(|stop| {
            layout
                .fixed
                .iter()
                .any(|fixed| fixed.id == stop.against_id && fixed.cut != Cut::Never)
        })
}

/// What stands beside anything that may be cut.
pub fn beside_a_cut() -> [Caution; 4] {
    [AIRBAGS, STRUCTURE, LOOK_BEHIND, NOT_UNDONE]
}
