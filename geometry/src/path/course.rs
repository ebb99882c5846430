//! A piece of a centreline as a function of one figure: mm along a line, rad
//! round an arc.

use std::f64::consts::TAU;

use glam::DVec3;

use super::Piece;

/// A piece, ready to be asked for many of its points.
#[derive(Clone, Copy, Debug)]
pub(super) enum Course {
    /// A line from a point along a unit vector.
    Line {
        from: DVec3,
        along: DVec3,
        length: f64,
    },
    /// Round a centre, from `out` toward `ahead`, both as long as the radius.
    Arc {
        centre: DVec3,
        out: DVec3,
        ahead: DVec3,
        normal: DVec3,
        radius: f64,
        angle: f64,
    },
}

impl Course {
    pub fn new(piece: &Piece) -> Course {
        match *piece {
            Piece::Line { from, to } => {
                let length = from.distance(to);
                let along = (to - from).normalize_or_zero();
                Course::Line {
                    from,
                    along,
                    length,
                }
            }
            Piece::Arc {
                from,
                centre,
                normal,
                radius,
                angle,
                ..
            } => {
                let out = from - centre;
                Course::Arc {
                    centre,
                    out,
                    ahead: normal.cross(out),
                    normal,
                    radius,
                    angle,
                }
            }
        }
    }

    /// Its places run from 0 to here.
    pub fn span(&self) -> f64 {
        match *self {
            Course::Line { length, .. } => length,
            Course::Arc { angle, .. } => angle,
        }
    }

    /// Length of it for a step of 1 in place, mm.
    pub fn rate(&self) -> f64 {
        match *self {
            Course::Line { .. } => 1.0,
            Course::Arc { radius, .. } => radius,
        }
    }

    /// The point at a place.
    #[inline]
    pub fn point(&self, place: f64) -> DVec3 {
        match *self {
            Course::Line { from, along, .. } => from + along * place,
            Course::Arc {
                centre, out, ahead, ..
            } => {
                let (sin, cos) = place.sin_cos();
                centre + out * cos + ahead * sin
            }
        }
    }

    /// The point at a place, and how it moves for a step in place.
    #[inline]
    pub fn motion(&self, place: f64) -> (DVec3, DVec3) {
        match *self {
            Course::Line { from, along, .. } => (from + along * place, along),
            Course::Arc {
                centre, out, ahead, ..
            } => {
                let (sin, cos) = place.sin_cos();
                let point = centre + out * cos + ahead * sin;
                (point, ahead * cos - out * sin)
            }
        }
    }

    /// The place of its point nearest to `point`.
    #[inline]
    pub fn nearest_to(&self, point: DVec3) -> f64 {
        match *self {
            Course::Line {
                from,
                along,
                length,
            } => (point - from).dot(along).clamp(0.0, length),
            Course::Arc {
                centre,
                out,
                ahead,
                angle,
                ..
            } => {
                let way = point - centre;
                let place = way.dot(ahead).atan2(way.dot(out));
                let place = if place < 0.0 { place + TAU } else { place };
                if place <= angle {
                    place
                } else if place - angle < TAU - place {
                    angle
                } else {
                    0.0
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn the_nearest_point_of_an_arc_is_its_foot_or_an_end() {
        let arc = Course::new(&Piece::arc(DVec3::X, DVec3::Y, -DVec3::X, 1.0, 1.5));
        let place = |x: f64, y: f64| arc.nearest_to(DVec3::new(x, y, 3.0));
        assert_abs_diff_eq!(
            place(2.0, 2.0),
            0.25 * std::f64::consts::PI,
            epsilon = 1e-15
        );
        assert_eq!(place(3.0, -1.0), 0.0);
        assert_eq!(place(-0.5, 0.5), 1.5);
        for place in [0.0, 0.3, 1.4] {
            let (point, motion) = arc.motion(place);
            assert_eq!(point, arc.point(place));
            let next = arc.point(place + 1e-7);
            assert_abs_diff_eq!((next - point) * 1e7, motion, epsilon = 1e-6);
        }
    }
}
