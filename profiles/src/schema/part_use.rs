//! A part named, named with changes, or described in place.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::MapAccessDeserializer;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, Visitor};
use serde::ser::{SerializeMap, Serializer};
use serde::{Deserialize, Serialize};

use crate::length::serialize_as_written;

/// What is allowed where a part is asked for.
const ALLOWED: &str = "a part's name, use: with changes, or the part described in full";

/// How a file says which part it means.
#[derive(Clone, Debug, PartialEq)]
pub enum PartUse<T> {
    /// By its name in the library.
    Named(String),
    /// By its name, with some of its fields changed.
    Changed {
        /// Name in the library, the file's `use:`.
        base: String,
        /// The fields changed, the file's `with:`: a path of field names and
        /// item ids joined by dots, and the new value as written.
        with: BTreeMap<String, String>,
    },
    /// Described here in full.
    Inline(Box<T>),
}

impl<T> PartUse<T> {
    /// The library part it starts from, if any.
    pub fn base(&self) -> Option<&str> {
        match self {
            PartUse::Named(name) => Some(name),
            PartUse::Changed { base, .. } => Some(base),
            PartUse::Inline(_) => None,
        }
    }
}

/// A text that is written as a number where it is one.
struct AsWritten<'a>(&'a str);

impl Serialize for AsWritten<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serialize_as_written(self.0, serializer)
    }
}

impl<T: Serialize> Serialize for PartUse<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            PartUse::Named(name) => serializer.serialize_str(name),
            PartUse::Changed { base, with } => {
                let mut map = serializer.serialize_map(Some(2))?;
                map.serialize_entry("use", base)?;
                let with: BTreeMap<_, _> = with.iter().map(|(k, v)| (k, AsWritten(v))).collect();
                map.serialize_entry("with", &with)?;
                map.end()
            }
            PartUse::Inline(part) => part.serialize(serializer),
        }
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for PartUse<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct PartVisitor<T>(PhantomData<T>);

        impl<'de, T: Deserialize<'de>> Visitor<'de> for PartVisitor<T> {
            type Value = PartUse<T>;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str(ALLOWED)
            }

            fn visit_str<E: Error>(self, name: &str) -> Result<Self::Value, E> {
                Ok(PartUse::Named(name.to_owned()))
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let Some(first) = map.next_key::<String>()? else {
                    return Err(A::Error::custom(format!(
                        "found no keys; allowed: {ALLOWED}"
                    )));
                };
                if first != "use" && first != "with" {
                    let rest = WithFirstKey {
                        first: Some(first),
                        rest: map,
                    };
                    let part = T::deserialize(MapAccessDeserializer::new(rest))?;
                    return Ok(PartUse::Inline(Box::new(part)));
                }
                let (mut base, mut with) = (None, BTreeMap::new());
                let mut next = Some(first);
                while let Some(key) = next {
                    match key.as_str() {
                        "use" => base = Some(map.next_value()?),
                        "with" => {
                            with = map
                                .next_value::<BTreeMap<String, Scalar>>()?
                                .into_iter()
                                .map(|(key, Scalar(text))| (key, text))
                                .collect();
                        }
                        _ => return Err(A::Error::unknown_field(&key, &["use", "with"])),
                    }
                    next = map.next_key()?;
                }
                let base = base.ok_or_else(|| A::Error::missing_field("use"))?;
                Ok(if with.is_empty() {
                    PartUse::Named(base)
                } else {
                    PartUse::Changed { base, with }
                })
            }
        }

        deserializer.deserialize_any(PartVisitor(PhantomData))
    }
}

/// A single value of `with:` as text, whether it was written as a word, a number or yes/no.
struct Scalar(String);

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct ScalarVisitor;

        impl Visitor<'_> for ScalarVisitor {
            type Value = Scalar;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a single value: a word, a number, a length, true or false")
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<Scalar, E> {
                Ok(Scalar(text.to_owned()))
            }

            fn visit_bool<E: Error>(self, yes: bool) -> Result<Scalar, E> {
                Ok(Scalar(yes.to_string()))
            }

            fn visit_i64<E: Error>(self, number: i64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }

            fn visit_u64<E: Error>(self, number: u64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }

            fn visit_f64<E: Error>(self, number: f64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }
        }

        deserializer.deserialize_any(ScalarVisitor)
    }
}

/// A mapping whose first key has already been taken, put back.
struct WithFirstKey<A> {
    first: Option<String>,
    rest: A,
}

impl<'de, A: MapAccess<'de>> MapAccess<'de> for WithFirstKey<A> {
    type Error = A::Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, A::Error> {
        match self.first.take() {
            Some(key) => {
                let key: serde::de::value::StringDeserializer<A::Error> =
                    serde::de::IntoDeserializer::into_deserializer(key);
                seed.deserialize(key).map(Some)
            }
            None => self.rest.next_key_seed(seed),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, A::Error> {
        self.rest.next_value_seed(seed)
    }
}

impl<T: JsonSchema> JsonSchema for PartUse<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}Use", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let inline = generator.subschema_for::<T>();
        json_schema!({
            "anyOf": [
                { "type": "string", "description": "Name of a part in the library." },
                {
                    "type": "object",
                    "description": "A part of the library with some fields changed.",
                    "properties": {
                        "use": { "type": "string" },
                        "with": {
                            "type": "object",
                            "additionalProperties": { "type": ["string", "number", "boolean"] }
                        }
                    },
                    "required": ["use"],
                    "additionalProperties": false
                },
                inline
            ]
        })
    }
}
