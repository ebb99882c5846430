//! Whether slack has room with the unit part of the way in.
//!
//! Held out at its pull-out distance the unit takes up most of what a lead is
//! too long; pushed home it gives it back, all along the way. So at any place
//! between, each lead's slack must lie somewhere: in the pockets, or in the
//! room behind the unit that it has not yet taken up. That room is a block as
//! wide and high as the chassis and as long as the unit is out, less the plugs
//! and cables in it, and no fuller than a pocket may be. Common practice, no
//! source; the unit is looked at half its depth out, and at the pull-out distance.

use super::stow::{LeftOut, PocketRoom, Stowage, ToStow, stow};

/// Slack with the unit held out.
#[derive(Clone, Debug, PartialEq)]
pub struct HalfWay {
    /// How far out the unit is held, mm from its seat.
    pub out: f64,
    /// Where the slack goes; the room behind the unit is the last pocket.
    pub stowage: Stowage,
    /// Slack without room.
    pub short: Vec<NoRoom>,
}

/// A lead's slack that finds no room.
#[derive(Clone, Debug, PartialEq)]
pub struct NoRoom {
    /// The lead (its id).
    pub lead: String,
    /// The pocket that would take most of it (its id); `None` where its folds
    /// go into none.
    pub pocket: Option<String>,
    /// What its folded slack takes, cm³.
    pub slack_cm3: f64,
    /// What that pocket lacks for it, cm³.
    pub short_cm3: f64,
}

/// Stows slack with the unit held `out` mm out.
///
/// * `pockets`: the pockets, the room behind the unit the last of them
/// * `limit`: share of a pocket that may be filled
pub fn half_way(out: f64, slacks: &[ToStow], pockets: &[PocketRoom], limit: f64) -> HalfWay {
    let stowage = stow(slacks, pockets, limit);
    let short = stowage
        .left_out
        .iter()
        .map(|left| no_room(left, &stowage, limit))
        .collect();
    HalfWay {
        out,
        stowage,
        short,
    }
}

fn no_room(left: &LeftOut, stowage: &Stowage, limit: f64) -> NoRoom {
    let roomiest = stowage
        .fills
        .iter()
        .map(|fill| (limit * fill.room_cm3 - fill.slack_cm3, &fill.pocket))
        .filter(|_| left.folds_fit)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let free = roomiest.map_or(0.0, |(free, _)| free.max(0.0));
    NoRoom {
        lead: left.lead.clone(),
        pocket: roomiest.map(|(_, pocket)| pocket.clone()),
        slack_cm3: left.slack_cm3,
        short_cm3: (left.slack_cm3 - free).max(0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::slack::FILL_LIMIT;

    fn room(pocket: &str, size: [f64; 3]) -> PocketRoom {
        PocketRoom {
            pocket: pocket.into(),
            size,
            taken: 0.0,
        }
    }

    fn slack(length: f64) -> ToStow {
        ToStow {
            lead: "L1".into(),
            od: 6.0,
            cables: 1,
            fold_radius: 24.0,
            length,
        }
    }

    /// 300 mm of 6 mm cable in one lap of radius 24: a leg of 150 - 24 pi = 74.6,
    /// a box of 128.6 x 54 x 12 = 83.3 cm3, which wants 208 cm3 of room.
    #[test]
    fn what_has_no_room_half_way_is_named_with_what_lacks() {
        let pocket = room("P1", [140.0, 60.0, 20.0]);
        let behind = room("behind", [150.0, 60.0, 15.0]);
        let tight = half_way(60.0, &[slack(300.0)], &[pocket.clone(), behind], FILL_LIMIT);
        let [short] = tight.short.as_slice() else {
            panic!("{tight:?}");
        };
        assert_eq!(
            (short.lead.as_str(), short.pocket.as_deref()),
            ("L1", Some("P1"))
        );
        assert!((short.slack_cm3 - 83.3).abs() < 0.1, "{short:?}");
        // The larger of the two takes 0.4 x 168 = 67.2.
        assert!((short.short_cm3 - 16.1).abs() < 0.1, "{short:?}");
        // Further out there is room behind it.
        let further = room("behind", [150.0, 100.0, 60.0]);
        let free = half_way(60.0, &[slack(300.0)], &[pocket, further], FILL_LIMIT);
        assert!(free.short.is_empty());
        assert_eq!(free.stowage.fills[1].leads, ["L1"]);
    }

    #[test]
    fn folds_that_go_in_nowhere_name_no_pocket() {
        let slot = room("slot", [300.0, 40.0, 40.0]);
        let found = half_way(60.0, &[slack(300.0)], &[slot], FILL_LIMIT);
        assert_eq!(found.short[0].pocket, None);
        assert!(found.short[0].short_cm3 > 0.0);
    }
}
