//! The drawing: scenes in millimetres, made from a study, and the writers that put them on
//! paper.
//!
//! A scene says what a line means, never how it looks; the window and every file show the
//! same scene.

pub mod annotation;
pub mod correction;
pub mod dxf;
pub mod elevation;
mod font;
pub mod ghost;
pub mod handles;
pub mod ink;
pub mod joint;
pub mod look;
mod outline;
pub mod output;
pub mod paper;
pub mod part;
pub mod pdf;
pub mod scene;
pub mod sheet;
pub mod strip;
pub mod svg;
pub mod tiling;
