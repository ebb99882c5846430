//! What laid leads and stiff pieces ask of a rib: rectangles in its plane.

use glam::{DVec2, DVec3};

use super::windows::{Bite, RibHere, Window};
use crate::layout::Layout;
use crate::path::Path;
use crate::stiffness::Edge;

/// Points along a lead are this far apart, mm.
const APART: f64 = 0.5;

/// Room added to what points along a lead ask for, mm.
const BETWEEN: f64 = 0.05;

/// Rounding that is no breach, mm.
const NEARLY: f64 = 1e-4;

/// A piece that slides in came from this far out of the dash, mm.
const OUTSIDE: f64 = -60.0;

/// Lower left and upper right of what must be free of a rib, mm.
pub type Rectangle = [DVec2; 2];

/// What a lead that lies along `way` asks of a rib, one for every time it passes.
///
/// * `reach`: from its middle to the rib at least, mm
/// * `edge_trim`: what the trim on cut edges takes of that, mm
pub fn of_way(rib: &RibHere, way: &Path, reach: f64, edge_trim: f64) -> Vec<Rectangle> {
    let into = Into::new(rib);
    let mut found: Vec<Rectangle> = Vec::new();
    let mut open = false;
    // What passes the whole rib asks for nothing.
    let mut needed = false;
    let length = way.length();
    let steps = (length / APART).ceil().max(1.0);
    for step in 0..=steps as usize {
        let at = into.own(way.point_at(length * step as f64 / steps));
        let beside = (at.z.abs() - into.half).max(0.0);
        let met = |reach: f64| {
            let half = (reach * reach - beside * beside).max(0.0).sqrt();
            [at.truncate() - half, at.truncate() + half]
        };
        let wanted = (beside < reach + edge_trim).then(|| met(reach + edge_trim + BETWEEN));
        let wanted = wanted.filter(|met| into.meets(met));
        if open && wanted.is_none() && !needed {
            found.pop();
        }
        needed &= open;
        needed |= beside < reach && into.is_near(at.truncate(), met(reach)[1].x - at.x);
        match wanted {
            Some(met) if open => {
                let last = found.last_mut().expect("one is open");
                *last = [last[0].min(met[0]), last[1].max(met[1])];
            }
            Some(met) => {
                found.push(met);
                open = true;
            }
            None => open = false,
        }
    }
    if open && !needed {
        found.pop();
    }
    found
}

/// What the pieces that slide in ask of a rib with the unit at `proud` mm.
///
/// * `clear`: room they keep from it, the trim on cut edges included, mm
pub fn of_pieces(rib: &RibHere, layout: &Layout, proud: f64, clear: f64) -> Vec<Rectangle> {
    let into = Into::new(rib);
    (layout.sliding.iter())
        .filter_map(|piece| {
            let bounds = piece.solid.bounds();
            let low = bounds.min.with_y(OUTSIDE);
            let high = bounds.max - proud * DVec3::Y;
            let corners = (0..8).map(|corner| {
                let pick = |axis: usize| if corner >> axis & 1 == 0 { low } else { high }[axis];
                into.own(DVec3::new(pick(0), pick(1), pick(2)))
            });
            let nowhere = (DVec3::INFINITY, DVec3::NEG_INFINITY);
            let (low, high) = corners.fold(nowhere, |(low, high), at| (low.min(at), high.max(at)));
            let met = [low.truncate() - clear, high.truncate() + clear];
            let near = low.z < into.half + clear && high.z > -into.half - clear;
            (near && into.meets(&met)).then_some(met)
        })
        .collect()
}

/// From the job's frame into the plane of a rib.
struct Into {
    origin: DVec3,
    axes: [DVec3; 3],
    /// Half the thickness, mm.
    half: f64,
    bounds: [DVec2; 2],
}

impl Into {
    fn new(rib: &RibHere) -> Into {
        let origin = rib.face.place(DVec2::ZERO);
        let x = rib.face.place(DVec2::X) - origin;
        let y = rib.face.place(DVec2::Y) - origin;
        Into {
            origin,
            axes: [x, y, x.cross(y)],
            half: 0.5 * rib.face.thickness(),
            bounds: rib.face.bounds(),
        }
    }

    /// Along the rib, across it, square to it from its middle, mm.
    fn own(&self, point: DVec3) -> DVec3 {
        let from = point - self.origin;
        DVec3::from_array(self.axes.map(|axis| from.dot(axis)))
    }

    /// Whether a point of its plane is nearer than this to its outline's box, mm.
    fn is_near(&self, at: DVec2, reach: f64) -> bool {
        let [low, high] = self.bounds;
        at.distance(at.clamp(low, high)) < reach - NEARLY
    }

    fn meets(&self, met: &Rectangle) -> bool {
        let [low, high] = self.bounds;
        met[1].cmpgt(low).all() && met[0].cmplt(high).all()
    }
}

/// The least notch of a window that a rectangle asks for, as far as the window
/// goes; `None` where none may be cut.
pub fn bite_for(
    rib: &RibHere,
    window: &Window,
    number: usize,
    wanted: &Rectangle,
    snap: f64,
) -> Option<Bite> {
    let [low, high] = rib.face.bounds();
    let depth = match rib.face.side(window.edge)? {
        Edge::Lower => wanted[1].y.min(high.y) - low.y,
        Edge::Upper => high.y - wanted[0].y.max(low.y),
    };
    let along = [
        ((wanted[0].x / snap).floor() as i32).max(window.from),
        ((wanted[1].x / snap).ceil() as i32).min(window.to()),
    ];
    let bite = Bite {
        window: number,
        along,
        depth: ((depth / snap).ceil() as i32).min(window.deepest_between(along)),
    };
    (bite.depth > 0).then_some(bite)
}

/// Notches of one window laid together where that takes no more.
///
/// Two are one, too, where the tongue between them would be narrower than it is long.
pub fn merged(mut bites: Vec<Bite>, windows: &[Window]) -> Vec<Bite> {
    loop {
        let mut best: Option<(i32, usize, usize, Bite)> = None;
        for one in 0..bites.len() {
            for other in one + 1..bites.len() {
                let (a, b) = (bites[one], bites[other]);
                if a.window != b.window {
                    continue;
                }
                let both = Bite {
                    window: a.window,
                    along: [a.along[0].min(b.along[0]), a.along[1].max(b.along[1])],
                    depth: a.depth.max(b.depth),
                };
                let gap = (b.along[0] - a.along[1]).max(a.along[0] - b.along[1]);
                let near = gap < both.depth;
                let more = both.cells() - a.cells() - b.cells();
                let may = windows[a.window].deepest_between(both.along) >= both.depth;
                if may && (near || more <= 0) && best.is_none_or(|(known, ..)| more < known) {
                    best = Some((more, one, other, both));
                }
            }
        }
        let Some((_, one, other, both)) = best else {
            return bites;
        };
        bites[one] = both;
        bites.remove(other);
    }
}
