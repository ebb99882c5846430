//! A symmetric matrix with its entries near the diagonal, and its Cholesky factor.
//!
//! A rib is long and narrow: with its unknowns numbered along it, each meets
//! only others a little before it, and the factor fills nothing else. Rows are
//! kept in eights, each eight from the first column that any of them has, so
//! that the work runs over whole registers. Every sum has one fixed order and
//! no fused steps, so the answer is the same to the last bit on every machine.
//!
//! Eights are filled and factored in turn, and may be dropped when no later one
//! needs them: what is in use then fits in a small cache.

use pulp::{Arch, Simd, WithSimd};

/// Rows kept together.
pub(super) const ROWS: usize = 8;
/// Columns of a tile worked on at once: what fits in registers.
const HALF: usize = 4;
/// A pivot that falls below this share of its entry means a loose part.
const LOOSE: f64 = 1e-13;

/// One column of an eight of rows.
type Lanes = [f64; ROWS];

/// A symmetric positive definite matrix, and as far as it is factored its lower
/// Cholesky factor.
#[derive(Clone, Debug)]
pub(super) struct Skyline {
    /// First column of each eight of rows, a multiple of eight.
    first: Vec<usize>,
    /// The first eight that each eight or any later one needs.
    needed: Vec<usize>,
    /// For each eight of rows its columns, from the first to the diagonal;
    /// none before it is filled and when it has been dropped.
    rows: Vec<Vec<Lanes>>,
    /// Unknowns; rows beyond fill up the last eight.
    count: usize,
}

impl Skyline {
    /// An empty matrix of which each row has its first entry where stated.
    pub fn new(first_of_row: &[usize]) -> Skyline {
        let least = |(eight, rows): (usize, &[usize])| {
            let least = rows.iter().fold(eight * ROWS, |least, &row| least.min(row));
            least / ROWS * ROWS
        };
        let first: Vec<usize> = first_of_row.chunks(ROWS).enumerate().map(least).collect();
        let mut needed: Vec<usize> = first.iter().map(|column| column / ROWS).collect();
        for eight in (1..needed.len()).rev() {
            needed[eight - 1] = needed[eight - 1].min(needed[eight]);
        }
        let rows = vec![Vec::new(); first.len()];
        Skyline {
            first,
            needed,
            rows,
            count: first_of_row.len(),
        }
    }

    /// Eights of rows.
    pub fn eights(&self) -> usize {
        self.first.len()
    }

    /// Adds to an entry on or below the diagonal, within its row's reach.
    #[inline(always)]
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        let eight = row / ROWS;
        let rows = &mut self.rows[eight];
        if rows.is_empty() {
            rows.resize((eight + 1) * ROWS - self.first[eight], [0.0; ROWS]);
        }
        rows[column - self.first[eight]][row % ROWS] += value;
    }

    /// Replaces an eight that is filled by its factor; those before are. False
    /// where a pivot vanishes: then something moves without resistance, and the
    /// factor is of no use.
    #[must_use]
    pub fn factor(&mut self, eight: usize) -> bool {
        for row in self.count..(eight + 1) * ROWS {
            self.add(row, row, 1.0);
        }
        let (first, rows) = (&self.first, &mut self.rows);
        Arch::new().dispatch(Factor { first, rows, eight })
    }

    /// Drops what no eight after this one needs.
    pub fn drop_before(&mut self, eight: usize) {
        let from = if eight == 0 { 0 } else { self.needed[eight] };
        let to = self.needed.get(eight + 1).copied().unwrap_or(from);
        self.rows[from..to]
            .iter_mut()
            .for_each(|rows| *rows = Vec::new());
    }

    /// One step of solving L y = b in place: the rows of an eight.
    pub fn forward(&self, side: &mut [f64], eight: usize) {
        let rows = &self.rows[eight];
        let (before, own) = rows.split_at(rows.len() - ROWS);
        let (known, open) = side.split_at_mut(eight * ROWS);
        let mut sum = [0.0; ROWS];
        for (column, y) in before.iter().zip(&known[self.first[eight]..]) {
            for lane in 0..ROWS {
                sum[lane] += column[lane] * y;
            }
        }
        for lane in 0..ROWS {
            open[lane] -= sum[lane];
        }
        for (c, column) in own.iter().enumerate() {
            open[c] /= column[c];
            for lane in c + 1..ROWS {
                open[lane] -= column[lane] * open[c];
            }
        }
    }

    /// One step of solving Lᵀ x = y in place: the rows of an eight.
    pub fn back(&self, side: &mut [f64], eight: usize) {
        let rows = &self.rows[eight];
        let (before, own) = rows.split_at(rows.len() - ROWS);
        let (open, known) = side.split_at_mut(eight * ROWS);
        for c in (0..ROWS).rev() {
            for lane in c + 1..ROWS {
                known[c] -= own[c][lane] * known[lane];
            }
            known[c] /= own[c][c];
        }
        for (column, x) in before.iter().zip(&mut open[self.first[eight]..]) {
            let mut sum = 0.0;
            for lane in 0..ROWS {
                sum += column[lane] * known[lane];
            }
            *x -= sum;
        }
    }
}

/// The work of [`Skyline::factor`], for whatever registers there are.
struct Factor<'a> {
    first: &'a [usize],
    rows: &'a mut [Vec<Lanes>],
    eight: usize,
}

impl WithSimd for Factor<'_> {
    type Output = bool;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> bool {
        factor(self.first, self.rows, self.eight)
    }
}

/// Cholesky, eight rows at a time: each tile of eight columns takes away what
/// both eights share before it, then is divided by the triangle on its diagonal.
#[inline(always)]
fn factor(first: &[usize], rows: &mut [Vec<Lanes>], eight: usize) -> bool {
    let (done, open) = rows.split_at_mut(eight);
    let rows = &mut open[0][..];
    for other in first[eight] / ROWS..eight {
        let others = &done[other][..];
        let common = first[eight].max(first[other]);
        let (before, tile) = rows.split_at_mut(other * ROWS - first[eight]);
        let shared = &before[common - first[eight]..];
        take_away(tile, shared, &others[common - first[other]..]);
        divide(tile, &others[others.len() - ROWS..]);
    }
    let diagonal = rows.len() - ROWS;
    let (before, tile) = rows.split_at_mut(diagonal);
    let whole: Lanes = std::array::from_fn(|c| tile[c][c]);
    take_away(tile, before, before);
    triangle(tile, &whole)
}

/// tile[c][r] -= Σ rows[k][r] others[k][c].
#[inline(always)]
fn take_away(tile: &mut [Lanes], rows: &[Lanes], others: &[Lanes]) {
    for half in 0..ROWS / HALF {
        let mut sum = [[0.0; ROWS]; HALF];
        for (row, other) in rows.iter().zip(others) {
            for c in 0..HALF {
                let factor = other[half * HALF + c];
                for r in 0..ROWS {
                    sum[c][r] += row[r] * factor;
                }
            }
        }
        for c in 0..HALF {
            for r in 0..ROWS {
                tile[half * HALF + c][r] -= sum[c][r];
            }
        }
    }
}

/// tile = tile · L⁻ᵀ, with the triangle L of the tile's own columns.
#[inline(always)]
fn divide(tile: &mut [Lanes], triangle: &[Lanes]) {
    for c in 0..ROWS {
        let (done, open) = tile.split_at_mut(c);
        let mut column = open[0];
        for (other, factors) in done.iter().zip(triangle) {
            for r in 0..ROWS {
                column[r] -= other[r] * factors[c];
            }
        }
        let pivot = 1.0 / triangle[c][c];
        open[0] = column.map(|it| it * pivot);
    }
}

/// The factor of a tile on the diagonal; `whole` is its diagonal before
/// anything was taken away.
#[inline(always)]
fn triangle(tile: &mut [Lanes], whole: &Lanes) -> bool {
    for c in 0..ROWS {
        let (done, open) = tile.split_at_mut(c);
        let column = &mut open[0];
        for other in done.iter() {
            for r in c..ROWS {
                column[r] -= other[r] * other[c];
            }
        }
        let pivot = column[c];
        // Also where it is not a number.
        if pivot.is_nan() || pivot <= LOOSE * whole[c] {
            return false;
        }
        let root = pivot.sqrt();
        column[c..].iter_mut().for_each(|it| *it /= root);
        column[c] = root;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A banded matrix of 29 rows, diagonally dominant.
    fn entry(row: usize, column: usize) -> f64 {
        match row - column {
            0 => 9.0 + row as f64 % 3.0,
            1..=7 => ((3 * row + column) as f64).sin(),
            _ => 0.0,
        }
    }

    fn matrix(count: usize) -> Skyline {
        let first: Vec<usize> = (0..count).map(|row| row.saturating_sub(7)).collect();
        let mut matrix = Skyline::new(&first);
        for (row, &first) in first.iter().enumerate() {
            for column in first..=row {
                matrix.add(row, column, entry(row, column));
            }
        }
        matrix
    }

    #[test]
    fn what_is_solved_satisfies_the_equations() {
        let mut factor = matrix(29);
        let mut x = vec![0.0; factor.eights() * ROWS];
        for (row, value) in x.iter_mut().enumerate().take(29) {
            *value = (row as f64).cos();
        }
        let asked = x.clone();
        for eight in 0..factor.eights() {
            assert!(factor.factor(eight));
            factor.forward(&mut x, eight);
        }
        for eight in (0..factor.eights()).rev() {
            factor.back(&mut x, eight);
        }
        for (row, asked) in asked.iter().enumerate().take(29) {
            let at = |c: usize| entry(row.max(c), row.min(c)) * x[c];
            let got: f64 = (0..29).map(at).sum();
            assert!((got - asked).abs() < 1e-12, "row {row}: {got}");
        }
    }

    #[test]
    fn a_matrix_without_resistance_is_refused() {
        let mut loose = Skyline::new(&[0, 0]);
        for (row, column, value) in [(0, 0, 1.0), (1, 0, -1.0), (1, 1, 1.0)] {
            loose.add(row, column, value);
        }
        assert!(!loose.factor(0));
    }
}
