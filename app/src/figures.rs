//! How lengths are shown: millimetres to 0.1, or inches to 1/32.

use profiles::{Length, length};

/// The unit lengths are shown in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Figures {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches and fractions.
    Inches,
}

impl Figures {
    /// A length with its unit.
    pub fn length(self, mm: f64) -> String {
        match self {
            Figures::Millimetres => format!("{} mm", self.bare(mm)),
            Figures::Inches => format!("{} in", self.bare(mm)),
        }
    }

    /// A length without its unit.
    pub fn bare(self, mm: f64) -> String {
        match self {
            Figures::Millimetres => length::as_millimetres(mm),
            Figures::Inches => length::as_inches(mm),
        }
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

    /// The unit's name in a sentence.
    pub fn named(self) -> &'static str {
        match self {
            Figures::Millimetres => "mm",
            Figures::Inches => "inches",
        }
    }

    /// What a length as written comes to, where inches are shown and it is not
    /// written in them: its unit, if it names none, and its value in inches.
    pub fn beside(self, written: &Length) -> Option<(&'static str, String)> {
        let text = written.as_written();
        if self == Figures::Millimetres || !text.contains(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let text = text.replace("+-", "±").replace(" - ", "±");
        let mut terms = text.split(['±', '+']).flat_map(|term| term.split(".."));
        if terms.all(|term| term.contains(['/', '"']) || term.contains("in")) {
            return None;
        }
        let unit = if text.contains(char::is_alphabetic) {
            ""
        } else {
            "mm"
        };
        let measure = written.measure()?;
        if measure == geometry::Measure::exact(0.0) {
            return None;
        }
        let value = if measure.is_measured() {
            self.length(measure.value())
        } else {
            let [low, high] = [measure.low(), measure.high()];
            format!("{} to {}", self.bare(low), self.length(high))
        };
        Some((unit, value))
    }

    /// How far one press of an arrow moves something, mm: 1 mm, a fine one 0.1;
    /// in inches 1/32, a fine one 1/64.
    pub fn nudge(self, fine: bool) -> f64 {
        match (self, fine) {
            (Figures::Millimetres, false) => 1.0,
            (Figures::Millimetres, true) => 0.1,
            (Figures::Inches, false) => 25.4 / 32.0,
            (Figures::Inches, true) => 25.4 / 64.0,
        }
    }

    /// The round step in which a hand drags: the smallest that it can still
    /// hit, where `point` mm lie under one point of the screen.
    pub fn step(self, point: f64) -> f64 {
        let steps = match self {
            Figures::Millimetres => [0.1, 0.5, 1.0],
            Figures::Inches => [25.4 / 64.0, 25.4 / 32.0, 25.4 / 16.0],
        };
        steps
            .into_iter()
            .find(|&step| step >= point)
            .unwrap_or(steps[2])
    }

    /// A length of a chain, where hundredths have to add up.
    pub fn fine(self, mm: f64) -> String {
        match self {
            Figures::Millimetres => {
                let text = format!("{mm:.2}");
                let text = text.trim_end_matches('0').trim_end_matches('.');
                if text == "-0" {
                    "0".to_owned()
                } else {
                    text.to_owned()
                }
            }
            Figures::Inches => length::as_inches(mm),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_not_written_in_inches_is_told_in_them() {
        let told = |text: &str| {
            let written = Length::parse(text).expect("a length");
            let told = Figures::Inches.beside(&written)?;
            Some(format!("{}, {}", told.0, told.1))
        };
        for (text, expected) in [
            ("184 ± 0.5", "mm, 7 1/4 in"),
            ("184 +- 0.5", "mm, 7 1/4 in"),
            ("184", "mm, 7 1/4 in"),
            ("18.4 cm", ", 7 1/4 in"),
            ("200 - 5/8", "mm, 7 1/4 in"),
            ("? 25.4..50.8", "mm, 1 to 2 in"),
        ] {
            assert_eq!(told(text).as_deref(), Some(expected), "{text}");
        }
        for text in [
            "7 1/4",
            "7-1/4 ± 1/32",
            "7.25in",
            "7 1/4\"",
            "? 1/2..3/4",
            "?",
            "0",
        ] {
            assert_eq!(told(text), None, "{text}");
        }
        let plain = Length::parse("184").expect("a length");
        assert_eq!(Figures::Millimetres.beside(&plain), None);
    }
}
