//! From the tree to the types of the schema, through serde.
//!
//! Every plain value is handed over as the text that stands in the file; only
//! a field that is a number or yes-or-no by its type is read as one here.

use serde::de::value::StrDeserializer;
use serde::de::{
    DeserializeSeed, Deserializer, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor,
};
use serde::forward_to_deserialize_any;

use super::fault::{Fault, words_of};
use super::nearest::nearest;
use super::tree::{Entry, Kind, Node};

/// Largest plain number in a file, either way.
const LARGEST_NUMBER: f64 = 1e9;

/// Stands in for each value of something that was mended.
static MENDED: Node = Node::mended(0);

/// A value of the tree, ready to be read.
#[derive(Clone, Copy)]
pub(super) struct Value<'a>(pub &'a Node);

impl<'a> Value<'a> {
    /// The text here; for what was mended, one that passes for any text or length.
    fn text(self, allowed: impl FnOnce() -> String) -> Result<&'a str, Fault> {
        match &self.0.kind {
            Kind::Mended => Ok("1"),
            Kind::Scalar { text, .. } if !self.0.is_nothing() => Ok(text),
            _ => Err(Fault::value(self.0, allowed())),
        }
    }

    /// A plain number.
    fn number(self) -> Result<f64, Fault> {
        let allowed = || "a number such as 12 or 3.5".to_owned();
        let text = self.text(allowed)?.trim();
        let comma = text.matches(',').count() == 1 && !text.contains('.');
        let read = if comma {
            text.replace(',', ".").parse::<f64>()
        } else {
            text.parse::<f64>()
        };
        match read {
            Ok(number) if number.is_nan() => Err(Fault::value(self.0, allowed())),
            Ok(number) if number.abs() <= LARGEST_NUMBER => Ok(number),
            Ok(_) if text.bytes().any(|b| b.is_ascii_digit()) => {
                let allowed = "a number from -1000000000 to 1000000000";
                Err(Fault::value(self.0, allowed))
            }
            _ => Err(Fault::value(self.0, allowed())),
        }
    }
}

impl<'de> Deserializer<'de> for Value<'de> {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match &self.0.kind {
            Kind::List(_) => Err(Fault::value(self.0, words_of(&visitor))),
            Kind::Keys(_) => visitor
                .visit_map(Entries::of(self.0, true))
                .map_err(|fault| fault.at(self.0)),
            Kind::Scalar { .. } | Kind::Mended => self.deserialize_str(visitor),
        }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let text = self.text(|| words_of(&visitor))?;
        visitor
            .visit_str(text)
            .map_err(|fault: Fault| fault.at(self.0))
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_str(visitor)
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let allowed = || "true or false".to_owned();
        match (&self.0.kind, self.text(allowed)?) {
            (Kind::Mended, _) | (_, "false") => visitor.visit_bool(false),
            (_, "true") => visitor.visit_bool(true),
            _ => Err(Fault::value(self.0, allowed())),
        }
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let allowed = "a whole number such as 1 or 2";
        let text = self.text(|| allowed.to_owned())?.trim();
        match text.parse::<u32>() {
            Ok(number) => visitor.visit_u32(number),
            Err(_) if text.bytes().all(|b| b.is_ascii_digit()) => {
                let allowed = format!("a whole number up to {}", u32::MAX);
                Err(Fault::value(self.0, allowed))
            }
            Err(_) => Err(Fault::value(self.0, allowed)),
        }
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        visitor.visit_f64(self.number()?)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        if self.0.is_nothing() {
            visitor.visit_none()
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        let allowed = || match words {
            [one, other] => format!("{one} or {other}"),
            _ => format!("one of {}", words.join(", ")),
        };
        let text = self.text(allowed)?;
        let word = match (&self.0.kind, words.iter().find(|word| **word == text)) {
            (Kind::Mended, _) => words.first(),
            (_, known) => known,
        };
        let Some(word) = word else {
            let allowed = match nearest(text, words) {
                Some(near) => format!("{} (perhaps {near} was meant)", allowed()),
                None => allowed(),
            };
            return Err(Fault::value(self.0, allowed));
        };
        let word: StrDeserializer<Fault> = word.into_deserializer();
        visitor.visit_enum(word).map_err(|fault| fault.at(self.0))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let items = match &self.0.kind {
            Kind::List(items) => items.as_slice(),
            Kind::Mended => &[],
            _ => return Err(Fault::value(self.0, "a list")),
        };
        visitor
            .visit_seq(Items(items.iter()))
            .map_err(|fault| fault.at(self.0))
    }

    fn deserialize_tuple<V: Visitor<'de>>(
        self,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        match &self.0.kind {
            Kind::List(items) if items.len() == length => visitor
                .visit_seq(Items(items.iter()))
                .map_err(|fault| fault.at(self.0)),
            Kind::Mended => visitor.visit_seq(MendedItems(length)),
            Kind::List(items) if items.len() > length => Err(Fault::value(
                self.0,
                format!("a list of {length}; inside [ ] a decimal takes a point, as 182.5"),
            )),
            _ => Err(Fault::value(self.0, format!("a list of {length}"))),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let entries = match &self.0.kind {
            Kind::Keys(_) => Entries::of(self.0, false),
            Kind::Mended => Entries::of(&MENDED, false),
            _ => {
                return Err(Fault::value(
                    self.0,
                    "names, each with a value (name: value)",
                ));
            }
        };
        visitor.visit_map(entries).map_err(|fault| fault.at(self.0))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        match &self.0.kind {
            Kind::Keys(_) => visitor
                .visit_map(Entries::of(self.0, true))
                .map_err(|fault| fault.at(self.0)),
            Kind::Mended => visitor.visit_map(MendedFields(fields.iter())),
            _ => Err(Fault::value(
                self.0,
                format!("the keys {}", fields.join(", ")),
            )),
        }
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_str(visitor)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        visitor.visit_newtype_struct(self)
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u8 u16 u64 u128 f32 char bytes byte_buf
        unit unit_struct tuple_struct ignored_any
    }
}

/// The items of a list.
struct Items<'a>(std::slice::Iter<'a, Node>);

impl<'de> SeqAccess<'de> for Items<'de> {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Fault> {
        match self.0.next() {
            Some(item) => seed.deserialize(Value(item)).map(Some),
            None => Ok(None),
        }
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len())
    }
}

/// So many items of a list that was mended.
struct MendedItems(usize);

impl<'de> SeqAccess<'de> for MendedItems {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Fault> {
        if self.0 == 0 {
            return Ok(None);
        }
        self.0 -= 1;
        seed.deserialize(Value(&MENDED)).map(Some)
    }
}

/// The keys and values of a group.
struct Entries<'a> {
    of: &'a Node,
    left: &'a [Entry],
    /// Whether a key without a value counts as left out.
    empty_is_left_out: bool,
}

impl<'a> Entries<'a> {
    fn of(node: &'a Node, empty_is_left_out: bool) -> Entries<'a> {
        Entries {
            of: node,
            left: match &node.kind {
                Kind::Keys(entries) => entries,
                _ => &[],
            },
            empty_is_left_out,
        }
    }
}

impl<'de> MapAccess<'de> for Entries<'de> {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Fault> {
        while let Some(entry) = self.left.first() {
            if self.empty_is_left_out && entry.value.is_nothing() {
                self.left = &self.left[1..];
                continue;
            }
            let key: StrDeserializer<Fault> = entry.key.as_str().into_deserializer();
            return seed
                .deserialize(key)
                .map(Some)
                .map_err(|fault| fault.at(self.of));
        }
        Ok(None)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        let Some((entry, rest)) = self.left.split_first() else {
            return Err(Fault::custom("a key before its value"));
        };
        self.left = rest;
        seed.deserialize(Value(&entry.value))
    }
}

/// Every field of a group that was mended.
struct MendedFields(std::slice::Iter<'static, &'static str>);

impl<'de> MapAccess<'de> for MendedFields {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Fault> {
        match self.0.next() {
            Some(name) => {
                let name: StrDeserializer<Fault> = name.into_deserializer();
                seed.deserialize(name).map(Some)
            }
            None => Ok(None),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        seed.deserialize(Value(&MENDED))
    }
}
