//! Dimension lines: the opening, the amount it stands proud, what is short, the room around.

use geometry::{ChainLink, Fit, Job, Layout, LeadStart, Side, SlidingClass};
use glam::{DVec2, DVec3};

use super::{Clash, Dim};
use crate::desk::canvas::camera::View;
use crate::desk::edit::Target;

/// Every dimension of an answer.
///
/// * `proud`: how far out the unit is drawn, mm
pub fn dims(job: &Job, layout: &Layout, fit: &Fit, proud: f64, clashes: &[Clash]) -> Vec<Dim> {
    let mut dims = opening_dims(job);
    if proud > 0.0 {
        dims.extend(proud_dims(layout, proud));
    }
    for (at, clash) in clashes.iter().enumerate() {
        // The worst is always measured out, the others when they are asked about.
        let only_with = if at == 0 { None } else { clash.piece.clone() };
        dims.extend(clash_dims(clash).map(|dim| Dim {
            only_with: only_with.clone(),
            ..dim
        }));
    }
    dims.extend(room_dims(fit));
    for link in &fit.chain {
        dims.extend(chain_dims(link, layout, job, proud));
    }
    dims
}

fn dim(view: View, from: DVec3, to: DVec3, off: DVec2) -> Dim {
    let ends = [view.flat(from), view.flat(to)];
    Dim {
        view,
        ends,
        off,
        mm: ends[0].distance(ends[1]),
        plus_minus: 0.0,
        word: "",
        strong: false,
        only_with: None,
    }
}

fn opening_dims(job: &Job) -> Vec<Dim> {
    let opening = &job.cavity.opening;
    let half = 0.5 * DVec3::new(opening.width.value(), 0.0, opening.height.value());
    let left = half.with_x(-half.x).with_z(-half.z);
    let top_left = half.with_x(-half.x);
    let width = Dim {
        plus_minus: opening.width.plus_minus(),
        ..dim(View::LookingIn, top_left, half, DVec2::new(0.0, -22.0))
    };
    let height = Dim {
        plus_minus: opening.height.plus_minus(),
        ..dim(View::LookingIn, left, top_left, DVec2::new(-30.0, 0.0))
    };
    vec![width, height]
}

fn proud_dims(layout: &Layout, proud: f64) -> Vec<Dim> {
    let nose = layout
        .sliding
        .iter()
        .filter(|piece| piece.class == SlidingClass::Nose)
        .map(|piece| piece.solid.bounds())
        .reduce(|a, b| a.joined(&b));
    let [low, high] = layout.chassis_face;
    let (top, left) = nose.map_or((high.y, low.x), |nose| (nose.max.z, nose.min.x));
    // From where its flange or nose back would be to where it stands.
    let seat = nose.map_or(layout.chassis_front, |nose| {
        nose.max.y.min(layout.chassis_front)
    });
    let from = |across: f64, up: f64| DVec3::new(across, seat - proud, up);
    let to = |across: f64, up: f64| DVec3::new(across, seat, up);
    [
        dim(
            View::FromSide,
            from(0.0, top),
            to(0.0, top),
            DVec2::new(0.0, -26.0),
        ),
        dim(
            View::FromAbove,
            from(left, 0.0),
            to(left, 0.0),
            DVec2::new(0.0, -22.0),
        ),
    ]
    .into_iter()
    .map(|dim| Dim {
        word: "proud",
        strong: true,
        ..dim
    })
    .collect()
}

fn clash_dims(clash: &Clash) -> [Dim; 2] {
    let [low, high] = clash.room;
    [
        dim(
            View::FromSide,
            low.with_z(low.z),
            high.with_z(low.z),
            DVec2::new(0.0, 16.0),
        ),
        dim(
            View::FromAbove,
            low.with_x(high.x),
            high.with_x(high.x),
            DVec2::new(0.0, 16.0),
        ),
    ]
    .map(|dim| Dim {
        word: "in the way",
        strong: true,
        ..dim
    })
}

fn room_dims(fit: &Fit) -> Vec<Dim> {
    let mut dims = Vec::new();
    for room in &fit.rooms {
        let views = match room.side {
            Side::Left | Side::Right => [View::LookingIn, View::FromAbove],
            Side::Top | Side::Bottom => [View::LookingIn, View::FromSide],
        };
        for view in views {
            dims.push(Dim {
                mm: room.free,
                ..dim(view, room.from, room.to, DVec2::ZERO)
            });
        }
    }
    dims
}

/// The chain of one lead as a row of dimensions, drawn while that lead is lit.
fn chain_dims(link: &ChainLink, layout: &Layout, job: &Job, proud: f64) -> Vec<Dim> {
    let Some(turn) = layout.turns.iter().find(|turn| turn.lead == link.lead) else {
        return Vec::new();
    };
    let side_plug = job
        .leads
        .iter()
        .any(|lead| lead.id == link.lead && matches!(lead.from, LeadStart::Module(_)));
    if side_plug {
        return Vec::new();
    }
    let (across, up) = (turn.centre.x, turn.centre.y);
    let begin = layout.chassis_front - link.setback - proud;
    let mut dims = Vec::new();
    for view in [View::FromSide, View::FromAbove] {
        let mut from = begin;
        for (length, word) in [
            (link.setback, "setback"),
            (link.chassis, "chassis"),
            (link.plug, "plug"),
            (link.turn, "turn"),
        ] {
            let to = from + length;
            if length > 0.0 {
                let ends = [DVec3::new(across, from, up), DVec3::new(across, to, up)];
                dims.push(Dim {
                    word,
                    only_with: Some(Target::Lead(link.lead.clone())),
                    ..dim(view, ends[0], ends[1], DVec2::new(0.0, 34.0))
                });
            }
            from = to;
        }
    }
    dims
}
