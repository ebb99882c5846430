//! Slack folded into laps, and cable wound into a helix.

use std::f64::consts::{PI, TAU};

use super::{BendFault, usable};

/// Slack folded into flat laps, one on another: two legs and two half turns each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fold {
    /// Whole laps.
    pub laps: u32,
    /// Straight in each of a lap's two legs, mm.
    pub leg: f64,
    /// The box around it: along the legs, across them, and high, mm.
    pub size: [f64; 3],
    /// Volume of that box, mm³.
    pub volume: f64,
}

/// Volume of a length of cable, mm³: π/4 d² l. No pocket holds it in less.
///
/// * `od`: outside diameter, mm
/// * `length`: mm
pub fn cable_volume(od: f64, length: f64) -> f64 {
    0.25 * PI * od * od * length
}

/// Length of cable in laps, mm: n (2l + 2πr).
///
/// * `leg`: straight in each leg, mm
/// * `fold_radius`: of the half turns at the centreline, mm
pub fn folded_length(laps: u32, leg: f64, fold_radius: f64) -> f64 {
    f64::from(laps) * (2.0 * leg + TAU * fold_radius)
}

/// The laps in which a length of slack takes up the least box, `None` when it
/// is too short for one lap or when none keeps within `largest`.
///
/// With n laps a leg is l = L/2n - πr. The box is l + 2r + d long, 2r + d wide
/// and (n + 1) c d high: each lap climbs over c cables, and the last lies over the
/// beginning of the first. With k = 2r + d - πr its volume is (2r + d) c d times
/// L/2 + k + L/2n + kn, which falls with n up to √(L/2k), for ever when k is not
/// above 0; the best whole number is beside that place or at an end of what is
/// allowed: l >= 0, and length and height within `largest`.
///
/// * `od`: outside diameter, mm
/// * `fold_radius`: at the centreline, mm
/// * `length`: of the slack, mm
/// * `cables`: cables folded side by side
/// * `largest`: longest side the box may have, mm
///
/// # Errors
/// [`BendFault::NotANumber`].
pub fn fold(
    od: f64,
    fold_radius: f64,
    length: f64,
    cables: u32,
    largest: Option<f64>,
) -> Result<Option<Fold>, BendFault> {
    usable(fold_radius, &[od, length, largest.unwrap_or(0.0)])?;
    if od <= 0.0 || cables == 0 {
        return Err(BendFault::NotANumber);
    }
    let layer = od * f64::from(cables);
    let wide = 2.0 * fold_radius + od;
    let gain = wide - PI * fold_radius;
    let mut most = (length / (TAU * fold_radius)).floor();
    let mut fewest = 1.0f64;
    if let Some(largest) = largest {
        most = most.min((largest / layer).floor() - 1.0);
        // Below this the legs alone are too long, however many laps.
        if largest <= gain || largest < wide {
            return Ok(None);
        }
        fewest = fewest.max((length / (2.0 * (largest - gain))).ceil());
    }
    if !(fewest <= most && most <= f64::from(u32::MAX)) {
        return Ok(None);
    }
    let turning = if gain > 0.0 {
        (0.5 * length / gain).sqrt()
    } else {
        most
    };
    let with = |laps: f64| {
        let leg = (0.5 * length / laps - PI * fold_radius).max(0.0);
        let size = [leg + wide, wide, (laps + 1.0) * layer];
        Fold {
            laps: laps as u32,
            leg,
            size,
            volume: size.iter().product(),
        }
    };
    let beside = [turning.floor(), turning.ceil()].map(|laps| with(laps.clamp(fewest, most)));
    let [fewer, more] = beside;
    Ok(Some(if more.volume < fewer.volume {
        more
    } else {
        fewer
    }))
}

/// Length of cable in a helix, mm: N √((2πa)² + p²).
///
/// * `radius`: a, of the cylinder its centreline lies on, mm
/// * `pitch`: p, climb for each turn, mm
pub fn helix_length(radius: f64, pitch: f64, turns: f64) -> f64 {
    turns * (TAU * radius).hypot(pitch)
}

/// Bend radius of a helix at its centreline, mm: (a² + c²) / a with c = p/2π.
///
/// * `radius`: a, of the cylinder its centreline lies on, mm, above 0
/// * `pitch`: p, climb for each turn, mm
pub fn helix_bend_radius(radius: f64, pitch: f64) -> f64 {
    let climb = pitch / TAU;
    radius + climb * climb / radius
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn no_other_number_of_laps_takes_less_room() {
        for (od, radius, length, largest) in [
            (3.0, 9.0, 900.0, None),
            (3.0, 9.0, 900.0, Some(120.0)),
            (6.0, 5.5, 2000.0, None),
            (6.0, 5.0, 2000.0, Some(300.0)),
            (4.0, 30.0, 600.0, None),
        ] {
            let best = fold(od, radius, length, 2, largest).unwrap().unwrap();
            let folded = folded_length(best.laps, best.leg, radius);
            assert_abs_diff_eq!(folded, length, epsilon = 1e-9);
            assert!(best.volume > cable_volume(od, 2.0 * length));
            let limit = largest.unwrap_or(f64::INFINITY);
            assert!(best.size.iter().all(|&side| side <= limit + 1e-9));
            for laps in 1..=200u32 {
                let n = f64::from(laps);
                let leg = length / (2.0 * n) - PI * radius;
                let wide = 2.0 * radius + od;
                let size = [leg + wide, wide, (n + 1.0) * 2.0 * od];
                if leg >= 0.0 && size.iter().all(|&side| side <= limit) {
                    let volume: f64 = size.iter().product();
                    assert!(
                        volume >= best.volume - 1e-6,
                        "{laps} laps, not {}",
                        best.laps
                    );
                }
            }
        }
    }

    #[test]
    fn slack_too_short_for_a_lap_is_not_folded() {
        assert_eq!(fold(3.0, 10.0, 60.0, 1, None), Ok(None));
        assert_eq!(fold(3.0, 10.0, 500.0, 1, Some(20.0)), Ok(None));
        assert_eq!(fold(0.0, 10.0, 60.0, 1, None), Err(BendFault::NotANumber));
    }
}
