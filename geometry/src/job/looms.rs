//! How leads that leave together are made up into a loom.

/// The loom of one exit: what is taped first, and what goes round the whole.
///
/// An exit without a makeup has a loom all the same: its leads side by side,
/// nothing round them.
#[derive(Clone, Debug, PartialEq)]
pub struct Makeup {
    /// The exit it leaves through.
    pub exit: String,
    /// Thickness of what goes round the whole (tape, sleeve, tube), mm; 0 = nothing.
    pub wrap: f64,
    /// Leads taped together before the rest is laid beside them.
    pub taped: Vec<Taped>,
}

/// Leads taped into a round of their own, which lies in the loom as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Taped {
    /// What the installer calls it.
    pub name: String,
    /// The leads in it, each in one tape only.
    pub leads: Vec<String>,
    /// Thickness of the tape round them, mm.
    pub wrap: f64,
}

/// Loose wires that make up a tail instead of one sheathed cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WireTail {
    /// How many wires.
    pub wires: u32,
    /// Outside diameter of one, mm.
    pub od: f64,
}
