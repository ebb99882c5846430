//! Holes that are usually bored or sawn, and grommets that go into them.

/// Play a loom wants in a hole, on its diameter, mm. Common practice, no source.
pub const PLAY: f64 = 1.0;

/// Less than this is no reason for the next size up, mm: rounding of a packing.
const ROUNDING: f64 = 1e-6;

/// What cuts a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cutter {
    /// A twist or step drill.
    Drill,
    /// A hole saw.
    HoleSaw,
}

/// A round hole of a usual size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoleSize {
    /// Its diameter, mm.
    pub diameter: f64,
    /// What cuts it.
    pub cutter: Cutter,
}

/// A rubber grommet: the hole it sits in and the hole in it, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grommet {
    /// The hole it sits in, mm.
    pub panel_hole: f64,
    /// The hole in it, mm.
    pub bore: f64,
}

/// Sizes of drills, mm. Common practice, no source.
const DRILLS: [f64; 13] = [
    3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0,
];

/// Sizes of hole saws, mm. Common practice, no source.
const HOLE_SAWS: [f64; 22] = [
    16.0, 19.0, 20.0, 22.0, 25.0, 27.0, 29.0, 30.0, 32.0, 35.0, 38.0, 40.0, 44.0, 48.0, 51.0, 54.0,
    57.0, 60.0, 64.0, 68.0, 70.0, 76.0,
];

/// Grommets by panel hole and bore, mm. Common practice, no source.
const GROMMETS: [[f64; 2]; 11] = [
    [6.0, 4.0],
    [8.0, 5.0],
    [10.0, 6.0],
    [11.0, 8.0],
    [13.0, 10.0],
    [16.0, 12.0],
    [19.0, 14.0],
    [22.0, 17.0],
    [25.0, 20.0],
    [32.0, 25.0],
    [40.0, 32.0],
];

/// The least hole of a usual size that a loom passes with [`PLAY`], bare metal
/// without a grommet. `None` when it is thicker than any hole saw takes.
///
/// * `diameter`: of the loom over its wrap, mm
pub fn next_hole(diameter: f64) -> Option<HoleSize> {
    let drills = DRILLS.iter().map(|&size| (size, Cutter::Drill));
    let saws = HOLE_SAWS.iter().map(|&size| (size, Cutter::HoleSaw));
    drills
        .chain(saws)
        .find(|(size, _)| *size >= diameter + PLAY - ROUNDING)
        .map(|(diameter, cutter)| HoleSize { diameter, cutter })
}

/// The least grommet of a usual size whose bore takes a loom. It grips: no play.
///
/// * `diameter`: of the loom over its wrap, mm
pub fn next_grommet(diameter: f64) -> Option<Grommet> {
    GROMMETS
        .map(|[panel_hole, bore]| Grommet { panel_hole, bore })
        .into_iter()
        .find(|grommet| grommet.bore >= diameter - ROUNDING)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_hole_leaves_play() {
        let next = |d: f64| next_hole(d).map(|hole| hole.diameter);
        assert_eq!(next(9.0), Some(10.0));
        assert_eq!(next(9.0 + 1e-11), Some(10.0));
        assert_eq!(next(9.01), Some(11.0));
        assert_eq!(next(14.5), Some(16.0));
        assert_eq!(
            next_hole(14.5).map(|hole| hole.cutter),
            Some(Cutter::HoleSaw)
        );
        assert_eq!(next(80.0), None);
        assert_eq!(next_grommet(10.0).map(|g| g.panel_hole), Some(13.0));
    }

    #[test]
    fn sizes_rise() {
        let rise = |sizes: &[f64]| sizes.windows(2).all(|pair| pair[0] < pair[1]);
        assert!(rise(&DRILLS) && rise(&HOLE_SAWS) && DRILLS[12] < HOLE_SAWS[0]);
        assert!(GROMMETS.iter().all(|[hole, bore]| bore < hole));
    }
}
