//! Plugs and cables in plain numbers.

use geometry::{BendRadius, BendRule, Cable, Plug, PlugStyle, RuleSet};

use super::findings::{Field, Findings, Range};
use crate::schema::{BendRuleFile, CablePart, PlugPart, RightAngleFile, StraightFile};

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

/// A cable in plain numbers; `None` when its rule says nothing, which is then among the faults.
///
/// * `turn_plus_minus`: ± of the turn room, mm
/// * `rules`: the set of rules the job goes by
/// * `lead`: the lead it is in, for the names of measures
pub(super) fn cable(
    part: &CablePart,
    turn_plus_minus: f64,
    rules: RuleSet,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> Option<Cable> {
    let od = findings.measure(
        &part.od,
        &at.key("od"),
        &format!("outside diameter of the {lead}"),
        Range::SIZE.or_within(2.5, 14.0),
    );
    if !(part.straight_run_times_od >= 0.0 && part.straight_run_times_od <= 100.0) {
        findings.error(
            &at.key("straight_run_times_od"),
            format!("{}", part.straight_run_times_od),
            "0 to 100 times the outside diameter",
        );
    }
    let published = bend_rule(&part.published, lead, &at.key("published"), findings);
    let mut own = |file: &Option<BendRuleFile>, key: &str| {
        file.as_ref()
            .map(|file| bend_rule(file, lead, &at.key(key), findings))
    };
    let shop = own(&part.shop, "shop").unwrap_or(published);
    let fold = own(&part.fold, "fold");
    let (published, shop) = (published?, shop?);
    let fold = match fold {
        Some(fold) => fold?,
        None => match rules {
            RuleSet::Published => published,
            RuleSet::Shop => shop,
        },
    };
    Some(Cable {
        id: part.id.clone(),
        name: part.name.clone(),
        od,
        published,
        shop,
        turn_plus_minus,
        fold_radius: fold.centreline(od.value()),
        straight_run: part.straight_run_times_od * od.value(),
        tail: None,
    })
}

fn bend_rule(
    file: &BendRuleFile,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> Option<BendRule> {
    let radius = match (file.times_od, &file.radius) {
        (Some(times), None) if times > 0.0 && times <= 100.0 => BendRadius::TimesOd(times),
        (Some(times), None) => {
            findings.error(
                &at.key("times_od"),
                format!("{times}"),
                "more than 0, up to 100 times the outside diameter",
            );
            return None;
        }
        (None, Some(radius)) => {
            let what = format!("bend radius of the {lead}");
            let radius = findings.plain(radius, &at.key("radius"), &what, Range::SIZE);
            BendRadius::Millimetres(radius)
        }
        (times, _) => {
            let found = if times.is_some() {
                "times_od and radius"
            } else {
                "neither times_od nor radius"
            };
            findings.error(at, found, "exactly one of times_od, radius");
            return None;
        }
    };
    Some(BendRule {
        radius,
        measured: file.measured.into(),
    })
}
