//! Distances in a plane.

use glam::DVec2;

/// From a point to a straight run, mm.
pub fn to_run(point: DVec2, [from, to]: &[DVec2; 2]) -> f64 {
    let along = *to - *from;
    let length = along.length_squared();
    let share = if length > 0.0 {
        ((point - *from).dot(along) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    point.distance(*from + along * share)
}

/// How far two convex polygons are apart, mm; 0 where they overlap. A run of
/// two points is one too.
pub fn polygons_apart(one: &[DVec2], other: &[DVec2]) -> f64 {
    if overlap(one, other) {
        return 0.0;
    }
    let near = |points: &[DVec2], polygon: &[DVec2]| {
        let mut least = f64::INFINITY;
        for run in runs(polygon) {
            for point in points {
                least = least.min(to_run(*point, &run));
            }
        }
        least
    };
    near(one, other).min(near(other, one))
}

fn runs(polygon: &[DVec2]) -> impl Iterator<Item = [DVec2; 2]> + '_ {
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(from, to)| [*from, *to])
}

/// Whether no straight line parts two convex polygons.
fn overlap(one: &[DVec2], other: &[DVec2]) -> bool {
    let across = |[from, to]: [DVec2; 2]| [(to - from).perp(), to - from];
    let mut ways = runs(one).chain(runs(other)).flat_map(across);
    !ways.any(|way| {
        let extent = |polygon: &[DVec2]| {
            let along = polygon.iter().map(|point| point.dot(way));
            along.fold([f64::MAX, f64::MIN], |[low, high], it| {
                [low.min(it), high.max(it)]
            })
        };
        let (a, b) = (extent(one), extent(other));
        a[1] < b[0] || b[1] < a[0]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(low: [f64; 2], high: [f64; 2]) -> [DVec2; 4] {
        [low, [high[0], low[1]], high, [low[0], high[1]]].map(DVec2::from)
    }

    #[test]
    fn polygons_are_apart_by_the_least_way_between_them() {
        let one = block([0., 0.], [10., 5.]);
        assert_eq!(polygons_apart(&one, &block([13., 9.], [20., 20.])), 5.0);
        assert_eq!(polygons_apart(&one, &block([2., 7.], [4., 9.])), 2.0);
        assert_eq!(polygons_apart(&one, &block([9., 4.], [12., 9.])), 0.0);
        // A cross: no corner of either lies in the other.
        assert_eq!(polygons_apart(&one, &block([4., -5.], [6., 15.])), 0.0);
        let run = [DVec2::new(-5., 8.), DVec2::new(25., 8.)];
        assert_eq!(polygons_apart(&one, &run), 3.0);
    }
}
