//! Convex solids as the distance engine sees them: a core, and how much it is rounded.

use glam::{DMat3, DVec2, DVec3};

use crate::solids::{Hull, Shape, Solid, furthest};

/// A convex solid in place: every point within `round` of its core.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Convex<'a> {
    /// The core in its own coordinates.
    pub core: Core<'a>,
    /// Its own axes as unit vectors.
    pub axes: DMat3,
    /// Its own origin, mm.
    pub at: DVec3,
    /// Radius of the ball rolled round the core, mm.
    pub round: f64,
}

/// A convex core in its own coordinates, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Core<'a> {
    /// A straight line along the third axis; a point when it has no length.
    Segment { half_length: f64 },
    /// A box by its half sizes.
    Block { half: DVec3 },
    /// A round bar along the third axis.
    Cylinder { radius: f64, half_length: f64 },
    /// A convex outline pushed along the third axis.
    Prism {
        corners: &'a [DVec2],
        half_length: f64,
    },
    /// The hull of some corners.
    Hull(&'a Hull),
}

impl<'a> Convex<'a> {
    /// How many convex pieces a solid has.
    pub fn count(solid: &Solid) -> usize {
        match solid.shape() {
            Shape::Prism { outline, .. } => outline.pieces().len(),
            _ => 1,
        }
    }

    /// One convex piece of a solid, by its number.
    #[inline]
    pub fn piece(solid: &'a Solid, number: usize) -> Convex<'a> {
        let mut round = 0.0;
        let core = match solid.shape() {
            Shape::Block { half } => Core::Block { half: *half },
            Shape::Cylinder {
                radius,
                half_length,
            } => Core::Cylinder {
                radius: *radius,
                half_length: *half_length,
            },
            Shape::Capsule {
                radius,
                half_length,
            } => {
                round = *radius;
                Core::Segment {
                    half_length: *half_length,
                }
            }
            Shape::Prism {
                outline,
                half_length,
            } => Core::Prism {
                corners: &outline.pieces()[number],
                half_length: *half_length,
            },
            Shape::Hull(hull) => Core::Hull(hull),
        };
        Convex {
            core,
            axes: DMat3::from_quat(solid.pose().turn),
            at: solid.pose().shift,
            round,
        }
    }

    /// How far it reaches along a unit vector, mm from the origin.
    pub fn most(&self, direction: DVec3) -> f64 {
        let core = self.core.support(self.axes.transpose() * direction);
        (self.at + self.axes * core).dot(direction) + self.round
    }

    /// Where it begins along a unit vector, mm from the origin.
    pub fn least(&self, direction: DVec3) -> f64 {
        -self.most(-direction)
    }

    /// Every convex piece of a solid, in order.
    pub fn pieces(solid: &'a Solid) -> impl Iterator<Item = Convex<'a>> {
        (0..Convex::count(solid)).map(move |number| Convex::piece(solid, number))
    }
}

impl Core<'_> {
    /// The point furthest along a direction; some such point when several are.
    #[inline]
    pub fn support(&self, direction: DVec3) -> DVec3 {
        match *self {
            Core::Segment { half_length } => {
                DVec3::new(0.0, 0.0, half_length.copysign(direction.z))
            }
            Core::Block { half } => half.copysign(direction),
            Core::Cylinder {
                radius,
                half_length,
            } => {
                let rim = direction.truncate().normalize_or_zero() * radius;
                rim.extend(half_length.copysign(direction.z))
            }
            Core::Prism {
                corners,
                half_length,
            } => furthest(corners, direction.truncate()).extend(half_length.copysign(direction.z)),
            Core::Hull(hull) => hull.support(direction),
        }
    }

    /// How far it reaches back and forth along a direction.
    pub fn span(&self, direction: DVec3) -> [f64; 2] {
        let reach = match *self {
            Core::Segment { half_length } => half_length * direction.z.abs(),
            Core::Block { half } => half.dot(direction.abs()),
            Core::Cylinder {
                radius,
                half_length,
            } => radius * direction.truncate().length() + half_length * direction.z.abs(),
            Core::Prism {
                corners,
                half_length,
            } => {
                let flat = direction.truncate();
                let [low, high] = extremes(corners.iter().map(|c| c.dot(flat)));
                let ends = half_length * direction.z.abs();
                return [low - ends, high + ends];
            }
            Core::Hull(hull) => {
                return extremes(hull.points().iter().map(|c| c.dot(direction)));
            }
        };
        [-reach, reach]
    }

    /// Calls `visit` with a normal of every flat face, one for each opposite pair.
    pub fn each_normal(&self, mut visit: impl FnMut(DVec3)) {
        match *self {
            Core::Segment { .. } => {}
            Core::Block { .. } => [DVec3::X, DVec3::Y, DVec3::Z].into_iter().for_each(visit),
            Core::Cylinder { .. } => visit(DVec3::Z),
            Core::Prism { corners, .. } => {
                visit(DVec3::Z);
                for side in sides(corners) {
                    visit(DVec3::new(side.y, -side.x, 0.0));
                }
            }
            Core::Hull(hull) => hull.faces().iter().for_each(|face| visit(face.normal)),
        }
    }

    /// Calls `visit` with a unit vector along every straight edge, parallel
    /// ones once. The side of a round bar counts as an edge along its axis.
    pub fn each_edge(&self, mut visit: impl FnMut(DVec3)) {
        match *self {
            Core::Segment { half_length } => {
                if half_length > 0.0 {
                    visit(DVec3::Z);
                }
            }
            Core::Block { .. } => [DVec3::X, DVec3::Y, DVec3::Z].into_iter().for_each(visit),
            Core::Cylinder { .. } => visit(DVec3::Z),
            Core::Prism { corners, .. } => {
                visit(DVec3::Z);
                for side in sides(corners) {
                    visit(side.extend(0.0));
                }
            }
            Core::Hull(hull) => hull.edge_directions().iter().copied().for_each(visit),
        }
    }
}

/// Unit vectors along the sides of an outline.
fn sides(corners: &[DVec2]) -> impl Iterator<Item = DVec2> {
    let last = corners.last().copied();
    let before = last.into_iter().chain(corners.iter().copied());
    (before.zip(corners)).filter_map(|(from, to)| (*to - from).try_normalize())
}

/// The least and the greatest.
fn extremes(figures: impl Iterator<Item = f64>) -> [f64; 2] {
    let start = [f64::INFINITY, f64::NEG_INFINITY];
    figures.fold(start, |[low, high], figure| {
        [low.min(figure), high.max(figure)]
    })
}
