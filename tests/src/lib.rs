//! What is checked across the crates and against the outside stands in `tests/`: published
//! values and worked cases, the limits, texts that no one would write, the documentation,
//! and the shape of the code itself. There is nothing to build from this crate.
//!
//! # Example
//!
//! A value has its source beside it, and a tolerance its reason:
//!
//! ```
//! // twelve-tone equal temperament: an octave halves the string; exact in binary
//! assert_eq!(overstand_core::layout::fret_ratio(12), 0.5);
//! ```
