//! The instrument that the benchmarks work on.
#![allow(dead_code, reason = "each benchmark uses its part of this")]

use overstand_core::design::{BoardShape, Design};
use overstand_core::strings::gauges::SETS;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;

/// Six strings, 24 frets.
pub(crate) fn six_by_24() -> Design {
    let mut design = worked_example();
    design.scale.frets = 24;
    design.board.end = Length::mm(480.0);
    design
}

/// The same with a usual set of strings.
pub(crate) fn strung(mut design: Design) -> Design {
    if let Some(set) = SETS.iter().find(|set| set.fits(&design)) {
        set.put_on(&mut design);
    }
    design
}

/// The same with a board of compound radius.
pub(crate) fn compound(mut design: Design) -> Design {
    design.board.shape =
        BoardShape::Compound { radius_nut: Length::mm(254.0), radius_end: Length::mm(406.4) };
    design
}
