//! A length made longer or shorter by hand, kept as it was typed.

use super::Length;

/// Decimals that a length is written with at most, for each unit.
const PLACES: usize = 4;
/// Parts of an inch that a tape still shows.
const PARTS: f64 = 64.0;
/// Most that a text may stray from the length it stands for, mm.
const STRAY: f64 = 1e-3;

impl Length {
    /// The same length, `by` mm longer, in the way it was typed: its ± stays
    /// word for word, its unit where the new length can be said in it to a
    /// thousandth of a mm; else mm. A sum becomes one number, a span moves as
    /// a whole. `None` for a bare `?`.
    ///
    /// ```
    /// use profiles::Length;
    /// let near = Length::parse("212 ± 2")?;
    /// assert_eq!(near.moved(-2.0).unwrap().as_written(), "210 ± 2");
    /// # Ok::<(), String>(())
    /// ```
    pub fn moved(&self, by: f64) -> Option<Length> {
        let measure = self.measure()?;
        if by == 0.0 {
            return Some(self.clone());
        }
        let text = self.as_written();
        if let Some(span) = text.strip_prefix('?') {
            let ends: Vec<f64> = span
                .split("..")
                .filter_map(|end| decimal(end, by))
                .collect();
            let [low, high] = ends.try_into().unwrap_or_else(|_| {
                // With units the span is said in mm.
                let half = measure.plus_minus();
                [measure.value() + by - half, measure.value() + by + half]
            });
            return Length::parse(&format!("? {}..{}", plain(low), plain(high))).ok();
        }
        let new = measure.value() + by;
        let (value, rest) = split(text);
        let said = |text: String| {
            let length = Length::parse(&text).ok()?;
            let found = length.measure()?;
            let same = (found.value() - new).abs() <= STRAY
                && (found.plus_minus() - measure.plus_minus()).abs() <= STRAY;
            same.then_some(length)
        };
        said(format!("{}{rest}", in_its_unit(value, new)))
            .or_else(|| said(format!("{}{rest}", plain(new))))
            .or_else(|| said(format!("{} ± {}", plain(new), plain(measure.plus_minus()))))
            .or_else(|| Some(Length::mm(new)))
    }
}

/// One end of a span without a unit, moved.
fn decimal(end: &str, by: f64) -> Option<f64> {
    let value: f64 = end.trim().replace(',', ".").parse().ok()?;
    Some(value + by)
}

/// The value, and its ± with the space before it.
fn split(text: &str) -> (&str, &str) {
    let at = ["±", "+/-", "+-"]
        .into_iter()
        .filter_map(|mark| text.find(mark))
        .min()
        .unwrap_or(text.len());
    let value = text[..at].trim_end();
    (value, &text[value.len()..])
}

/// `mm` in the unit and the manner of a text.
fn in_its_unit(text: &str, mm: f64) -> String {
    let is_sum = text.contains(" + ") || text.contains(" - ");
    let digits_end = text
        .rfind(|c: char| c.is_ascii_digit())
        .map_or(0, |at| at + 1);
    let unit = &text[digits_end..];
    if is_sum {
        return plain(mm);
    }
    let per_unit = match unit.trim().to_ascii_lowercase().as_str() {
        "" | "mm" => 1.0,
        "cm" => 10.0,
        "m" => 1000.0,
        _ => 25.4,
    };
    if text.contains('/') {
        return inches(mm, unit).unwrap_or_else(|| plain(mm));
    }
    let number = plain(mm / per_unit);
    let number = if text.contains(',') {
        number.replace('.', ",")
    } else {
        number
    };
    format!("{number}{unit}")
}

/// A length in inches and parts of one, where it lies on a part.
fn inches(mm: f64, unit: &str) -> Option<String> {
    let parts = mm.abs() / 25.4 * PARTS;
    if (parts - parts.round()).abs() * 25.4 / PARTS > STRAY {
        return None;
    }
    let parts = parts.round() as u64;
    let sign = if mm < 0.0 && parts > 0 { "-" } else { "" };
    let (whole, mut over, mut under) = (parts / 64, parts % 64, 64);
    while over > 0 && over % 2 == 0 {
        over /= 2;
        under /= 2;
    }
    Some(match (whole, over) {
        (_, 0) if unit.is_empty() => format!("{sign}{whole} in"),
        (_, 0) => format!("{sign}{whole}{unit}"),
        (0, _) => format!("{sign}{over}/{under}{unit}"),
        _ => format!("{sign}{whole} {over}/{under}{unit}"),
    })
}

/// A number without noughts it does not need.
fn plain(value: f64) -> String {
    let text = format!("{value:.PLACES$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn moved(text: &str, by: f64) -> String {
        let length = Length::parse(text).expect(text);
        let moved = length.moved(by).expect("it has a place");
        moved.as_written().to_owned()
    }

    #[test]
    fn a_length_keeps_its_manner() {
        for (text, by, then) in [
            ("212 ± 2", -2.0, "210 ± 2"),
            ("212 +- 2", 0.1, "212.1 +- 2"),
            ("212", 1.5, "213.5"),
            ("182,5", 1.0, "183,5"),
            ("18.2cm ± 0.1cm", 1.0, "18.3cm ± 0.1cm"),
            ("182 mm", -1.0, "181 mm"),
            ("182 - 6", 1.0, "177"),
            ("7 3/16 ± 1/32", 25.4 / 16.0, "7 1/4 ± 1/32"),
            ("7 3/16", -3.0 * 25.4 / 16.0, "7 in"),
            ("7 3/16 ± 1/32", 1.0, "183.5625 ± 1/32"),
            ("7.1 in", 2.54, "7.2 in"),
            ("-12 ± 1", 12.0, "0 ± 1"),
            ("? 180..220", 5.0, "? 185..225"),
            ("1/32", 0.0, "1/32"),
        ] {
            assert_eq!(moved(text, by), then, "{text} by {by}");
        }
        assert_eq!(Length::parse("?").expect("it is one").moved(1.0), None);
    }

    proptest! {
        #[test]
        fn it_means_what_it_was_moved_to(
            value in -4000i32..4000,
            half in 0i32..40,
            by in -400i32..400,
            manner in 0usize..6,
        ) {
            let (tenths, by) = (f64::from(value) / 10.0, f64::from(by) / 10.0);
            let text = match manner {
                0 => format!("{tenths} ± {}", f64::from(half) / 10.0),
                1 => format!("{tenths} mm"),
                2 => format!("{tenths}cm"),
                3 => format!("{} {}/16 ± 1/32", value.abs() / 16, value.abs() % 16),
                4 => format!("{tenths} + 3"),
                _ => format!("? {tenths}..{}", tenths + f64::from(half)),
            };
            let before = Length::parse(&text).expect("it is a length");
            let after = before.moved(by).expect("it has a place");
            let (a, b) = (before.measure().unwrap(), after.measure().unwrap());
            prop_assert!((b.value() - a.value() - by).abs() <= 2e-3, "{} {}", text, after.as_written());
            prop_assert!((b.plus_minus() - a.plus_minus()).abs() <= 1e-3);
            prop_assert_eq!(a.is_measured(), b.is_measured());
        }
    }
}
