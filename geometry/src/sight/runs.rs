//! Edges cut where something hides them.

use glam::{DVec2, DVec3};

use super::fill::Layer;

/// Edges that lie this much behind a facet still show: they are its own, mm.
const BEHIND: f64 = 0.4;

/// An edge is looked at every so many cells.
const STRIDE: f64 = 2.0;

/// A piece of an edge that shows, or does not, from end to end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// The skin it belongs to, by number.
    pub skin: usize,
    /// Where it begins, cells right and down from the top left.
    pub from: DVec2,
    /// Where it ends.
    pub to: DVec2,
    /// Whether it shows.
    pub shows: bool,
}

/// Cuts an edge into runs.
///
/// * `ends`: right and down in cells from the top left, and away, mm
pub fn runs(layer: &Layer, skin: usize, ends: [DVec3; 2], found: &mut Vec<Run>) {
    let Some([from, to]) = within(ends, layer) else {
        return;
    };
    let length = from.truncate().distance(to.truncate());
    let parts = (length / STRIDE).ceil().max(1.0) as usize;
    let at = |i: usize| from.lerp(to, i as f64 / parts as f64).truncate();
    let mut begun = 0;
    let mut before = None;
    for i in 0..parts {
        let shows = shows(layer, from.lerp(to, (i as f64 + 0.5) / parts as f64));
        if let Some(before) = before.filter(|before| *before != shows) {
            found.push(Run {
                skin,
                from: at(begun),
                to: at(i),
                shows: before,
            });
            begun = i;
        }
        before = Some(shows);
    }
    if let Some(shows) = before {
        found.push(Run {
            skin,
            from: at(begun),
            to: at(parts),
            shows,
        });
    }
}

/// Whether nothing lies before a point. An edge runs between cells, so the ones
/// beside it count too.
fn shows(layer: &Layer, point: DVec3) -> bool {
    let (column, row) = (point.x.floor() as isize, point.y.floor() as isize);
    [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)]
        .iter()
        .any(|(right, down)| {
            let (column, row) = (column + right, row + down);
            let inside = (0..layer.width as isize).contains(&column)
                && (0..layer.height as isize).contains(&row);
            !inside
                || f64::from(layer.away[row as usize * layer.width + column as usize])
                    >= point.z - BEHIND
        })
}

/// The part of an edge within the picture (Liang and Barsky 1984, as described there for a box).
fn within([from, to]: [DVec3; 2], layer: &Layer) -> Option<[DVec3; 2]> {
    let way = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (axis, size) in [(0, layer.width as f64), (1, layer.height as f64)] {
        if way[axis].abs() < 1e-9 {
            if from[axis] < 0.0 || from[axis] > size {
                return None;
            }
            continue;
        }
        let (a, b) = (-from[axis] / way[axis], (size - from[axis]) / way[axis]);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    (enter < leave).then(|| [from + way * enter, from + way * leave])
}
