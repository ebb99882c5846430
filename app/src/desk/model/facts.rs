//! What is known of a thing: a name, a value, a name, a value.

use geometry::{Cut, Edge, Form, Job, LeadEnd, Measure, ModulePlace, Obstacle, PlugStyle};

use crate::desk::edit::Target;
use crate::figures::Figures;

/// One thing known.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// What it is about.
    pub word: String,
    /// What is known.
    pub value: Value,
}

/// What is known of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A length, mm.
    Length(Measure),
    /// From one place to another, mm.
    Span(Measure, Measure),
    /// In words.
    Words(String),
}

impl Fact {
    pub(super) fn length(word: &str, measure: Measure) -> Fact {
        Fact {
            word: word.to_owned(),
            value: Value::Length(measure),
        }
    }

    fn span(word: &str, [from, to]: [Measure; 2]) -> Fact {
        Fact {
            word: word.to_owned(),
            value: Value::Span(from, to),
        }
    }

    pub(super) fn words(word: &str, text: impl Into<String>) -> Fact {
        Fact {
            word: word.to_owned(),
            value: Value::Words(text.into()),
        }
    }

    /// It in a few words.
    pub fn says(&self, figures: Figures) -> String {
        let value = match &self.value {
            Value::Length(measure) => says_measure(*measure, figures),
            Value::Span(from, to) => {
                let plus_minus = from.plus_minus().max(to.plus_minus());
                let ends = format!(
                    "{} to {}",
                    figures.bare(from.value()),
                    figures.bare(to.value())
                );
                match (from.is_measured() && to.is_measured(), plus_minus > 0.0) {
                    (false, _) => format!("{ends}, not measured"),
                    (true, true) => format!("{ends} ± {}", figures.bare(plus_minus)),
                    (true, false) => ends,
                }
            }
            Value::Words(text) => text.clone(),
        };
        if self.word.is_empty() {
            value
        } else {
            format!("{} {value}", self.word)
        }
    }
}

/// A measure in a few words, without its unit.
pub fn says_measure(measure: Measure, figures: Figures) -> String {
    if !measure.is_measured() {
        return format!(
            "not measured ({} to {})",
            figures.bare(measure.low()),
            figures.bare(measure.high())
        );
    }
    if measure.plus_minus() > 0.0 {
        format!(
            "{} ± {}",
            figures.bare(measure.value()),
            figures.bare(measure.plus_minus())
        )
    } else {
        figures.bare(measure.value())
    }
}

/// What the installer calls a target, and what is known of it.
pub fn of(job: &Job, target: &Target) -> Option<(String, Vec<Fact>)> {
    match target {
        Target::Opening => {
            let opening = &job.cavity.opening;
            Some((
                "opening".to_owned(),
                vec![
                    Fact::length("width", opening.width),
                    Fact::length("height", opening.height),
                    Fact::length("corner radius", opening.corner_radius.into()),
                ],
            ))
        }
        Target::Walls => Some((
            "walls of the cavity".to_owned(),
            vec![
                Fact::words(
                    "",
                    format!("measured at {} depths", job.cavity.stations.len()),
                ),
                Fact::words(
                    "",
                    if job.cavity.closed {
                        "closed at the back"
                    } else {
                        "open at the back"
                    },
                ),
                Fact::length("keep clear", job.cavity.wall_clear.into()),
            ],
        )),
        Target::Obstacle(id) => job
            .cavity
            .obstacles
            .iter()
            .find(|o| o.id == *id)
            .map(|o| (o.name.clone(), obstacle(o))),
        Target::Exit(id) => job.cavity.exits.iter().find(|e| e.id == *id).map(|exit| {
            let size = match &exit.shape {
                geometry::ExitShape::Round(diameter) => {
                    vec![Fact::length("diameter", (*diameter).into())]
                }
                geometry::ExitShape::Rectangle(size) => vec![
                    Fact::length("width", size.x.into()),
                    Fact::length("height", size.y.into()),
                ],
                geometry::ExitShape::Polygon(corners) => {
                    vec![Fact::words("corners", corners.len().to_string())]
                }
            };
            let mut facts = vec![
                Fact::words("", "exit"),
                Fact::length("at depth", exit.centre.y.into()),
            ];
            facts.extend(size);
            (exit.name.clone(), facts)
        }),
        Target::Space(id) => job.cavity.spaces.iter().find(|s| s.id == *id).map(|space| {
            (
                space.name.clone(),
                vec![
                    Fact::words("", "space"),
                    Fact::length("across", space.size[0]),
                    Fact::length("depth", space.size[1]),
                    Fact::length("up", space.size[2]),
                    Fact::length("lead run", space.run.into()),
                ],
            )
        }),
        Target::Pocket(id) => job
            .cavity
            .pockets
            .iter()
            .find(|p| p.id == *id)
            .map(|pocket| {
                let mut facts = vec![Fact::words("", "pocket")];
                facts.extend(faces(&pocket.faces));
                (pocket.name.clone(), facts)
            }),
        Target::FactoryPlug(id) => {
            job.cavity
                .factory_plugs
                .iter()
                .find(|p| p.id == *id)
                .map(|plug| {
                    (
                        plug.name.clone(),
                        vec![
                            Fact::words(
                                "",
                                if plug.used {
                                    "factory plug, used"
                                } else {
                                    "factory plug, not used"
                                },
                            ),
                            Fact::length("at depth", plug.at.y.into()),
                            Fact::length("keep clear", plug.clear.into()),
                        ],
                    )
                })
        }
        Target::Unit => Some((
            job.unit.name.clone(),
            vec![
                Fact::length("chassis width", job.unit.width),
                Fact::length("height", job.unit.height),
                Fact::length("depth", job.unit.depth),
                Fact::words("", format!("{} sockets", job.unit.sockets.len())),
            ],
        )),
        Target::Mount => Some((
            job.mount.name.clone(),
            vec![Fact::length("setback", job.mount.setback)],
        )),
        Target::Tab(_) => None,
        Target::Lead(id) => job
            .leads
            .iter()
            .find(|l| l.id == *id)
            .map(|lead| (lead.name.clone(), self::lead(job, lead))),
        Target::Module(id) => job.modules.iter().find(|m| m.id == *id).map(|module| {
            let mut facts = vec![Fact::words(
                "",
                match module.place {
                    ModulePlace::Pinned(_) => "module, stays where it is",
                    ModulePlace::Movable(_) => "module, may move",
                },
            )];
            match &module.place {
                ModulePlace::Pinned(sides) => facts.extend(faces(sides)),
                ModulePlace::Movable(_) => {
                    for (word, size) in ["size", "by", "by"].into_iter().zip(module.size) {
                        facts.push(Fact::length(word, size));
                    }
                }
            }
            facts.push(Fact::length("keep clear", module.clear.into()));
            (module.name.clone(), facts)
        }),
    }
}

fn faces(faces: &[[Measure; 2]; 3]) -> Vec<Fact> {
    ["across", "depth", "up"]
        .into_iter()
        .zip(faces)
        .map(|(word, pair)| Fact::span(word, *pair))
        .collect()
}

fn obstacle(obstacle: &Obstacle) -> Vec<Fact> {
    let material = &obstacle.material.name;
    let kind = obstacle.kind.word();
    let mut facts = vec![Fact::words(
        "",
        if material.is_empty() {
            kind.to_owned()
        } else {
            format!("{kind}, {material}")
        },
    )];
    match &obstacle.form {
        Form::Block {
            across, depth, up, ..
        } => facts.extend(faces(&[*across, *depth, *up])),
        Form::Cylinder { from, to, diameter } => {
            facts.push(Fact::length("diameter", *diameter));
            facts.push(Fact::span("depth", [from[1], to[1]]));
        }
        Form::Outline { along, plane, .. } => facts.push(Fact::span(
            match plane {
                geometry::Plane::AcrossUp => "depth",
                geometry::Plane::AcrossDepth => "up",
                geometry::Plane::DepthUp => "across",
            },
            *along,
        )),
    }
    facts.push(Fact::length("keep clear", obstacle.clear.into()));
    facts.push(Fact::words("cut:", cut_words(obstacle.cut())));
    facts
}

/// Whether it may be cut, in words.
pub fn cut_words(cut: &Cut) -> String {
    let from = |edges: &[Edge]| {
        let words: Vec<&str> = edges
            .iter()
            .map(|edge| match edge {
                Edge::Near => "near",
                Edge::Far => "far",
                Edge::Upper => "upper",
                Edge::Lower => "lower",
                Edge::Left => "left",
                Edge::Right => "right",
            })
            .collect();
        if words.is_empty() {
            String::new()
        } else {
            format!(", from the {} edge", words.join(" or "))
        }
    };
    match cut {
        Cut::Never => "never".to_owned(),
        Cut::Ask(limits) => format!("ask first{}", from(&limits.cut_from)),
        Cut::Allowed(limits) => format!("allowed{}", from(&limits.cut_from)),
    }
}

fn lead(job: &Job, lead: &geometry::Lead) -> Vec<Fact> {
    let mut facts = vec![Fact::words("", lead.plug.name.clone())];
    match lead.plug.style {
        PlugStyle::Straight { body, .. } => facts.push(Fact::length("straight,", body)),
        PlugStyle::RightAngle { stands, .. } => {
            facts.push(Fact::length("right-angle, stands", stands))
        }
    }
    facts.push(Fact::length("cable", lead.cable.od));
    let rule = lead.cable.rule(job.rules);
    facts.push(Fact::length(
        "bends no tighter than",
        rule.centreline(lead.cable.od.value()).into(),
    ));
    if let Some(length) = lead.length {
        facts.push(Fact::length("length", length));
    }
    let end = match &lead.end {
        LeadEnd::Exit(id) => job
            .cavity
            .exits
            .iter()
            .find(|e| e.id == *id)
            .map(|e| &e.name),
        LeadEnd::Module(id) => job.modules.iter().find(|m| m.id == *id).map(|m| &m.name),
        LeadEnd::FactoryPlug(id) => job
            .cavity
            .factory_plugs
            .iter()
            .find(|p| p.id == *id)
            .map(|p| &p.name),
    };
    if let Some(name) = end {
        facts.push(Fact::words("ends at", name.clone()));
    }
    facts
}
