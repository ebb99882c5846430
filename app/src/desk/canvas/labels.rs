//! Words on the drawing, placed so that none lies on another.

use egui::{Pos2, Rect, Vec2, pos2, vec2};

/// Keeps track of what is already written in a pane.
#[derive(Clone, Debug)]
pub struct Labels {
    pane: Rect,
    taken: Vec<Rect>,
    /// Lines that no words may lie on.
    lines: Vec<[Pos2; 2]>,
    /// Small things that words beside them would seem to name.
    small: Vec<Rect>,
    /// What there was no room for, the important ones first.
    left_out: Vec<String>,
}

/// Where a label went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Where the words lie.
    pub rect: Rect,
    /// Where a leader from what they name should end, when they lie apart from it.
    pub leader: Option<Pos2>,
}

/// Gap between a label and what it names, points.
const GAP: f32 = 4.0;
/// Room kept around words, for the plate they lie on, points.
const PLATE: Vec2 = vec2(4.0, 1.5);
/// A thing that covers less than this is small, square points.
const SMALL: f32 = 1600.0;
/// How far off a label is looked for, points.
const DISTANCES: [f32; 8] = [GAP, 14.0, 26.0, 40.0, 56.0, 76.0, 100.0, 130.0];

impl Labels {
    /// Nothing written yet.
    pub fn new(pane: Rect) -> Labels {
        Labels {
            pane: pane.shrink(4.0),
            taken: Vec::new(),
            lines: Vec::new(),
            small: Vec::new(),
            left_out: Vec::new(),
        }
    }

    /// Keeps a place free of labels.
    pub fn keep_free(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// Keeps labels off a line.
    pub fn keep_line(&mut self, ends: [Pos2; 2]) {
        self.lines.push(ends);
    }

    /// Keeps the names of other things from standing at a small one, as if they
    /// were its own.
    pub fn keep_apart(&mut self, thing: Rect) {
        if thing.area() < SMALL {
            self.small.push(thing);
        }
    }

    /// Notes what there was no room for.
    pub fn leave_out(&mut self, words: String) {
        if !self.left_out.contains(&words) {
            self.left_out.push(words);
        }
    }

    /// What there was no room for.
    pub fn left_out(&self) -> &[String] {
        &self.left_out
    }

    /// Whether a place is free and within the pane.
    pub fn is_free(&self, rect: Rect) -> bool {
        let plate = rect.expand2(PLATE);
        self.pane.contains_rect(rect)
            && !self.taken.iter().any(|taken| taken.intersects(plate))
            && !self.lines.iter().any(|&ends| crosses(ends, rect))
    }

    /// Takes the first free of some places.
    pub fn first_free(
        &mut self,
        size: Vec2,
        corners: impl IntoIterator<Item = Pos2>,
    ) -> Option<Rect> {
        let rect = corners
            .into_iter()
            .map(|corner| Rect::from_min_size(corner, size))
            .find(|&rect| self.is_free(rect))?;
        self.taken.push(rect);
        Some(rect)
    }

    /// Places words of a size for a thing that covers `thing` on screen: inside
    /// it when they fit, else beside it, else further off with a leader that
    /// crosses no other words.
    pub fn place(&mut self, size: Vec2, thing: Rect) -> Option<Placed> {
        let shown = thing.intersect(self.pane);
        if shown.width() < 0.0 || shown.height() < 0.0 {
            return None;
        }
        let centre = shown.center();
        if shown.width() > size.x + 8.0 && shown.height() > size.y + 4.0 {
            let steps = [0.0, -0.5, 0.5, -1.0, 1.0];
            let room = (shown.size() - size) * 0.5 - vec2(3.0, 2.0);
            let inside = steps.iter().flat_map(|&y| {
                [0.0, -1.0, 1.0].map(|x| centre - size * 0.5 + vec2(x * room.x, y * room.y))
            });
            if let Some(rect) = self.first_free(size, inside) {
                return Some(Placed { rect, leader: None });
            }
        }
        for distance in DISTANCES {
            let near = distance == GAP;
            let found = around(shown, size, distance)
                .into_iter()
                .map(|corner| Rect::from_min_size(corner, size))
                .find(|&rect| {
                    let leader = [nearest(rect, centre), centre];
                    let clear = !near || !self.seems_of_another(rect, shown);
                    self.is_free(rect) && clear && (near || self.lets_pass(leader, rect))
                });
            if let Some(rect) = found {
                self.taken.push(rect);
                let leader = (!near).then(|| nearest(rect, centre));
                self.lines.extend(leader.map(|end| [end, centre]));
                return Some(Placed { rect, leader });
            }
        }
        None
    }

    /// Whether words without a leader touch a small thing apart from their own.
    fn seems_of_another(&self, words: Rect, own: Rect) -> bool {
        let words = words.expand(GAP);
        (self.small.iter()).any(|thing| thing.intersects(words) && !thing.intersects(own))
    }

    /// Whether a leader crosses neither words nor another leader.
    fn lets_pass(&self, leader: [Pos2; 2], own: Rect) -> bool {
        let over_words = (self.taken.iter())
            .any(|taken| !taken.contains(leader[1]) && *taken != own && crosses(leader, *taken));
        !over_words && !self.lines.iter().any(|&line| meet(line, leader))
    }
}

/// Corners of places around a thing, at a distance, the plain ones first.
fn around(shown: Rect, size: Vec2, distance: f32) -> [Pos2; 14] {
    let centre = shown.center();
    let right = shown.right() + distance;
    let left = shown.left() - distance - size.x;
    let above = shown.top() - distance - size.y;
    let below = shown.bottom() + distance;
    let (x, y) = (centre.x - size.x * 0.5, centre.y - size.y * 0.5);
    [
        pos2(right, y),
        pos2(x, above),
        pos2(x, below),
        pos2(left, y),
        pos2(right, above),
        pos2(right, below),
        pos2(left, above),
        pos2(left, below),
        pos2(shown.left(), above),
        pos2(shown.right() - size.x, above),
        pos2(shown.left(), below),
        pos2(shown.right() - size.x, below),
        pos2(right, shown.top()),
        pos2(left, shown.top()),
    ]
}

/// Whether a segment goes through a rectangle.
fn crosses([a, b]: [Pos2; 2], rect: Rect) -> bool {
    if rect.contains(a) || rect.contains(b) {
        return true;
    }
    let corners = [
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom(),
        rect.left_bottom(),
    ];
    (0..4).any(|i| meet([a, b], [corners[i], corners[(i + 1) % 4]]))
}

/// Whether two segments cross.
fn meet([a, b]: [Pos2; 2], [c, d]: [Pos2; 2]) -> bool {
    let side = |from: Pos2, to: Pos2, point: Pos2| {
        (to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x)
    };
    let apart = |one: f32, other: f32| one * other < 0.0;
    apart(side(a, b, c), side(a, b, d)) && apart(side(c, d, a), side(c, d, b))
}

/// The point of a rectangle nearest to another point.
fn nearest(rect: Rect, point: Pos2) -> Pos2 {
    pos2(
        point.x.clamp(rect.left(), rect.right()),
        point.y.clamp(rect.top(), rect.bottom()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_never_lie_on_each_other() {
        let pane = Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0));
        let mut labels = Labels::new(pane);
        let mut placed: Vec<Rect> = Vec::new();
        for i in 0..60 {
            let thing = Rect::from_center_size(
                pos2(40.0 + 31.0 * (i % 11) as f32, 30.0 + 23.0 * (i % 7) as f32),
                vec2(20.0, 14.0),
            );
            if let Some(label) = labels.place(vec2(60.0, 14.0), thing) {
                assert!(pane.contains_rect(label.rect));
                assert!(placed.iter().all(|other| !other.intersects(label.rect)));
                placed.push(label.rect);
            }
        }
        assert!(placed.len() > 20);
    }

    #[test]
    fn no_leader_crosses_words_or_another_leader() {
        let pane = Rect::from_min_size(Pos2::ZERO, vec2(300.0, 200.0));
        let mut labels = Labels::new(pane);
        let (mut words, mut leaders) = (Vec::new(), Vec::new());
        for i in 0..40 {
            let middle = pos2(90.0 + 13.0 * (i % 9) as f32, 60.0 + 11.0 * (i % 8) as f32);
            let thing = Rect::from_center_size(middle, vec2(8.0, 6.0));
            if let Some(label) = labels.place(vec2(52.0, 12.0), thing) {
                leaders.extend(label.leader.map(|end| [end, middle]));
                words.push(label.rect);
            }
        }
        assert!(leaders.len() > 4, "{}", leaders.len());
        for (i, &leader) in leaders.iter().enumerate() {
            assert!(leaders[..i].iter().all(|&other| !meet(leader, other)));
            let crossed = |rect: &&Rect| crosses(leader, rect.shrink(0.5));
            assert!(words.iter().filter(crossed).count() <= 1);
        }
    }

    #[test]
    fn a_large_thing_carries_its_own_name() {
        let mut labels = Labels::new(Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0)));
        let thing = Rect::from_min_size(pos2(50.0, 50.0), vec2(200.0, 100.0));
        let placed = labels
            .place(vec2(60.0, 14.0), thing)
            .expect("there is room");
        assert!(thing.contains_rect(placed.rect));
        assert_eq!(placed.leader, None);
    }

    #[test]
    fn what_is_out_of_sight_gets_no_label() {
        let mut labels = Labels::new(Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0)));
        let thing = Rect::from_min_size(pos2(500.0, 50.0), vec2(20.0, 10.0));
        assert_eq!(labels.place(vec2(60.0, 14.0), thing), None);
    }

    #[test]
    fn a_name_does_not_stand_at_a_small_thing_that_is_not_its_own() {
        let pane = Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0));
        let own = Rect::from_min_size(pos2(100.0, 100.0), vec2(30.0, 60.0));
        let other = Rect::from_min_size(pos2(140.0, 120.0), vec2(20.0, 20.0));
        let size = vec2(60.0, 12.0);
        let touches = |placed: Placed| placed.rect.expand(GAP).intersects(other);
        let mut labels = Labels::new(pane);
        assert!(labels.place(size, own).is_some_and(touches));
        let mut labels = Labels::new(pane);
        labels.keep_apart(other);
        let placed = labels.place(size, own).expect("there is room");
        assert!(!touches(placed) && placed.leader.is_none());
    }
}
