//! A measured length with what is known of it.

/// A length as measured: its value and the band it is believed to lie in, mm.
///
/// The band of a measure with a ± is its 95 % half-width. A length that could
/// not be measured carries the whole span it may take, and the middle of that
/// span as its value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    value: f64,
    low: f64,
    high: f64,
    measured: bool,
}

/// Which end of every band to compute with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// Every measure at its stated value.
    Nominal,
    /// Every measure at the end of its band that leaves the least room.
    Worst,
    /// Every measure at the end of its band that leaves the most room.
    Best,
}

/// Which error of a measure takes room away from the unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Harm {
    /// A larger true value leaves less room (a chassis, a setback).
    Larger,
    /// A smaller true value leaves less room (an opening, a free depth).
    Smaller,
}

impl Measure {
    /// A length known exactly, mm.
    pub const fn exact(value: f64) -> Measure {
        Measure {
            value,
            low: value,
            high: value,
            measured: true,
        }
    }

    /// A length with a 95 % half-width, both mm. A negative half-width counts as its size.
    pub fn within(value: f64, plus_minus: f64) -> Measure {
        let half = plus_minus.abs();
        Measure {
            value,
            low: value - half,
            high: value + half,
            measured: true,
        }
    }

    /// A length that could not be measured: anything from `low` to `high`, mm.
    pub fn unmeasured(low: f64, high: f64) -> Measure {
        Measure {
            value: 0.5 * (low + high),
            low: low.min(high),
            high: low.max(high),
            measured: false,
        }
    }

    /// The stated value, mm; the middle of the span when it was not measured.
    pub const fn value(&self) -> f64 {
        self.value
    }

    /// Lower end of the band, mm.
    pub const fn low(&self) -> f64 {
        self.low
    }

    /// Upper end of the band, mm.
    pub const fn high(&self) -> f64 {
        self.high
    }

    /// Half the width of the band, mm.
    pub fn plus_minus(&self) -> f64 {
        0.5 * (self.high - self.low)
    }

    /// Whether somebody measured it.
    pub const fn is_measured(&self) -> bool {
        self.measured
    }

    /// The same measure moved by a known length, mm.
    pub fn plus(&self, offset: f64) -> Measure {
        Measure {
            value: self.value + offset,
            low: self.low + offset,
            high: self.high + offset,
            measured: self.measured,
        }
    }

    /// The number to compute with, mm.
    ///
    /// * `reading`: which end of the band
    /// * `harm`: which error takes room away
    pub fn at(&self, reading: Reading, harm: Harm) -> f64 {
        match (reading, harm) {
            (Reading::Nominal, _) => self.value,
            (Reading::Worst, Harm::Larger) | (Reading::Best, Harm::Smaller) => self.high,
            (Reading::Worst, Harm::Smaller) | (Reading::Best, Harm::Larger) => self.low,
        }
    }
}

impl From<f64> for Measure {
    fn from(value: f64) -> Measure {
        Measure::exact(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worst_reading_takes_room_away() {
        let opening = Measure::within(184.0, 0.5);
        let chassis = Measure::within(178.0, 0.5);
        assert_eq!(opening.at(Reading::Worst, Harm::Smaller), 183.5);
        assert_eq!(chassis.at(Reading::Worst, Harm::Larger), 178.5);
        assert_eq!(chassis.at(Reading::Best, Harm::Larger), 177.5);
    }

    #[test]
    fn what_was_not_measured_spans_its_range() {
        let depth = Measure::unmeasured(140.0, 260.0);
        assert_eq!(depth.value(), 200.0);
        assert!(!depth.is_measured());
        assert_eq!(depth.at(Reading::Worst, Harm::Smaller), 140.0);
    }
}
