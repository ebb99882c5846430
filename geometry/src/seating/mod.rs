//! From a job to its answer by the routed layer.

mod least_proud;
mod slots;
