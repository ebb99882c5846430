//! The form of one thing in the cavity.

use egui::{Label, RichText, Ui};
use profiles::Length;
use profiles::behind::is_behind;
use profiles::schema::{BoxFile, CutFile, EdgeFile, KindFile, ObstacleFile};

use super::list::{InList, free_id, list_buttons, remark};
use super::{Card, copies};
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields::{self, Typed};
use crate::desk::model::kind_of;
use crate::desk::theme::grow;

/// Draws it.
pub fn obstacle_ui(ui: &mut Ui, card: Card, at: usize, asks: &mut Vec<Ask>) {
    let Some(obstacle) = card.job.cavity.obstacles.get(at) else {
        return;
    };
    let of = obstacle.name.as_str();
    let mut form = Form {
        next: obstacle.clone(),
        gesture: None,
        changed: false,
    };
    if let Some(typed) = fields::words(ui, "thing", "name", &obstacle.name, asks) {
        form.next.name = typed.value;
        form.note(typed.gesture);
    }
    let kinds: Vec<(KindFile, &str)> = KINDS
        .into_iter()
        .map(|kind| (kind, kind_of(kind).word()))
        .collect();
    if let Some(kind) = fields::choice(ui, of, "kind", &obstacle.kind, &kinds) {
        form.next.kind = kind;
        form.changed = true;
    }
    let mut materials = card.materials();
    materials.insert(0, (String::new(), "not known".to_owned()));
    let material = obstacle.material.clone().unwrap_or_default();
    if let Some(chosen) = fields::choice_of(ui, of, "material", &material, &materials) {
        form.next.material = (!chosen.is_empty()).then_some(chosen);
        form.changed = true;
    }
    shape(ui, of, obstacle, &mut form, asks);
    if let Some(typed) =
        fields::optional_length(ui, of, "keep clear", obstacle.clear.as_ref(), "3", asks)
    {
        form.next.clear = typed.value;
        form.note(typed.gesture);
    }
    cut(ui, of, card, obstacle, &mut form, asks);
    if form.changed || form.gesture.is_some() {
        asks.push(Ask::Edit(
            Edit::Obstacle(ListEdit::set(at, form.next)),
            form.gesture,
        ));
    }
    let target = Target::Obstacle(obstacle.id.clone());
    let all = &card.job.cavity.obstacles;
    let shown: Vec<usize> = (0..all.len()).filter(|&i| !is_behind(&all[i])).collect();
    let neighbours = [
        shown.iter().rfind(|&&i| i < at).copied(),
        shown.iter().find(|&&i| i > at).copied(),
    ];
    list_buttons(
        ui,
        &target,
        InList {
            at,
            neighbours,
            name: of,
            edit: &Edit::Obstacle,
            copy: copies::obstacle(all, at),
        },
        asks,
    );
}

/// The obstacle as it will be, and the gesture that changes it.
struct Form {
    next: ObstacleFile,
    gesture: Option<Gesture>,
    changed: bool,
}

impl Form {
    fn note(&mut self, gesture: Gesture) {
        self.gesture = Some(gesture);
    }
}

/// The kinds one can choose, in the order of the trade.
const KINDS: [KindFile; 20] = [
    KindFile::Rib,
    KindFile::Shelf,
    KindFile::Boss,
    KindFile::Bracket,
    KindFile::Beam,
    KindFile::Duct,
    KindFile::HeaterBox,
    KindFile::Loom,
    KindFile::AirbagPart,
    KindFile::ColumnSupport,
    KindFile::KneeSupport,
    KindFile::HighVoltage,
    KindFile::CoolantPipe,
    KindFile::RefrigerantPipe,
    KindFile::KeyAerial,
    KindFile::Vent,
    KindFile::Switch,
    KindFile::Selector,
    KindFile::Column,
    KindFile::Unknown,
];

fn shape(ui: &mut Ui, of: &str, obstacle: &ObstacleFile, form: &mut Form, asks: &mut Vec<Ask>) {
    if let (Some(block), Some(next)) = (&obstacle.block, &mut form.next.block)
        && let Some(gesture) = box_ui(ui, of, block, next, asks)
    {
        form.gesture = Some(gesture);
    }
    if let (Some(bar), Some(next)) = (&obstacle.cylinder, &mut form.next.cylinder) {
        if let Some(typed) = fields::length(ui, of, "diameter", &bar.diameter, asks) {
            next.diameter = typed.value;
            form.gesture = Some(typed.gesture);
        }
        for (axis, word) in AXES.into_iter().enumerate() {
            let pair = [bar.from[axis].clone(), bar.to[axis].clone()];
            if let Some((which, typed)) =
                pair_ui(ui, of, word, ["one end", "other end"], &pair, asks)
            {
                let end = if which == 0 {
                    &mut next.from
                } else {
                    &mut next.to
                };
                end[axis] = typed.value;
                form.gesture = Some(typed.gesture);
            }
        }
    }
    if let (Some(outline), Some(next)) = (&obstacle.outline, &mut form.next.outline) {
        remark(
            ui,
            &format!("An outline of {} corners.", outline.corners.len()),
        );
        if let Some((which, typed)) =
            pair_ui(ui, of, "from, to", ["from", "to"], &outline.along, asks)
        {
            next.along[which] = typed.value;
            form.gesture = Some(typed.gesture);
        }
    }
}

const AXES: [&str; 3] = ["across", "depth", "up"];

/// The six faces of a box; the gesture when one was typed.
pub fn box_ui(
    ui: &mut Ui,
    of: &str,
    block: &BoxFile,
    next: &mut BoxFile,
    asks: &mut Vec<Ask>,
) -> Option<Gesture> {
    let mut gesture = None;
    let rows = [
        ("depth", ["near face", "far face"], &block.depth),
        ("across", ["left face", "right face"], &block.across),
        ("up", ["lower face", "upper face"], &block.up),
    ];
    for (word, ends, pair) in rows {
        if let Some((which, typed)) = pair_ui(ui, of, word, ends, pair, asks) {
            let faces = match word {
                "depth" => &mut next.depth,
                "across" => &mut next.across,
                _ => &mut next.up,
            };
            faces[which] = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    gesture
}

/// Two lengths side by side; which of them was typed, and what.
pub fn pair_ui(
    ui: &mut Ui,
    of: &str,
    name: &str,
    ends: [&str; 2],
    pair: &[Length; 2],
    asks: &mut Vec<Ask>,
) -> Option<(usize, Typed<Length>)> {
    let mut result = None;
    fields::row(ui, name, |ui| {
        let most = 76.0 * grow(ui);
        let width = ((ui.available_width() - 8.0) / 2.0).clamp(50.0, most);
        for which in 0..2 {
            let label = format!("{of}: {name}, {}", ends[which]);
            if let Some(typed) = fields::bare_length(ui, &label, &pair[which], width, asks) {
                result = Some((which, typed));
            }
        }
        fields::units_ui(ui, pair);
    });
    result
}

fn cut(
    ui: &mut Ui,
    of: &str,
    card: Card,
    obstacle: &ObstacleFile,
    form: &mut Form,
    asks: &mut Vec<Ask>,
) {
    let kind = kind_of(obstacle.kind);
    if kind.is_never_cut() {
        remark(ui, &format!("A {} is never cut.", kind.word()));
        return;
    }
    let words = [
        (CutFile::Never, "never"),
        (CutFile::Ask, "ask first"),
        (CutFile::Allowed, "allowed"),
    ];
    if let Some(cut) = fields::choice(ui, of, "cut", &obstacle.cut, &words) {
        form.next.cut = cut;
        form.changed = true;
    }
    if obstacle.cut == CutFile::Never {
        return;
    }
    edges(ui, of, obstacle, form);
    type Place = fn(&mut ObstacleFile) -> &mut Option<Length>;
    let limits: [(&str, &str, Place); 3] = [
        ("deepest notch", "", |o| &mut o.max_depth),
        ("from its ends", "", |o| &mut o.min_from_ends),
        ("web that stays", "", |o| &mut o.min_web),
    ];
    for (name, usual, place) in limits {
        let value = place(&mut form.next).clone();
        if let Some(typed) = fields::optional_length(ui, of, name, value.as_ref(), usual, asks) {
            *place(&mut form.next) = typed.value;
            form.gesture = Some(typed.gesture);
        }
    }
    cautions(ui, card);
}

fn edges(ui: &mut Ui, of: &str, obstacle: &ObstacleFile, form: &mut Form) {
    let edges = [
        (EdgeFile::Lower, "lower"),
        (EdgeFile::Upper, "upper"),
        (EdgeFile::Left, "left"),
        (EdgeFile::Right, "right"),
        (EdgeFile::Near, "near"),
        (EdgeFile::Far, "far"),
    ];
    ui.horizontal_wrapped(|ui| {
        ui.weak("cut from edge:");
        for (edge, word) in edges {
            let has = obstacle.cut_from.contains(&edge);
            if let Some(on) = fields::tick(ui, &format!("{of}: cut from edge"), word, has) {
                form.next.cut_from.retain(|other| *other != edge);
                if on {
                    form.next.cut_from.push(edge);
                }
                form.changed = true;
            }
        }
    });
}

/// What to heed before a cut, beside the very rib.
pub fn cautions(ui: &mut Ui, card: Card) {
    ui.add_space(4.0);
    ui.label("Before any cut");
    for caution in &card.model.before_a_cut {
        let text = format!("{}. {}", caution.title, caution.text);
        ui.add(Label::new(RichText::new(text).small()).wrap());
    }
}

/// A new thing of a kind: a small box where ribs usually are, nothing of it measured.
pub fn new_obstacle(kind: KindFile, others: &[ObstacleFile]) -> ObstacleFile {
    let word = kind_of(kind).word();
    let id = free_id(
        &word.replace(' ', "-"),
        others.iter().map(|other| other.id.as_str()),
    );
    let unmeasured = |low: f64, high: f64| {
        Length::parse(&format!("? {low}..{high}"))
            .unwrap_or_else(|_| Length::mm(0.5 * (low + high)))
    };
    let number = id.trim_start_matches(|c: char| !c.is_ascii_digit());
    let name = format!("{word} {number}");
    ObstacleFile {
        block: Some(BoxFile {
            across: [Length::mm(-60.0), Length::mm(60.0)],
            depth: [unmeasured(180.0, 220.0), unmeasured(200.0, 240.0)],
            up: [Length::mm(-10.0), Length::mm(10.0)],
            turned_deg: [0.0; 3],
        }),
        ..ObstacleFile::bare(id, name, kind)
    }
}
