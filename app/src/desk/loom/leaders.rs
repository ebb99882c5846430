//! Words beside a round drawing, each with a leader to what it names.
//!
//! Words stand in two columns, left and right of the drawing, no two on one
//! another; leaders of one column do not cross.

use egui::{Pos2, Rect, Vec2, pos2};

/// A word to be placed.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// Room it takes, points.
    pub size: Vec2,
    /// What it names.
    pub tip: Pos2,
}

/// Where a word went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Where it stands.
    pub rect: Rect,
    /// Where its leader begins, beside it.
    pub start: Pos2,
    /// What it names.
    pub tip: Pos2,
}

/// Gap between the drawing and the words, points.
pub const GAP: f32 = 26.0;
/// Gap between a word and its leader, points.
const SHOULDER: f32 = 4.0;
/// Gap between words, points.
const SPACING: f32 = 3.0;

/// Places words beside a drawing, in the order given; `None` where the pane is full.
///
/// * `drawing`: what the words stand beside
pub fn beside(words: &[Word], drawing: Rect, pane: Rect) -> Vec<Option<Placed>> {
    let mut result = vec![None; words.len()];
    for (side, members) in columns(words, drawing, pane).into_iter().enumerate() {
        let slots = slots(words, &members, pane);
        let mut order = members;
        uncross(words, &mut order, &slots, side, drawing);
        for (&index, &slot) in order.iter().zip(&slots) {
            result[index] = placed(words[index], side, slot, drawing, pane);
        }
    }
    result
}

/// Which words go left and which right: to the nearer side, as many as have room there.
fn columns(words: &[Word], drawing: Rect, pane: Rect) -> [Vec<usize>; 2] {
    let line = words.iter().map(|word| word.size.y).fold(1.0, f32::max) + SPACING;
    let room = (pane.height() / line).floor() as usize;
    let mut order: Vec<usize> = (0..words.len()).collect();
    // The most certain first: those furthest from the middle.
    let off = |index: usize| words[index].tip.x - drawing.center().x;
    order.sort_by(|&a, &b| off(b).abs().total_cmp(&off(a).abs()));
    let mut columns = [Vec::new(), Vec::new()];
    let even = words.len().div_ceil(2) + 1;
    for index in order {
        let near = usize::from(off(index) >= 0.0);
        let full = columns[near].len() >= room.min(even);
        columns[if full { 1 - near } else { near }].push(index);
    }
    for column in &mut columns {
        column.sort_by(|&a, &b| words[a].tip.y.total_cmp(&words[b].tip.y));
    }
    columns
}

/// Middles of the words of one column, from the top down: as near to what they
/// name as their neighbours let them.
fn slots(words: &[Word], members: &[usize], pane: Rect) -> Vec<f32> {
    let half = |at: usize| 0.5 * (words[members[at]].size.y + SPACING);
    let mut slots: Vec<f32> = members.iter().map(|&index| words[index].tip.y).collect();
    let mut least = pane.top();
    for (at, slot) in slots.iter_mut().enumerate() {
        *slot = slot.max(least + half(at));
        least = *slot + half(at);
    }
    let mut most = pane.bottom();
    for (at, slot) in slots.iter_mut().enumerate().rev() {
        *slot = slot.min(most - half(at));
        most = *slot - half(at);
    }
    slots
}

/// Swaps words of one column until no two leaders cross. Every swap makes the
/// leaders shorter together, so this ends; the bound only guards rounding.
fn uncross(words: &[Word], order: &mut [usize], slots: &[f32], side: usize, drawing: Rect) {
    let start = |slot: f32| pos2(edge(side, drawing), slot);
    let length = |index: usize, slot: f32| words[index].tip.distance(start(slot));
    for _ in 0..order.len() * order.len() {
        let mut swapped = false;
        for a in 0..order.len() {
            for b in a + 1..order.len() {
                let now = length(order[a], slots[a]) + length(order[b], slots[b]);
                let then = length(order[b], slots[a]) + length(order[a], slots[b]);
                if then + 1e-3 < now {
                    order.swap(a, b);
                    swapped = true;
                }
            }
        }
        if !swapped {
            return;
        }
    }
}

/// Where leaders of a column begin.
fn edge(side: usize, drawing: Rect) -> f32 {
    if side == 0 {
        drawing.left() - GAP + SHOULDER
    } else {
        drawing.right() + GAP - SHOULDER
    }
}

fn placed(word: Word, side: usize, slot: f32, drawing: Rect, pane: Rect) -> Option<Placed> {
    let start = pos2(edge(side, drawing), slot);
    let left = if side == 0 {
        start.x - SHOULDER - word.size.x
    } else {
        start.x + SHOULDER
    };
    let rect = Rect::from_min_size(pos2(left, slot - 0.5 * word.size.y), word.size);
    let tip = word.tip;
    pane.expand(1.0)
        .contains_rect(rect)
        .then_some(Placed { rect, start, tip })
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::vec2;

    fn pane() -> Rect {
        Rect::from_min_size(Pos2::ZERO, vec2(600.0, 400.0))
    }

    fn drawing() -> Rect {
        Rect::from_center_size(pos2(300.0, 200.0), vec2(260.0, 260.0))
    }

    /// Tips scattered over the drawing, the same every time.
    fn words(count: usize) -> Vec<Word> {
        (0..count)
            .map(|i| {
                let turn = i as f32 * 2.399_963;
                let reach = 120.0 * ((i as f32 + 0.5) / count as f32).sqrt();
                Word {
                    size: vec2(90.0 + (i % 4) as f32 * 10.0, 15.0),
                    tip: drawing().center() + reach * vec2(turn.cos(), turn.sin()),
                }
            })
            .collect()
    }

    #[test]
    fn words_stay_in_the_pane_and_off_each_other_and_the_drawing() {
        for count in [1, 2, 7, 12, 25, 40] {
            let placed: Vec<Placed> = (beside(&words(count), drawing(), pane()).into_iter())
                .map(|it| it.expect("there is room"))
                .collect();
            for (i, a) in placed.iter().enumerate() {
                assert!(pane().contains_rect(a.rect));
                assert!(!drawing().intersects(a.rect));
                for b in &placed[i + 1..] {
                    assert!(!a.rect.intersects(b.rect), "{count}: {a:?} {b:?}");
                }
            }
        }
    }

    #[test]
    fn leaders_of_a_column_do_not_cross() {
        let side = |a: Pos2, b: Pos2, c: Pos2| (b - a).rot90().dot(c - a);
        let cross = |a: &Placed, b: &Placed| {
            side(a.start, a.tip, b.start) * side(a.start, a.tip, b.tip) < -1.0
                && side(b.start, b.tip, a.start) * side(b.start, b.tip, a.tip) < -1.0
        };
        let placed: Vec<Placed> = beside(&words(30), drawing(), pane())
            .into_iter()
            .flatten()
            .collect();
        for (i, a) in placed.iter().enumerate() {
            for b in &placed[i + 1..] {
                assert!(a.start.x != b.start.x || !cross(a, b), "{a:?} {b:?}");
            }
        }
    }

    #[test]
    fn what_has_no_room_is_left_out() {
        let placed = beside(&words(80), drawing(), pane());
        assert!(placed.iter().any(Option::is_none));
        assert!(placed.iter().flatten().count() >= 40);
    }
}
