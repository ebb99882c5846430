//! Support for the acceptance tests: small jobs made in code.

pub mod jobs;
