//! Whether things really lie in a hole, measured straight from their shapes.

use glam::DVec2;

use super::gauge::{Lie, Thing};
use super::room::Room;

/// How far the worst pair stands apart, or the worst thing clear of the wall,
/// mm; negative where they overlap. By plain distances, which the search for a
/// place does not use.
pub(super) fn least_gap(things: &[Thing], lies: &[Lie], room: &Room) -> f64 {
    let mut least = f64::INFINITY;
    for (i, (thing, lie)) in things.iter().zip(lies).enumerate() {
        least = least.min(gap_to_wall(*thing, *lie, room));
        for (other, there) in things.iter().zip(lies).take(i) {
            least = least.min(gap((*thing, *lie), (*other, *there)));
        }
    }
    least
}

fn gap(one: (Thing, Lie), other: (Thing, Lie)) -> f64 {
    match (one, other) {
        ((Thing::Round(a), here), (Thing::Round(b), there)) => here.at.distance(there.at) - a - b,
        ((Thing::Block(half), block), (Thing::Round(radius), round))
        | ((Thing::Round(radius), round), (Thing::Block(half), block)) => {
            depth_in_block(half, block, round.at) - radius
        }
        ((Thing::Block(a), here), (Thing::Block(b), there)) => {
            let (one, other) = (corners(a, here), corners(b, there));
            [here.turn, there.turn]
                .into_iter()
                .flat_map(|turn| [DVec2::from_angle(turn), DVec2::from_angle(turn).perp()])
                .map(|axis| between_spans(span(&one, axis), span(&other, axis)))
                .fold(f64::NEG_INFINITY, f64::max)
        }
    }
}

/// Distance of a point from a block; negative inside it.
fn depth_in_block(half: DVec2, block: Lie, point: DVec2) -> f64 {
    let axis = DVec2::from_angle(block.turn);
    let off = point - block.at;
    let beyond = DVec2::new(off.dot(axis), off.dot(axis.perp())).abs() - half;
    beyond.max(DVec2::ZERO).length() + beyond.max_element().min(0.0)
}

fn corners(half: DVec2, lie: Lie) -> [DVec2; 4] {
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| {
        let corner = half * DVec2::new(x, y);
        lie.at + DVec2::from_angle(lie.turn).rotate(corner)
    })
}

fn span(corners: &[DVec2; 4], axis: DVec2) -> [f64; 2] {
    corners
        .iter()
        .map(|corner| corner.dot(axis))
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| {
            [low.min(at), high.max(at)]
        })
}

fn between_spans(one: [f64; 2], other: [f64; 2]) -> f64 {
    (one[0] - other[1]).max(other[0] - one[1])
}

/// A block is in the hole when its corners are and no side of the hole runs
/// through it.
fn gap_to_wall(thing: Thing, lie: Lie, room: &Room) -> f64 {
    let Thing::Block(half) = thing else {
        return room.depth(lie.at).0 - thing.half();
    };
    let corners = corners(half, lie)
        .into_iter()
        .map(|corner| room.depth(corner).0);
    let sides = room.sides().map(|side| gap_to_side(half, lie, side));
    corners.chain(sides).fold(f64::INFINITY, f64::min)
}

/// Distance of a side from a block, negative where it runs through it: along a
/// side it falls and then rises, so it is closed in on from both ends.
fn gap_to_side(half: DVec2, lie: Lie, [from, to]: [DVec2; 2]) -> f64 {
    let at = |share: f64| depth_in_block(half, lie, from.lerp(to, share));
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..90 {
        let third = (high - low) / 3.0;
        if at(low + third) <= at(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    at(0.0).min(at(1.0)).min(at(0.5 * (low + high)))
}
