//! The six words of a shortest flat path.

use std::fmt;

/// The side a turn goes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turning {
    /// Left, counter-clockwise.
    Left,
    /// Right, clockwise.
    Right,
}

/// The order of turns (L, R) and straights (S) in a shortest flat path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// Left, straight, left.
    Lsl,
    /// Right, straight, right.
    Rsr,
    /// Left, straight, right.
    Lsr,
    /// Right, straight, left.
    Rsl,
    /// Right, left, right.
    Rlr,
    /// Left, right, left.
    Lrl,
}

impl Word {
    /// All six, in the order in which equally short ones are preferred.
    pub const ALL: [Word; 6] = [
        Word::Lsl,
        Word::Rsr,
        Word::Lsr,
        Word::Rsl,
        Word::Rlr,
        Word::Lrl,
    ];

    /// Its first and its last turn.
    pub fn ends(self) -> [Turning; 2] {
        match self {
            Word::Lsl | Word::Lrl => [Turning::Left, Turning::Left],
            Word::Rsr | Word::Rlr => [Turning::Right, Turning::Right],
            Word::Lsr => [Turning::Left, Turning::Right],
            Word::Rsl => [Turning::Right, Turning::Left],
        }
    }

    /// Whether its middle is straight.
    pub fn has_straight(self) -> bool {
        !matches!(self, Word::Rlr | Word::Lrl)
    }
}

impl fmt::Display for Word {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(match self {
            Word::Lsl => "LSL",
            Word::Rsr => "RSR",
            Word::Lsr => "LSR",
            Word::Rsl => "RSL",
            Word::Rlr => "RLR",
            Word::Lrl => "LRL",
        })
    }
}
