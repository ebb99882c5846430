//! The point nearest to the origin of a point, line, triangle or tetrahedron.

use glam::DVec3;

use super::pair::Points;

/// Up to four pairs of points; the differences of the pairs are its corners.
#[derive(Clone, Copy, Debug)]
pub(super) struct Simplex {
    corners: [Points; 4],
    share: [f64; 4],
    count: usize,
}

/// The nearest point of a simplex, and what it is made of.
#[derive(Clone, Copy, Debug)]
struct Spot {
    at: DVec3,
    corners: [usize; 3],
    share: [f64; 3],
    count: usize,
}

impl Simplex {
    /// A single corner.
    pub fn one(corner: Points) -> Simplex {
        Simplex {
            corners: [corner; 4],
            share: [1.0, 0.0, 0.0, 0.0],
            count: 1,
        }
    }

    /// With one more corner. There must be fewer than four.
    pub fn and(&self, corner: Points) -> Simplex {
        let mut with = *self;
        with.corners[self.count] = corner;
        with.count += 1;
        with
    }

    /// Whether a corner is there already.
    pub fn has(&self, corner: &Points) -> bool {
        let new = corner.between();
        (self.corners[..self.count].iter()).any(|old| old.between() == new)
    }

    /// The nearest pair of points: the corners weighted by their shares.
    pub fn points(&self) -> Points {
        let mut sum = Points {
            a: DVec3::ZERO,
            b: DVec3::ZERO,
        };
        for (corner, share) in self.corners.iter().zip(self.share).take(self.count) {
            sum.a += corner.a * share;
            sum.b += corner.b * share;
        }
        sum
    }

    /// The point nearest to the origin and the least part of the simplex that
    /// holds it; `None` when the origin lies inside a tetrahedron.
    ///
    /// * `outside`: whether the origin is known to lie outside, whatever
    ///   rounding says of a very thin tetrahedron
    pub fn nearest(&self, outside: bool) -> Option<(DVec3, Simplex)> {
        let w = |i: usize| self.corners[i].between();
        let spot = match self.count {
            1 => Spot::corner(w(0), 0),
            2 => side(&w, 0, 1),
            3 => triangle(&w, 0, 1, 2),
            _ => tetrahedron(&w, outside)?,
        };
        let mut part = *self;
        part.count = spot.count;
        for place in 0..spot.count {
            part.corners[place] = self.corners[spot.corners[place]];
            part.share[place] = spot.share[place];
        }
        Some((spot.at, part))
    }
}

impl Spot {
    fn corner(at: DVec3, number: usize) -> Spot {
        Spot {
            at,
            corners: [number; 3],
            share: [1.0, 0.0, 0.0],
            count: 1,
        }
    }

    fn nearer(self, other: Spot) -> Spot {
        if other.at.length_squared() < self.at.length_squared() {
            other
        } else {
            self
        }
    }
}

/// The nearest point of the line between two corners.
fn side(w: &impl Fn(usize) -> DVec3, i: usize, j: usize) -> Spot {
    let (from, to) = (w(i), w(j));
    let along = to - from;
    let (before, after) = (-from.dot(along), to.dot(along));
    if before <= 0.0 {
        Spot::corner(from, i)
    } else if after <= 0.0 {
        Spot::corner(to, j)
    } else {
        let share = before / (before + after);
        Spot {
            at: from + along * share,
            corners: [i, j, j],
            share: [1.0 - share, share, 0.0],
            count: 2,
        }
    }
}

/// The nearest point of a triangle.
fn triangle(w: &impl Fn(usize) -> DVec3, i: usize, j: usize, k: usize) -> Spot {
    let (p, q, r) = (w(i), w(j), w(k));
    let normal = (q - p).cross(r - p);
    let square = normal.length_squared();
    // Which side of each edge the origin lies on, within the triangle's plane.
    let share_r = normal.dot(p.cross(q - p));
    let share_p = normal.dot(q.cross(r - q));
    let share_q = normal.dot(r.cross(p - r));
    if square > 0.0 && share_p > 0.0 && share_q > 0.0 && share_r > 0.0 {
        let whole = share_p + share_q + share_r;
        return Spot {
            at: normal * (normal.dot(p) / square),
            corners: [i, j, k],
            share: [share_p / whole, share_q / whole, share_r / whole],
            count: 3,
        };
    }
    side(w, i, j).nearer(side(w, j, k)).nearer(side(w, k, i))
}

/// The nearest point of a tetrahedron's skin; `None` when the origin is inside,
/// unless it is known not to be.
fn tetrahedron(w: &impl Fn(usize) -> DVec3, outside: bool) -> Option<Spot> {
    let mut best: Option<Spot> = None;
    for [i, j, k, opposite] in [[0, 1, 2, 3], [0, 1, 3, 2], [0, 2, 3, 1], [1, 2, 3, 0]] {
        let normal = (w(j) - w(i)).cross(w(k) - w(i));
        let inward = normal.dot(w(opposite) - w(i));
        let origin = -normal.dot(w(i));
        // Strictly on the inner side of this face: nothing to look for on it.
        if !outside && inward * origin > 0.0 {
            continue;
        }
        let spot = triangle(w, i, j, k);
        best = Some(best.map_or(spot, |known| known.nearer(spot)));
    }
    best
}
