//! The joint: its true section, everything that is worked out for it, and the cut sheet.
//!
//! Millimetres and radians; body frame. The floor is positive when it rises toward the
//! inner end, as the pitch is when the board rises toward the bridge.

mod figures;
mod plan;
mod seat;
mod section;
mod sheet;

pub use figures::{Figure, Group, JointFigures};
pub use plan::JointPlan;
pub(crate) use seat::{FloorShape, Seat, outcome};
pub use section::{
    JointSection, is_short, usual_length, wood_to_cavity, wood_under_cavity, wood_under_rod,
};
pub(crate) use sheet::is_step;
pub use sheet::{BenchCheck, CutSheet, Number, Reading, Step};

/// Rise of a wedge over its base: base · tan angle.
pub fn wedge_rise(base: f64, angle: f64) -> f64 {
    base * angle.tan()
}

/// Height of the stack under one end of a bar of this length that sets it to the angle:
/// length · sin angle.
///
/// # Source
/// The sine bar of the machinist's handbooks.
pub fn stack_under_bar(length: f64, angle: f64) -> f64 {
    length * angle.sin()
}
