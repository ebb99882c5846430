//! Job and library files.

pub mod length;
pub mod problem;
pub mod schema;

pub use length::Length;
pub use problem::{Problem, Severity};
