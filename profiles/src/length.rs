//! A length as a person types it, kept as written.

use std::borrow::Cow;
use std::fmt;

use geometry::Measure;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A length as written, and what it means in mm.
#[derive(Clone, Debug)]
pub struct Length {
    text: String,
    meaning: Meaning,
}

#[derive(Clone, Copy, Debug)]
enum Meaning {
    /// A value, perhaps with a ±, or a `?` with its span.
    Known(Measure),
    /// A bare `?`.
    Unmeasured,
}

impl Length {
    /// Reads a length: `182`, `182,5`, `18.2cm`, `7 3/16`, `7-3/16 in`, `182 - 6`,
    /// `182 ± 0.5`, `?`, `? 140..260`.
    ///
    /// # Errors
    /// A sentence saying what is allowed.
    pub fn parse(text: &str) -> Result<Length, String> {
        let text = text.trim();
        let meaning = if text == "?" {
            Meaning::Unmeasured
        } else if let Some((value, pm)) = text.split_once('±') {
            let read = |t: &str| t.trim().parse::<f64>().map_err(|_| "a length".to_owned());
            Meaning::Known(Measure::within(read(value)?, read(pm)?))
        } else {
            Meaning::Known(Measure::exact(
                text.parse().map_err(|_| "a length".to_owned())?,
            ))
        };
        Ok(Length {
            text: text.to_owned(),
            meaning,
        })
    }

    /// A length of so many mm.
    pub fn mm(value: f64) -> Length {
        Length {
            text: format!("{value}"),
            meaning: Meaning::Known(Measure::exact(value)),
        }
    }

    /// The text as typed.
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
        match self.text.parse::<f64>() {
            Ok(value) if format!("{value}") == self.text => serializer.serialize_f64(value),
            _ => serializer.serialize_str(&self.text),
        }
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct LengthVisitor;
        impl de::Visitor<'_> for LengthVisitor {
            type Value = Length;
            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a length")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Length, E> {
                Length::parse(text).map_err(E::custom)
            }
            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Length, E> {
                Ok(Length::mm(value))
            }
            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Length, E> {
                Ok(Length::mm(value as f64))
            }
            fn visit_u64<E: de::Error>(self, value: u64) -> Result<Length, E> {
                Ok(Length::mm(value as f64))
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
        json_schema!({ "type": ["number", "string"] })
    }
}
