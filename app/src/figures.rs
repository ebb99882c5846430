//! How lengths are shown: millimetres to 0.1, or inches to 1/32.

use profiles::length;

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
