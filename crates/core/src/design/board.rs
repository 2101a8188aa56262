use serde::{Deserialize, Serialize};

use crate::units::Length;

/// The fingerboard with its frets.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Board {
    /// Underside to surface on the centre line, before frets.
    pub thickness: Length,
    /// Height of the crowns over the surface; 0 on a fretless board.
    pub crown: Length,
    /// The surface across the board.
    pub shape: BoardShape,
    /// The fret beyond which the surface falls away; 0 for none.
    #[serde(default)]
    pub fall_from: u8,
    /// The drop of the surface at the last fret.
    #[serde(default)]
    pub fall: Length,
    /// Nut face to the board's end.
    pub end: Length,
}

/// The board's surface across the strings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum BoardShape {
    /// No radius.
    Flat,
    /// One radius all along.
    Fixed {
        /// The radius.
        radius: Length,
    },
    /// A radius that runs linearly from nut to board end.
    Compound {
        /// Radius at the nut face.
        radius_nut: Length,
        /// Radius at the board's end.
        radius_end: Length,
    },
}
