//! The room a mesh keeps about each notch for the layers along its wall.

use super::chains::{Chains, SAME, Wall};
use super::{Edge, Notch, RibFault};

/// A layer is this much of a notch's depth thick, room permitting.
const LAYER: f64 = 0.5;
/// Of the free space beside a notch its layers take at most this much.
const SHARE: f64 = 1.0 / 3.0;

/// A notch and the room its layers take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hole {
    pub edge: Edge,
    pub wall: Wall,
    /// The x of its feet on the edge, mm.
    pub along: [f64; 2],
    /// Thickness of the layers left, right and beyond its bottom, mm.
    pub layers: [f64; 3],
}

/// The holes of some notches, each with room for its layers.
pub(super) fn holes(chains: &Chains, notches: &[Notch]) -> Result<Vec<Hole>, RibFault> {
    let mut holes = Vec::with_capacity(notches.len());
    for (number, notch) in notches.iter().enumerate() {
        holes.push(hole(chains, notch, number)?);
    }
    for one in 0..holes.len() {
        for other in 0..one {
            let (before, rest) = holes.split_at_mut(one);
            share(chains, &mut before[other], &mut rest[0], [other, one])?;
        }
    }
    Ok(holes)
}

/// A notch by itself.
fn hole(chains: &Chains, notch: &Notch, number: usize) -> Result<Hole, RibFault> {
    let Notch {
        along: [from, to],
        depth,
        radius,
        edge,
        doubler: _,
    } = *notch;
    if ![from, to, depth, radius].iter().all(|it| it.is_finite()) || radius < 0.0 {
        return Err(RibFault::NotANumber);
    }
    let [left, right] = chains.ends(edge);
    if from < left + SAME || to > right - SAME || to < from + SAME || depth < SAME {
        return Err(RibFault::NotchOffEdge(number));
    }
    let wall = Wall::new(chains, notch);
    let web = web(chains, &wall, notch);
    if web < SAME {
        return Err(RibFault::CutThrough(number));
    }
    let layer = LAYER * depth.max(0.25 * wall.width);
    // The layers end at the rib's own corners, where the edge turns.
    let clear = |from: f64, to: f64| {
        let between = |x: &f64| *x > from + SAME && *x < to - SAME;
        let corners = chains
            .edge(edge)
            .iter()
            .map(|corner| corner.x)
            .filter(between);
        corners.collect::<Vec<f64>>()
    };
    let before = clear(left, from)
        .last()
        .map_or(from - left, |x| 2.0 * (from - x));
    let after = clear(to, right)
        .first()
        .map_or(right - to, |x| 2.0 * (x - to));
    Ok(Hole {
        edge,
        wall,
        along: notch.along,
        layers: [
            layer.min(0.5 * before),
            layer.min(0.5 * after),
            layer.min(0.5 * web),
        ],
    })
}

/// What a notch alone leaves of the rib's height, mm: the least over its width.
fn web(chains: &Chains, wall: &Wall, notch: &Notch) -> f64 {
    let far = match notch.edge {
        Edge::Lower => Edge::Upper,
        Edge::Upper => Edge::Lower,
    };
    let [from, to] = notch.along;
    let corners = chains.edge(far).iter().filter(|c| c.x > from && c.x < to);
    let opposite = notch.along.map(|x| chains.point(far, x));
    (corners.chain(&opposite)).fold(f64::INFINITY, |least, point| {
        least.min((*point - wall.foot).dot(wall.inward) - wall.depth)
    })
}

/// Shares out the space between two notches.
fn share(
    chains: &Chains,
    one: &mut Hole,
    other: &mut Hole,
    numbers: [usize; 2],
) -> Result<(), RibFault> {
    let gap = (other.along[0] - one.along[1]).max(one.along[0] - other.along[1]);
    if one.edge == other.edge && gap < SAME {
        return Err(RibFault::NotchesMeet(numbers[0], numbers[1]));
    }
    let middle = 0.25 * (one.along[0] + one.along[1] + other.along[0] + other.along[1]);
    let height = [
        one.along[0],
        one.along[1],
        other.along[0],
        other.along[1],
        middle,
    ]
    .map(|x| chains.height(x))
    .into_iter()
    .fold(f64::INFINITY, f64::min);
    let web = height - one.wall.depth - other.wall.depth;
    if one.edge == other.edge || (gap > SAME && gap > web) {
        let (left, right) = if other.along[0] > one.along[0] {
            (one, other)
        } else {
            (other, one)
        };
        left.layers[1] = left.layers[1].min(SHARE * gap);
        right.layers[0] = right.layers[0].min(SHARE * gap);
    } else if web < SAME {
        return Err(RibFault::CutThrough(numbers[1]));
    } else {
        one.layers[2] = one.layers[2].min(SHARE * web);
        other.layers[2] = other.layers[2].min(SHARE * web);
    }
    Ok(())
}
