//! Job and library files: from text to plain numbers.
//!
//! * [`length`]: lengths as typed, kept as written
//! * [`schema`]: files as written; [`read`] gets there from text, with every fault and its line
//! * [`mod@inline`]: names looked up, defaults filled in, everything checked
//! * [`library`]: the embedded parts and jobs, and the user's own parts over them
//! * [`open`], [`quick`]: a whole job from a name, or from at most eight figures
//! * [`behind`]: what was met behind each socket, as obstacles of the job
//! * [`save`], [`json_schema`]: back to text, and the schemas for editors
//! * [`kept`]: jobs kept while they are not saved
//!
//! What comes out is a [`geometry::Job`]; nothing is computed here.

pub mod behind;
pub mod empty;
pub mod inline;
pub mod json_schema;
pub mod kept;
pub mod length;
pub mod library;
pub mod open;
pub mod problem;
pub mod quick;
mod quick_job;
pub mod read;
pub mod save;
pub mod schema;

pub use empty::empty_job;
pub use inline::{Alternative, Fault, Inlined, inline, inline_alone};
pub use kept::KeptFolder;
pub use length::Length;
pub use library::{DEMO, Library, embedded_job, embedded_jobs};
pub use open::{Opened, open_job, open_text};
pub use problem::{Problem, Severity};
pub use quick::{MeasureNext, QuickFigures};
pub use quick_job::is_entered;
pub use read::{LineMap, ReadJob, ReadParts, read_file, read_job, read_parts, read_plain};
pub use save::{save_job, to_yaml};
