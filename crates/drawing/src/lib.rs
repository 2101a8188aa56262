//! The drawing: scenes in millimetres, made from a study, and the writers that put them on
//! paper.
//!
//! A scene says what a line means, never how it looks; the window and every file show the
//! same scene.
//!
//! ```text
//! Study ──▶ Scene ─────────────────▶ window, SVG
//!             └──▶ Paper (sheets) ──▶ PDF, SVG, DXF
//! ```
//!
//! [`elevation`], [`joint`], [`strip`] and [`part`] build scenes; [`mod@paper`] lays parts out
//! on sheets at full size; [`svg`], [`pdf`] and [`dxf`] write, and know nothing of
//! instruments. Millimetres with Y up, as on the bench; only the writers turn it over.
//!
//! # Example
//!
//! The side elevation as an SVG, and a template on a sheet of A4:
//!
//! ```
//! use overstand_core::{design::Date, study::Study, testing::worked_example};
//! use overstand_drawing::paper::{Choices, lay};
//! use overstand_drawing::{elevation::elevation, look::Look, part::PartKind, pdf::pdf, svg::svg};
//!
//! let study = Study::of(&worked_example());
//! let picture = svg(&elevation(&study), &Look::paper());
//! assert!(picture.contains("mm\""));
//!
//! let day = Date::new(2026, 3, 31).ok_or("no such day")?;
//! let wanted = Choices { parts: vec![PartKind::StraightedgeGauge], ..Choices::usual(day) };
//! let paper = lay(&study, &wanted)?;
//! assert!(pdf(&paper)?.starts_with(b"%PDF"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod annotation;
pub mod correction;
pub mod dryfit;
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
