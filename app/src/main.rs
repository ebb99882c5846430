//! Bin.
fn main() {}
