use serde::{Deserialize, Serialize};

use crate::units::Length;

/// Scale length and number of frets.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scale {
    /// Nut face to the theoretical bridge line, before compensation.
    pub length: Length,
    /// Frets on the board; 0 for a fretless one.
    pub frets: u8,
}
