//! Where leads pass the plane of a rib.

use glam::{DQuat, DVec2, DVec3};

use super::RibFace;
use crate::frame::turn_from_degrees;
use crate::job::Plane;
use crate::path::Path;

/// A way is looked at every so far, mm.
const STEP: f64 = 1.0;

impl RibFace {
    /// Where a way passes the middle of the rib's thickness, in its plane, mm.
    /// To look at, not to decide by: a way is followed in steps of 1 mm.
    pub fn crossings(&self, way: &Path) -> Vec<DVec2> {
        let length = way.length();
        let steps = (length / STEP).ceil().max(1.0);
        let at = |step: usize| self.own(way.point_at(length * step as f64 / steps));
        let mut crossings = Vec::new();
        let mut before = at(0);
        for step in 1..=steps as usize {
            let now = at(step);
            if before.z * now.z <= 0.0 && before.z != now.z {
                let share = before.z / (before.z - now.z);
                crossings.push(before.lerp(now, share).truncate());
            }
            before = now;
        }
        crossings
    }

    /// A point of the job's frame as (x, y) in the rib's plane, and how far
    /// beyond the middle of its thickness, mm.
    pub fn own(&self, at: DVec3) -> DVec3 {
        let [low, high] = self.bounds();
        let centre = self.place(0.5 * (low + high));
        let turn: DQuat = turn_from_degrees(self.turned);
        let at = centre + turn.inverse() * (at - centre);
        let middle = 0.5 * (self.faces[0] + self.faces[1]);
        let (first, second, beyond) = match self.plane {
            Plane::AcrossUp => (at.x, at.z, at.y),
            Plane::AcrossDepth => (at.x, at.y, at.z),
            Plane::DepthUp => (at.y, at.z, at.x),
        };
        let (x, y) = if self.upright {
            (second, first)
        } else {
            (first, second)
        };
        DVec3::new(x, y, beyond - middle)
    }
}
