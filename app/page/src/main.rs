//! Page.
fn main() {}
