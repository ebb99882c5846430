//! Answers as other programs read them: JSON with units in the key names.
//!
//! Points are (across, depth, up) in mm in the frame of [`geometry::frame`].

mod check;
mod loom;
mod plain;
mod routed;
mod trims;

pub use check::{AlternativeAnswer, CheckAnswer};
pub use loom::{LoomSummary, LoomsAnswer, PackingAnswer};
pub use plain::PlainJob;
pub use routed::RoutedAnswer;
pub use trims::{TabAnswer, TrimAnswer};

/// The `format` number of every answer.
pub const FORMAT: u32 = 1;

/// A number fit for JSON: infinite becomes absent.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
