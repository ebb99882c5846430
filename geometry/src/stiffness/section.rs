//! A cross-section put together from upright rectangles.

/// An upright rectangle of a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Across, mm.
    pub thickness: f64,
    /// Its foot, mm.
    pub low: f64,
    /// Its head, mm.
    pub high: f64,
    /// Modulus of elasticity, MPa; 1 throughout for plain second moments.
    pub modulus: f64,
}

/// How a section bends as one piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// The height at which nothing stretches, mm.
    pub middle: f64,
    /// Second moment times modulus, N mm².
    pub stiffness: f64,
}

/// The section its parts make up, by the parallel-axis theorem: I = Σ b h³/12 +
/// b h d² about the common middle, each part weighted by its modulus.
pub fn section(parts: &[Part]) -> Section {
    let stretch = |part: &Part| part.modulus * part.thickness * (part.high - part.low);
    let middle = |part: &Part| 0.5 * (part.low + part.high);
    let whole: f64 = parts.iter().map(stretch).sum();
    let common = parts
        .iter()
        .map(|part| stretch(part) * middle(part))
        .sum::<f64>()
        / whole;
    let own = |part: &Part| {
        let (height, arm) = (part.high - part.low, middle(part) - common);
        stretch(part) * (height * height / 12.0 + arm * arm)
    };
    Section {
        middle: common,
        stiffness: parts.iter().map(own).sum(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn part(thickness: f64, low: f64, high: f64) -> Part {
        Part {
            thickness,
            low,
            high,
            modulus: 1.0,
        }
    }

    /// 2.5 by 30 trimmed by 12: I 5625 to 1215, I over height/2 375 to 135.
    #[test]
    fn a_rib_trimmed_at_its_edge() {
        for (low, second, modulus) in [(0.0, 5625.0, 375.0), (12.0, 1215.0, 135.0)] {
            let found = section(&[part(2.5, low, 30.0)]);
            assert_abs_diff_eq!(found.stiffness, second, epsilon = 1e-9);
            let outer = 30.0 - found.middle;
            assert_abs_diff_eq!(found.stiffness / outer, modulus, epsilon = 1e-9);
        }
    }

    /// A flange 60 by 4 on a web 3 by 26, whole and 12 cut off its foot
    /// (computed by the parallel-axis theorem).
    #[test]
    fn a_flanged_rib_with_its_foot_cut() {
        let cases = [
            (0.0, 24.320_755, 17_959.283_0, 738.434_4),
            (12.0, 26.659_574, 3_901.319_1, 266.127_7),
        ];
        for (foot, middle, second, modulus) in cases {
            let found = section(&[part(3.0, foot, 26.0), part(60.0, 26.0, 30.0)]);
            assert_abs_diff_eq!(found.middle, middle, epsilon = 1e-4);
            assert_abs_diff_eq!(found.stiffness, second, epsilon = 1e-4);
            let at_foot = found.stiffness / (found.middle - foot);
            assert_abs_diff_eq!(at_foot, modulus, epsilon = 1e-4);
        }
    }

    /// Three planks 1.5 by 5.5: as an I, flat on each other, on edge side by
    /// side. "Engineering Statics: Open and Interactive", section 10.4, for the
    /// setting (read); the numbers are exact.
    #[test]
    fn three_planks() {
        let cases: [(&[Part], f64); 3] = [
            (
                &[
                    part(5.5, 0.0, 1.5),
                    part(1.5, 1.5, 7.0),
                    part(5.5, 7.0, 8.5),
                ],
                226.015_625,
            ),
            (&[part(5.5, 0.0, 4.5)], 41.765_625),
            (&[part(4.5, 0.0, 5.5)], 62.390_625),
        ];
        for (parts, second) in cases {
            assert_abs_diff_eq!(section(parts).stiffness, second, epsilon = 1e-6);
        }
    }
}
