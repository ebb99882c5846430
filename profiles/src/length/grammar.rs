//! What a length may look like, and what each way of writing it means.
//!
//! ```text
//! length = "?" [ number ".." number ] | sum [ "±" number ]
//! sum    = [ "-" ] number { (" + " | " - ") number }
//! number = ( decimal | [ whole ( " " | "-" ) ] fraction ) [ unit ]
//! unit   = "mm" | "cm" | "m" | "in" | "inch" | '"'
//! ```
//!
//! A bare decimal is millimetres and a fraction is of an inch. Where one side of
//! a `±` names a unit other than mm and the other side names none, two readings
//! are possible (`7.1 ± 0.1 in`), and neither is guessed.

use geometry::Measure;

/// Longest text taken for a length, characters.
const MOST_CHARACTERS: usize = 64;

/// Largest length either way, mm: a kilometre, far beyond any vehicle.
pub(super) const LARGEST: f64 = 1e6;

/// What is allowed where a length is asked for.
pub(super) const ALLOWED: &str = "a length such as 182, 7 3/16, 18.2cm, 182 ± 0.5 or ?";

/// What a text that was taken for a length means.
#[derive(Clone, Copy, Debug)]
pub(super) enum Meaning {
    /// A value, perhaps with a ±, or a `?` with its span.
    Known(Measure),
    /// A bare `?`.
    Unmeasured,
}

/// Why a text is not a length.
#[derive(Debug)]
pub(super) struct Refusal {
    /// What is amiss; empty where the text speaks for itself.
    pub reason: String,
    /// What is allowed instead.
    pub allowed: String,
}

/// A refusal with its reason and what is allowed instead.
fn refuse<T>(reason: impl Into<String>, allowed: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal {
        reason: reason.into(),
        allowed: allowed.into(),
    })
}

/// A text that nothing more can be said about.
fn not_a_length<T>() -> Result<T, Refusal> {
    refuse("", ALLOWED)
}

/// Reads a length; the text is trimmed.
pub(super) fn read(text: &str) -> Result<Meaning, Refusal> {
    let characters = text.chars().count();
    if characters > MOST_CHARACTERS {
        return refuse(
            format!("{characters} characters long"),
            format!("a length of at most {MOST_CHARACTERS} characters"),
        );
    }
    let text = text
        .replace(['\u{2212}', '\u{2013}'], "-")
        .replace("+/-", "±")
        .replace("+-", "±");
    if let Some(span) = text.strip_prefix('?') {
        return span_of(span.trim());
    }
    let Some((value, half)) = text.split_once('±') else {
        return Ok(Meaning::Known(Measure::exact(sum(&text)?.0)));
    };
    if half.contains('±') {
        return refuse("with more than one ±", "a single ±, as in 182 ± 0.5");
    }
    let (value, value_unit) = sum(value.trim())?;
    let (half, half_unit) = number(half.trim(), None)?;
    if half < 0.0 {
        return refuse("with a ± below 0", "a ± of 0 or more, as in 182 ± 0.5");
    }
    match (value_unit, half_unit) {
        (Said::Nothing, Said::Unit(_)) => refuse(
            "where only the ± names a unit",
            "a unit on the value too, as in 7.1 in ± 0.1 in",
        ),
        (Said::Unit(_), Said::Nothing) => refuse(
            "where only the value names a unit",
            "a unit on the ± too, as in 7.1 in ± 0.1 in or 7.1 in ± 2 mm",
        ),
        _ => Ok(Meaning::Known(Measure::within(value, half))),
    }
}

/// What follows a `?`: nothing, or the span the length lies in.
fn span_of(text: &str) -> Result<Meaning, Refusal> {
    const SPAN: &str = "? alone, or with the least and most it can be, as in ? 140..260";
    if text.is_empty() {
        return Ok(Meaning::Unmeasured);
    }
    let (low, high) = match text.split_once("..") {
        Some((low, high)) if !high.starts_with('.') => (low.trim(), high.trim()),
        _ => return refuse("", SPAN),
    };
    if low.is_empty() || high.is_empty() {
        return refuse("with one end left open", SPAN);
    }
    let (high, high_unit) = number(high, None)?;
    let trailing = match high_unit {
        Said::Unit(mm) => Some(mm),
        _ => None,
    };
    let (low, low_unit) = number(low, trailing)?;
    match (low_unit, high_unit) {
        (Said::Nothing, Said::Fraction) | (Said::Fraction | Said::Unit(_), Said::Nothing) => {
            refuse(
                "where only one end names a unit",
                "a unit on both ends, as in ? 5 1/2..7 in",
            )
        }
        _ if low > high => refuse(
            "with the larger end first",
            "the smaller end first, as in ? 140..260",
        ),
        _ => Ok(Meaning::Known(Measure::unmeasured(low, high))),
    }
}

/// The unit a text names, if it does.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Said {
    /// No unit: mm.
    Nothing,
    /// mm by name, or a sum whose terms differ.
    Millimetres,
    /// A fraction: inches, without naming them.
    Fraction,
    /// Another unit by name; so many mm.
    Unit(f64),
}

/// A sum of numbers, mm. Signs between them stand between spaces.
fn sum(text: &str) -> Result<(f64, Said), Refusal> {
    const SPACES: &str = "a sum with spaces around its sign, as in 182 - 6 or 182 + 3/16";
    let mut total = 0.0;
    let mut unit = None;
    let mut sign = 1.0;
    let mut words: Vec<&str> = Vec::new();
    // A closing sign ends the last number like any other.
    for word in text.split_whitespace().chain(["+"]) {
        if word != "+" && word != "-" {
            if word.starts_with(['+', '-']) && !(words.is_empty() && unit.is_none()) {
                return refuse("", SPACES);
            }
            words.push(word);
            continue;
        }
        if words.is_empty() {
            return not_a_length();
        }
        let (value, said) = number(&words.join(" "), None)?;
        total += sign * value;
        unit = match unit {
            None => Some(said),
            Some(before) if before == said => Some(said),
            Some(_) => Some(Said::Millimetres),
        };
        sign = if word == "-" { -1.0 } else { 1.0 };
        words.clear();
    }
    within_reach(total)?;
    // The closing sign has ended one number at least.
    Ok((total, unit.unwrap_or(Said::Nothing)))
}

/// One number with its unit, mm, and the unit it named.
///
/// * `otherwise`: mm in the unit of a number that names none; 1 when absent
fn number(text: &str, otherwise: Option<f64>) -> Result<(f64, Said), Refusal> {
    let (digits, unit) = split_unit(text);
    let (negative, digits) = match digits.strip_prefix(['-', '+']) {
        Some(rest) => (digits.starts_with('-'), rest),
        None => (false, digits),
    };
    let (mm, said) = if digits.contains('/') {
        let said = match unit {
            None => Said::Fraction,
            Some(INCH) => Said::Unit(INCH),
            Some(_) => {
                return refuse(
                    "a fraction of something other than an inch",
                    "a fraction of an inch, as 3/16 or 7 3/16 in",
                );
            }
        };
        (inches(digits)?, said)
    } else {
        let said = match unit {
            None => Said::Nothing,
            Some(1.0) => Said::Millimetres,
            Some(mm) => Said::Unit(mm),
        };
        (decimal(digits, unit.or(otherwise).unwrap_or(1.0))?, said)
    };
    within_reach(mm)?;
    Ok((if negative { -mm } else { mm }, said))
}

/// An inch, mm.
const INCH: f64 = 25.4;

/// A text without its unit, and that unit, mm.
fn split_unit(text: &str) -> (&str, Option<f64>) {
    const UNITS: [(&str, f64); 10] = [
        ("mm", 1.0),
        ("cm", 10.0),
        ("m", 1000.0),
        ("inches", INCH),
        ("inch", INCH),
        ("in", INCH),
        ("\"", INCH),
        ("\u{2033}", INCH),
        ("\u{201d}", INCH),
        ("''", INCH),
    ];
    for (name, mm) in UNITS {
        let start = text.len().saturating_sub(name.len());
        if let Some(end) = text.get(start..)
            && end.eq_ignore_ascii_case(name)
        {
            return (text[..start].trim_end(), Some(mm));
        }
    }
    (text, None)
}

/// Digits with at most one point or comma, in a unit of so many mm; mm.
fn decimal(text: &str, unit: f64) -> Result<f64, Refusal> {
    let marks = text.matches(['.', ',']).count();
    let digits = text.bytes().filter(u8::is_ascii_digit).count();
    if digits + marks != text.len() || digits == 0 {
        if text.contains(['+', '-']) && text.bytes().all(|b| b"0123456789.,+- ".contains(&b)) {
            return refuse(
                "",
                "a sum with spaces around its sign, as in 182 - 6; mixed inches as 7-3/16",
            );
        }
        return not_a_length();
    }
    if marks > 1 {
        return refuse(
            "with more than one decimal mark",
            "one decimal mark and no other, as in 1182.5 or 1182,5",
        );
    }
    let text = text.replace(',', ".");
    let Ok(value) = text.parse::<f64>() else {
        return not_a_length();
    };
    if unit == 1.0 {
        return Ok(value);
    }
    // As whole numbers there is one rounding, at the division, so that 7.1 in
    // is the same number as 180.34.
    let tenths_in_unit = (unit * 10.0).round();
    let places = text.find('.').map_or(0, |point| text.len() - point - 1);
    let whole = text.replace('.', "").parse::<f64>().unwrap_or(f64::MAX) * tenths_in_unit;
    if whole < EXACT && places < 20 {
        Ok(whole / 10f64.powi(places as i32 + 1))
    } else {
        Ok(value * unit)
    }
}

/// Whole numbers below this one, and powers of ten up to the 22nd, are held exactly.
const EXACT: f64 = 9e15;

/// A fraction, or whole inches and a fraction; mm.
fn inches(text: &str) -> Result<f64, Refusal> {
    let (whole, fraction) = match text.rsplit_once([' ', '-']) {
        Some((whole, fraction)) => (Some(whole), fraction),
        None => (None, text),
    };
    let Some((over, under)) = fraction.split_once('/') else {
        return not_a_length();
    };
    let (Some(over), Some(under)) = (count(over), count(under)) else {
        return not_a_length();
    };
    if under == 0 {
        return refuse("a division by 0", "a fraction such as 3/16");
    }
    let whole = match whole {
        None => 0,
        Some(whole) => match count(whole) {
            Some(whole) => whole,
            None => {
                return refuse(
                    "",
                    "whole inches and a fraction, as 7 3/16 or 7-3/16; a sum with spaces, as 182 - 3/16",
                );
            }
        },
    };
    if text != fraction && over >= under {
        return refuse(
            "where the fraction is an inch or more",
            "whole inches and a fraction below one, as 7 3/16",
        );
    }
    // 254 tenths of a millimetre to the inch: one rounding, at the division.
    Ok(((whole * under + over) * 254) as f64 / (under * 10) as f64)
}

/// A whole number of at most six digits.
fn count(text: &str) -> Option<u64> {
    let plain = text.len() <= 6 && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// Refuses what no vehicle can hold.
fn within_reach(mm: f64) -> Result<(), Refusal> {
    if mm.abs() <= LARGEST {
        Ok(())
    } else {
        refuse(
            "longer than a kilometre",
            "a length from -1000000 to 1000000 mm",
        )
    }
}
