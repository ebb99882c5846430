//! One camera for three sections: one scale, one focus.
//!
//! ```text
//!   key         |  from above      across runs down, depth to the right
//!   ------------+---------------
//!   looking in  |  from the side   up runs up, depth to the right
//! ```
//!
//! Third-angle projection: the neighbours share an axis, so a thing lies on
//! one straight line through both. Screen coordinates are points, right and
//! down.

use geometry::Plane;
use glam::{DVec2, DVec3};

/// One of the three sections.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum View {
    /// Looking in: across and up, cut at a depth.
    LookingIn,
    /// From above: depth and across, cut at a height.
    FromAbove,
    /// From the side, seen from the right: depth and up, cut at a place across.
    FromSide,
}

impl View {
    /// All three, in the order they are listed.
    pub const ALL: [View; 3] = [View::LookingIn, View::FromAbove, View::FromSide];

    /// Letter of its cutting plane.
    pub fn letter(self) -> &'static str {
        match self {
            View::LookingIn => "A",
            View::FromAbove => "B",
            View::FromSide => "C",
        }
    }

    /// What it is called.
    pub fn title(self) -> &'static str {
        match self {
            View::LookingIn => "Looking in",
            View::FromAbove => "From above",
            View::FromSide => "From the side",
        }
    }

    /// What its cutting plane is given by.
    pub fn axis_word(self) -> &'static str {
        match self {
            View::LookingIn => "depth",
            View::FromAbove => "height",
            View::FromSide => "across",
        }
    }

    /// The plane it is drawn in.
    pub fn plane(self) -> Plane {
        match self {
            View::LookingIn => Plane::AcrossUp,
            View::FromAbove => Plane::AcrossDepth,
            View::FromSide => Plane::DepthUp,
        }
    }

    /// A point as drawn: mm to the right and mm down on the sheet.
    pub fn flat(self, point: DVec3) -> DVec2 {
        match self {
            View::LookingIn => DVec2::new(point.x, -point.z),
            View::FromAbove => DVec2::new(point.y, point.x),
            View::FromSide => DVec2::new(point.y, -point.z),
        }
    }

    /// A point in the plane's own two axes, as drawn.
    pub fn flat_in_plane(self, point: DVec2) -> DVec2 {
        match self {
            View::LookingIn | View::FromSide => DVec2::new(point.x, -point.y),
            View::FromAbove => DVec2::new(point.y, point.x),
        }
    }

    /// How far behind the eye's plane a point lies, mm: larger is further away.
    pub fn away(self, point: DVec3) -> f64 {
        match self {
            View::LookingIn => point.y,
            View::FromAbove => -point.z,
            View::FromSide => -point.x,
        }
    }

    /// `at`, a place of its cutting plane, measured as [`View::away`] is.
    pub fn plane_away(self, at: f64) -> f64 {
        match self {
            View::LookingIn => at,
            View::FromAbove | View::FromSide => -at,
        }
    }

    /// The coordinate its cutting plane is given by.
    pub fn axis_of(self, point: DVec3) -> f64 {
        match self {
            View::LookingIn => point.y,
            View::FromAbove => point.z,
            View::FromSide => point.x,
        }
    }

    /// A flat point on its cutting plane, in space, mm.
    pub fn lift(self, flat: DVec2, at: f64) -> DVec3 {
        let point = self.unflat(flat);
        match self {
            View::LookingIn => point.with_y(at),
            View::FromAbove => point.with_z(at),
            View::FromSide => point.with_x(at),
        }
    }

    /// A displacement on the sheet as one in space; nothing toward or away from the eye.
    pub fn unflat(self, flat: DVec2) -> DVec3 {
        match self {
            View::LookingIn => DVec3::new(flat.x, 0.0, -flat.y),
            View::FromAbove => DVec3::new(flat.y, flat.x, 0.0),
            View::FromSide => DVec3::new(0.0, flat.x, -flat.y),
        }
    }

    /// How the cutting plane of `other` shows in this view: a line that is
    /// upright (`true`) or level (`false`); `None` for its own.
    pub fn shows_upright(self, other: View) -> Option<bool> {
        match (self, other) {
            (View::FromAbove | View::FromSide, View::LookingIn) => Some(true),
            (View::LookingIn, View::FromSide) => Some(true),
            (View::LookingIn | View::FromSide, View::FromAbove) => Some(false),
            (View::FromAbove, View::FromSide) => Some(false),
            _ => None,
        }
    }
}

/// The scale and the focus all sections share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Points on screen for one mm.
    pub scale: f64,
    /// The point in the middle of every section, mm.
    pub focus: DVec3,
}

/// Smallest and largest scale, points for one mm.
const SCALES: [f64; 2] = [0.15, 60.0];

impl Default for Camera {
    fn default() -> Camera {
        Camera {
            scale: 1.0,
            focus: DVec3::ZERO,
        }
    }
}

impl Camera {
    /// Where a flat point lies in a pane whose middle is at `middle`.
    pub fn to_screen(&self, view: View, middle: DVec2, flat: DVec2) -> DVec2 {
        middle + (flat - view.flat(self.focus)) * self.scale
    }

    /// The flat point under a place on screen.
    pub fn to_flat(&self, view: View, middle: DVec2, screen: DVec2) -> DVec2 {
        view.flat(self.focus) + (screen - middle) / self.scale
    }

    /// Zooms so that what lies under the pointer stays under it.
    ///
    /// * `middle`: the middle of the pane the pointer is in
    /// * `factor`: above 1 is closer
    pub fn zoom_at(&mut self, view: View, middle: DVec2, pointer: DVec2, factor: f64) {
        let before = self.to_flat(view, middle, pointer);
        self.scale = (self.scale * factor).clamp(SCALES[0], SCALES[1]);
        let after = self.to_flat(view, middle, pointer);
        self.focus += view.unflat(before - after);
    }

    /// Moves the paper by so many points.
    pub fn pan(&mut self, view: View, by: DVec2) {
        self.focus -= view.unflat(by / self.scale);
    }

    /// The largest scale at which a box fits every pane, with the box in the middle.
    ///
    /// * `min`, `max`: the box, mm
    /// * `panes`: each view shown and the size of its pane, points
    pub fn fit(min: DVec3, max: DVec3, panes: &[(View, DVec2)]) -> Camera {
        let mut scale = SCALES[1];
        for &(view, size) in panes {
            let extent = (view.flat(max) - view.flat(min))
                .abs()
                .max(DVec2::splat(1.0));
            scale = scale.min((size / extent).min_element());
        }
        Camera {
            scale: scale.clamp(SCALES[0], SCALES[1]),
            focus: 0.5 * (min + max),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MIDDLE: DVec2 = DVec2::new(400.0, 300.0);

    fn close(a: DVec2, b: DVec2) {
        assert!(a.distance(b) < 1e-9, "{a} against {b}");
    }

    #[test]
    fn screen_and_paper_are_inverse() {
        let camera = Camera {
            scale: 2.5,
            focus: DVec3::new(10.0, 120.0, -7.0),
        };
        for view in View::ALL {
            let flat = DVec2::new(33.0, -41.0);
            let screen = camera.to_screen(view, MIDDLE, flat);
            close(camera.to_flat(view, MIDDLE, screen), flat);
        }
    }

    #[test]
    fn what_is_under_the_pointer_stays_there() {
        for view in View::ALL {
            let mut camera = Camera::default();
            let pointer = DVec2::new(510.0, 222.0);
            let before = camera.to_flat(view, MIDDLE, pointer);
            camera.zoom_at(view, MIDDLE, pointer, 1.7);
            camera.zoom_at(view, MIDDLE, pointer, 0.4);
            close(camera.to_flat(view, MIDDLE, pointer), before);
        }
    }

    #[test]
    fn zooming_stops_at_its_limits_without_drifting() {
        let mut camera = Camera::default();
        let pointer = DVec2::new(10.0, 20.0);
        for _ in 0..60 {
            camera.zoom_at(View::FromSide, MIDDLE, pointer, 2.0);
        }
        assert_eq!(camera.scale, SCALES[1]);
        let focus = camera.focus;
        camera.zoom_at(View::FromSide, MIDDLE, pointer, 2.0);
        assert!(camera.focus.distance(focus) < 1e-9);
    }

    #[test]
    fn panning_moves_paper_with_the_hand() {
        for view in View::ALL {
            let mut camera = Camera {
                scale: 3.0,
                focus: DVec3::ZERO,
            };
            let flat = DVec2::new(5.0, 6.0);
            let before = camera.to_screen(view, MIDDLE, flat);
            camera.pan(view, DVec2::new(12.0, -9.0));
            close(
                camera.to_screen(view, MIDDLE, flat),
                before + DVec2::new(12.0, -9.0),
            );
        }
    }

    #[test]
    fn panning_one_view_leaves_the_third_axis_alone() {
        let mut camera = Camera::default();
        camera.pan(View::LookingIn, DVec2::new(4.0, 4.0));
        assert_eq!(camera.focus.y, 0.0);
        camera.pan(View::FromAbove, DVec2::new(4.0, 4.0));
        assert_eq!(camera.focus.z, 4.0);
    }

    #[test]
    fn a_fit_shows_the_whole_box_everywhere() {
        let (min, max) = (
            DVec3::new(-100.0, -20.0, -90.0),
            DVec3::new(100.0, 280.0, 60.0),
        );
        let panes = [
            (View::LookingIn, DVec2::new(300.0, 260.0)),
            (View::FromAbove, DVec2::new(420.0, 280.0)),
            (View::FromSide, DVec2::new(420.0, 260.0)),
        ];
        let camera = Camera::fit(min, max, &panes);
        for (view, size) in panes {
            for corner in [min, max] {
                let screen = camera.to_screen(view, 0.5 * size, view.flat(corner));
                assert!(screen.min_element() > -1e-9 && (size - screen).min_element() > -1e-9);
            }
        }
        assert!((camera.scale - 280.0 / 200.0).abs() < 1e-12 || camera.scale <= 1.4);
    }

    #[test]
    fn further_away_is_larger_in_every_view() {
        let near = DVec3::new(50.0, 10.0, 50.0);
        let far = DVec3::new(-50.0, 200.0, -50.0);
        for view in View::ALL {
            assert!(view.away(far) > view.away(near));
            assert_eq!(view.plane_away(view.axis_of(far)), view.away(far));
        }
    }
}
