//! Where a straight line across meets a round bar with room all round.

use glam::DVec3;

use crate::solids::Bounds;

use super::rounded::{Line, ROUNDING};

/// Tries to close in on the end of a stretch, each at least a third nearer.
const HALVINGS: usize = 48;

/// A round bar with flat ends.
pub(super) struct Bar {
    /// Its middle, mm.
    pub at: DVec3,
    /// Unit vector along it.
    pub along: DVec3,
    /// Its radius, mm.
    pub radius: f64,
    /// Half its length, mm.
    pub half_length: f64,
}

impl Bar {
    /// Where a line is within reach of the bar: its distance falls, then
    /// rises, so a place within reach is closed in on, then both ends.
    pub fn stretch(&self, line: Line, reach: f64, bounds: &Bounds) -> Option<[f64; 2]> {
        let reach = reach + ROUNDING;
        let distance = |across: f64| self.distance(line.at(across));
        let (mut low, mut high) = (bounds.min.x, bounds.max.x);
        let mut within = None;
        for _ in 0..HALVINGS {
            let third = (high - low) / 3.0;
            let (one, other) = (low + third, high - third);
            let (at_one, at_other) = (distance(one), distance(other));
            if at_one.min(at_other) <= reach {
                within = Some(if at_one <= at_other { one } else { other });
                break;
            }
            if at_one < at_other {
                high = other;
            } else {
                low = one;
            }
        }
        let within = within?;
        let end = |mut outside: f64| {
            let mut inside = within;
            for _ in 0..HALVINGS {
                let middle = 0.5 * (inside + outside);
                if distance(middle) <= reach {
                    inside = middle;
                } else {
                    outside = middle;
                }
            }
            inside
        };
        Some([end(bounds.min.x - 1.0), end(bounds.max.x + 1.0)])
    }

    /// How far a point is from the bar, mm; 0 inside.
    fn distance(&self, point: DVec3) -> f64 {
        let from = point - self.at;
        let along = self.along.dot(from);
        let aside = (from.length_squared() - along * along).max(0.0).sqrt();
        let beside = (aside - self.radius).max(0.0);
        let beyond = (along.abs() - self.half_length).max(0.0);
        beside.hypot(beyond)
    }
}
