//! Lines between the rims of two round bars that are square to both rims.
//!
//! For every point of one rim the nearest and the furthest point of the other
//! are known in closed form; the line to it is square to the first rim too
//! where its length stops changing along that rim. Such places are found by
//! going round in small steps and closing in on every change of sign. Two
//! circles have at most eight of them.

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};

use super::convex::Core;
use super::pair::Pair;

/// Steps once round a rim.
const STEPS: usize = 96;

/// Halvings of a step, enough to reach rounding.
const HALVINGS: usize = 48;

/// A rim: a circle in space.
#[derive(Clone, Copy)]
struct Rim {
    centre: DVec3,
    u: DVec3,
    v: DVec3,
    radius: f64,
}

impl Rim {
    fn point(&self, angle: f64) -> DVec3 {
        let way = DVec2::from_angle(angle) * self.radius;
        self.centre + self.u * way.x + self.v * way.y
    }

    fn tangent(&self, angle: f64) -> DVec3 {
        let (sin, cos) = angle.sin_cos();
        self.v * cos - self.u * sin
    }

    /// The nearest point (`side` 1) or the furthest (`side` -1) from a point.
    fn facing(&self, point: DVec3, side: f64) -> DVec3 {
        let from = point - self.centre;
        let way = DVec2::new(from.dot(self.u), from.dot(self.v));
        let way = way.try_normalize().unwrap_or(DVec2::X) * (side * self.radius);
        self.centre + self.u * way.x + self.v * way.y
    }
}

/// Calls `visit` with every line from a rim of the first bar to a rim of the
/// second that is square to both. Does nothing unless both are round bars.
pub(super) fn each_line_between_rims(pair: &Pair, mut visit: impl FnMut(DVec3)) {
    let (Some(a), Some(b)) = (rims(&pair.a), rims(&pair.b)) else {
        return;
    };
    let placed = b.map(|rim| Rim {
        centre: pair.at + pair.axes * rim.centre,
        u: pair.axes * rim.u,
        v: pair.axes * rim.v,
        radius: rim.radius,
    });
    for one in a {
        for other in placed {
            for side in [1.0, -1.0] {
                let line = |angle: f64| {
                    let point = one.point(angle);
                    other.facing(point, side) - point
                };
                let slope = |angle: f64| line(angle).dot(one.tangent(angle));
                let step = TAU / STEPS as f64;
                let mut before = slope(0.0);
                for number in 1..=STEPS {
                    let (mut low, mut high) = (step * (number - 1) as f64, step * number as f64);
                    let after = slope(high);
                    if (before > 0.0) != (after > 0.0) {
                        for _ in 0..HALVINGS {
                            let middle = 0.5 * (low + high);
                            if (slope(middle) > 0.0) == (before > 0.0) {
                                low = middle;
                            } else {
                                high = middle;
                            }
                        }
                        visit(line(0.5 * (low + high)));
                    }
                    before = after;
                }
            }
        }
    }
}

/// Both rims of a round bar in its own coordinates.
fn rims(core: &Core) -> Option<[Rim; 2]> {
    let Core::Cylinder {
        radius,
        half_length,
    } = *core
    else {
        return None;
    };
    Some([half_length, -half_length].map(|height| Rim {
        centre: DVec3::Z * height,
        u: DVec3::X,
        v: DVec3::Y,
        radius,
    }))
}
