//! Reading JSON, with the name of what is missing.

use glam::{DVec2, DVec3};
use serde_json::Value;

/// What could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct Unreadable(pub String);

fn missing(key: &str, wanted: &str, value: &Value) -> Unreadable {
    let found: String = value.to_string().chars().take(80).collect();
    Unreadable(format!("{key}: found {found}, wanted {wanted}"))
}

/// A number.
pub fn number(value: &Value, key: &str) -> Result<f64, Unreadable> {
    value[key]
        .as_f64()
        .filter(|number| number.is_finite())
        .ok_or_else(|| missing(key, "a number", value))
}

/// A text.
pub fn text(value: &Value, key: &str) -> Result<String, Unreadable> {
    let text = value[key].as_str().map(str::to_owned);
    text.ok_or_else(|| missing(key, "a text", value))
}

/// A list.
pub fn list<'a>(value: &'a Value, key: &str) -> Result<&'a Vec<Value>, Unreadable> {
    value[key]
        .as_array()
        .ok_or_else(|| missing(key, "a list", value))
}

/// A point or direction of three numbers.
pub fn point(value: &Value, key: &str) -> Result<DVec3, Unreadable> {
    three(&value[key]).ok_or_else(|| missing(key, "three numbers", value))
}

/// Three numbers.
pub fn three(value: &Value) -> Option<DVec3> {
    let numbers = value.as_array().filter(|list| list.len() == 3)?;
    let point = DVec3::new(
        numbers[0].as_f64()?,
        numbers[1].as_f64()?,
        numbers[2].as_f64()?,
    );
    point.is_finite().then_some(point)
}

/// A point of a plane.
pub fn flat(value: &Value) -> Result<DVec2, Unreadable> {
    let read = || {
        let numbers = value.as_array().filter(|list| list.len() == 2)?;
        Some(DVec2::new(numbers[0].as_f64()?, numbers[1].as_f64()?))
    };
    read().ok_or_else(|| missing("point", "two numbers", value))
}

/// A list of points of a plane.
pub fn outline(value: &Value, key: &str) -> Result<Vec<DVec2>, Unreadable> {
    list(value, key)?.iter().map(flat).collect()
}
