//! What is wrong with a notch, in words and millimetres.

use std::fmt;

use super::FaceFault;
use crate::job::Edge;

/// A rule that a notch breaks. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum TrimFault {
    /// The job has no such obstacle.
    NoSuchRib,
    /// It is never cut: its kind, or that nothing says it may be.
    NeverCut {
        /// The word for its kind.
        kind: &'static str,
        /// Whether its kind is never cut whatever a file says.
        by_kind: bool,
    },
    /// It may be cut only when the customer agrees, and nobody asked.
    NotAsked,
    /// The shop leaves it alone in this job.
    LeftAlone,
    /// There is no such notch in it.
    Shape(FaceFault),
    /// No notch may start from this edge.
    EdgeNotAllowed {
        /// The edge of the notch.
        edge: Edge,
        /// Those a notch may start from.
        allowed: Vec<Edge>,
    },
    /// It is deeper than allowed.
    TooDeep {
        /// How deep it is.
        depth: f64,
        /// How deep it may be.
        most: f64,
    },
    /// It is too near an end of the rib.
    NearEnd {
        /// How near it is.
        gap: f64,
        /// How near it may be.
        least: f64,
    },
    /// Too little of the rib stays.
    ThinWeb {
        /// What stays of its height, or between opposite notches.
        web: f64,
        /// What has to stay.
        least: f64,
    },
    /// It is too near something else.
    NearSolid {
        /// Id of what it is near to.
        id: String,
        /// What the installer calls it.
        name: String,
        /// Whether that is never cut.
        never_cut: bool,
        /// How far away it is; negative: how deep the notch reaches into it.
        gap: f64,
        /// The room a notch keeps from it.
        least: f64,
    },
    /// It is too near another notch of the same edge: a tongue narrower than
    /// it is long breaks off.
    NearNotch {
        /// Width of the tongue between them; negative where they overlap.
        gap: f64,
        /// Length of the tongue, which it has to be wide.
        least: f64,
    },
    /// It is narrower than the cut of the blade.
    Narrow {
        /// Its width.
        width: f64,
        /// The width of the cut.
        least: f64,
    },
    /// A side or its bottom lies between whole steps.
    OffSnap {
        /// Where it lies: along the edge, or its depth.
        at: f64,
        /// The step.
        snap: f64,
    },
    /// Too little of the rib's stiffness stays for a push at its middle.
    TooWeak {
        /// The share that stays, 0 to 1.
        kept: f64,
        /// How far that share may be off.
        error: f64,
        /// The share that has to stay.
        least: f64,
    },
}

impl TrimFault {
    /// Whether nothing of it is ever cut, whatever a job says.
    pub fn is_never(&self) -> bool {
        match self {
            TrimFault::NoSuchRib | TrimFault::NeverCut { .. } | TrimFault::Shape(_) => true,
            TrimFault::NearSolid { never_cut, .. } => *never_cut,
            _ => false,
        }
    }
}

impl fmt::Display for TrimFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TrimFault::NoSuchRib => write!(f, "there is no such obstacle"),
            TrimFault::NeverCut {
                kind,
                by_kind: true,
            } => write!(f, "a {kind} is never cut"),
            TrimFault::NeverCut { kind, .. } => {
                write!(f, "nothing says that this {kind} may be cut, so it is not")
            }
            TrimFault::NotAsked => write!(f, "it may be cut only once the customer agrees"),
            TrimFault::LeftAlone => write!(f, "it is to be left alone"),
            TrimFault::Shape(fault) => write!(f, "{fault}"),
            TrimFault::EdgeNotAllowed { edge, allowed } => {
                let words: Vec<&str> = allowed.iter().map(|it| it.word()).collect();
                let allowed = match words.is_empty() {
                    true => "none".to_owned(),
                    false => words.join(", "),
                };
                write!(
                    f,
                    "cut from its {} edge; allowed from: {allowed}",
                    edge.word()
                )
            }
            TrimFault::TooDeep { depth, most } => {
                write!(f, "{} mm deep; at most {} mm", mm(*depth), mm(*most))
            }
            TrimFault::NearEnd { gap, least } => {
                write!(f, "{} mm from an end; at least {} mm", mm(*gap), mm(*least))
            }
            TrimFault::ThinWeb { web, least } => {
                write!(f, "{} mm of it stay; at least {} mm", mm(*web), mm(*least))
            }
            TrimFault::NearSolid {
                name, gap, least, ..
            } if *gap < 0.0 => write!(
                f,
                "{} mm into the {name}; at least {} mm away",
                mm(-gap),
                mm(*least)
            ),
            TrimFault::NearSolid {
                name, gap, least, ..
            } => write!(
                f,
                "{} mm from the {name}; at least {} mm",
                mm(*gap),
                mm(*least)
            ),
            TrimFault::NearNotch { gap, .. } if *gap < 0.0 => {
                write!(f, "it overlaps another notch by {} mm", mm(-gap))
            }
            TrimFault::NearNotch { gap, least } => write!(
                f,
                "{} mm beside another notch; at least {} mm, or the tongue between breaks off",
                mm(*gap),
                mm(*least)
            ),
            TrimFault::Narrow { width, least } => write!(
                f,
                "{} mm wide; the blade alone cuts {} mm",
                mm(*width),
                mm(*least)
            ),
            TrimFault::OffSnap { at, snap } => {
                write!(f, "{} mm is no whole step of {} mm", mm(*at), mm(*snap))
            }
            TrimFault::TooWeak { kept, least, .. } => write!(
                f,
                "{:.0} % of its stiffness stay; at least {:.0} %",
                100.0 * kept,
                100.0 * least
            ),
        }
    }
}

impl std::error::Error for TrimFault {}

/// A length to a hundredth, without idle zeros.
pub(super) fn mm(length: f64) -> String {
    let text = format!("{length:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    match text {
        "-0" => "0".to_owned(),
        _ => text.to_owned(),
    }
}
