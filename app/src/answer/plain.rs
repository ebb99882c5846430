//! `plain --json`: a job as plain solids, every reference inlined, so that an
//! outside program can check every answer without our code.

use geometry::{
    BendLine, BendRadius, BendRule, Cut, CutLimits, Edge, ExitShape, FixedClass, Hold, Job, Layout,
    Lead, LeadEnd, LeadStart, Makeup, ModulePlace, PlugStyle, Reading, RuleSet, Run, Section,
    Shape, SlackGoes, SlidingClass, Solid,
};
use glam::{DVec2, DVec3};
use serde::Serialize;
use serde_json::{Value, json};

use super::{FORMAT, trims};

/// A job as plain solids at the stated measures, the unit at proud 0.
#[derive(Debug, Serialize)]
pub struct PlainJob {
    format: u32,
    job: String,
    frame: &'static str,
    proud_limit_mm: f64,
    enter_tilt_deg: f64,
    bend_rules: &'static str,
    opening: Value,
    planes: Value,
    cavity: Value,
    walls: Vec<Value>,
    fixed: Vec<Value>,
    trims: Vec<Value>,
    rib_loads: Vec<Value>,
    cutting: Value,
    sliding: Vec<Value>,
    unit: Value,
    mount: Value,
    leads: Vec<Value>,
    looms: Vec<Value>,
    modules: Vec<Value>,
    exits: Vec<Value>,
    spaces: Vec<Value>,
    pockets: Vec<Value>,
    factory_plugs: Vec<Value>,
}

impl PlainJob {
    /// A job as plain solids.
    pub fn new(job: &Job, layout: &Layout) -> PlainJob {
        let cavity = &job.cavity;
        PlainJob {
            format: FORMAT,
            job: job.name.clone(),
            frame: "(across, depth, up), right-handed, mm; origin at the centre of the opening on the dash face",
            proud_limit_mm: job.proud_limit,
            enter_tilt_deg: job.enter_tilt.to_degrees(),
            bend_rules: rules_word(job.rules),
            opening: json!({
                "width_mm": cavity.opening.width.value(),
                "height_mm": cavity.opening.height.value(),
                "corner_radius_mm": cavity.opening.corner_radius,
            }),
            planes: json!({
                "seat_plane_mm": cavity.seat_plane.value(),
                "finished_face_mm": cavity.finished_face.value(),
                "face_rake_deg": {
                    "top_in": cavity.face_rake.x.to_degrees(),
                    "right_in": cavity.face_rake.y.to_degrees(),
                },
                "slide_dip_deg": cavity.slide_dip.to_degrees(),
            }),
            cavity: json!({
                "wall_clear_mm": cavity.wall_clear,
                "slide_gap_mm": cavity.slide_gap,
                "closed": cavity.closed,
                "stations": cavity.stations.iter().map(station).collect::<Vec<_>>(),
            }),
            walls: layout
                .walls
                .iter()
                .map(|wall| json!({ "name": wall.name, "back": wall.back, "solid": solid(&wall.solid) }))
                .collect(),
            fixed: layout.fixed.iter().map(|it| fixed(job, it)).collect(),
            trims: trims::as_stated(job),
            rib_loads: trims::rib_loads(job),
            cutting: trims::cutting(job),
            sliding: layout.sliding.iter().map(sliding).collect(),
            unit: unit(job, layout),
            mount: mount(job),
            leads: job.leads.iter().map(|it| lead(job, it)).collect(),
            looms: job.makeups.iter().map(loom).collect(),
            modules: job.modules.iter().map(module).collect(),
            exits: cavity.exits.iter().map(exit).collect(),
            spaces: cavity
                .spaces
                .iter()
                .map(|space| {
                    json!({
                        "id": space.id, "name": space.name,
                        "size_mm": space.size.map(|size| size.value()),
                        "centre": space.centre.map(point),
                        "exit": space.exit, "run_mm": space.run,
                    })
                })
                .collect(),
            pockets: cavity
                .pockets
                .iter()
                .map(|pocket| {
                    json!({
                        "id": pocket.id, "name": pocket.name,
                        "min": pocket.faces.map(|face| face[0].value()),
                        "max": pocket.faces.map(|face| face[1].value()),
                    })
                })
                .collect(),
            factory_plugs: cavity
                .factory_plugs
                .iter()
                .map(|plug| {
                    json!({
                        "id": plug.id, "name": plug.name, "at": point(plug.at),
                        "direction": point(plug.direction), "size_mm": point(plug.size),
                        "tail_mm": plug.tail, "pulls_out_mm": plug.pulls_out,
                        "clear_mm": plug.clear, "used": plug.used,
                    })
                })
                .collect(),
        }
    }

    /// A job as plain solids at the stated measures.
    pub fn of(job: &Job) -> PlainJob {
        PlainJob::new(job, &geometry::lay_out(job, Reading::Nominal))
    }
}

fn point(point: DVec3) -> [f64; 3] {
    point.to_array()
}

fn flat(points: &[DVec2]) -> Vec<[f64; 2]> {
    points.iter().map(|point| point.to_array()).collect()
}

fn rules_word(rules: RuleSet) -> &'static str {
    match rules {
        RuleSet::Published => "published",
        RuleSet::Shop => "shop",
    }
}

fn station(station: &geometry::Station) -> Value {
    let to_next = match station.to_next {
        Run::Blended => "blended",
        Run::Stepped => "stepped",
    };
    match &station.section {
        Section::Sides {
            left,
            right,
            up,
            down,
        } => json!({
            "at_mm": station.at.value(), "left_mm": left.value(), "right_mm": right.value(),
            "up_mm": up.value(), "down_mm": down.value(), "to_next": to_next,
        }),
        Section::Outline(corners) => json!({
            "at_mm": station.at.value(), "outline": flat(corners), "to_next": to_next,
        }),
    }
}

/// A solid as a primitive with its placement.
fn solid(solid: &Solid) -> Value {
    let pose = solid.pose();
    let axes = [DVec3::X, DVec3::Y, DVec3::Z].map(|axis| point(pose.direction(axis)));
    let at = point(pose.shift);
    match solid.shape() {
        Shape::Block { half } => json!({
            "block": { "centre": at, "half_mm": point(*half), "axes": axes }
        }),
        Shape::Cylinder {
            radius,
            half_length,
        } => json!({
            "cylinder": { "centre": at, "axis": axes[2], "radius_mm": radius, "half_length_mm": half_length }
        }),
        Shape::Capsule {
            radius,
            half_length,
        } => json!({
            "capsule": { "centre": at, "axis": axes[2], "radius_mm": radius, "half_length_mm": half_length }
        }),
        Shape::Prism {
            outline,
            half_length,
        } => json!({
            "prism": { "centre": at, "axes": axes, "outline": flat(outline.corners()), "half_length_mm": half_length }
        }),
        Shape::Hull(hull) => json!({
            "hull": { "corners": hull.corners().iter().map(|corner| point(pose.point(*corner))).collect::<Vec<_>>() }
        }),
    }
}

fn fixed(job: &Job, fixed: &geometry::Fixed) -> Value {
    let (class, kind) = match fixed.class {
        FixedClass::Obstacle(kind) => ("obstacle", Some(kind.word())),
        FixedClass::Module => ("module", None),
        FixedClass::FactoryPlug => ("factory plug", None),
        FixedClass::Tab => ("tab", None),
    };
    let obstacle = job
        .cavity
        .obstacles
        .iter()
        .find(|obstacle| obstacle.id == fixed.id);
    json!({
        "id": fixed.id, "name": fixed.name, "class": class, "kind": kind,
        "material": obstacle.map(|obstacle| &obstacle.material.name),
        "e_modulus_mpa": obstacle.and_then(|obstacle| obstacle.material.e_modulus),
        "clear_mm": fixed.clear,
        "cut_keep_out_mm": obstacle.map(|obstacle| obstacle.cut_keep_out),
        "cut": cut(&fixed.cut),
        "solid": solid(&fixed.solid),
    })
}

fn cut(cut: &Cut) -> Value {
    let limits = |word: &str, limits: &CutLimits| {
        json!({
            "rule": word,
            "cut_from": limits.cut_from.iter().map(|edge| edge_word(*edge)).collect::<Vec<_>>(),
            "max_depth_mm": limits.max_depth,
            "min_from_ends_mm": limits.min_from_ends,
            "min_web_mm": limits.min_web,
        })
    };
    match cut {
        Cut::Allowed(it) => limits("allowed", it),
        Cut::Ask(it) => limits("ask", it),
        Cut::Never => json!({ "rule": "never" }),
    }
}

pub(super) fn edge_word(edge: Edge) -> &'static str {
    match edge {
        Edge::Near => "near",
        Edge::Far => "far",
        Edge::Upper => "upper",
        Edge::Lower => "lower",
        Edge::Left => "left",
        Edge::Right => "right",
    }
}

fn sliding(piece: &geometry::Sliding) -> Value {
    let class = match piece.class {
        SlidingClass::Chassis => "chassis",
        SlidingClass::Bracket => "bracket",
        SlidingClass::ScrewHead => "screw head",
        SlidingClass::Nose => "nose",
        SlidingClass::Overhang => "overhang",
        SlidingClass::RearSupport => "rear support",
        SlidingClass::Plug => "plug",
        SlidingClass::StrainRelief => "strain relief",
    };
    json!({ "id": piece.id, "name": piece.name, "class": class, "solid": solid(&piece.solid) })
}

fn unit(job: &Job, layout: &Layout) -> Value {
    let unit = &job.unit;
    json!({
        "id": unit.id, "name": unit.name, "mass_kg": unit.mass,
        "vent_air_mm": geometry::VENT_AIR,
        "chassis_front_mm": layout.chassis_front, "chassis_rear_mm": layout.chassis_rear,
        "sockets": unit.sockets.iter().map(|socket| json!({
            "id": socket.id, "name": socket.name, "face": face_word(socket.face),
            "at_mm": socket.at.to_array(), "family": socket.family,
            "stands_out_mm": socket.stands_out,
        })).collect::<Vec<_>>(),
        "vents": unit.vents.iter().map(|vent| json!({
            "name": vent.name, "face": face_word(vent.face), "at_mm": vent.at.to_array(),
            "size_mm": vent.size.to_array(), "fan": vent.fan,
        })).collect::<Vec<_>>(),
    })
}

fn face_word(face: geometry::SocketFace) -> &'static str {
    match face {
        geometry::SocketFace::Rear => "rear",
        geometry::SocketFace::On(side) => side.word(),
    }
}

fn mount(job: &Job) -> Value {
    let hold = match job.mount.hold {
        Hold::FactoryBrackets { .. } => "factory brackets",
        Hold::Sleeve { .. } => "sleeve",
        Hold::KitPocket { .. } => "kit pocket",
    };
    json!({ "id": job.mount.id, "name": job.mount.name, "hold": hold, "setback_mm": job.mount.setback.value() })
}

fn rule(rule: BendRule, od: f64) -> Value {
    let measured = match rule.measured {
        BendLine::Inside => "inside",
        BendLine::Centreline => "centreline",
    };
    let stated = match rule.radius {
        BendRadius::TimesOd(times) => json!({ "times_od": times }),
        BendRadius::Millimetres(radius) => json!({ "radius_mm": radius }),
    };
    json!({ "stated": stated, "measured": measured, "centreline_mm": rule.centreline(od) })
}

fn lead(job: &Job, lead: &Lead) -> Value {
    let od = lead.cable.od.value();
    let from = match &lead.from {
        LeadStart::Socket(id) => json!({ "socket": id }),
        LeadStart::Module(id) => json!({ "module": id }),
    };
    let end = match &lead.end {
        LeadEnd::Exit(id) => json!({ "exit": id }),
        LeadEnd::Module(id) => json!({ "module": id }),
        LeadEnd::FactoryPlug(id) => json!({ "factory_plug": id }),
    };
    let style = match lead.plug.style {
        PlugStyle::Straight {
            body,
            relief,
            relief_diameter,
        } => json!({
            "straight": { "body_mm": body.value(), "relief_mm": relief, "relief_diameter_mm": relief_diameter }
        }),
        PlugStyle::RightAngle {
            stands,
            toward,
            reach,
        } => json!({
            "right_angle": { "stands_mm": stands.value(), "toward": toward.word(), "reach_mm": reach }
        }),
    };
    json!({
        "id": lead.id, "name": lead.name, "from": from, "end": end,
        "plug": {
            "id": lead.plug.id, "family": lead.plug.family,
            "width_mm": lead.plug.width.value(), "height_mm": lead.plug.height.value(), "style": style,
        },
        "cables": lead.cables, "cable": lead.cable.id, "od_mm": od,
        "tail": lead.cable.tail.map(|tail| json!({ "wires": tail.wires, "od_mm": tail.od })),
        "rule_radius_mm": lead.cable.rule(job.rules).centreline(od),
        "published": rule(lead.cable.published, od), "shop": rule(lead.cable.shop, od),
        "fold_radius_mm": lead.cable.fold_radius, "straight_run_mm": lead.cable.straight_run,
        "length_mm": lead.length.map(|length| length.value()), "beyond_mm": lead.beyond,
        "lumps": lead.lumps.iter().map(|lump| json!({
            "name": lump.name, "size_mm": point(lump.size), "at_mm": lump.at,
        })).collect::<Vec<_>>(),
        "through_mm": lead.through.iter().map(|it| point(*it)).collect::<Vec<_>>(),
        "slack": { "goes": slack_word(lead.slack.goes), "joint_waste_mm": lead.slack.joint_waste },
        "service_reach": {
            "pull_out_mm": lead.service_reach.pull_out, "required": lead.service_reach.required,
        },
    })
}

/// How a loom is made up; leads of its exit that no tape holds lie beside the taped ones.
fn loom(makeup: &Makeup) -> Value {
    let taped = makeup
        .taped
        .iter()
        .map(|taped| json!({ "name": taped.name, "leads": taped.leads, "wrap_mm": taped.wrap }));
    json!({
        "exit": makeup.exit, "wrap_mm": makeup.wrap, "taped": taped.collect::<Vec<_>>(),
    })
}

fn slack_word(goes: SlackGoes) -> &'static str {
    match goes {
        SlackGoes::Stow => "stow",
        SlackGoes::Beyond => "beyond",
        SlackGoes::Cut => "cut",
    }
}

fn module(module: &geometry::Module) -> Value {
    let place = match &module.place {
        ModulePlace::Pinned(faces) => json!({
            "pinned": { "min": faces.map(|face| face[0].value()), "max": faces.map(|face| face[1].value()) }
        }),
        ModulePlace::Movable(places) => json!({ "may_go_to": places }),
    };
    json!({
        "id": module.id, "name": module.name, "size_mm": module.size.map(|size| size.value()),
        "clear_mm": module.clear, "place": place, "lead_length_mm": module.lead_length,
    })
}

fn exit(exit: &geometry::Exit) -> Value {
    let shape = match &exit.shape {
        ExitShape::Round(diameter) => json!({ "round": { "diameter_mm": diameter } }),
        ExitShape::Rectangle(size) => {
            json!({ "rectangle": { "width_mm": size.x, "height_mm": size.y } })
        }
        ExitShape::Polygon(corners) => {
            let corners: Vec<_> = corners.iter().map(|corner| [corner.x, corner.y]).collect();
            json!({ "polygon": { "corners_mm": corners } })
        }
    };
    let [width, height] = exit.axes();
    json!({
        "id": exit.id, "name": exit.name, "centre": point(exit.centre),
        "direction": point(exit.direction), "width_axis": point(width), "height_axis": point(height),
        "shape": shape, "run_beyond_mm": exit.run_beyond,
    })
}
