//! The seam between the command line and the window.

use std::path::Path;

use crate::failure::Failure;

/// Opens the window and returns when it is closed.
#[cfg(not(feature = "window"))]
pub(crate) fn open(_path: Option<&Path>) -> Result<(), Failure> {
    Err(Failure::NoWindow("this build has no window".to_owned()))
}
