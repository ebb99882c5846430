//! Leads in seeded random cavities, held to their rules.

#[path = "../random_cavities/mod.rs"]
mod random_cavities;
#[path = "../random_solids/mod.rs"]
mod random_solids;

mod alone;
mod laws;
mod looms;
mod together;
