//! Bundle.
fn main() {}
