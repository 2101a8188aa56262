//! Will this neck and this body play? The geometry and the judgement, with no file,
//! screen or clock.
//!
//! ```text
//! Design ──solve──▶ Layout ──judge──▶ Verdict      all of it: Study
//! ```
//!
//! From a [`study::Study`] go the rest: the [`joint`] with its cut sheet, the [`strings`], how
//! true the cuts must be ([`risk`]), what a [dry fit](dryfit) says, how two designs
//! [compare], and how each figure came about ([`working`]). [`dimension`] is the one table of
//! all dimensions, and [`glossary`] the one list of words.
//!
//! # Frames and signs
//!
//! **Body frame** (X, Y): X along the centre line, 0 at the joint, positive toward the
//! tail; Y away from the back, 0 at the top datum.
//!
//! **Neck frame** (u, v): u along the board's surface, 0 at the nut face, positive toward
//! the bridge; v from the straight, unstrung surface, positive toward the strings.
//!
//! The pitch is positive when the board rises toward the bridge. Millimetres and radians
//! inside; a [`design::Design`] keeps degrees as they were typed.
//!
//! # Example
//!
//! ```
//! use overstand_core::{dimension::Dim, study::Study, testing::worked_example};
//!
//! let mut design = worked_example();
//! Dim::CrestHeight.key().set(&mut design, 25.8);   // lift the saddle: the pitch follows
//! let study = Study::of(&design);
//! let pitch = Dim::Pitch.key().get(&study.design).unwrap_or_default();
//! assert!((pitch - 3.69).abs() < 0.01);
//! ```

pub mod choice;
pub mod compare;
pub mod design;
pub mod dimension;
pub mod dryfit;
pub mod glossary;
pub mod joint;
pub mod layout;
pub mod risk;
pub mod sentence;
pub mod strings;
pub mod study;
pub mod testing;
pub mod units;
pub mod verdict;
pub mod working;
