//! Job and library files.

pub mod inline;
pub mod length;
pub mod library;
pub mod problem;
pub mod schema;

pub use inline::{Alternative, Fault, Inlined, inline};
pub use length::Length;
pub use library::{Library, embedded_job, embedded_jobs};
pub use problem::{Problem, Severity};
