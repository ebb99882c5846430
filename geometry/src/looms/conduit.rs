//! Fill as for conduit in buildings, beside which a hole may be judged.

use std::f64::consts::FRAC_PI_4;

/// Area of a circle by its diameter, mm².
pub(super) fn area(diameter: f64) -> f64 {
    FRAC_PI_4 * diameter * diameter
}

/// Share of a bore that so many cables may fill: one 53 %, two 31 %, more 40 %
/// (NEC (NFPA 70), chapter 9, table 1, read).
///
/// A rule for pulling cable through long conduit; a hole in sheet metal may be
/// filled further, which is why it is shown beside [`lie_in`](super::lie_in) and
/// decides nothing.
pub fn conduit_limit(cables: usize) -> f64 {
    match cables {
        0 | 1 => 0.53,
        2 => 0.31,
        _ => 0.40,
    }
}

/// Bore that [`conduit_limit`] asks for these cables, mm: 1.3736 d for one,
/// 2.54 d for two alike, 1.5811 √(Σ d²) for more.
pub fn conduit_bore(diameters: &[f64]) -> f64 {
    let squares: f64 = diameters.iter().map(|d| d * d).sum();
    (squares / conduit_limit(diameters.len())).sqrt()
}

/// Area of these cables as a share of a bore of this diameter.
pub fn conduit_fill(diameters: &[f64], bore: f64) -> f64 {
    diameters.iter().map(|d| area(*d)).sum::<f64>() / area(bore)
}

/// A bore in which three cables may jam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jam {
    /// Bore over outside diameter (of unequal cables, their mean).
    pub ratio: f64,
}

/// Whether three cables may jam in a bore: when it is 2.8 to 3.2 times their
/// diameter they can come to lie in line across it (NEC (NFPA 70), chapter 9,
/// table 1, informational note 2, read).
///
/// The note speaks of three alike; unequal ones count by their mean.
pub fn may_jam(diameters: &[f64], bore: f64) -> Option<Jam> {
    let [a, b, c] = diameters else {
        return None;
    };
    let ratio = 3.0 * bore / (a + b + c);
    (2.8..=3.2).contains(&ratio).then_some(Jam { ratio })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Figures computed from the table's percentages.
    #[test]
    fn twelve_wires_ask_for_the_bore_of_the_table() {
        let wires = [2.4; 12];
        let total: f64 = wires.iter().map(|d| area(*d)).sum();
        assert_abs_diff_eq!(total, 54.2867, epsilon = 1e-4);
        let bore = conduit_bore(&wires);
        assert_abs_diff_eq!(bore, 13.1453, epsilon = 1e-4);
        assert_abs_diff_eq!(area(bore), 135.7168, epsilon = 1e-4);
        assert_abs_diff_eq!(conduit_fill(&wires, 10.0), 0.69120, epsilon = 1e-5);
        assert_abs_diff_eq!(conduit_bore(&[1.0]), 1.3736, epsilon = 1e-4);
        assert_abs_diff_eq!(conduit_bore(&[1.0; 2]), 2.54, epsilon = 1e-4);
        assert_abs_diff_eq!(conduit_bore(&[3.0, 4.0, 0.0]), 7.9057, epsilon = 1e-4);
    }

    #[test]
    fn three_cables_jam_in_a_bore_of_three_diameters() {
        assert!(may_jam(&[5.0; 3], 15.0).is_some());
        assert!(may_jam(&[5.0; 3], 16.5).is_none());
        assert!(may_jam(&[5.0; 3], 13.0).is_none());
        assert!(may_jam(&[5.0; 4], 15.0).is_none());
    }
}
