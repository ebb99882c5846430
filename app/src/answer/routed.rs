//! What the routed layer adds to `check --json`.

use geometry::routed::{LeftOver, ModuleAt, ModuleSeat, Route, Routed};
use geometry::slack::Stowage;
use geometry::{Path, Piece};
use glam::DVec3;
use serde::Serialize;
use serde_json::{Value, json};

/// Routes, modules and slack of a routed answer.
#[derive(Debug, Serialize)]
pub struct RoutedAnswer {
    routes: Vec<RouteAnswer>,
    modules: Vec<Value>,
    stow: Vec<StowAnswer>,
    not_stowed: Vec<NotStowed>,
    left_over: Vec<LeftOverAnswer>,
}

#[derive(Debug, Serialize)]
struct RouteAnswer {
    lead: String,
    exit: Option<String>,
    cable: u32,
    od_mm: f64,
    length_mm: f64,
    least_radius_mm: Option<f64>,
    rule_radius_mm: f64,
    other_rule_radius_mm: f64,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    through: Vec<Value>,
    least_clearance_mm: Option<f64>,
    against: Option<String>,
    slack_mm: Option<f64>,
    path: Vec<Value>,
}

#[derive(Debug, Serialize)]
struct StowAnswer {
    pocket: String,
    room_cm3: f64,
    slack_cm3: f64,
    fill: f64,
    leads: Vec<String>,
}

#[derive(Debug, Serialize)]
struct NotStowed {
    lead: String,
    slack_cm3: f64,
}

#[derive(Debug, Serialize)]
struct LeftOverAnswer {
    id: String,
    why: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    closest_miss: Option<Value>,
}

impl RoutedAnswer {
    /// Of a routed answer.
    pub fn new(routed: &Routed) -> RoutedAnswer {
        RoutedAnswer {
            routes: routed.routes.iter().map(route).collect(),
            modules: routed.modules.iter().map(module).collect(),
            stow: stow(&routed.stow),
            not_stowed: (routed.stow.left_out.iter())
                .map(|out| NotStowed {
                    lead: out.lead.clone(),
                    slack_cm3: out.slack_cm3,
                })
                .collect(),
            left_over: routed.left_over.iter().map(left_over).collect(),
        }
    }
}

fn route(route: &Route) -> RouteAnswer {
    let slack = route.slack.as_ref();
    RouteAnswer {
        lead: route.lead.clone(),
        exit: route.exit.clone(),
        cable: route.cable + 1,
        od_mm: route.od,
        length_mm: route.length,
        least_radius_mm: route.least_radius,
        rule_radius_mm: route.rule_radius,
        other_rule_radius_mm: route.other_rule_radius,
        through: (route.through.iter())
            .map(|it| json!({ "point_mm": it.point.to_array(), "off_mm": it.off }))
            .collect(),
        least_clearance_mm: route.nearest.as_ref().map(|near| near.gap),
        against: route.nearest.as_ref().map(|near| near.against.clone()),
        slack_mm: slack.map(|slack| slack.slack - slack.short_by),
        path: path(&route.path),
    }
}

/// A path as the contract writes it: lines by their ends, arcs by their ends,
/// centre and axis.
fn path(path: &Path) -> Vec<Value> {
    let point = |point: DVec3| point.to_array();
    path.pieces
        .iter()
        .map(|piece| match *piece {
            Piece::Line { from, to } => json!({ "line": [point(from), point(to)] }),
            Piece::Arc {
                from,
                to,
                centre,
                normal,
                radius,
                ..
            } => json!({ "arc": {
                "from": point(from), "to": point(to), "centre": point(centre),
                "normal": point(normal), "radius_mm": radius,
            } }),
        })
        .collect()
}

fn module(module: &ModuleAt) -> Value {
    match &module.place {
        ModuleSeat::Cavity { centre, size } => json!({
            "module": module.module, "centre": centre.to_array(), "size_mm": size.to_array(),
        }),
        ModuleSeat::Space(space) => json!({ "module": module.module, "space": space }),
    }
}

fn stow(stowage: &Stowage) -> Vec<StowAnswer> {
    stowage
        .fills
        .iter()
        .map(|fill| StowAnswer {
            pocket: fill.pocket.clone(),
            room_cm3: fill.room_cm3,
            slack_cm3: fill.slack_cm3,
            fill: fill.fill,
            leads: fill.leads.clone(),
        })
        .collect()
}

fn left_over(left: &LeftOver) -> LeftOverAnswer {
    LeftOverAnswer {
        id: left.id.clone(),
        why: left.why.clone(),
        closest_miss: left.miss.as_ref().map(|miss| {
            json!({
                "short_mm": miss.short, "against": miss.against, "at_mm": miss.at.to_array(),
            })
        }),
    }
}
