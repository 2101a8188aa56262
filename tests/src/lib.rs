//! What is checked across the crates and against the outside stands in `tests/`: published
//! values and worked cases, the limits, texts that no one would write, the documentation,
//! and the shape of the code itself. There is nothing to build from this crate.
