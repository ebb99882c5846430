//! What is cut and what stays, in sentences.

use geometry::trimming::{Account, NotchAccount, RibKept, TrimOutcome, TrimStep};
use geometry::{Edge, Job, Stop, Trim};

use super::with_article;
use crate::figures::Figures;

/// Stiffness is shown in steps of this share.
const STEP: f64 = 0.05;

/// The least cut for one proud, as a sentence.
pub fn headline(step: &TrimStep, accounts: &[Account], figures: Figures) -> String {
    let proud = figures.length(step.proud);
    match step.outcome {
        TrimOutcome::NothingToCut if step.proud <= 0.0 => {
            "Seats flush as it is: nothing to cut.".to_owned()
        }
        TrimOutcome::NothingToCut => format!("Goes in {proud} proud as it is: nothing to cut."),
        TrimOutcome::Cut => {
            let names: Vec<String> = accounts.iter().map(|it| with_article(&it.name)).collect();
            let seats = match step.proud <= 0.0 {
                true => "Seats flush".to_owned(),
                false => format!("Goes in {proud} proud"),
            };
            let removed = volume(step.removed_mm3);
            format!("{seats} with {removed} cut from {}.", names.join(" and "))
        }
        TrimOutcome::NoCutHelps => {
            let why = step.stopped_by.first();
            let why = why.map_or(String::new(), |stop| format!(": {}", held(stop)));
            format!(
                "No cut brings it to {proud} proud; at least {} whatever is cut{why}.",
                figures.length(step.lower_bound)
            )
        }
        TrimOutcome::NoWayFound => {
            let left = step.left_over.first();
            let left = left.map_or(String::new(), |left| format!(" for the {}", left.name));
            format!(
                "No way found{left} at {proud} proud, though all that may be cut was opened; at least {} proud.",
                figures.length(step.lower_bound)
            )
        }
        TrimOutcome::Stopped => format!("Stopped before {proud} proud was looked at to its end."),
    }
}

/// "the main plug is held by the data module"
fn held(stop: &Stop) -> String {
    format!(
        "the {} is held by {}",
        stop.piece,
        with_article(&stop.against)
    )
}

/// "0.52 cm3", "under 0.01 cm3"
pub fn volume(mm3: f64) -> String {
    match 0.001 * mm3 {
        cm3 if cm3 > 0.0 && cm3 < 0.005 => "under 0.01 cm3".to_owned(),
        cm3 => format!("{cm3:.2} cm3"),
    }
}

/// "from the lower edge, 33 to 55 across, 9 mm deep, corners R 4"
pub fn notch(job: &Job, rib: &str, notch: &NotchAccount, figures: Figures) -> String {
    let corners = match notch.radius > 0.0 {
        true => format!("corners R {}", figures.bare(notch.radius)),
        false => "sharp corners".to_owned(),
    };
    format!(
        "from the {} edge, {} to {} {}, {} deep, {corners}",
        notch.edge.word(),
        figures.bare(notch.along[0]),
        figures.bare(notch.along[1]),
        axis(job, rib, notch.edge),
        figures.length(notch.depth),
    )
}

/// Whether the shop's tool gets at a notch; what is in its way when not.
pub fn reach(job: &Job, trim: &Trim) -> String {
    let tool = &job.cutting.tool;
    match geometry::trimming::reach(job, trim, tool) {
        Ok(_) => format!(
            "the {} gets at it through the opening, the unit out",
            tool.name
        ),
        Err(unreachable) => format!("the {} does not get at it: {unreachable}", tool.name),
    }
}

/// The axis that an edge of a rib runs along, as the installer says it.
pub fn axis(job: &Job, rib: &str, edge: Edge) -> &'static str {
    let obstacle = job.cavity.obstacles.iter().find(|it| it.id == rib);
    let face = obstacle
        .and_then(|it| geometry::trimming::RibFace::new(it, geometry::Reading::Nominal).ok());
    match (face.map(|face| face.plane), edge) {
        (Some(geometry::Plane::DepthUp), Edge::Lower | Edge::Upper) => "deep",
        (Some(geometry::Plane::AcrossDepth), Edge::Left | Edge::Right) => "deep",
        (_, Edge::Left | Edge::Right) => "up",
        (Some(geometry::Plane::DepthUp), Edge::Near | Edge::Far) => "up",
        _ => "across",
    }
}

/// A share of stiffness as shown on the main screen: to 5 %, never up to all.
pub fn share(value: f64) -> String {
    let steps = (value / STEP + 1e-9).floor() * STEP;
    format!("{:.0} %", 100.0 * steps.clamp(0.0, 1.0))
}

/// "keeps about 75 % of its stiffness, 60 % at the notch"
pub fn kept(kept: &RibKept) -> String {
    let centre = kept.centre().map(|it| share(it.value));
    let at_notch = kept.at_notch().map(|it| share(it.value));
    match (centre, at_notch) {
        (Some(centre), Some(at_notch)) => format!(
            "keeps about {centre} of its stiffness pushed at its middle, {at_notch} at the notch"
        ),
        (Some(one), None) | (None, Some(one)) => format!("keeps about {one} of its stiffness"),
        (None, None) => "no figure for its stiffness".to_owned(),
    }
}

/// The hand check beside it: "strip rule 76 % and 55 %: it leaves out shear and the dead
/// corners beside a notch".
pub fn strip_rule(kept: &RibKept) -> Option<String> {
    let centre = kept.centre.strip?;
    let at_notch = kept.at_notch.iter().filter_map(|it| it.strip);
    let least = at_notch.fold(f64::INFINITY, f64::min);
    let percent = |value: f64| format!("{:.0} %", 100.0 * value);
    let both = match least.is_finite() {
        true => format!("{} and {}", percent(centre), percent(least)),
        false => percent(centre),
    };
    Some(format!(
        "hand check by the strip rule: {both}; it takes the corners beside a notch for sound, which carry nothing"
    ))
}

/// What stands beside every figure of stiffness.
pub const COMPARES: &str =
    "Stiffness compares the rib as cut with the rib whole; it proves no strength.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_rounded_down_to_5_percent() {
        assert_eq!(share(0.7), "70 %");
        assert_eq!(share(0.749), "70 %");
        assert_eq!(share(1.0), "100 %");
        assert_eq!(share(0.999), "95 %");
    }

    #[test]
    fn small_volumes_are_not_nothing() {
        assert_eq!(volume(3.0), "under 0.01 cm3");
        assert_eq!(volume(0.0), "0.00 cm3");
        assert_eq!(volume(520.0), "0.52 cm3");
    }
}
