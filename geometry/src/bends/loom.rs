//! The bend rule of a loom.

use crate::job::BendRule;

/// Inside radius of a loom in diameters of its largest wire, where the bend is
/// not supported: AS50881 and FAA AC 43.13-1B chapter 11, as read in an engine
/// maintenance manual, 71-50-03.
pub const UNSUPPORTED: f64 = 10.0;

/// The same where the loom is held at the bend.
pub const SUPPORTED: f64 = 3.0;

/// How tightly a loom may bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoomRule {
    /// Least radius at the inside of the loom's curve, mm.
    pub inside: f64,
    /// Least radius at the loom's centreline, mm.
    pub centreline: f64,
    /// Which member rules, by its place in the list.
    pub member: usize,
}

impl LoomRule {
    /// The member that asks for the largest inside radius; the first of equals.
    fn of(inside: impl Iterator<Item = f64>, loom_diameter: f64) -> Option<LoomRule> {
        let larger = |one: (usize, f64), other: (usize, f64)| {
            if other.1 > one.1 { other } else { one }
        };
        let (member, inside) = inside.enumerate().reduce(larger)?;
        Some(LoomRule {
            inside,
            centreline: inside + 0.5 * loom_diameter,
            member,
        })
    }
}

/// The rule of a loom's most sensitive member, which governs the whole loom
/// (NASA workmanship standards, sheets 4.01 and 4.02). `None` without members.
///
/// Any member may come to lie at the inside of the curve, so the largest
/// inside radius asked for holds there.
///
/// * `members`: outside diameter, mm, and rule of each
/// * `loom_diameter`: mm
pub fn most_sensitive_member(members: &[(f64, BendRule)], loom_diameter: f64) -> Option<LoomRule> {
    let inside = members
        .iter()
        .map(|(od, rule)| rule.centreline(*od) - 0.5 * od);
    LoomRule::of(inside, loom_diameter)
}

/// The rule that takes so many diameters of the largest member ([`UNSUPPORTED`]
/// or [`SUPPORTED`]) for the loom. `None` without members.
///
/// * `ods`: outside diameter of each member, mm
/// * `loom_diameter`: mm
pub fn times_largest(ods: &[f64], times: f64, loom_diameter: f64) -> Option<LoomRule> {
    LoomRule::of(ods.iter().map(|od| times * od), loom_diameter)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{BendLine, BendRadius};

    #[test]
    fn a_rule_at_the_centreline_counts_at_the_inside() {
        let at = |radius, measured| BendRule { radius, measured };
        let members = [
            (2.0, at(BendRadius::TimesOd(10.0), BendLine::Inside)),
            (8.0, at(BendRadius::Millimetres(23.0), BendLine::Centreline)),
        ];
        let rule = most_sensitive_member(&members, 12.0).unwrap();
        assert_eq!((rule.member, rule.inside, rule.centreline), (0, 20.0, 26.0));
        let rule = most_sensitive_member(&members[1..], 12.0).unwrap();
        assert_eq!(rule.inside, 19.0);
        assert_eq!(most_sensitive_member(&[], 12.0), None);
        let rule = times_largest(&[2.0, 8.0, 8.0], SUPPORTED, 12.0).unwrap();
        assert_eq!((rule.member, rule.inside, rule.centreline), (1, 24.0, 30.0));
    }
}
