//! Job and library files.

pub mod inline;
pub mod json_schema;
pub mod length;
pub mod library;
pub mod open;
pub mod problem;
pub mod quick;
pub mod read;
pub mod save;
pub mod schema;

pub use inline::{Alternative, Fault, Inlined, inline};
pub use length::Length;
pub use library::{DEMO, Library, embedded_job, embedded_jobs};
pub use open::{Opened, open_job, open_text};
pub use problem::{Problem, Severity};
pub use quick::{MeasureNext, QuickFigures};
pub use read::{LineMap, ReadJob, ReadParts, read_file, read_job, read_parts};
pub use save::{save_job, to_yaml};
