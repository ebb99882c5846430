//! The point nearest to the origin of a point, line, triangle or tetrahedron.

use glam::DVec3;

use super::pair::Points;

/// Up to four corners: differences of pairs of points, one pair for each.
#[derive(Clone, Copy, Debug)]
pub(super) struct Simplex {
    pairs: [Points; 4],
    corners: [DVec3; 4],
    share: [f64; 4],
    count: usize,
}

/// The nearest point of a simplex, the way to it from the origin (any length),
/// and which of its corners make it up.
///
/// The point is weighed from the corners, so that it lies in the simplex to
/// rounding however thin that is. When it is very near, the origin's rounding
/// tells on its direction; the way is square to what it should be square to.
#[derive(Clone, Copy, Debug)]
struct Spot {
    at: DVec3,
    way: DVec3,
    square: f64,
    corners: [usize; 3],
    share: [f64; 3],
    count: usize,
}

impl Simplex {
    /// A single corner.
    pub fn one(pair: Points) -> Simplex {
        Simplex {
            pairs: [pair; 4],
            corners: [pair.between(); 4],
            share: [1.0, 0.0, 0.0, 0.0],
            count: 1,
        }
    }

    /// Adds a corner. There must be fewer than four.
    pub fn add(&mut self, pair: Points) {
        self.pairs[self.count] = pair;
        self.corners[self.count] = pair.between();
        self.count += 1;
    }

    /// Whether a corner is there already.
    pub fn has(&self, pair: &Points) -> bool {
        self.corners[..self.count].contains(&pair.between())
    }

    /// The nearest pair of points: the pairs weighted by their shares.
    pub fn points(&self) -> Points {
        let mut sum = Points {
            a: DVec3::ZERO,
            b: DVec3::ZERO,
        };
        for (pair, share) in self.pairs.iter().zip(self.share).take(self.count) {
            sum.a += pair.a * share;
            sum.b += pair.b * share;
        }
        sum
    }

    /// The point nearest to the origin, after a corner was added, and the way
    /// there from the origin (any length); corners that do not make it up are
    /// dropped. `None` when the origin lies inside a tetrahedron.
    ///
    /// Before the last corner was added, the nearest point was inside the
    /// simplex of the others, and the last corner lies on the origin's side of
    /// it. So the last corner is always part of what is nearest now.
    ///
    /// * `outside`: whether the origin is known to lie outside, whatever
    ///   rounding says of a very thin tetrahedron
    pub fn nearest(&mut self, outside: bool) -> Option<(DVec3, DVec3)> {
        let w = &self.corners;
        let spot = match self.count {
            1 => Spot::corner(w, 0),
            2 => side(w, 0, 1),
            3 => triangle(w, [0, 1, 2], (w[1] - w[0]).cross(w[2] - w[0])),
            _ => tetrahedron(w, outside)?,
        };
        // Places only ever rise, so nothing is overwritten before it is moved.
        self.count = spot.count;
        for (place, &from) in spot.corners[..spot.count].iter().enumerate() {
            self.pairs[place] = self.pairs[from];
            self.corners[place] = self.corners[from];
            self.share[place] = spot.share[place];
        }
        Some((spot.at, spot.way))
    }
}

impl Spot {
    #[inline]
    fn corner(w: &[DVec3; 4], number: usize) -> Spot {
        Spot {
            at: w[number],
            way: w[number],
            square: w[number].length_squared(),
            corners: [number; 3],
            share: [1.0, 0.0, 0.0],
            count: 1,
        }
    }

    #[inline]
    fn nearer(self, other: Spot) -> Spot {
        if other.square < self.square {
            other
        } else {
            self
        }
    }
}

/// The nearest point of the line between two corners, of which `j` is new.
#[inline]
fn side(w: &[DVec3; 4], i: usize, j: usize) -> Spot {
    let (from, to) = (w[i], w[j]);
    let along = to - from;
    let (before, after) = (-from.dot(along), to.dot(along));
    if after <= 0.0 {
        return Spot::corner(w, j);
    }
    if before <= 0.0 {
        return Spot::corner(w, i);
    }
    let share = before / (before + after);
    let at = from + along * share;
    Spot {
        at,
        way: at - along * (at.dot(along) / along.length_squared()),
        square: at.length_squared(),
        corners: [i, j, j],
        share: [1.0 - share, share, 0.0],
        count: 2,
    }
}

/// The nearest point of a triangle, of which the last corner is new.
///
/// * `normal`: the cross product of its sides from the first corner
#[inline]
fn triangle(w: &[DVec3; 4], [i, j, k]: [usize; 3], normal: DVec3) -> Spot {
    let (p, q, r) = (w[i], w[j], w[k]);
    let square = normal.length_squared();
    // Which side of each edge the origin lies on, within the triangle's plane.
    let share_r = normal.dot(p.cross(q - p));
    let share_p = normal.dot(q.cross(r - q));
    let share_q = normal.dot(r.cross(p - r));
    if square > 0.0 && share_p > 0.0 && share_q > 0.0 && share_r > 0.0 {
        let whole = share_p + share_q + share_r;
        let share = [share_p / whole, share_q / whole, share_r / whole];
        let at = p * share[0] + q * share[1] + r * share[2];
        return Spot {
            at,
            way: normal * 1.0f64.copysign(normal.dot(p)),
            square: at.length_squared(),
            corners: [i, j, k],
            share,
            count: 3,
        };
    }
    side(w, i, k).nearer(side(w, j, k))
}

/// The nearest point of a tetrahedron's skin, of which the last corner is new;
/// `None` when the origin is inside, unless it is known not to be.
fn tetrahedron(w: &[DVec3; 4], outside: bool) -> Option<Spot> {
    let mut best: Option<Spot> = None;
    for (i, j, opposite) in [(0, 1, 2), (0, 2, 1), (1, 2, 0)] {
        let normal = (w[j] - w[i]).cross(w[3] - w[i]);
        let inward = normal.dot(w[opposite] - w[i]);
        let origin = -normal.dot(w[i]);
        // Strictly on the inner side of this face: nothing to look for on it.
        if !outside && inward * origin > 0.0 {
            continue;
        }
        let spot = triangle(w, [i, j, 3], normal);
        best = Some(best.map_or(spot, |known| known.nearer(spot)));
    }
    best
}
