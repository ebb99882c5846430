//! One convex facet put into the grid, cell by cell.

use glam::DVec3;

/// No facet.
pub const NONE: u32 = u32::MAX;

/// For every cell the nearest facet and how far away it is.
#[derive(Clone, Debug, Default)]
pub struct Layer {
    /// Cells in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// How far away the facet is in the middle of the cell, mm.
    pub away: Vec<f32>,
    /// The number of the facet, [`NONE`] where there is none.
    pub facet: Vec<u32>,
}

impl Layer {
    /// Empties it.
    pub fn clear(&mut self, width: usize, height: usize) {
        (self.width, self.height) = (width, height);
        self.away.clear();
        self.away.resize(width * height, f32::INFINITY);
        self.facet.clear();
        self.facet.resize(width * height, NONE);
    }

    /// Puts a convex facet in wherever it is nearer than what is there, and
    /// than what a solid layer has there.
    ///
    /// * `corners`: right and down in cells from the top left, and away, mm
    pub fn fill(&mut self, corners: &[DVec3], number: u32, before: Option<&Layer>) {
        let Some((slope, base)) = plane(corners) else {
            return;
        };
        let low = corners.iter().fold(f64::INFINITY, |low, c| low.min(c.y));
        let high = corners
            .iter()
            .fold(f64::NEG_INFINITY, |high, c| high.max(c.y));
        let first = (low - 0.5).ceil().max(0.0);
        let last = (high - 0.5).floor().min(self.height as f64 - 1.0);
        if first > last {
            return;
        }
        for row in first as usize..=last as usize {
            let middle = row as f64 + 0.5;
            let Some([left, right]) = span(corners, middle) else {
                continue;
            };
            let from = (left - 0.5).ceil().max(0.0);
            let to = (right - 0.5).floor().min(self.width as f64 - 1.0);
            if from > to {
                continue;
            }
            let (from, to) = (from as usize, to as usize);
            let cells = row * self.width + from..=row * self.width + to;
            let start = base + slope[1] * middle + slope[0] * (from as f64 + 0.5);
            let (start, step) = (start as f32, slope[0] as f32);
            let away = &mut self.away[cells.clone()];
            let facet = &mut self.facet[cells.clone()];
            // Both stores whatever comes of it: without branches the loop takes
            // several cells at once.
            match before {
                None => {
                    for (i, (away, facet)) in away.iter_mut().zip(facet).enumerate() {
                        let here = start + step * i as f32;
                        let nearer = here < *away;
                        *away = if nearer { here } else { *away };
                        *facet = if nearer { number } else { *facet };
                    }
                }
                Some(before) => {
                    let solid = &before.away[cells];
                    let layers = away.iter_mut().zip(facet).zip(solid);
                    for (i, ((away, facet), solid)) in layers.enumerate() {
                        let here = start + step * i as f32;
                        let nearer = here < away.min(*solid);
                        *away = if nearer { here } else { *away };
                        *facet = if nearer { number } else { *facet };
                    }
                }
            }
        }
    }
}

/// How the distance away changes per cell right and down, and what it is at the
/// top left; `None` for a facet seen edge on.
fn plane(corners: &[DVec3]) -> Option<([f64; 2], f64)> {
    let first = corners.first()?;
    let mut normal = DVec3::ZERO;
    for pair in corners[1..].windows(2) {
        normal += (pair[0] - first).cross(pair[1] - first);
    }
    if normal.z.abs() < 1e-6 {
        return None;
    }
    let slope = [-normal.x / normal.z, -normal.y / normal.z];
    let base = first.z - slope[0] * first.x - slope[1] * first.y;
    Some((slope, base))
}

/// From where to where a row runs through a convex outline.
fn span(corners: &[DVec3], row: f64) -> Option<[f64; 2]> {
    let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut from = corners[corners.len() - 1];
    for &to in corners {
        if (from.y <= row) != (to.y <= row) {
            let across = from.x + (to.x - from.x) * (row - from.y) / (to.y - from.y);
            left = left.min(across);
            right = right.max(across);
        }
        from = to;
    }
    (left <= right).then_some([left, right])
}
