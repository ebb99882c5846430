//! Cables in plain numbers.

use geometry::{BendRadius, BendRule, Cable, Measure, RuleSet, WireTail};

use super::findings::{Field, Findings, Range};
use crate::schema::{BendRuleFile, CablePart, WiresFile};

/// Most wires of one tail.
const MOST_WIRES: u32 = 60;

/// How far the wires of a tail may fill more than its round before it is told:
/// both were measured by hand, and soft insulation gives.
const FULL: f64 = 1.05;

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
    let tail = (part.wires.as_ref()).map(|file| tail(file, od, lead, &at.key("wires"), findings));
    let published = bend_rule(&part.published, lead, &at.key("published"), findings);
    let mut own = |file: &Option<BendRuleFile>, key: &str| {
        file.as_ref()
            .map(|file| bend_rule(file, lead, &at.key(key), findings))
    };
    let shop = own(&part.shop, "shop").unwrap_or(published);
    let fold = own(&part.fold, "fold");
    if (part.fold.as_ref()).is_some_and(|fold| fold.straight_run_times_od != 0.0) {
        let at = at.key("fold").key("straight_run_times_od");
        findings.error(&at, "a straight run", "none: a fold lies behind no plug");
    }
    let (published, shop) = (published?, shop?);
    let (in_force, file) = match rules {
        RuleSet::Published => (published, &part.published),
        RuleSet::Shop => (shop, part.shop.as_ref().unwrap_or(&part.published)),
    };
    let fold = match fold {
        Some(fold) => fold?,
        None => in_force,
    };
    Some(Cable {
        id: part.id.clone(),
        name: part.name.clone(),
        od,
        published,
        shop,
        turn_plus_minus,
        fold_radius: fold.centreline(od.value()),
        straight_run: file.straight_run_times_od * od.value(),
        tail,
    })
}

/// The loose wires of an open tail.
///
/// * `round`: the diameter of the round they make in the hand, mm
fn tail(
    file: &WiresFile,
    round: Measure,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> WireTail {
    if !(1..=MOST_WIRES).contains(&file.count) {
        findings.error(
            &at.key("count"),
            format!("{} wires", file.count),
            format!("1 to {MOST_WIRES} wires"),
        );
    }
    let od = findings.plain(
        &file.od,
        &at.key("od"),
        &format!("outside diameter of a wire of the {lead}"),
        Range::WIRE,
    );
    let filled = f64::from(file.count) * od * od;
    if filled > FULL * round.high() * round.high() {
        findings.warning(
            at,
            format!(
                "{} wires of {od} mm in a tail of {} mm",
                file.count,
                round.high()
            ),
            "fewer or thinner wires, or a thicker tail: these cannot lie in it",
        );
    }
    WireTail {
        wires: file.count,
        od,
    }
}

fn bend_rule(
    file: &BendRuleFile,
    lead: &str,
    at: &Field,
    findings: &mut Findings,
) -> Option<BendRule> {
    let run = file.straight_run_times_od;
    if !(0.0..=100.0).contains(&run) {
        findings.error(
            &at.key("straight_run_times_od"),
            format!("{run}"),
            "0 to 100 times the outside diameter",
        );
    }
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
