//! Numbers as an installer reads them: millimetres to a tenth, or inches to 1/32.

/// Which unit lengths are shown in. What is typed keeps its own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Figures {
    /// Millimetres, to 0.1 at most.
    #[default]
    Millimetres,
    /// Inches, to 1/32.
    Inches,
}

impl Figures {
    /// A length without its unit, from mm: `13.5`, or `17/32`.
    pub fn bare(self, mm: f64) -> String {
        match self {
            Figures::Millimetres => tenths(mm),
            Figures::Inches => thirty_seconds(mm / 25.4),
        }
    }

    /// A length with its unit, from mm: `13.5 mm`, or `17/32 in`.
    pub fn length(self, mm: f64) -> String {
        format!("{} {}", self.bare(mm), self.word())
    }

    /// A length with its ± when it has one, both mm, without unit.
    pub fn with_plus_minus(self, mm: f64, plus_minus: f64) -> String {
        if plus_minus > 0.0 {
            format!("{} ± {}", self.bare(mm), self.bare(plus_minus))
        } else {
            self.bare(mm)
        }
    }

    /// The unit's short name.
    pub fn word(self) -> &'static str {
        match self {
            Figures::Millimetres => "mm",
            Figures::Inches => "in",
        }
    }
}

/// To a tenth, without a trailing zero and never as `-0`.
fn tenths(value: f64) -> String {
    if !value.is_finite() {
        return if value > 0.0 { "any" } else { "none" }.to_owned();
    }
    let rounded = (value * 10.0).round() / 10.0;
    let rounded = if rounded == 0.0 { 0.0 } else { rounded };
    format!("{rounded}")
}

/// As a tape reads: whole inches and a fraction in lowest terms.
fn thirty_seconds(inches: f64) -> String {
    if !inches.is_finite() {
        return tenths(inches);
    }
    let total = (inches.abs() * 32.0).round() as i64;
    let sign = if inches < 0.0 && total > 0 { "-" } else { "" };
    let (whole, mut top, mut bottom) = (total / 32, total % 32, 32);
    while top > 0 && top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    match (whole, top) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{bottom}"),
        (whole, top) => format!("{sign}{whole} {top}/{bottom}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_stop_at_a_tenth() {
        let mm = Figures::Millimetres;
        assert_eq!(mm.bare(13.5), "13.5");
        assert_eq!(mm.bare(19.25), "19.3");
        assert_eq!(mm.bare(212.0), "212");
        assert_eq!(mm.bare(-0.04), "0");
        assert_eq!(mm.length(-9.25), "-9.3 mm");
        assert_eq!(mm.with_plus_minus(212.0, 2.0), "212 ± 2");
        assert_eq!(mm.with_plus_minus(212.0, 0.0), "212");
    }

    #[test]
    fn inches_read_as_on_a_tape() {
        let inches = Figures::Inches;
        assert_eq!(inches.bare(25.4 * 7.1875), "7 3/16");
        assert_eq!(inches.bare(25.4 * 0.5), "1/2");
        assert_eq!(inches.bare(13.5), "17/32");
        assert_eq!(inches.bare(50.8), "2");
        assert_eq!(inches.bare(-13.5), "-17/32");
        assert_eq!(inches.bare(0.1), "0");
        assert_eq!(inches.length(182.0), "7 5/32 in");
    }
}
