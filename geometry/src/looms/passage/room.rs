//! The free room of a hole: how deep a point lies in it.

use glam::DVec2;

use super::hole::Hole;
use crate::solids::Outline;

/// A hole made ready for measuring.
pub(super) enum Room {
    /// A disc about the origin by its radius.
    Disc(f64),
    /// Corners counter-clockwise.
    Flat {
        corners: Vec<DVec2>,
        /// Whether it has no re-entrant corner.
        convex: bool,
    },
}

impl Room {
    /// `None` when the hole encloses nothing.
    pub fn of(hole: &Hole) -> Option<Room> {
        match hole {
            Hole::Round(d) => (d.is_finite() && *d > 0.0).then_some(Room::Disc(0.5 * d)),
            Hole::Polygon(corners) => {
                let outline = Outline::new(corners.clone()).ok()?;
                Some(Room::Flat {
                    convex: outline.is_convex(),
                    corners: outline.corners().to_vec(),
                })
            }
        }
    }

    /// The same in other units: every length divided by one.
    pub fn in_units(&self, unit: f64) -> Room {
        match self {
            Room::Disc(radius) => Room::Disc(radius / unit),
            Room::Flat { corners, convex } => Room::Flat {
                corners: corners.iter().map(|corner| *corner / unit).collect(),
                convex: *convex,
            },
        }
    }

    /// Lower left and upper right of the rectangle around it.
    pub fn bounds(&self) -> [DVec2; 2] {
        match self {
            Room::Disc(radius) => [DVec2::splat(-radius), DVec2::splat(*radius)],
            Room::Flat { corners, .. } => corners.iter().fold([corners[0]; 2], |[low, high], c| {
                [low.min(*c), high.max(*c)]
            }),
        }
    }

    /// Its sides, each from corner to corner with the room on the left.
    pub fn sides(&self) -> impl Iterator<Item = [DVec2; 2]> {
        let corners: &[DVec2] = match self {
            Room::Disc(_) => &[],
            Room::Flat { corners, .. } => corners,
        };
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).map(|(from, to)| [*from, *to])
    }

    /// Its re-entrant corners.
    pub fn reentrant(&self) -> Vec<DVec2> {
        let sides: Vec<[DVec2; 2]> = self.sides().collect();
        (0..sides.len())
            .filter(|&i| {
                let [from, to] = sides[i];
                let [_, beyond] = sides[(i + 1) % sides.len()];
                (to - from).perp_dot(beyond - to) < 0.0
            })
            .map(|i| sides[i][1])
            .collect()
    }

    /// How deep a point lies in the room, negative outside, and the way that
    /// leads deeper.
    pub fn depth(&self, point: DVec2) -> (f64, DVec2) {
        if let Room::Disc(radius) = self {
            let off = point.length();
            return (radius - off, -point / off.max(f64::MIN_POSITIVE));
        }
        let mut inside = false;
        let mut nearest = (f64::INFINITY, DVec2::ZERO, DVec2::ZERO);
        for [from, to] in self.sides() {
            if (from.y > point.y) != (to.y > point.y) {
                let share = (point.y - from.y) / (to.y - from.y);
                inside ^= point.x < from.x + share * (to.x - from.x);
            }
            let off = point - on_side(point, [from, to]);
            if off.length_squared() < nearest.0 {
                nearest = (off.length_squared(), off, to - from);
            }
        }
        let (square, off, side) = nearest;
        let depth = square.sqrt();
        // On the wall itself the way in is square to it.
        let away = off
            .try_normalize()
            .unwrap_or(side.perp().normalize_or_zero());
        if inside {
            (depth, away)
        } else if depth > 0.0 {
            (-depth, -away)
        } else {
            (0.0, away)
        }
    }
}

/// The point of a side nearest to a point.
fn on_side(point: DVec2, [from, to]: [DVec2; 2]) -> DVec2 {
    let along = to - from;
    let share = (point - from).dot(along) / along.length_squared();
    from + share.clamp(0.0, 1.0) * along
}
