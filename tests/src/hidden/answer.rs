//! The hidden answer in the form of `check --json`.

use geometry::{Path, Piece};
use serde_json::{Value, json};

use super::HiddenAnswer;

/// The hidden answer as `check --layer routed --json` states one: proud 0,
/// every route, every module.
pub fn answer_json_of(answer: &HiddenAnswer) -> Value {
    let routes = answer.routes.iter().map(|route| {
        json!({
            "lead": route.lead,
            "cable": route.cable + 1,
            "length_mm": route.path.length(),
            "least_radius_mm": route.path.least_radius(),
            "path": path_json(&route.path),
        })
    });
    let modules = answer.modules.iter().map(|(module, centre, size)| {
        json!({ "module": module, "centre": centre.to_array(), "size_mm": size.to_array() })
    });
    json!({
        "layer": "routed",
        "verdict": "flush",
        "proud_mm": 0.0,
        "routes": routes.collect::<Vec<_>>(),
        "modules": modules.collect::<Vec<_>>(),
    })
}

/// Lines and arcs as answers state them.
pub fn path_json(path: &Path) -> Value {
    let pieces = path.pieces.iter().map(|piece| match *piece {
        Piece::Line { from, to } => json!({ "line": [from.to_array(), to.to_array()] }),
        Piece::Arc {
            from,
            to,
            centre,
            normal,
            radius,
            ..
        } => json!({ "arc": {
            "from": from.to_array(), "to": to.to_array(), "centre": centre.to_array(),
            "normal": normal.to_array(), "radius_mm": radius,
        } }),
    });
    Value::Array(pieces.collect())
}
