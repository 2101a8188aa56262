//! What is checked across the crates and against the outside stands in `tests/`.
