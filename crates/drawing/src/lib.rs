//! The drawing: scenes in millimetres, made from a study.

pub mod scene;
