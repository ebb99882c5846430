//! Where the eye stands, and how large it sees.

use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3};

/// An eye far away, looking along parallel rays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// How far it has gone round to the right, rad: 0 looks into the dash, a
    /// quarter turn looks from the right.
    pub turn: f64,
    /// How far it has risen, rad: 0 looks level, a quarter turn looks down.
    pub tilt: f64,
    /// Cells for one mm.
    pub scale: f64,
    /// The point in the middle of the picture, mm.
    pub focus: DVec3,
}

impl Eye {
    /// The same eye gone on by so much, rad. It never goes over the top.
    pub fn turned(self, turn: f64, tilt: f64) -> Eye {
        Eye {
            turn: (self.turn + turn).rem_euclid(std::f64::consts::TAU),
            tilt: (self.tilt + tilt).clamp(-FRAC_PI_2, FRAC_PI_2),
            ..self
        }
    }

    /// The way it looks, a unit vector away from it.
    pub fn ahead(&self) -> DVec3 {
        let (sin, cos) = self.turn.sin_cos();
        let level = DVec3::new(-sin, cos, 0.0);
        level * self.tilt.cos() - DVec3::Z * self.tilt.sin()
    }

    /// To the right in the picture, a unit vector.
    pub fn right(&self) -> DVec3 {
        let (sin, cos) = self.turn.sin_cos();
        DVec3::new(cos, sin, 0.0)
    }

    /// Down in the picture, a unit vector.
    pub fn down(&self) -> DVec3 {
        self.ahead().cross(self.right())
    }

    /// Where a point shows, cells right and down of the middle, and how far
    /// behind the focus it lies, mm.
    pub fn see(&self, point: DVec3) -> DVec3 {
        let from = point - self.focus;
        DVec3::new(
            from.dot(self.right()) * self.scale,
            from.dot(self.down()) * self.scale,
            from.dot(self.ahead()),
        )
    }

    /// The displacement in space of a step in the picture, mm; nothing toward
    /// or away from the eye.
    pub fn step(&self, cells: DVec2) -> DVec3 {
        (self.right() * cells.x + self.down() * cells.y) / self.scale
    }

    /// The same eye, nearer by `factor`, with what shows at `place` (cells
    /// right and down of the middle) kept there.
    pub fn nearer_at(self, place: DVec2, factor: f64) -> Eye {
        let scale = self.scale * factor;
        let kept = self.step(place) * (1.0 - 1.0 / factor);
        Eye {
            scale,
            focus: self.focus + kept,
            ..self
        }
    }

    /// The same eye, with points in the middle and as large as the picture takes.
    ///
    /// * `size`: of the picture, cells
    pub fn fitted(self, points: impl Iterator<Item = DVec3>, size: DVec2) -> Eye {
        let unit = Eye { scale: 1.0, ..self };
        let mut low = DVec3::INFINITY;
        let mut high = DVec3::NEG_INFINITY;
        for point in points {
            let seen = unit.see(point);
            low = low.min(seen);
            high = high.max(seen);
        }
        if !(low.is_finite() && high.is_finite()) {
            return self;
        }
        let reach = (high - low).truncate().max(DVec2::ONE);
        let middle = 0.5 * (low + high);
        Eye {
            scale: (size / reach).min_element(),
            focus: self.focus + unit.step(middle.truncate()) + middle.z * self.ahead(),
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    const LEVEL: Eye = Eye {
        turn: 0.0,
        tilt: 0.0,
        scale: 2.0,
        focus: DVec3::ZERO,
    };

    #[test]
    fn level_and_straight_it_looks_into_the_dash() {
        let seen = LEVEL.see(DVec3::new(1.0, 7.0, 3.0));
        assert_abs_diff_eq!(seen, DVec3::new(2.0, -6.0, 7.0), epsilon = 1e-12);
    }

    #[test]
    fn a_quarter_round_it_looks_from_the_right_and_risen_from_above() {
        let right = LEVEL.turned(FRAC_PI_2, 0.0);
        assert_abs_diff_eq!(right.ahead(), -DVec3::X, epsilon = 1e-12);
        assert_abs_diff_eq!(right.right(), DVec3::Y, epsilon = 1e-12);
        let above = LEVEL.turned(0.0, 9.0);
        assert_abs_diff_eq!(above.ahead(), -DVec3::Z, epsilon = 1e-12);
        assert_abs_diff_eq!(above.down(), -DVec3::Y, epsilon = 1e-12);
    }

    #[test]
    fn what_is_under_the_pointer_stays_there() {
        let eye = LEVEL.turned(0.7, 0.4);
        let place = DVec2::new(31.0, -18.0);
        let point = eye.focus + eye.step(place) + 5.0 * eye.ahead();
        let near = eye.nearer_at(place, 1.7);
        assert_abs_diff_eq!(near.see(point).truncate(), place, epsilon = 1e-9);
    }

    #[test]
    fn fitted_points_touch_two_edges_of_the_picture() {
        let points = [
            [-9., 2., -4.],
            [30., 80., 11.],
            [12., -7., 40.],
            [0., 0., 0.],
        ];
        let points = points.map(DVec3::from);
        let size = DVec2::new(400.0, 300.0);
        let eye = LEVEL.turned(0.6, 0.5).fitted(points.into_iter(), size);
        let seen = points.map(|point| eye.see(point).truncate());
        let low = seen.into_iter().reduce(DVec2::min).unwrap();
        let high = seen.into_iter().reduce(DVec2::max).unwrap();
        assert_abs_diff_eq!(low, -high, epsilon = 1e-9);
        let share = (high - low) / size;
        assert_abs_diff_eq!(share.max_element(), 1.0, epsilon = 1e-9);
        assert!(share.min_element() <= 1.0);
        assert_eq!(eye.fitted(std::iter::empty(), size), eye);
    }
}
