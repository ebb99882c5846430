//! A lead by its corners.

use glam::DVec3;

/// Corners nearer than this are one, and one this near to the line between
/// its neighbours is none, mm.
const SAME: f64 = 1e-6;

/// The same corners without those where the way goes straight on.
pub(super) fn tidied(corners: &[DVec3]) -> Vec<DVec3> {
    let mut kept: Vec<DVec3> = Vec::with_capacity(corners.len());
    for &corner in corners {
        while kept.len() > 1 && same(kept[kept.len() - 1], corner) {
            kept.pop();
        }
        if kept.len() == 1 && same(kept[0], corner) {
            continue;
        }
        while let [.., before, middle] = kept[..]
            && straight_on(before, middle, corner)
        {
            kept.pop();
        }
        kept.push(corner);
    }
    kept
}

fn same(one: DVec3, other: DVec3) -> bool {
    one.distance(other) <= SAME
}

fn straight_on(before: DVec3, middle: DVec3, after: DVec3) -> bool {
    let (one, other) = (middle - before, after - middle);
    let aside = one.cross(other).length() / (one + other).length().max(SAME);
    aside <= SAME && one.dot(other) > 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_on_a_line_are_left_out() {
        let at = |x: f64, y: f64| DVec3::new(x, y, 0.0);
        let corners = [
            at(0., 0.),
            at(0., 0.),
            at(5., 0.),
            at(9., 0.),
            at(9., 4.),
            at(9., 4.),
        ];
        assert_eq!(tidied(&corners), [at(0., 0.), at(9., 0.), at(9., 4.)]);
    }
}
