//! Support for the acceptance tests: small jobs made in code, the window without a display.

pub mod chance;
pub mod full_job;
pub mod hidden;
pub mod icon;
pub mod jobs;
pub mod notched;
pub mod random_edits;
pub mod random_jobs;
pub mod rasteriser;
pub mod referee;
pub mod window;
