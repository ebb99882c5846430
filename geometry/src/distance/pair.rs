//! Two convex cores side by side, in the coordinates of the first.

use glam::{DMat3, DVec3};

use super::convex::{Convex, Core};

/// Two convex cores in the coordinates of the first one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    /// The first core.
    pub a: Core<'a>,
    /// The second core.
    pub b: Core<'a>,
    /// Axes of the second, seen from the first.
    pub axes: DMat3,
    /// Origin of the second, seen from the first, mm.
    pub at: DVec3,
}

/// A point of each core.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Points {
    /// On the first core, mm.
    pub a: DVec3,
    /// On the second core, mm.
    pub b: DVec3,
}

impl Points {
    /// From the first to the second.
    #[inline]
    pub fn between(&self) -> DVec3 {
        self.b - self.a
    }
}

impl<'a> Pair<'a> {
    /// The cores of two convex solids.
    #[inline]
    pub fn new(a: &Convex<'a>, b: &Convex<'a>) -> Pair<'a> {
        let back = a.axes.transpose();
        Pair {
            a: a.core,
            b: b.core,
            axes: back * b.axes,
            at: back * (b.at - a.at),
        }
    }

    /// Whether both have flat faces only.
    pub fn is_flat(&self) -> bool {
        let round = |core: &Core| matches!(core, Core::Cylinder { .. });
        !round(&self.a) && !round(&self.b)
    }

    /// The points of both that face each other most along a direction from
    /// the first to the second: the first's furthest, the second's nearest.
    #[inline]
    pub fn facing(&self, direction: DVec3) -> Points {
        Points {
            a: self.a.support(direction),
            b: self.at + self.axes * self.b.support(self.axes.transpose() * -direction),
        }
    }

    /// The free width between the two along a unit vector from the first to
    /// the second, mm; negative when they overlap as seen from there. The
    /// signed distance is the largest such width over all directions.
    #[inline]
    pub fn width(&self, direction: DVec3) -> f64 {
        self.facing(direction).between().dot(direction)
    }

    /// The free widths along a unit vector and against it, mm.
    pub fn widths(&self, direction: DVec3) -> [f64; 2] {
        let [low_a, high_a] = self.a.span(direction);
        let [low_b, high_b] = self.b.span(self.axes.transpose() * direction);
        let along = self.at.dot(direction);
        [along + low_b - high_a, low_a - (along + high_b)]
    }

    /// The same two with the second shifted, mm.
    pub fn shifted(&self, by: DVec3) -> Pair<'a> {
        Pair {
            at: self.at + by,
            ..*self
        }
    }

    /// Calls `visit` with a normal of every flat face of either.
    pub fn each_normal(&self, mut visit: impl FnMut(DVec3)) {
        self.a.each_normal(&mut visit);
        self.b.each_normal(|normal| visit(self.axes * normal));
    }

    /// Calls `visit` with a unit vector along every straight edge of either.
    pub fn each_edge(&self, mut visit: impl FnMut(DVec3)) {
        self.a.each_edge(&mut visit);
        self.b.each_edge(|edge| visit(self.axes * edge));
    }
}
