//! Design files: read, check, write, save; and the starters.
//!
//! A design file holds one or more variants of a design, one of them active, as text
//! (RON) that can be read and edited by hand. `docs/design-file.md` is its reference.
//!
//! What is read is sound as data: it has no [`Design::faults`], each variant has a name
//! of its own, and the active one exists. Anything else is refused with its line and
//! column. What a later version of the program wrote is refused too, and never
//! overwritten.
//!
//! # When the format changes
//!
//! Format 1 is the core's own plain data. With the first change of it, what it was is
//! frozen here as a module `v1` with an upgrade to the new data, and every file ever
//! written by a release still opens.
//!
//! # Example
//!
//! ```
//! use overstand_core::study::Study;
//! use overstand_core::verdict::Word;
//!
//! let file = overstand_files::starters()[0].file()?;
//! assert_eq!(Study::of(file.active_design()).word(), Word::Plays);
//! assert_eq!(overstand_files::parse(&overstand_files::write(&file))?, file);
//! # Ok::<(), overstand_files::ReadError>(())
//! ```
//!
//! [`Design::faults`]: overstand_core::design::Design::faults

mod explain;
mod file;
mod outline;
mod read;
mod save;
mod starters;
mod token;

pub use file::{DesignFile, FORMAT, MOST_VARIANTS};
pub use read::{LARGEST_FILE, ReadError, parse, read};
pub use save::{SaveError, Stamp, save, save_if_unchanged, stamp, write, write_out};
pub use starters::{Starter, starter, starters};
