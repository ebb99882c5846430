//! Open tails: loose wires instead of one sheathed cable.

use crate::job::{Lead, WireTail};
use crate::measure::{Harm, Reading};
use crate::packing::{Effort, pack};

/// Diameter of the wires drawn together into a round, mm.
pub fn free(tail: &WireTail, effort: Effort) -> f64 {
    pack(&wires(tail), effort).diameter
}

/// Width and height of the wires pressed flat in so many layers, mm, one wire
/// upon the other: the widest layer is as wide as its wires, the heap as high as
/// its layers. Layers beyond one a wire count for nothing; no wires take no room.
pub fn pressed(tail: &WireTail, layers: u32) -> [f64; 2] {
    let layers = layers.clamp(1, tail.wires.max(1));
    let abreast = tail.wires.div_ceil(layers);
    if abreast == 0 {
        return [0.0, 0.0];
    }
    // Rounding up may leave layers empty: 5 wires 2 abreast fill 3 of 4 layers.
    let filled = tail.wires.div_ceil(abreast);
    [f64::from(abreast) * tail.od, f64::from(filled) * tail.od]
}

/// The diameters that a lead brings into a loom, mm.
///
/// An open tail brings its wires one by one, since they nest between the other
/// leads; any other lead brings its cables.
pub(super) fn rounds(lead: &Lead, reading: Reading) -> Vec<f64> {
    match &lead.cable.tail {
        Some(tail) if tail.wires > 0 && tail.od > 0.0 => {
            let one = wires(tail);
            one.repeat(lead.cables.max(1) as usize)
        }
        _ => vec![lead.cable.od.at(reading, Harm::Larger); lead.cables.max(1) as usize],
    }
}

fn wires(tail: &WireTail) -> Vec<f64> {
    vec![tail.od; tail.wires as usize]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tail_pressed_flat_is_as_wide_as_its_widest_layer() {
        let tail = WireTail { wires: 16, od: 2.0 };
        assert_eq!(pressed(&tail, 1), [32.0, 2.0]);
        assert_eq!(pressed(&tail, 3), [12.0, 6.0]);
        assert_eq!(pressed(&tail, 99), [2.0, 32.0]);
        let five = WireTail { wires: 5, od: 2.0 };
        assert_eq!(pressed(&five, 4), [4.0, 6.0]);
        let none = WireTail { wires: 0, od: 2.0 };
        assert_eq!(pressed(&none, 1), [0.0, 0.0]);
    }

    #[test]
    fn seven_wires_drawn_together_are_three_across() {
        let tail = WireTail { wires: 7, od: 2.0 };
        let across = free(&tail, Effort::Normal);
        assert!((6.0 - 1e-6..6.001).contains(&across), "{across}");
    }
}
