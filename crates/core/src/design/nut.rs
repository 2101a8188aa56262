use serde::{Deserialize, Serialize};

use crate::units::Length;

/// What the open strings rest on at the head end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Nut {
    /// A nut whose slots are filed until each string has the wanted clearance
    /// over the first fret.
    Filed,
    /// A fret at the nut face carries the strings; the clearance over fret 1 follows.
    ZeroFret {
        /// Height of its crown over the board.
        height: Length,
    },
}
