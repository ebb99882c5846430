//! How hard to look, as counted work.

/// How hard to look; bounded by counted work, not by the clock.
///
/// The times are for one core of a shared server of 2023; the looms have wires of
/// three to five sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// While something is dragged: some 3 ms; a loom of 40 wires is on average
    /// 1.6 % above the best known.
    Quick,
    /// While one waits: 5 ms for up to 37 equal circles, about 20 ms for mixed
    /// ones, 110 ms for more than six sizes. A loom of 40 wires is on average 0.7 %
    /// above the best known, some by up to 1.3 %.
    Normal,
    /// About 0.2 s; a loom of 40 wires is on average 0.25 % above the best known,
    /// some by up to 0.6 %.
    Careful,
    /// Some seconds; sets the best known for looms.
    Thorough,
}

/// The plan of a search.
pub(super) struct Plan {
    /// Runs, each from its own starts.
    pub runs: usize,
    /// Starts of a run; the best is kept.
    pub starts: usize,
    /// Work of a run, as counted by [`Plan::work_of_an_evaluation`].
    pub work: usize,
    /// Whether all circles are alike.
    pub equal: bool,
}

/// Fewer circles than this need less work.
const FEW: usize = 12;

impl Plan {
    /// The plan for circles of these radii, largest first.
    pub fn new(radii: &[f64], effort: Effort) -> Plan {
        let n = radii.len();
        let sizes = 1 + radii.windows(2).filter(|two| two[0] != two[1]).count();
        let starts = if sizes == 1 { 4 } else { 5 };
        let (runs, work) = match effort {
            Effort::Quick => (1, 400_000),
            Effort::Normal if sizes == 1 && n <= 37 => (5, 200_000),
            Effort::Normal if sizes == 1 => (8, 1_000_000),
            Effort::Normal if sizes <= 6 && n <= 30 => (5, 820_000),
            Effort::Normal if sizes <= 6 => (3, 1_550_000),
            Effort::Normal => (10, 2_000_000),
            Effort::Careful if n <= 30 => (8, 4_900_000),
            Effort::Careful => (4, 11_500_000),
            Effort::Thorough => (64, 12_000_000),
        };
        let few = n.min(FEW);
        Plan {
            runs,
            starts,
            work: work * few * few / (FEW * FEW),
            equal: sizes == 1,
        }
    }

    /// The work of one evaluation of the energy of `n` circles: about the pairs
    /// looked at, and the quasi-Newton step's share; a unit is some 4 ns.
    pub fn work_of_an_evaluation(n: usize) -> usize {
        8 * n + 10
    }
}
