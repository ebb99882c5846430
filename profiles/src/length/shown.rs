//! Lengths as people read them: tenths of a millimetre, thirty-seconds of an inch.

/// A length in millimetres, to 0.1 at most: `182`, `182.5`, `-3.2`.
///
/// A length that is not a number reads `?`.
pub fn as_millimetres(mm: f64) -> String {
    if !mm.is_finite() {
        return "?".to_owned();
    }
    let tenths = (mm * 10.0).round() / 10.0;
    // Adding 0 turns -0 into 0.
    format!("{}", tenths + 0.0)
}

/// A length, mm, in inches to the nearest 1/32, as a tape reads: `7 3/16`, `9/32`, `-1/2`, `7`.
///
/// The unit is not part of the text; whole inches need it beside them to be
/// told from millimetres. A length that is not a number reads `?`.
pub fn as_inches(mm: f64) -> String {
    const PARTS: u64 = 32;
    if !mm.is_finite() {
        return "?".to_owned();
    }
    // Saturates far beyond any length a file may hold.
    let parts = (mm.abs() / 25.4 * PARTS as f64).round() as u64;
    let sign = if mm < 0.0 && parts > 0 { "-" } else { "" };
    let (whole, mut over, mut under) = (parts / PARTS, parts % PARTS, PARTS);
    while over > 0 && over % 2 == 0 {
        over /= 2;
        under /= 2;
    }
    match (whole, over) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{over}/{under}"),
        _ => format!("{sign}{whole} {over}/{under}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_show_a_tenth_at_most() {
        for (mm, text) in [
            (182.0, "182"),
            (182.5, "182.5"),
            (182.04, "182"),
            (182.06, "182.1"),
            (-0.04, "0"),
            (-3.24, "-3.2"),
            (f64::NAN, "?"),
        ] {
            assert_eq!(as_millimetres(mm), text);
        }
    }

    #[test]
    fn inches_show_the_nearest_thirty_second() {
        for (mm, text) in [
            (182.5625, "7 3/16"),
            (7.14375, "9/32"),
            (177.8, "7"),
            (-12.7, "-1/2"),
            (0.3, "0"),
            (-0.3, "0"),
            (25.3, "1"),
            (f64::INFINITY, "?"),
        ] {
            assert_eq!(as_inches(mm), text);
        }
    }

    #[test]
    fn what_is_shown_in_inches_is_within_a_sixty_fourth() {
        for step in -4000..4000 {
            let mm = f64::from(step) * 0.137;
            let text = as_inches(mm);
            let inches = if text.contains('/') {
                text.clone()
            } else {
                format!("{text} in")
            };
            let read = crate::Length::parse(&inches).unwrap().measure().unwrap();
            assert!(
                (read.value() - mm).abs() <= 25.4 / 64.0 + 1e-9,
                "{mm}: {text}"
            );
        }
    }
}
