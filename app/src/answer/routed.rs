//! What the routed layer adds to `check --json`.

use geometry::routed::{LeftOver, Miss, ModuleAt, ModuleSeat, Route, Routed};
use geometry::seating::BEHIND;
use geometry::slack::HalfWay;
use geometry::slide_in::{Tight, TiltAxis};
use geometry::{Barred, Path, Piece, SlideIn};
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
    half_way: Vec<HalfWayAnswer>,
    left_over: Vec<LeftOverAnswer>,
    /// How the unit goes in; absent when nothing holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    slide_in: Option<Value>,
    /// Why it stands no nearer its seat where it would stand free.
    #[serde(skip_serializing_if = "Option::is_none")]
    slide_in_barred: Option<Value>,
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
    /// The same with the unit held out on its way in.
    half_way: Vec<HeldOutFill>,
}

/// A pocket with the unit held out.
#[derive(Debug, Serialize)]
struct HeldOutFill {
    out_mm: f64,
    slack_cm3: f64,
    fill: f64,
}

/// Slack with the unit held out.
#[derive(Debug, Serialize)]
struct HalfWayAnswer {
    out_mm: f64,
    behind_room_cm3: f64,
    behind_slack_cm3: f64,
    behind_fill: f64,
    no_room: Vec<NoRoomAnswer>,
}

#[derive(Debug, Serialize)]
struct NoRoomAnswer {
    lead: String,
    /// Absent where its folds go in nowhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    pocket: Option<String>,
    slack_cm3: f64,
    short_cm3: f64,
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
            stow: stow(routed),
            half_way: routed.half_way.iter().map(half_way).collect(),
            not_stowed: (routed.stow.left_out.iter())
                .map(|out| NotStowed {
                    lead: out.lead.clone(),
                    slack_cm3: out.slack_cm3,
                })
                .collect(),
            left_over: routed.left_over.iter().map(left_over).collect(),
            slide_in: routed.slide_in.as_ref().map(slide_in),
            slide_in_barred: routed.barred.as_ref().map(barred),
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
    let mut value = match &module.place {
        ModuleSeat::Cavity { centre, size } => json!({
            "module": module.module, "centre": centre.to_array(), "size_mm": size.to_array(),
        }),
        ModuleSeat::Space(space) => json!({ "module": module.module, "space": space }),
    };
    if let Some(on) = &module.mounted_on {
        value["mounted_on"] = json!({
            "face": on.face.to_array(), "against": on.against, "name": on.name,
            "backed": on.backed,
        });
    }
    value
}

/// Where a module came nearest to a place: what is short, and by how much.
fn miss(miss: &Miss) -> Value {
    json!({
        "place": miss.place, "at": miss.at.map(|at| at.to_array()),
        "against": miss.against, "short_mm": miss.short,
    })
}

fn half_way(held: &HalfWay) -> HalfWayAnswer {
    let mut fills = held.stowage.fills.iter();
    let behind = fills.find(|fill| fill.pocket == BEHIND);
    let short = held.short.iter().map(|short| NoRoomAnswer {
        lead: short.lead.clone(),
        pocket: short.pocket.clone(),
        slack_cm3: short.slack_cm3,
        short_cm3: short.short_cm3,
    });
    HalfWayAnswer {
        out_mm: held.out,
        behind_room_cm3: behind.map_or(0.0, |fill| fill.room_cm3),
        behind_slack_cm3: behind.map_or(0.0, |fill| fill.slack_cm3),
        behind_fill: behind.map_or(0.0, |fill| fill.fill),
        no_room: short.collect(),
    }
}

fn stow(routed: &Routed) -> Vec<StowAnswer> {
    let held_out = |pocket: &str| {
        let held = routed.half_way.iter().filter_map(|held| {
            let mut fills = held.stowage.fills.iter();
            let fill = fills.find(|fill| fill.pocket == pocket)?;
            Some(HeldOutFill {
                out_mm: held.out,
                slack_cm3: fill.slack_cm3,
                fill: fill.fill,
            })
        });
        held.collect()
    };
    routed
        .stow
        .fills
        .iter()
        .map(|fill| StowAnswer {
            pocket: fill.pocket.clone(),
            room_cm3: fill.room_cm3,
            slack_cm3: fill.slack_cm3,
            fill: fill.fill,
            leads: fill.leads.clone(),
            half_way: held_out(&fill.pocket),
        })
        .collect()
}

fn slide_in(way: &SlideIn) -> Value {
    let Some(tilted) = &way.tilted else {
        return json!({
            "straight": true, "tilt_deg": 0.0, "proud_mm": way.proud, "proof": "closed_form",
        });
    };
    let axis = match tilted.axis {
        TiltAxis::Across => "across",
        TiltAxis::Up => "up",
    };
    let postures = tilted.way.iter().map(|posture| {
        json!({
            "proud_mm": posture.proud,
            "tilt_deg": posture.tilt.to_degrees(),
            "aside_mm": posture.aside,
        })
    });
    json!({
        "straight": false,
        "tilt_deg": tilted.tilt.to_degrees(),
        "axis": axis,
        "rear": tilted.rear.map(|rear| rear.word()),
        "level_from_mm": tilted.level_from,
        "level_by_mm": tilted.level_by,
        "proud_mm": way.proud,
        "way": postures.collect::<Vec<Value>>(),
        "tightest": tilted.tightest.as_ref().map(tight),
        "spare_at_least_mm": tilted.spare_at_least,
        "proof": "certified_steps",
        "checks": tilted.checks,
    })
}

fn tight(tight: &Tight) -> Value {
    json!({
        "piece": tight.piece,
        "against": tight.against_id,
        "against_name": tight.against,
        "gap_mm": tight.gap,
        "spare_mm": tight.spare,
    })
}

fn barred(barred: &Barred) -> Value {
    json!({
        "proud_mm": barred.proud,
        "most_tilt_deg": barred.most_tilt.to_degrees(),
        "by": barred.by.as_deref().map(tight),
        "gave_up": barred.gave_up,
    })
}

fn left_over(left: &LeftOver) -> LeftOverAnswer {
    LeftOverAnswer {
        id: left.id.clone(),
        why: left.why.clone(),
        closest_miss: (left.closest_miss.as_ref().map(miss)).or_else(|| {
            left.miss.as_ref().map(|miss| {
                json!({
                    "short_mm": miss.short, "against": miss.against, "at": miss.at.to_array(),
                })
            })
        }),
    }
}
