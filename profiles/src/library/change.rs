//! A part with some of its fields changed: `use:` with `with:`.

use std::collections::BTreeMap;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_yaml::{Mapping, Value};

use crate::problem::quoted;
use crate::read::read_part;

/// A change that cannot be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct BadChange {
    /// The key of `with:`; `None` when only the changes together are wrong.
    pub key: Option<String>,
    /// What was found.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
}

/// A part as changed, and the place in it that each key of `with:` set.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Changed<T> {
    /// The part.
    pub part: T,
    /// The place as `sockets[2].at[0]`, and the key as `sockets.hdmi.at.0`.
    pub places: Vec<(String, String)>,
}

/// Applies `with` to a copy of `base`.
///
/// A key is a path of field names joined by dots; an item of a list is named
/// by its `id`, or by its number from 0 where items have none.
///
/// # Errors
/// Every key that names no field, and every value its field does not take.
pub(crate) fn changed<T: Serialize + DeserializeOwned>(
    base: &T,
    with: &BTreeMap<String, String>,
) -> Result<Changed<T>, Vec<BadChange>> {
    let mut value =
        serde_yaml::to_value(base).map_err(|error| vec![together(&error.to_string())])?;
    let mut places = Vec::new();
    let mut bad = Vec::new();
    for (key, text) in with {
        match set(&mut value, key, text) {
            Ok(place) => places.push((place, key.clone())),
            Err((found, allowed)) => bad.push(BadChange {
                key: Some(key.clone()),
                found,
                allowed,
            }),
        }
    }
    if !bad.is_empty() {
        return Err(bad);
    }
    let text = serde_yaml::to_string(&value).map_err(|error| vec![together(&error.to_string())])?;
    match read_part(&text) {
        Ok(part) => Ok(Changed { part, places }),
        Err(faults) => Err(faults
            .into_iter()
            .map(|fault| BadChange {
                key: key_of(&fault.field, &places),
                found: fault.found,
                allowed: fault.allowed,
            })
            .collect()),
    }
}

/// The key that set a field, or something in it.
fn key_of(field: &str, places: &[(String, String)]) -> Option<String> {
    let set = |(place, _): &&(String, String)| {
        place
            .strip_prefix(field)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    places.iter().find(set).map(|(_, key)| key.clone())
}

fn together(complaint: &str) -> BadChange {
    BadChange {
        key: None,
        found: format!("changes that do not go together ({complaint})"),
        allowed: "changes that leave a whole part".to_owned(),
    }
}

/// Sets one field and returns its place as `sockets[2].at[0]`.
fn set(whole: &mut Value, key: &str, text: &str) -> Result<String, (String, String)> {
    let mut place = String::new();
    let mut here = whole;
    for step in key.split('.') {
        if step.is_empty() {
            return Err((
                "an empty step".to_owned(),
                "names joined by dots".to_owned(),
            ));
        }
        here = match here {
            Value::Sequence(items) => {
                let index = item_of(items, step).ok_or_else(|| {
                    (
                        format!("no {} in the list", quoted(step)),
                        format!("{} of the part", ids_of(items)),
                    )
                })?;
                place.push_str(&format!("[{index}]"));
                &mut items[index]
            }
            // A field that was left out may be filled in.
            Value::Null => {
                *here = Value::Mapping(Mapping::new());
                let Value::Mapping(map) = here else {
                    unreachable!("a mapping was just put here")
                };
                enter(map, step, &mut place)
            }
            Value::Mapping(map) => enter(map, step, &mut place),
            _ => {
                return Err((
                    format!("{} below a single value", quoted(step)),
                    "a path that ends at that value".to_owned(),
                ));
            }
        };
    }
    if matches!(here, Value::Mapping(_) | Value::Sequence(_)) {
        return Err((
            format!("one value, {}, for several fields", quoted(text)),
            "a path that goes on to one of them".to_owned(),
        ));
    }
    *here = scalar(text, here);
    Ok(place)
}

fn enter<'a>(map: &'a mut Mapping, step: &str, place: &mut String) -> &'a mut Value {
    if !place.is_empty() {
        place.push('.');
    }
    place.push_str(step);
    map.entry(Value::String(step.to_owned()))
        .or_insert(Value::Null)
}

/// The item a step names: by its id, or by its number where items have no ids.
fn item_of(items: &[Value], step: &str) -> Option<usize> {
    let by_id = items
        .iter()
        .position(|item| item.get("id").and_then(Value::as_str) == Some(step));
    by_id.or_else(|| {
        let index: usize = step.parse().ok()?;
        let item = items.get(index)?;
        item.get("id").is_none().then_some(index)
    })
}

fn ids_of(items: &[Value]) -> String {
    let names: Vec<String> = items
        .iter()
        .enumerate()
        .map(
            |(index, item)| match item.get("id").and_then(Value::as_str) {
                Some(id) => id.to_owned(),
                None => index.to_string(),
            },
        )
        .collect();
    if names.is_empty() {
        "nothing: the list is empty in this copy".to_owned()
    } else {
        names.join(", ")
    }
}

/// The text as the kind of value that stands there now; a number or yes/no
/// where nothing stands yet and it reads as one.
fn scalar(text: &str, now: &Value) -> Value {
    if matches!(now, Value::String(_)) {
        return Value::String(text.to_owned());
    }
    match text {
        "true" => Value::Bool(true),
        "false" => Value::Bool(false),
        _ => match (text.parse::<i64>(), text.parse::<f64>()) {
            (Ok(number), _) => Value::Number(number.into()),
            (_, Ok(number)) if number.is_finite() => Value::Number(number.into()),
            _ => Value::String(text.to_owned()),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::{SocketFile, UnitPart};

    fn unit() -> UnitPart {
        serde_yaml::from_str(
            "
id: short
name: short unit
chassis: { width: 178, height: 100, depth: 110 ± 0.5 }
nose: { width: 182, height: 107, thickness: 12, seat: laps }
sockets:
  - { id: hdmi, name: video socket, at: [20, 5], family: hdmi_a }
  - { id: main, name: main socket, at: [-50, -28], family: main_20way }
",
        )
        .expect("the unit reads")
    }

    fn with(changes: &[(&str, &str)]) -> BTreeMap<String, String> {
        changes
            .iter()
            .map(|(key, text)| ((*key).to_owned(), (*text).to_owned()))
            .collect()
    }

    #[test]
    fn fields_items_and_fields_left_out_can_be_set() {
        let changes = with(&[
            ("chassis.depth", "88 ± 0.5"),
            ("chassis.datum_behind_nose", "3"),
            ("sockets.main.at.1", "-30.5"),
            ("mass_kg", "0.9"),
            ("known.source", "bench"),
        ]);
        let changed = changed(&unit(), &changes).expect("every path exists");
        let part = changed.part;
        assert_eq!(part.chassis.depth.as_written(), "88 ± 0.5");
        assert_eq!(
            part.chassis
                .datum_behind_nose
                .map(|l| l.as_written().to_owned()),
            Some("3".to_owned())
        );
        let [_, SocketFile { at, .. }] = &part.sockets[..] else {
            panic!("two sockets stay two")
        };
        assert_eq!(at[1].as_written(), "-30.5");
        assert_eq!(part.mass_kg, 0.9);
        assert_eq!(part.known.source, "bench");
        assert!(changed.places.contains(&(
            "sockets[1].at[1]".to_owned(),
            "sockets.main.at.1".to_owned()
        )));
    }

    #[test]
    fn bad_paths_and_values_are_named_by_their_key() {
        let bad_paths = with(&[
            ("sockets.usb.at.0", "3"),
            ("chassis", "3"),
            ("chassis.depth.mm", "3"),
        ]);
        let bad = changed(&unit(), &bad_paths).expect_err("none of these can be set");
        assert_eq!(bad.len(), 3);
        let usb = bad
            .iter()
            .find(|bad| bad.key.as_deref() == Some("sockets.usb.at.0"))
            .expect("it is among them");
        assert_eq!(usb.allowed, "hdmi, main of the part");

        let bad_values = with(&[("chassis.dpeth", "88"), ("chassis.height", "99")]);
        let bad = changed(&unit(), &bad_values).expect_err("there is no `dpeth`");
        assert_eq!(bad.len(), 1);
        assert_eq!(bad[0].key.as_deref(), Some("chassis.dpeth"));
        assert_eq!(
            bad[0].found,
            "the unknown key \"dpeth\", perhaps meant as \"depth\""
        );
    }
}
