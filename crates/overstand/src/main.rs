//! The command line of Overstand.
fn main() {}
