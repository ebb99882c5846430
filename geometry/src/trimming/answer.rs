//! What the search for the least cut answers.

use crate::fit::Stop;
use crate::job::Trim;
use crate::routed::{LeftOver, Routed};

/// The least cut found for one proud.
#[derive(Clone, Debug, PartialEq)]
pub struct TrimStep {
    /// The unit stands at most this far proud, mm.
    pub proud: f64,
    /// What came of it.
    pub outcome: TrimOutcome,
    /// Every notch, locked ones included; of a step without an answer only those.
    pub trims: Vec<Trim>,
    /// What all of them take out, mm3.
    pub removed_mm3: f64,
    /// Everything laid with these notches and the unit that far proud, checked;
    /// `None` when nothing holds.
    pub routed: Option<Routed>,
    /// No cut at all stands less proud than this, mm.
    pub lower_bound: f64,
    /// What holds the unit further out whatever is cut, the worst first.
    pub stopped_by: Vec<Stop>,
    /// What has no way though every rib is opened as far as it may be.
    pub left_over: Vec<LeftOver>,
}

/// What came of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TrimOutcome {
    /// Everything holds as it is: nothing to cut.
    NothingToCut,
    /// Everything holds with these notches; no less was found.
    Cut,
    /// Everything holds with these notches, and strips bonded over them keep
    /// the ribs stiff enough; no cut that does without strips was found.
    CutWithStrips,
    /// Everything holds with some notches, but they leave less of a rib's
    /// stiffness than the shop asks for, strips or no strips.
    TooWeak,
    /// Something that may not be cut holds the unit further out, by closed
    /// forms: no cut helps.
    NoCutHelps,
    /// No way was found for everything, though every rib that may be cut was
    /// opened as far as it may be; there may be one.
    NoWayFound,
    /// Stopped before its end: a cut that holds may have been found, less may do.
    Stopped,
}

impl TrimStep {
    /// Whether everything holds in it.
    pub fn holds(&self) -> bool {
        self.routed.is_some()
    }
}
