//! What is checked across the crates and against the outside stands in `tests/`: published
//! values and worked cases, the limits, texts that no one would write, the documentation,
//! and the shape of the code itself. Of this crate only what these tests share is built.
//!
//! # Example
//!
//! A value has its source beside it, and a tolerance its reason:
//!
//! ```
//! use overstand_core::testing::worked_example;
//!
//! let (_, layout) = overstand_tests::laid(&worked_example());
//! // twelve-tone equal temperament: an octave halves the string; exact in binary
//! assert_eq!(layout.positions[11], 314.0);
//! ```

use overstand_core::design::Design;
use overstand_core::layout::{Layout, solve};

/// A sound design with its crest found and its pitch held, as it closes, and the layout.
///
/// # Panics
/// Where it is not sound, or does not close: a test that cannot go on shall stop.
#[track_caller]
pub fn laid(design: &Design) -> (Design, Layout) {
    assert_eq!(design.faults(), vec![]);
    let mut design = design.clone();
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    let solved = solve(&design).expect("it closes").design;
    let layout = Layout::of(&solved).expect("what closes has a layout");
    (solved, layout)
}
