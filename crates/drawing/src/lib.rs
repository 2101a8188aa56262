//! The drawing: scenes in millimetres, made from a study.

pub mod elevation;
pub mod handles;
mod outline;
pub mod scene;
