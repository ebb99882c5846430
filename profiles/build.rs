//! Rebuilds the crate when a file of the embedded library comes, goes or changes.

fn main() {
    println!("cargo::rerun-if-changed=library");
}
