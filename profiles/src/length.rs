//! A length as a person types it, kept as written.

mod grammar;
mod moved;
mod shown;

use std::borrow::Cow;
use std::fmt;

use geometry::Measure;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use self::grammar::Meaning;
use crate::problem::quoted;

pub use self::shown::{as_inches, as_millimetres};

/// A length as written, and what it means in mm.
///
/// Two lengths are equal when they are written alike: `182.50` and `182.5` are
/// two different texts of one measure.
#[derive(Clone, Debug)]
pub struct Length {
    text: String,
    meaning: Meaning,
}

impl Length {
    /// Reads a length.
    ///
    /// * `182`, `182.5`, `182,5`: millimetres; `18.2cm`, `7.1 in`, `7.1"`: a unit by name
    /// * `3/16`, `7 3/16`, `7-3/16`: inches
    /// * `182 - 6`, `182 + 3/16`: a sum, each number in its own unit, spaces around the sign
    /// * `182 ± 0.5`, `182 +- 0.5`, `7 3/16 ± 1/32`: with its 95 % half-width
    /// * `?`: could not be measured; `? 140..260`: nor that, but it lies between these
    ///
    /// ```
    /// use profiles::Length;
    /// let opening = Length::parse("7 3/16 ± 1/32")?;
    /// assert_eq!(opening.as_written(), "7 3/16 ± 1/32");
    /// assert_eq!(opening.measure().unwrap().value(), 182.5625);
    /// # Ok::<(), String>(())
    /// ```
    ///
    /// # Errors
    /// A sentence, `found ...; allowed: ...`.
    pub fn parse(text: &str) -> Result<Length, String> {
        let text = text.trim();
        match grammar::read(text) {
            Ok(meaning) => Ok(Length {
                text: text.to_owned(),
                meaning,
            }),
            Err(refusal) => {
                let comma = if refusal.reason.is_empty() { "" } else { ", " };
                Err(format!(
                    "found {}{comma}{}; allowed: {}",
                    quoted(text),
                    refusal.reason,
                    refusal.allowed
                ))
            }
        }
    }

    /// A length of so many mm. What is not a number becomes a bare `?`; what is
    /// longer than a kilometre is cut to that.
    pub fn mm(value: f64) -> Length {
        if value.is_nan() {
            return Length {
                text: "?".to_owned(),
                meaning: Meaning::Unmeasured,
            };
        }
        // Adding 0 turns -0 into 0.
        let mut value = value.clamp(-grammar::LARGEST, grammar::LARGEST) + 0.0;
        if value.abs() < 1e-9 {
            // Keeps the text short; a millionth of a micrometre is nobody's measure.
            value = 0.0;
        }
        Length {
            text: format!("{value}"),
            meaning: Meaning::Known(Measure::exact(value)),
        }
    }

    /// The text as typed, without spaces at its ends.
    pub fn as_written(&self) -> &str {
        &self.text
    }

    /// What it means, mm. A bare `?` takes the span given by its field.
    pub fn measure_or(&self, span: [f64; 2]) -> Measure {
        match self.meaning {
            Meaning::Known(measure) => measure,
            Meaning::Unmeasured => Measure::unmeasured(span[0], span[1]),
        }
    }

    /// What it means, mm; `None` for a bare `?`.
    pub fn measure(&self) -> Option<Measure> {
        match self.meaning {
            Meaning::Known(measure) => Some(measure),
            Meaning::Unmeasured => None,
        }
    }
}

impl PartialEq for Length {
    fn eq(&self, other: &Length) -> bool {
        self.text == other.text
    }
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serialize_as_written(&self.text, serializer)
    }
}

/// Writes a text as a number where that number is written just so, and as text otherwise.
pub(crate) fn serialize_as_written<S: Serializer>(
    text: &str,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    if let Ok(whole) = text.parse::<i64>()
        && whole.to_string() == text
    {
        return serializer.serialize_i64(whole);
    }
    match text.parse::<f64>() {
        // Within these bounds a number is written without an exponent.
        Ok(value) if (1e-4..1e15).contains(&value.abs()) && format!("{value:?}") == text => {
            serializer.serialize_f64(value)
        }
        _ => serializer.serialize_str(text),
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct LengthVisitor;
        impl de::Visitor<'_> for LengthVisitor {
            type Value = Length;
            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str(grammar::ALLOWED)
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Length, E> {
                Length::parse(text).map_err(E::custom)
            }
            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Length, E> {
                Length::parse(&value.to_string()).map_err(E::custom)
            }
            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Length, E> {
                Length::parse(&value.to_string()).map_err(E::custom)
            }
            fn visit_u64<E: de::Error>(self, value: u64) -> Result<Length, E> {
                Length::parse(&value.to_string()).map_err(E::custom)
            }
        }
        deserializer.deserialize_str(LengthVisitor)
    }
}

impl JsonSchema for Length {
    fn schema_name() -> Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "A length as measured. A bare number is millimetres; cm, m, in and \" name another unit; a fraction (7 3/16, 7-3/16) is of an inch; a sum has spaces around its sign; ± gives the 95 % half-width; ? was not measured, ? 140..260 lies somewhere between. At most 64 characters.",
            "type": ["number", "string"],
            "examples": [
                182, 182.5, "182,5", "18.2cm", "7.1 in", "7 3/16", "7-3/16", "3/16",
                "182 - 6", "182 + 3/16", "182 ± 0.5", "182 +- 0.5", "7 3/16 ± 1/32", "?", "? 140..260"
            ]
        })
    }
}

#[cfg(test)]
mod tests;
