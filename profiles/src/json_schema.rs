//! Schemas of the files, for editors that know JSON Schema and for other programs.
//!
//! The committed copies in `profiles/schemas/` are checked by a test. To write
//! them anew after a change of the schema:
//!
//! ```text
//! WRITE_SCHEMAS=1 cargo test -p profiles schemas
//! ```
//!
//! A bare `?` (`depth: ?`) is read by this program alone; to other readers of
//! YAML it needs quotes, and so it is saved.

use schemars::{JsonSchema, schema_for};

use crate::schema::{JobFile, PartsFile, UnitPart};

/// The schema of a job file.
pub fn job_schema() -> String {
    schema_of::<JobFile>()
}

/// The schema of a file of parts.
pub fn parts_schema() -> String {
    schema_of::<PartsFile>()
}

/// The schema of one unit, as it stands in either file.
pub fn unit_schema() -> String {
    schema_of::<UnitPart>()
}

/// A type's schema as indented JSON, ending with a line break.
fn schema_of<T: JsonSchema>() -> String {
    format!("{:#}\n", schema_for!(T).as_value())
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::PathBuf;

    use serde_json::Value;

    use super::*;

    #[test]
    fn the_committed_schemas_are_up_to_date() {
        for (name, schema) in [
            ("job", job_schema()),
            ("parts", parts_schema()),
            ("unit", unit_schema()),
        ] {
            let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
                .join("schemas")
                .join(format!("{name}.json"));
            if std::env::var_os("WRITE_SCHEMAS").is_some() {
                fs::create_dir_all(path.parent().unwrap()).unwrap();
                fs::write(&path, &schema).unwrap();
            }
            let committed = fs::read_to_string(&path).unwrap_or_default();
            assert!(
                committed == schema,
                "schemas/{name}.json is out of date: WRITE_SCHEMAS=1 cargo test -p profiles schemas"
            );
        }
    }

    fn keys_required(schema: &Value) -> Vec<&str> {
        let required = schema["required"].as_array().into_iter().flatten();
        required.filter_map(Value::as_str).collect()
    }

    /// The schema and the reader ask for the same keys.
    #[test]
    fn the_schemas_require_what_the_reader_misses() {
        let schema: Value = serde_json::from_str(&job_schema()).unwrap();
        let text =
            "cavity: {opening: {}, obstacles: [{}], exits: [{}]}\nunit: {id: x}\nleads: [{}]";
        let problems = crate::read_job(text, "").unwrap_err();
        let missed = |at: &str| -> Vec<String> {
            problems
                .iter()
                .filter(|problem| problem.found.starts_with("no key"))
                .filter_map(|problem| match at {
                    "" => Some(problem.field.as_str()),
                    _ => problem.field.strip_prefix(at)?.strip_prefix('.'),
                })
                .filter(|key| !key.contains('.'))
                .map(str::to_owned)
                .collect()
        };
        let sorted = |mut keys: Vec<String>| {
            keys.sort();
            keys
        };
        let of = |schema: &Value, but: &[&str]| -> Vec<String> {
            let keys = keys_required(schema).into_iter();
            sorted(
                keys.filter(|k| !but.contains(k))
                    .map(str::to_owned)
                    .collect(),
            )
        };
        assert_eq!(sorted(missed("")), of(&schema, &["cavity", "unit"]));
        for (at, name, given) in [
            ("cavity.opening", "OpeningFile", &[][..]),
            ("cavity.obstacles[0]", "ObstacleFile", &[]),
            ("cavity.exits[0]", "ExitFile", &[]),
            ("leads[0]", "LeadFile", &[]),
            ("unit", "UnitPart", &["id"]),
        ] {
            let required = of(&schema["$defs"][name], given);
            assert!(!required.is_empty());
            assert_eq!(sorted(missed(at)), required, "{name}");
        }
    }

    /// Every key of every group is explained.
    #[test]
    fn the_schemas_explain_every_key() {
        for schema in [job_schema(), parts_schema(), unit_schema()] {
            let schema: Value = serde_json::from_str(&schema).unwrap();
            let groups = schema["$defs"].as_object().unwrap();
            for (name, group) in groups {
                for (key, value) in group["properties"].as_object().into_iter().flatten() {
                    assert!(value["description"].is_string(), "{name}.{key}");
                }
            }
        }
    }
}
