//! Circles in the smallest circle around them: how thick a loom is.
//!
//! Lengths in millimetres; centres in a plane square to the loom.

pub(crate) mod chance;
pub(crate) mod descend;
mod press;
mod search;

use glam::DVec2;

/// How hard to look; bounded by counted work, not by the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// For an answer while one waits.
    Normal,
    /// For the last few tenths of a percent.
    Thorough,
}

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
    /// The diameter of the circle around all, mm.
    pub diameter: f64,
    /// The circles, in the order given.
    pub circles: Vec<PackedCircle>,
}

/// Packs circles into the smallest circle found.
///
/// The order of the list changes nothing but the order of the answer. No two
/// circles overlap, and none stands out of the circle around them, by more than
/// rounding (1e-9 of its radius). No circle at all has diameter 0.
///
/// # Panics
///
/// With debug assertions on, when a diameter is not finite and above 0; otherwise
/// the answer is then without meaning.
pub fn pack(diameters: &[f64], effort: Effort) -> Packing {
    debug_assert!(
        diameters.iter().all(|d| d.is_finite() && *d > 0.0),
        "diameters must be finite and above 0: {diameters:?}"
    );
    let mut order: Vec<usize> = (0..diameters.len()).collect();
    order.sort_by(|&a, &b| diameters[b].total_cmp(&diameters[a]));
    let Some(&first) = order.first() else {
        return Packing {
            diameter: 0.0,
            circles: Vec::new(),
        };
    };
    let largest = diameters[first];
    let radii: Vec<f64> = order.iter().map(|&i| diameters[i] / largest).collect();
    let place = search::search(&radii, effort);

    let mut circles = vec![
        PackedCircle {
            diameter: 0.0,
            centre: DVec2::ZERO
        };
        diameters.len()
    ];
    for (k, &i) in order.iter().enumerate() {
        circles[i] = PackedCircle {
            diameter: diameters[i],
            centre: 0.5 * largest * DVec2::new(place[k], place[radii.len() + k]),
        };
    }
    Packing {
        diameter: largest * place[2 * radii.len()],
        circles,
    }
}
