//! Circles that touch three things, and from them the largest in a room.
//!
//! A circle (x, y, r) that touches a line, a circle from outside or a disc's rim
//! from inside fulfils an equation linear in (x, y, r, x² + y² - r²): the
//! problem of Apollonius.

use glam::{DVec2, DVec3};

use super::room::Room;

/// What a circle may touch.
#[derive(Clone, Copy, Debug)]
pub(super) enum Edge {
    /// A straight wall through `at`, with the room on the side of `inward`.
    Line { at: DVec2, inward: DVec2 },
    /// A circle: radius 0 for a corner, negative for a rim around everything.
    Circle { centre: DVec2, radius: f64 },
}

impl Edge {
    /// a·(x, y, r) + q (x² + y² - r²) + c = 0 where touched: a, q, c.
    fn equation(&self) -> (DVec3, f64, f64) {
        match *self {
            Edge::Line { at, inward } => (inward.extend(-1.0), 0.0, -inward.dot(at)),
            Edge::Circle { centre, radius } => (
                (-2.0 * centre).extend(-2.0 * radius),
                1.0,
                centre.length_squared() - radius * radius,
            ),
        }
    }

    /// The radius that a circle about a point may have before it touches.
    fn room(&self, point: DVec2) -> f64 {
        match *self {
            Edge::Line { at, inward } => inward.dot(point - at),
            Edge::Circle { centre, radius } if radius < 0.0 => -radius - point.distance(centre),
            Edge::Circle { centre, radius } => point.distance(centre) - radius,
        }
    }
}

/// The largest circle in a room that keeps clear of some circles (centre and
/// radius): its centre and radius, `None` when there is no room at all.
///
/// Exact to rounding: the largest touches three edges, or, in a disc, two in
/// line with its middle.
pub(super) fn largest(room: &Room, taken: &[(DVec2, f64)]) -> Option<(DVec2, f64)> {
    let edges = edges(room, taken);
    let mut best: Option<(DVec2, f64)> = None;
    let mut consider = |centre: DVec2, radius: f64| {
        let longer = best.is_none_or(|(_, known)| radius > known);
        if !(longer && radius > 0.0 && radius.is_finite() && centre.is_finite()) {
            return;
        }
        // What it really has there; rounding in the solving does no harm.
        let clear = (taken.iter())
            .map(|(at, r)| centre.distance(*at) - r)
            .fold(room.depth(centre).0, f64::min);
        if clear >= radius * (1.0 - 1e-9) {
            let radius = clear.min(radius);
            if best.is_none_or(|(_, known)| radius > known) {
                best = Some((centre, radius));
            }
        }
    };
    if let Room::Disc(rim) = room {
        if taken.is_empty() {
            return Some((DVec2::ZERO, *rim));
        }
        for (at, radius) in taken {
            let opposite = -at.try_normalize().unwrap_or(DVec2::X);
            let r = 0.5 * (rim + at.length() - radius);
            consider(opposite * (rim - r), r);
        }
    }
    for i in 0..edges.len() {
        for j in 0..i {
            for k in 0..j {
                for found in touching([edges[i], edges[j], edges[k]]) {
                    consider(found.truncate(), found.z);
                }
            }
        }
    }
    best
}

fn edges(room: &Room, taken: &[(DVec2, f64)]) -> Vec<Edge> {
    let mut edges: Vec<Edge> = room
        .sides()
        .map(|[from, to]| Edge::Line {
            at: from,
            inward: (to - from).perp().normalize_or_zero(),
        })
        .collect();
    if let Room::Disc(rim) = room {
        edges.push(Edge::Circle {
            centre: DVec2::ZERO,
            radius: -rim,
        });
    }
    let corners = room.reentrant().into_iter().map(|corner| (corner, 0.0));
    edges.extend(
        corners
            .chain(taken.iter().copied())
            .map(|(centre, radius)| Edge::Circle { centre, radius }),
    );
    edges
}

/// The circles (x, y, r) that touch three edges: two at most.
fn touching(edges: [Edge; 3]) -> impl Iterator<Item = DVec3> {
    let mut linear: [(DVec3, f64); 3] = [(DVec3::ZERO, 0.0); 3];
    let mut count = 0;
    let mut round: Option<(DVec3, f64)> = None;
    for edge in edges {
        let (a, q, c) = edge.equation();
        let line = match round {
            None if q != 0.0 => {
                round = Some((a, c));
                continue;
            }
            Some((a0, c0)) if q != 0.0 => (a - a0, c - c0),
            _ => (a, c),
        };
        linear[count] = line;
        count += 1;
    }
    let found = match round {
        None => [meet(linear), None],
        Some(round) => along(linear[0], linear[1], round),
    };
    let real = move |found: &DVec3| {
        let slack = 1e-6 * (1.0 + found.z.abs());
        (edges.iter()).all(|edge| (edge.room(found.truncate()) - found.z).abs() <= slack)
    };
    found.into_iter().flatten().filter(real)
}

/// Where three planes a·p + c = 0 meet.
fn meet(planes: [(DVec3, f64); 3]) -> Option<DVec3> {
    let [(a, ca), (b, cb), (c, cc)] = planes;
    let volume = a.dot(b.cross(c));
    let flat = 1e-12 * a.length() * b.length() * c.length();
    (volume.abs() > flat).then(|| -(ca * b.cross(c) + cb * c.cross(a) + cc * a.cross(b)) / volume)
}

/// Where the line common to two planes meets x² + y² - r² + a·p + c = 0.
fn along(one: (DVec3, f64), other: (DVec3, f64), round: (DVec3, f64)) -> [Option<DVec3>; 2] {
    let way = one.0.cross(other.0);
    let Some(start) = meet([one, other, (way, 0.0)]) else {
        return [None, None];
    };
    let way = way.normalize_or_zero();
    let squares = |p: DVec3, q: DVec3| p.x * q.x + p.y * q.y - p.z * q.z;
    let (a, c) = round;
    let two = squares(way, way);
    let half = squares(start, way) + 0.5 * a.dot(way);
    let none = squares(start, start) + a.dot(start) + c;
    let root = half * half - two * none;
    if root < 0.0 {
        return [None, None];
    }
    // The two roots without loss: one from the sum, the other from the product.
    let sum = -(half + half.signum() * root.sqrt());
    let at = |t: f64| t.is_finite().then(|| start + t * way);
    [at(sum / two), at(none / sum)]
}
