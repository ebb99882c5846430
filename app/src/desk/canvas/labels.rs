//! Words on the drawing, placed so that none lies on another.

use egui::{Pos2, Rect, Vec2, pos2, vec2};

/// Keeps track of what is already written in a pane.
#[derive(Clone, Debug)]
pub struct Labels {
    pane: Rect,
    taken: Vec<Rect>,
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

impl Labels {
    /// Nothing written yet.
    pub fn new(pane: Rect) -> Labels {
        Labels {
            pane: pane.shrink(3.0),
            taken: Vec::new(),
        }
    }

    /// Keeps a place free of labels.
    pub fn keep_free(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// Whether a place is free and within the pane.
    pub fn is_free(&self, rect: Rect) -> bool {
        self.pane.contains_rect(rect) && !self.taken.iter().any(|taken| taken.intersects(rect))
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
    /// it when they fit, else beside it, else further off with a leader.
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
        for distance in [GAP, 16.0, 32.0, 52.0, 76.0] {
            let right = shown.right() + distance;
            let left = shown.left() - distance - size.x;
            let above = shown.top() - distance - size.y;
            let below = shown.bottom() + distance;
            let (x, y) = (centre.x - size.x * 0.5, centre.y - size.y * 0.5);
            let around = [
                pos2(right, y),
                pos2(x, above),
                pos2(x, below),
                pos2(left, y),
                pos2(right, above),
                pos2(right, below),
                pos2(left, above),
                pos2(left, below),
            ];
            if let Some(rect) = self.first_free(size, around) {
                let leader = (distance > GAP).then(|| nearest(rect, centre));
                return Some(Placed { rect, leader });
            }
        }
        None
    }
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
}
