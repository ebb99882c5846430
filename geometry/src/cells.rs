//! A rectangle shared out among points, each getting a rectangle of its own.

use glam::DVec2;

/// Shares a rectangle out among points: it is cut across the widest gap between
/// neighbours, half way, and each part again, until every point is alone in
/// its cell. Points in the same place share a cell.
///
/// * `low`, `high`: corners of the rectangle, mm; points outside count as at its edge
///
/// ```
/// use geometry::cells;
/// use glam::DVec2;
/// let points = [DVec2::new(-40., 0.), DVec2::new(40., -20.), DVec2::new(40., 20.)];
/// let cells = cells(&points, DVec2::splat(-100.), DVec2::splat(100.));
/// assert_eq!(cells[0], [DVec2::splat(-100.), DVec2::new(0., 100.)]);
/// assert_eq!(cells[1], [DVec2::new(0., -100.), DVec2::new(100., 0.)]);
/// ```
pub fn cells(points: &[DVec2], low: DVec2, high: DVec2) -> Vec<[DVec2; 2]> {
    let mut cells = vec![[low, high]; points.len()];
    let inside: Vec<DVec2> = points.iter().map(|point| point.clamp(low, high)).collect();
    share(&inside, (0..points.len()).collect(), &mut cells);
    cells
}

/// Cuts the cell that some points (by number) share.
fn share(points: &[DVec2], numbers: Vec<usize>, cells: &mut [[DVec2; 2]]) {
    let Some((axis, at)) = widest_gap(points, &numbers) else {
        return;
    };
    let (before, after): (Vec<usize>, Vec<usize>) =
        numbers.into_iter().partition(|&i| points[i][axis] < at);
    for &i in &before {
        cells[i][1][axis] = at;
    }
    for &i in &after {
        cells[i][0][axis] = at;
    }
    share(points, before, cells);
    share(points, after, cells);
}

/// The axis and the middle of the widest gap between neighbours along it.
fn widest_gap(points: &[DVec2], numbers: &[usize]) -> Option<(usize, f64)> {
    let mut widest: Option<(f64, usize, f64)> = None;
    for axis in [0, 1] {
        let mut along: Vec<f64> = numbers.iter().map(|&i| points[i][axis]).collect();
        along.sort_by(f64::total_cmp);
        for pair in along.windows(2) {
            let (gap, middle) = (pair[1] - pair[0], 0.5 * (pair[0] + pair[1]));
            // Both sides must keep a point, whatever rounding does to the middle.
            let parts = pair[0] < middle && middle <= pair[1];
            if parts && widest.is_none_or(|(best, ..)| gap > best) {
                widest = Some((gap, axis, middle));
            }
        }
    }
    widest.map(|(_, axis, at)| (axis, at))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn cells_fill_the_rectangle_and_keep_their_points(
            raw in prop::collection::vec((-90i32..90, -50i32..50), 1..20)
        ) {
            let points: Vec<DVec2> = raw.iter().map(|&(x, y)| DVec2::new(x.into(), y.into())).collect();
            let (low, high) = (DVec2::new(-300., -200.), DVec2::new(300., 200.));
            let cells = cells(&points, low, high);
            let mut different: Vec<[DVec2; 2]> = Vec::new();
            for (point, cell) in points.iter().zip(&cells) {
                prop_assert!(point.cmpge(cell[0]).all() && point.cmple(cell[1]).all());
                if !different.contains(cell) {
                    different.push(*cell);
                }
            }
            let area: f64 = different.iter().map(|[a, b]| (*b - *a).element_product()).sum();
            prop_assert!((area - 600.0 * 400.0).abs() < 1e-6);
            for (i, one) in different.iter().enumerate() {
                for other in &different[..i] {
                    let shared = one[1].min(other[1]) - one[0].max(other[0]);
                    prop_assert!(shared.min_element() <= 1e-9);
                }
            }
        }
    }
}
