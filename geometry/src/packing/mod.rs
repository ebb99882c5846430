//! Circles in the smallest circle around them: how thick a loom is.
//!
//! Lengths in millimetres; centres in a plane square to the loom.
//!
//! Nobody knows how to find the smallest circle for sure beyond a few circles, so
//! [`pack`] looks for it: it presses soft circles together (`press`, `descend`),
//! from several starts (`starts`), hops to tighter places (`moves`, a first look at
//! them by `ease` and `touch`, `search`), and settles the tightest into its exact
//! contacts (`settle`). What it returns can
//! always be built as drawn; it may not be the smallest possible.
//!
//! ```
//! let wires = [2.0; 7];
//! let packing = geometry::pack(&wires, geometry::Effort::Normal);
//! assert!((packing.diameter - 6.0).abs() < 1e-6); // one in the middle, six around
//! ```

pub(crate) mod chance;
pub(crate) mod descend;
mod ease;
mod effort;
mod handbook;
mod moves;
mod press;
mod search;
mod settle;
mod starts;
mod touch;

use glam::DVec2;

pub use effort::Effort;
pub use handbook::{handbook_multiplier, rule_of_thumb};

/// One circle in place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PackedCircle {
    /// Its diameter, as given, mm.
    pub diameter: f64,
    /// Its centre, mm, from the centre of the circle around all.
    pub centre: DVec2,
}

/// Circles in the smallest circle found around them, whose centre is the origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Packing {
    /// The diameter of the circle around all, mm; 0 around none.
    pub diameter: f64,
    /// The circles, in the order given.
    pub circles: Vec<PackedCircle>,
}

/// The search sees radii in steps of this share of their mean, so that the same
/// circles on another scale, which rounds otherwise, are searched alike.
const STEP: f64 = 1.0 / (1u64 << 34) as f64;

/// Packs circles into the smallest circle found.
///
/// The order of the list changes nothing but the order of the answer. No two
/// circles overlap, and none stands out of the circle around them, by more than
/// rounding (1e-12 of its radius).
///
/// * `diameters`: mm, finite and above 0
///
/// # Panics
///
/// With debug assertions, when a diameter is not finite or not above 0. Without
/// them the diameter of the answer is then NaN.
pub fn pack(diameters: &[f64], effort: Effort) -> Packing {
    let sound = diameters.iter().all(|d| d.is_finite() && *d > 0.0);
    debug_assert!(sound, "not finite and above 0: {diameters:?}");
    let mut order: Vec<usize> = (0..diameters.len()).collect();
    order.sort_by(|&a, &b| diameters[b].total_cmp(&diameters[a]));
    let sum: f64 = order.iter().map(|&i| diameters[i]).sum();
    let mean = sum / order.len() as f64;
    let radii: Vec<f64> = order.iter().map(|&i| diameters[i] / mean).collect();
    let (place, radius) = match radii.len() {
        0 => (Vec::new(), 0.0),
        _ if !sound => (vec![f64::NAN; 2 * radii.len()], f64::NAN),
        _ => tightest(&radii, effort),
    };

    let unplaced = PackedCircle {
        diameter: 0.0,
        centre: DVec2::ZERO,
    };
    let mut circles = vec![unplaced; diameters.len()];
    for (&i, at) in order.iter().zip(place.chunks_exact(2)) {
        circles[i] = PackedCircle {
            diameter: diameters[i],
            centre: 0.5 * mean * DVec2::new(at[0], at[1]),
        };
    }
    Packing {
        diameter: if radii.is_empty() { 0.0 } else { mean * radius },
        circles,
    }
}

/// The tightest place found for these radii, largest first, and its container's
/// radius; both in mean radii.
fn tightest(radii: &[f64], effort: Effort) -> (Vec<f64>, f64) {
    let stepped: Vec<f64> = radii.iter().map(|r| (r / STEP).round() * STEP).collect();
    let plan = effort::Plan::new(&stepped, effort);
    let near = search::search(&stepped, &plan);
    settle::settle(radii, &near)
}
