//! Plugs in plain numbers.

use geometry::{Plug, PlugStyle};

use super::findings::{Field, Findings, Range};
use crate::schema::{PlugPart, RightAngleFile, StraightFile};

/// A plug in plain numbers; `None` when it has no style, which is then among the faults.
///
/// * `lead`: the lead it is on, for the names of measures
pub(super) fn plug(
    part: &PlugPart,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> Option<Plug> {
    let side = Range::SIZE.or_within(8.0, 42.0);
    let width = findings.measure(
        &part.width,
        &at.key("width"),
        &format!("plug width of the {lead}"),
        side,
    );
    let height = findings.measure(
        &part.height,
        &at.key("height"),
        &format!("plug height of the {lead}"),
        side,
    );
    if let Some(depth) = &part.mating_depth {
        let what = format!("mating depth of the {lead}");
        findings.plain(depth, &at.key("mating_depth"), &what, Range::ROOM);
    }
    let smaller = width.value().min(height.value());
    let style = match (&part.straight, &part.right_angle) {
        (Some(file), None) => straight(file, smaller, lead, &at.key("straight"), findings),
        (None, Some(file)) => right_angle(file, lead, &at.key("right_angle"), findings),
        (straight, _) => {
            let found = if straight.is_some() {
                "straight and right_angle"
            } else {
                "neither straight nor right_angle"
            };
            findings.error(at, found, "exactly one of straight, right_angle");
            return None;
        }
    };
    Some(Plug {
        id: part.id.clone(),
        name: part.name.clone(),
        family: part.family.clone(),
        width,
        height,
        style,
    })
}

fn straight(
    file: &StraightFile,
    smaller_side: f64,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> PlugStyle {
    PlugStyle::Straight {
        body: findings.measure(
            &file.body,
            &at.key("body"),
            &format!("plug body of the {lead}"),
            Range::SIZE.or_within(18.0, 38.0),
        ),
        relief: findings.plain_or(
            file.relief.as_ref(),
            &at.key("relief"),
            &format!("strain relief of the {lead}"),
            Range::ROOM,
            0.0,
        ),
        relief_diameter: findings.plain_or(
            file.relief_diameter.as_ref(),
            &at.key("relief_diameter"),
            &format!("diameter of the strain relief of the {lead}"),
            Range::SIZE,
            smaller_side,
        ),
    }
}

fn right_angle(
    file: &RightAngleFile,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> PlugStyle {
    PlugStyle::RightAngle {
        stands: findings.measure(
            &file.stands,
            &at.key("stands"),
            &format!("how far the plug of the {lead} stands out"),
            Range::SIZE,
        ),
        toward: file.toward.into(),
        reach: findings.plain(
            &file.reach,
            &at.key("reach"),
            &format!("plug reach of the {lead}"),
            Range::SIZE,
        ),
    }
}
