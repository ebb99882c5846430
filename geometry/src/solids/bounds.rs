//! Upright boxes around solids.

use glam::DVec3;

/// An upright box around a solid, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Smallest (across, depth, up).
    pub min: DVec3,
    /// Largest (across, depth, up).
    pub max: DVec3,
}

impl Bounds {
    /// The smallest box around some points; `None` when there are none.
    pub fn around(points: impl IntoIterator<Item = DVec3>) -> Option<Bounds> {
        points
            .into_iter()
            .map(|point| Bounds {
                min: point,
                max: point,
            })
            .reduce(|all, point| all.joined(&point))
    }

    /// Its three sizes, mm.
    pub fn size(&self) -> DVec3 {
        self.max - self.min
    }

    /// Its middle, mm.
    pub fn middle(&self) -> DVec3 {
        0.5 * (self.min + self.max)
    }

    /// The smallest box around both.
    pub fn joined(&self, other: &Bounds) -> Bounds {
        Bounds {
            min: self.min.min(other.min),
            max: self.max.max(other.max),
        }
    }

    /// The same box with every face moved outward, mm.
    pub fn grown(&self, by: f64) -> Bounds {
        Bounds {
            min: self.min - by,
            max: self.max + by,
        }
    }

    /// The free distance between two boxes, mm; 0 when they touch or overlap.
    /// What they hold is at least this far apart.
    pub fn gap(&self, other: &Bounds) -> f64 {
        let apart = (self.min - other.max).max(other.min - self.max);
        apart.max(DVec3::ZERO).length()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gap_between_boxes_runs_from_corner_to_corner() {
        let one = Bounds::around([DVec3::ZERO, DVec3::ONE]).unwrap();
        let other = Bounds::around([DVec3::new(4., 5., 0.), DVec3::new(9., 6., 1.)]).unwrap();
        assert_eq!(one.gap(&other), 5.0);
        assert_eq!(one.gap(&one), 0.0);
        assert_eq!(one.grown(1.0).size(), DVec3::splat(3.0));
    }
}
